"""What the figures on paper set, and what is read off them: frozen values, without widgets."""

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from labkit.geometry.length import MM_PER_INCH, Length, decimal
from labkit.geometry.paper import Sheet, find_sheet
from labkit.geometry.proportion import by_width
from labkit.geometry.stock import (
    RollRun,
    area,
    holding,
    iso_tolerance,
    on_roll,
    sight_size,
    smallest,
)
from labkit.room import Roll, Room

SERIES = {
    "A": [f"A{number}" for number in range(9)],
    "B": [f"B{number}" for number in range(9)],
    "JIS B": [f"JIS B{number}" for number in range(9)],
    "inch, office": ["ANSI E", "ANSI D", "ANSI C", "tabloid", "letter", "statement"],
    "inch, drawing": ["ARCH E", "ARCH D", "ARCH C", "ARCH B", "ARCH A"],
}


@dataclass(frozen=True)
class Laid:
    """A print laid on every sheet in stock."""

    shape: tuple[int, int]
    width: Length
    border: Length
    room: Room

    @cached_property
    def size(self) -> tuple[Length, Length]:
        """Width and height of the print."""
        return by_width(self.shape, self.width)

    @cached_property
    def sheets(self) -> list[tuple[Sheet, bool]]:
        """Each sheet in stock as it must lie, and whether it holds the print."""
        found = []
        for sheet in self.room.sheets:
            lying = holding(self.size, sheet, self.room.unprintable, self.border)
            turned = sheet.turned() if self.size[0] > self.size[1] else sheet
            found.append((lying or turned, lying is not None))
        return found

    @property
    def smallest(self) -> Sheet | None:
        """The sheet with the least paper that holds it."""
        return smallest(self.size, self.room.sheets, self.room.unprintable, self.border)


def stock_sentence(laid: Laid, units: str) -> str:
    """Which sheets hold the print."""
    width, height = (side.both(units) for side in laid.size)
    holders = [
        f"{sheet.name} {'on its side' if sheet.is_turned else 'upright'}"
        for sheet, holds in laid.sheets
        if holds
    ]
    held = f"is held by {', '.join(holders)}" if holders else "is held by no sheet in stock"
    return (
        f"A print {width} wide and {height} high, with borders of at least {laid.border.both(units)}, "
        f"{held}."
    )


def stock_readings(laid: Laid, units: str) -> list[tuple[str, str]]:
    """The smallest sheet, and how much of it stays white."""
    width, height = (side.both(units) for side in laid.size)
    told = [("print", f"{width} × {height}")]
    sheet = laid.smallest
    if sheet is None:
        return [*told, ("smallest sheet", "none: a roll, or a smaller print")]
    paper, printed = area(sheet.width, sheet.height), area(*laid.size)
    lies = "on its side" if sheet.is_turned else "upright"
    return [
        *told,
        ("smallest sheet", f"{sheet.name}, {lies}"),
        (
            "paper left white",
            f"{_square(paper - printed, units)}, {float(1 - printed / paper):.0%}",
        ),
    ]


@dataclass(frozen=True)
class Folded:
    """A series of sheets, each half the one before, and how often the largest was folded."""

    series: str = "A"
    folds: int = 0

    @property
    def pieces(self) -> list[Sheet]:
        """The sheets of the series, largest first."""
        return [find_sheet(name) for name in SERIES[self.series]]

    @property
    def count(self) -> int:
        """Folds that lead to a sheet with a name."""
        return min(self.folds, len(self.pieces) - 1)

    @property
    def piece(self) -> Sheet:
        """What is left in the hand."""
        return self.pieces[self.count]


def fold_sentence(folded: Folded, units: str) -> str:
    """What the sheet became."""
    first, piece = folded.pieces[0], folded.piece
    return (
        f"{first.name} folded {folded.count} times is {piece.name}: {piece.in_unit('mm')}, "
        f"{piece.in_unit('in')}; {2**folded.count} of them make one {first.name}."
    )


def fold_readings(folded: Folded, units: str) -> list[tuple[str, str]]:
    """Size, ratio and area of the piece."""
    piece = folded.piece
    ratio = decimal(piece.height / piece.width, 3)
    return [
        ("size", f"{piece.in_unit('mm')}; {piece.in_unit('in')}"),
        ("long side : short side", f"{ratio} : 1"),
        ("area", _square(area(piece.width, piece.height), units)),
        (f"pieces out of one {folded.pieces[0].name}", str(2**folded.count)),
    ]


@dataclass(frozen=True)
class Framed:
    """A picture in a frame: the frame's opening, and the lip that covers the picture's edge."""

    opening: Sheet
    lip: Length

    @property
    def size(self) -> tuple[Length, Length]:
        """Width and height of the opening, and of the picture."""
        return self.opening.width, self.opening.height


