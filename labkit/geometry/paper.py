"""Sheet sizes by their standard names, or by their measure."""

import csv
import re
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from importlib.resources import files

from labkit.errors import LabError
from labkit.geometry.length import Length, decimal, length, millimetres, nearest, pair
from labkit.geometry.size import Size, same_size, size_off

_A3_PLUS = (
    "“{}” is sold as 329 × 483 mm, as 330.2 × 482.6 mm and as 305 × 457 mm: "
    "measure a sheet and give the size, such as 329x483mm or 13x19in."
)
_DISPUTED = {
    "a3+": _A3_PLUS,
    "a3plus": _A3_PLUS,
    "supera3": _A3_PLUS,
    "a3super": _A3_PLUS,
    "ledger": "“{}” is 11 × 17 in to some and 17 × 11 in to others: give the size, 11x17in or 17x11in.",
    "folio": "“{}” is 8 × 13, 8.27 × 13 or 8.5 × 13 in, depending on whom you ask: "
    "give the size, such as 8.5x13in.",
    "governmentletter": "“{}” is 8 × 10 or 8 × 10.5 in, depending on whom you ask: give the size.",
    "governmentlegal": "“{}” is 8.5 × 13 or 8 × 10.5 in, depending on whom you ask: give the size.",
}
"""Names that mean different sizes in different places (libraries and catalogues disagree)."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A cut sheet as it lies: exact width and height, and where that size is laid down.

    ``name`` is a catalogue name, or the upright size where a size was asked for; ``unit`` ("in" or
    "mm") is the one the size is defined in; ``standard`` is the document that lays the size down ("" if
    none does).
    """

    name: str
    width: Length
    height: Length
    unit: str
    standard: str = ""

    @property
    def is_turned(self) -> bool:
        """Whether it lies on its long side."""
        return self.width > self.height

    @property
    def size(self) -> str:
        """Width by height in its own unit, as on the command line: ``13x19in``."""
        one, two = (
            side.mm if self.unit == "mm" else side.inches for side in (self.width, self.height)
        )
        return f"{decimal(one, 4)}x{decimal(two, 4)}{self.unit}"

    @property
    def label(self) -> str:
        """A word for file names: the name of an upright sheet, else the size, as fine as people say it.

        >>> find_sheet("A3").label, find_sheet("A3").turned().label, find_sheet("24x20.5638in").label
        ('A3', '420x297mm', '24x20.56in')
        """
        if self.is_turned or self.name == self.size:
            return self.in_unit(self.unit).replace(" × ", "x").replace(" ", "")
        return self.name

    def turned(self) -> "Sheet":
        """The same sheet a quarter-turn round."""
        return replace(self, width=self.height, height=self.width)

    @property
    def sides(self) -> Size:
        """Width and height, as it lies."""
        return self.width, self.height

    def same_size(self, other: "Sheet", within: Length, *, either_way: bool = False) -> bool:
        """Whether both sides agree within a tolerance, as the two sheets lie or ``either_way`` round."""
        return same_size(self.sides, other.sides, within, either_way=either_way)

    def __str__(self) -> str:
        named = "" if self.name in (self.size, self.turned().size) else f"{self.name}, "
        first, second = ("mm", "in") if self.unit == "mm" else ("in", "mm")
        return f"{named}{self.in_unit(first)} ({self.in_unit(second)})"

    def in_unit(self, unit: str) -> str:
        """Width by height in inches ("in") or millimetres ("mm"): ``13 × 19 in``."""
        sides = (side.mm if unit == "mm" else side.inches for side in (self.width, self.height))
        return " × ".join(decimal(side, 1 if unit == "mm" else 2) for side in sides) + f" {unit}"


@cache
def catalogue() -> tuple[Sheet, ...]:
    """Every sheet of ``papers.csv``, all upright, in the file's order."""
    return tuple(found for found, _ in _rows())


