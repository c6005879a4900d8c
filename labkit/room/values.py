"""What the values of a room file must be, each by itself and together."""

from decimal import Decimal
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

from labkit.errors import LabError
from labkit.geometry.length import ZERO, Length, length
from labkit.geometry.paper import Sheet, find_sheet
from labkit.geometry.size import SAME_SHEET
from labkit.room.name_pattern import name_template
from labkit.room.schema import Place, Reader, shown, text


def find_same_sheet(sheet: Sheet, known: tuple[Sheet, ...]) -> Sheet | None:
    """The nearest of the ``known`` sheets that is this one, either way round; else None."""
    near = [each for each in known if each.same_size(sheet, SAME_SHEET, either_way=True)]
    return min(near, key=lambda each: abs(upright(each).width - upright(sheet).width), default=None)


def upright(sheet: Sheet) -> Sheet:
    """The sheet as it stands on its short side."""
    return sheet.turned() if sheet.is_turned else sheet


# Readers


def price(value, place: Place) -> Decimal | None:
    """An amount of money, zero or more, below a million."""
    if not _is_number(value) or not 0 <= value < 1_000_000:
        return place.tell(
            f"{place.name} is {shown(value)}, but must be a price of zero or more, with neither "
            "quotation marks nor a currency, such as 2.40."
        )
    return Decimal(value)


def minutes(value, place: Place) -> Decimal | None:
    """A time, above zero, below a thousand minutes."""
    if not _is_number(value) or not 0 < value < 1000:
        return place.tell(
            f"{place.name} is {shown(value)}, but must be a number of minutes above zero, such as 12."
        )
    return Decimal(value)


def scale(value, place: Place) -> Fraction | None:
    """A measured length divided by the asked one, within a tenth of 1."""
    if not _is_number(value) or not Decimal("0.9") <= value <= Decimal("1.1"):
        return place.tell(
            f"{place.name} is {shown(value)}, but must be the measured length divided by the asked "
            "length, a number from 0.9 to 1.1 such as 0.998."
        )
    return Fraction(value)


def share(value, place: Place) -> Fraction | None:
    """A part of a whole, from none to half of it."""
    if not _is_number(value) or not 0 <= value <= Decimal("0.5"):
        return place.tell(
            f"{place.name} is {shown(value)}, but must be a share from 0 to 0.5 such as 0.05, which is 5 %."
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


# Together


def go_together(sound: dict, place: Place) -> None:
    """Tell what in a room contradicts the rest. ``sound`` holds only the values read without mistake."""
    for needed, rule in (
        ({"papers"}, _papers_differ),
        ({"printers"}, _printers_differ),
        ({"sheets"}, _sheets_differ),
        ({"rolls"}, _rolls_differ),
        ({"floor"}, _floor_rises),
        ({"papers", "sheets"}, _prices_are_for_stock),
        ({"working_ppi", "floor"}, _working_ppi_is_enough),
        ({"border", "printers"}, _border_is_reached),
    ):
        if needed <= sound.keys():
            rule(sound, place)


def _papers_differ(room, place: Place) -> None:
    for index, paper in enumerate(room["papers"]):
        prices = place.at("papers", index, "sheet_prices")
        _differ((prices.at(name), _by(upright(find_sheet(name)))) for name in paper.sheet_prices)
    _differ((place.at("papers", i, "name"), each.name) for i, each in enumerate(room["papers"]))


def _printers_differ(room, place: Place) -> None:
    _differ((place.at("printers", i, "name"), each.name) for i, each in enumerate(room["printers"]))


def _sheets_differ(room, place: Place) -> None:
    _differ((place.at("sheets", i), _by(each)) for i, each in enumerate(room["sheets"]))


def _rolls_differ(room, place: Place) -> None:
    _differ(
        (place.at("rolls", index, "width"), f"a roll of {roll.width} by {roll.length}")
        for index, roll in enumerate(room["rolls"])
    )


def _differ(named) -> None:
    seen = set()
    for place, name in named:
        if name.casefold() in seen:
            place.tell(f"“{name}” is here for the second time: change one, or take it out.")
        seen.add(name.casefold())


def _by(sheet: Sheet) -> str:
    return f"{sheet.width} by {sheet.height}"


def _floor_rises(room, place: Place) -> None:
    *rows, last = room["floor"]
    for index, row in enumerate(rows):
        if row.up_to is None:
            place.at("floor", index).tell(
                "only the last row of “floor” takes every longer print: give this row an up_to."
            )
    if last.up_to is not None:
        place.at("floor", len(rows)).tell(
            f"“floor” says nothing of prints over {last.up_to}: add a last row without up_to."
        )
    ends = [(index, row.up_to) for index, row in enumerate(room["floor"]) if row.up_to]
    for (_, before), (index, after) in pairwise(ends):
        if after <= before:
            place.at("floor", index, "up_to").tell(
                f"the rows of “floor” go from short prints to long ones, but {after} comes after "
                f"{before}: put them in rising order."
            )


def _prices_are_for_stock(room, place: Place) -> None:
    stock = ", ".join(sheet.name for sheet in room["sheets"])
    for index, paper in enumerate(room["papers"]):
        for name in paper.sheet_prices:
            if not find_same_sheet(find_sheet(name), room["sheets"]):
                place.at("papers", index, "sheet_prices", name).tell(
                    f"“{paper.name}” has a price for {name}, which is not in “sheets” ({stock}): "
                    "add it there, or take the price out."
                )


def _working_ppi_is_enough(room, place: Place) -> None:
    highest = max(row.ppi for row in room["floor"])
    if room["working_ppi"] < highest:
        place.at("working_ppi").tell(
            f"“working_ppi” is {room['working_ppi']}, below the {highest} ppi that “floor” asks for: "
            "raise it, or lower the floor."
        )


def _border_is_reached(room, place: Place) -> None:
    for printer in room["printers"]:
        for feed in filter(None, (printer.sheet, printer.roll)):
            side, widest = max(feed.unprintable.items(), key=lambda each: each[1])
            if room["border"] < widest:
                place.at("border").tell(
                    f"“border” is {room['border']}, but {printer.name} cannot print nearer than "
                    f"{widest} to the {side} edge: make the border at least that."
                )
