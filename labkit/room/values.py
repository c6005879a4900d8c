"""What the values of a room file must be, each by itself."""

from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from labkit.errors import LabError
from labkit.geometry.length import ZERO, Length, length
from labkit.geometry.paper import Sheet, find_sheet
from labkit.room.name_pattern import name_template
from labkit.room.schema import Place, Reader, shown, text, whole
from labkit.room.stock import upright


def price(value, place: Place) -> Decimal | None:
    """An amount of money, zero or more, below a million."""
    if not _is_number(value) or not 0 <= value < 1_000_000:
        return place.tell(
            f"{place.name} is {shown(value)}, but must be a price of zero or more, with neither "
            "quotation marks nor a currency, such as 2.40."
        )
    return Decimal(value)


def number(what: str, low: int, high: int, *, above: bool = False, like: str) -> Reader:
    """A number of ``what`` from ``low`` (or ``above`` it) to ``high``; ``like`` is one to show."""

    def read(value, place: Place) -> Decimal | None:
        if not _is_number(value) or not low <= value <= high or (above and value == low):
            least = f"above {low}" if above else f"from {low}"
            return place.tell(
                f"{place.name} is {shown(value)}, but must be a number of {what} {least} to {high}, with "
                f"neither quotation marks nor a unit, such as {like}."
            )
        return Decimal(value)

    return read


def count(value, place: Place) -> int | None:
    """A whole number, zero or more."""
    return (
        0 if value == 0 and isinstance(value, int) and value is not False else whole(value, place)
    )


def share(value, place: Place) -> Fraction | None:
    """A part of a whole, from none to half of it."""
    if not _is_number(value) or not 0 <= value <= Decimal("0.5"):
        return place.tell(
            f"{place.name} is {shown(value)}, but must be a share from 0 to 0.5 such as 0.05, which is 5 %."
        )
    return Fraction(value)


def scale(value, place: Place) -> Fraction | None:
    """A measured length divided by the asked one, within a tenth of 1."""
    if not _is_number(value) or not Decimal("0.9") <= value <= Decimal("1.1"):
        return place.tell(
            f"{place.name} is {shown(value)}, but must be the measured length divided by the asked "
            "length, a number from 0.9 to 1.1 such as 0.998."
        )
    return Fraction(value)


def size(value, place: Place) -> Length | None:
    """A length above zero."""
    found = edge(value, place)
    if found == ZERO:
        return place.tell(f"{place.name} is {shown(value)}, but must be above zero.")
    return found


def edge(value, place: Place) -> Length | None:
    """A length of zero or more."""
    if not isinstance(value, str):
        number = value if _is_number(value) else 12
        return place.tell(
            f"{place.name} is {shown(value)}, but must be a length: write it between quotation "
            f'marks and with its unit, "{number}in" or "{number}mm".'
        )
    try:
        return length(value, place.name)
    except LabError as error:
        return place.tell(str(error))


def shift(value, place: Place) -> Length | None:
    """A length of either sign."""
    if not isinstance(value, str) or value.strip()[:1] not in ("-", "−"):
        return edge(value, place)
    try:
        return -length(value.strip()[1:])
    except LabError:
        return place.tell(
            f"{place.name} is “{value}”, but must be a length with its unit, such as -0.3mm."
        )


def sheet(value, place: Place) -> Sheet | None:
    """A sheet by its name or size, given upright."""
    if not isinstance(value, str):
        return text(value, place)
    try:
        return upright(find_sheet(value))
    except LabError as error:
        return place.tell(str(error))


def profile(space: str | None = None) -> Reader:
    """The place of a file with an ICC profile (of this colour space), from the room file's folder.

    "" gives None. An ICC profile has “acsp” at byte 36 and its colour space at byte 16 (ICC.1 §7.2).
    """

    def read(value, place: Place) -> Path | None:
        if value == "":
            return None
        if text(value, place) is None:
            return None
        path = place.folder / value
        try:
            with path.open("rb") as file:
                head = file.read(40)
        except (OSError, ValueError):
            return place.tell(
                f"{place.name} is “{value}”, but there is no such file: give its place from "
                f"{place.folder}, or “” for none."
            )
        if head[36:40] != b"acsp" or (space and head[16:20] != space.ljust(4).encode()):
            kind = f"ICC profile for {space}" if space else "ICC profile"
            return place.tell(f"{place.name} is “{value}”, but that file is no {kind}.")
        return path

    return read


def name_pattern(value, place: Place) -> str | None:
    """Reads the pattern of file names: each of NAME_FIELDS once, told apart, and fit for a file."""
    value = text(value, place)
    if value is None:
        return None
    try:
        name_template(value, place.name)
    except LabError as error:
        return place.tell(str(error))
    return value


def _is_number(value) -> bool:
    if isinstance(value, Decimal):
        return value.is_finite()
    return isinstance(value, int) and not isinstance(value, bool)