def find_sheet(text: "str | Sheet") -> Sheet:
    """The sheet of that name, or of that size (``13x19in``, ``329x483mm``, ``8 1/2 x 11 in``).

    Upper and lower case, spaces, hyphens and underscores do not matter in a name. A size lies as it is
    given: ``19x13in`` is on its side. LabError for a name nobody knows, or that means several sizes.

    >>> str(find_sheet("19x13in"))
    '19 × 13 in (482.6 × 330.2 mm)'
    >>> find_sheet("iso b4") == find_sheet("B4")
    True
    """
    if isinstance(text, Sheet):
        return text
    text = str(text).strip()
    key = _key(text)
    if key in _DISPUTED:
        raise LabError(_DISPUTED[key].format(text))
    if key in _by_name():
        return _by_name()[key]
    sides = pair(text)
    if sides is None:
        raise LabError(
            f"no sheet is called “{text}”: give a standard name such as A4 or letter "
            "(`labkit papers --all` lists them) or a size such as 13x19in."
        )
    return sheet_of(*sides, unit="mm" if re.search(r"mm|cm", text, re.I) else "in")


def sheet_of(width: Length, height: Length, *, unit: str = "in") -> Sheet:
    """A sheet named by its measure, as it lies; ``unit`` ("in" or "mm") is the one it is named in.

    Where the catalogue has a sheet of that size, its standard is given too. LabError for no size.
    """
    if width.inches <= 0 or height.inches <= 0:
        raise LabError(
            "a sheet needs a width and a height above zero: give a size such as 13x19in."
        )
    sides = {width, height}
    standard = next((k.standard for k in catalogue() if {k.width, k.height} == sides), "")
    lying = Sheet("", width, height, unit, standard)
    return replace(lying, name=lying.turned().size if lying.is_turned else lying.size)


def sheet_near(size: Size, within: Length, *, unit: str = "in") -> Sheet:
    """The sheet that a measured size stands for: one of the catalogue, else the nearest whole 1/16 in or
    millimetre each way, else just that size. Neither side is off by more than ``within``.

    >>> from labkit.geometry.length import inches
    >>> half_a_pixel = Length(Fraction(1, 600))
    >>> sheet_near((millimetres("594.02"), millimetres("840.99")), half_a_pixel).name
    'A1'
    >>> sheet_near((inches("23.9991"), inches("29.9989")), half_a_pixel).size
    '24x30in'
    """
    lying = (each for known in catalogue() for each in (known, known.turned()))
    near = [each for each in lying if same_size(size, each.sides, within)]
    if near:
        return min(near, key=lambda each: size_off(size, each.sides))
    steps = (Length(Fraction(1, 16)), millimetres(1))
    for step in reversed(steps) if unit == "mm" else steps:
        whole = tuple(step * nearest(side / step) for side in size)
        if size_off(size, whole) <= within and all(whole):
            return sheet_of(*whole, unit="mm" if step == millimetres(1) else "in")
    return sheet_of(*size, unit=unit)


def iso_tolerance(side: Length) -> Length:
    """How far a side of an ISO-trimmed sheet may be off, more or less: 1.5 mm up to 150 mm, 2 mm up to
    600 mm, 3 mm beyond.

    ISO 216, the clause on tolerances, as studiofrog.cz (“Formáty papíru”) quotes it; that exactly 150 and
    600 mm take the smaller figure is from memory. It says nothing of sheets that are cut in inches.
    """
    return millimetres("1.5" if side.mm <= 150 else 2 if side.mm <= 600 else 3)


@cache
def _by_name() -> dict[str, Sheet]:
    return {_key(name): found for found, names in _rows() for name in names}


def _rows():
    text = files("labkit.geometry").joinpath("papers.csv").read_text(encoding="utf-8")
    for row in csv.DictReader(line for line in text.splitlines() if not line.startswith("#")):
        unit = row["unit"]
        width, height = (length(row[side] + unit) for side in ("width", "height"))
        found = Sheet(row["name"], width, height, unit, row["standard"])
        yield found, [row["name"], *filter(None, row["aliases"].split(";"))]


def _key(name: str) -> str:
    return re.sub(r"[\s_-]+", "", name.casefold())