def frame_sentence(framed: Framed, units: str) -> str:
    """What goes in, and what is seen of it."""
    width, height = (side.both(units) for side in sight_size(framed.size, framed.lip))
    return (
        f"A frame for {framed.opening} takes a picture of that size and shows {width} by {height} of it: "
        f"its lip covers {framed.lip.both(units)} on each side."
    )


def frame_readings(framed: Framed, units: str) -> list[tuple[str, str]]:
    """The picture's size, the sight size, and the share that is covered."""
    opening, seen = framed.size, sight_size(framed.size, framed.lip)
    covered = 1 - area(*seen) / area(*opening)
    return [
        ("the picture's size", _by(opening, units)),
        ("sight size", _by(seen, units)),
        ("hidden by the lip", f"{float(covered):.0%} of the picture"),
    ]


@dataclass(frozen=True)
class Rounded:
    """A sheet's width in whole pixels."""

    sheet: Sheet
    ppi: int

    @property
    def pixels(self) -> int:
        """Whole pixels across."""
        return self.sheet.width.pixels(Fraction(self.ppi))

    @property
    def off(self) -> Length:
        """How far the last pixel ends from the sheet's edge: beyond it if positive."""
        return Length(Fraction(self.pixels, self.ppi)) - self.sheet.width

    @property
    def tolerance(self) -> Length:
        """How far the paper itself may be off."""
        return iso_tolerance(self.sheet.width)


def rounding_sentence(rounded: Rounded, units: str) -> str:
    """The rounding in words."""
    exact = decimal(rounded.sheet.width.inches * rounded.ppi, 2)
    return (
        f"{rounded.sheet.name} is {rounded.sheet.width.both(units)} wide: {exact} pixels at "
        f"{rounded.ppi} ppi, so {rounded.pixels}. The paper itself may be "
        f"{decimal(rounded.tolerance.mm, 1)} mm off."
    )


def rounding_readings(rounded: Rounded, units: str) -> list[tuple[str, str]]:
    """Exact and whole pixels, the difference, the paper's tolerance."""
    off = abs(rounded.off.mm)
    most = Fraction(MM_PER_INCH, 2 * rounded.ppi)
    return [
        ("exactly", f"{decimal(rounded.sheet.width.inches * rounded.ppi, 2)} pixels"),
        ("in whole pixels", str(rounded.pixels)),
        ("rounded away", f"{decimal(off, 3)} mm, never more than {decimal(most, 3)} mm"),
        ("the cut may be off by", f"{decimal(rounded.tolerance.mm, 1)} mm"),
        ("that is so many half pixels", decimal(rounded.tolerance.mm / most, 0)),
    ]


@dataclass(frozen=True)
class Rolled:
    """A print on a roll, across it by its width or by its height."""

    shape: tuple[int, int]
    width: Length
    roll: Roll
    turned: bool
    room: Room

    @property
    def size(self) -> tuple[Length, Length]:
        """Across the roll, and along it."""
        width, height = by_width(self.shape, self.width)
        return (height, width) if self.turned else (width, height)

    @property
    def run(self) -> RollRun:
        """The print on the roll."""
        edges = next(each.roll for each in self.room.printers if each.roll).unprintable
        return on_roll(self.size, self.roll.width, edges)


def roll_sentence(rolled: Rolled, units: str) -> str:
    """Whether the roll takes the print, and how much of it."""
    across, along = (side.both(units) for side in rolled.size)
    run = rolled.run
    takes = f"takes {run.length.both(units)} of it" if run.fits else "does not fit across it"
    return (
        f"A print {across} across and {along} along a roll {rolled.roll.width.both(units)} wide {takes}; "
        f"{run.usable.both(units)} of the width can be printed."
    )


def roll_readings(rolled: Rolled, units: str) -> list[tuple[str, str]]:
    """What can be printed of the width, the paper used, and the share left white."""
    run = rolled.run
    told = [
        ("the roll is wide", rolled.roll.width.both(units)),
        ("of that, printable", run.usable.both(units)),
        ("the print takes across", rolled.size[0].both(units)),
    ]
    if not run.fits:
        over = (rolled.size[0] - run.usable).both(units)
        return [*told, ("fits", f"no: {over} too wide; turn it, or a wider roll")]
    return [
        *told,
        ("paper used", run.length.both(units)),
        ("left white", f"{float(run.blank):.0%}"),
    ]


def _by(size: tuple[Length, Length], units: str) -> str:
    return " × ".join(side.both(units) for side in size)


def _square(square_mm: Fraction, units: str) -> str:
    """An area in the units of the counter, both of them."""
    inches = f"{decimal(square_mm / MM_PER_INCH**2, 1)} sq in"
    metric = square_mm / 10**6
    metres = (
        f"{decimal(metric, 3)} m²"
        if metric >= Fraction(1, 10)
        else f"{decimal(square_mm / 100, 0)} cm²"
    )
    return f"{metres} ({inches})" if units == "mm" else f"{inches} ({metres})"
