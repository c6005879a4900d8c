"""A print room's own rules: one TOML file that an instructor edits, read into one value."""

from collections.abc import Callable
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from pathlib import Path

from labkit.errors import LabError, system_reason
from labkit.geometry.box import Edges
from labkit.geometry.holding import smallest_holding, ways_it_holds
from labkit.geometry.length import ZERO, Length
from labkit.geometry.paper import Sheet, find_sheet
from labkit.geometry.resolution import FloorRow, floor_for
from labkit.geometry.size import Size
from labkit.room import schema as toml
from labkit.room import values as check
from labkit.room.schema import Mistake

SHIPPED = Path(__file__).with_name("room.toml")
"""The rules of the invented room that comes with the package."""


@dataclass(frozen=True, slots=True)
class Roll:
    """A roll in stock: its width, and the paper on a new one."""

    width: Length
    length: Length


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper: grams per square metre, its ICC profile, its prices by sheet and by area."""

    name: str
    surface: str
    weight_gsm: int
    coated_side: str
    profile: Path | None
    sheet_prices: dict[str, Decimal] = field(hash=False)
    price_per_square_metre: Decimal | None


@dataclass(frozen=True, slots=True)
class Feed:
    """One way through a printer, for an upright sheet, the edge that goes in first on top.

    ``offset`` is how far right and down a print comes out of its place, ``scale`` its measured length
    divided by the asked one, across and down.
    """

    unprintable: Edges
    offset: tuple[Length, Length]
    scale: tuple[Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class Printer:
    """A printer: how long it takes for a square metre, its sheet feed, and its roll feed if it has one."""

    name: str
    minutes_per_square_metre: Decimal
    sheet: Feed
    roll: Feed | None


AS_THE_PICTURE = "as the picture"
"""The depth of a print file that keeps the picture's own."""


@dataclass(frozen=True, slots=True)
class Colour:
    """Colour of a finished file; ``untagged_cmyk`` None refuses a CMYK picture without a profile.

    ``depth`` is 8, 16 or :data:`AS_THE_PICTURE`; ``packing_16`` how a file of 16 bits is packed, in the
    words of :class:`~labkit.files.header.picture.Picture`.
    """

    space: str
    depth: int | str
    packing_16: str
    intent: str
    untagged_cmyk: Path | None
    untagged_grey: str

    def depth_for(self, held: int) -> int:
        """Bits a channel of the print file of a picture that holds 8 or 16."""
        return held if self.depth == AS_THE_PICTURE else self.depth

    def packing_for(self, depth: int) -> str:
        """How a print file of so many bits a channel is packed."""
        return "LZW" if depth <= 8 else self.packing_16


@dataclass(frozen=True, slots=True)
class Tolerance:
    """How far what is handed in may be off: its place, its size, and its resolution below the floor, as a
    share of that."""

    place: Length
    size: Length
    floor: Fraction


@dataclass(frozen=True, slots=True)
class Limits:
    """What reading one file may take: seconds, megabytes, and pixels of the picture."""

    seconds: int
    memory_mb: int
    pixels: int


@dataclass(frozen=True, slots=True)
class Room:
    """All that one print room lays down, under the names it has in the room file."""

    name: str
    units: str
    currency: str
    working_ppi: int
    border: Length
    bleed: Length
    name_pattern: str
    sheets: tuple[Sheet, ...]
    rolls: tuple[Roll, ...]
    floor: tuple[FloorRow, ...]
    papers: tuple[Paper, ...]
    printers: tuple[Printer, ...]
    colour: Colour
    tolerance: Tolerance
    limits: Limits

    def find_stock(self, sheet: Sheet) -> Sheet | None:
        """The sheet in stock of this size, either way round, as it stands in ``sheets``; else None."""
        return check.find_same_sheet(sheet, self.sheets)

    def roll_for(self, sheet: Sheet) -> Roll | None:
        """The narrowest roll that a sheet of this size comes off, either way round; None for none."""
        short, long = sorted((sheet.width, sheet.height))
        holding = [
            roll
            for roll in self.rolls
            if short <= roll.width and (long <= roll.length or long <= roll.width)
        ]
        return min(holding, key=lambda roll: roll.width, default=None)

    def sheet_for(
        self, size: Size, printer: str | Printer | None = None, border: Length = ZERO
    ) -> Sheet | None:
        """The smallest sheet in stock, as it lies, that holds a print of this size in its centre, with such
        a ``border`` at least; None for none."""
        return smallest_holding(size, self.sheets, self._edges_at(printer), border)

    def ways_it_holds(
        self,
        size: Size,
        sheet: Sheet,
        printer: str | Printer | None = None,
        border: Length = ZERO,
    ) -> tuple[Sheet, ...]:
        """``sheet`` as it can lie to hold a print of this size in its centre, the print's own way first."""
        return ways_it_holds(size, sheet, self._edges_at(printer), border)

    def _edges_at(self, printer: str | Printer | None) -> Callable[[Sheet], Edges]:
        return lambda sheet: self.unprintable(sheet, printer)

    def refuse_unstocked(self, sheet: Sheet) -> None:
        """LabError for a size that neither a sheet in stock nor a roll can give."""
        if self.find_stock(sheet) or self.roll_for(sheet):
            return
        widest = max(self.rolls, key=lambda roll: roll.width)
        edges = self.unprintable(sheet)
        usable = widest.width - edges.left - edges.right
        raise LabError(
            f"no sheet or roll here is as large as {sheet}: the widest roll is "
            f"{widest.width.both(self.units)}, of which {usable.both(self.units)} can be printed. Make the "
            "print smaller, or print it in parts."
        )

    def is_below_floor(self, ppi: Fraction, long_side: Length) -> bool:
        """Whether a print of that long side has too few pixels per inch, by more than the tolerance."""
        return ppi < floor_for(long_side, self.floor).ppi * (1 - self.tolerance.floor)

    def paper(self, name: str | Paper | None = None) -> Paper:
        """The paper of that name, or the first; LabError with their names for one nobody knows."""
        return _named(name, self.papers, "paper")

    def printer(self, name: str | Printer | None = None) -> Printer:
        """The printer of that name, or the first; LabError with their names for one nobody knows."""
        return _named(name, self.printers, "printer")

    def printer_for(self, sheet: Sheet, printer: str | Printer | None = None) -> Printer:
        """The printer of that name; without one the first, or the first with a roll feed for a size that
        is not kept as a sheet."""
        if printer or self.find_stock(sheet):
            return self.printer(printer)
        return next((each for each in self.printers if each.roll), self.printers[0])

    def feed(self, sheet: Sheet, printer: str | Printer | None = None) -> Feed:
        """The way ``sheet`` goes through a printer: the sheet feed for a size in stock, else the roll
        feed where the printer has one. Without a name, the first printer that suits."""
        chosen = self.printer_for(sheet, printer)
        return chosen.sheet if self.find_stock(sheet) else chosen.roll or chosen.sheet

    def minutes(self, sheet: Sheet) -> float:
        """How long its printer takes for one print on ``sheet``."""
        square_metres = sheet.width.mm * sheet.height.mm / 1_000_000
        return float(square_metres) * float(self.printer_for(sheet).minutes_per_square_metre)

    def unprintable(self, sheet: Sheet, printer: str | Printer | None = None) -> Edges:
        """What ``feed`` cannot reach of ``sheet`` as it lies: turned with a sheet on its side."""
        edges = self.feed(sheet, printer).unprintable
        return edges.turned() if sheet.is_turned else edges

    def price(self, paper: str | Paper | None, sheet: Sheet, copies: int = 1) -> Decimal | None:
        """What ``copies`` prints on ``sheet`` cost, each rounded to a hundredth; None if not priced.

        The sheet's own price, whichever way round it lies and whatever it is called; else its area.
        """
        if not isinstance(copies, int) or copies < 1:
            raise LabError(f"{copies} copies have no price: give a whole number from 1 up.")
        priced = {find_sheet(name): each for name, each in self.paper(paper).sheet_prices.items()}
        if found := check.find_same_sheet(sheet, tuple(priced)):
            return _to_hundredths(priced[found]) * copies
        each = self.roll_price(paper, sheet.width, sheet.height)
        return None if each is None else each * copies

    def roll_price(
        self, paper: str | Paper | None, width: Length, length: Length
    ) -> Decimal | None:
        """What so much paper off a roll costs, to a hundredth; None if it has no price by area.

        One square metre is 1 000 000 mm².
        """
        rate = self.paper(paper).price_per_square_metre
        if rate is None:
            return None
        area = width.mm * length.mm / 1_000_000
        return _to_hundredths(rate * area.numerator / area.denominator)


def load_room(path: str | Path | None = None) -> Room:
    """The rules in the room file at ``path``, or of the room that comes with the package.

    LabError for a file with mistakes: the first of them, its line, and how to see them all.
    """
    path = Path(path or SHIPPED)
    room, mistakes = toml.read_file(path, _ROOM, _shipped())
    if not mistakes:
        return room
    first = mistakes[0]
    if not first.line:
        raise LabError(first.sentence)
    raise LabError(f"{path.name}, {first} `labkit room check {path}` lists every mistake in it.")


def check_room(path: str | Path) -> list[Mistake]:
    """Every mistake in the room file at ``path``, by line; an empty list for a sound one."""
    return toml.read_file(Path(path), _ROOM, _shipped())[1]


def new_room(path: str | Path) -> Path:
    """Write a room file to start from, with all its notes, and give its path.

    LabError where there is a file of that name already, or the folder cannot be written to.
    """
    path = Path(path)
    try:
        with path.open("xb") as file:
            file.write(SHIPPED.read_bytes())
    except FileExistsError:
        raise LabError(
            f"{path} is there already and is left as it is: give another name, or move it away first."
        ) from None
    except FileNotFoundError:
        raise LabError(
            f"there is no folder {path.parent} to put {path.name} in: make it first."
        ) from None
    except OSError as error:
        raise LabError(
            f"{path} cannot be written ({system_reason(error)}): choose a folder of your own."
        ) from None
    return path


def _shipped() -> str:
    return SHIPPED.read_text(encoding="utf-8", errors="replace")


def _named(name: str | None, known, kind: str):
    if name is None:
        return known[0]
    if name in known:
        return name
    for each in known:
        if each.name.casefold() == name.strip().casefold():
            return each
    names = ", ".join(each.name for each in known)
    raise LabError(f"no {kind} here is called “{name}”: use one of {names}.")


def _to_hundredths(amount: Decimal) -> Decimal:
    return amount.quantize(Decimal("0.01"), ROUND_HALF_UP)


# What a room file holds


def _across_down(reader):
    return toml.table(lambda across, down: (across, down), across=reader, down=reader)


_FEED = toml.table(
    Feed,
    unprintable=toml.table(
        Edges, left=check.edge, top=check.edge, right=check.edge, bottom=check.edge
    ),
    offset=_across_down(check.shift),
    scale=_across_down(check.scale),
)
_PAPER = toml.table(
    Paper,
    optional=("price_per_square_metre",),
    name=toml.text,
    surface=toml.text,
    weight_gsm=toml.whole,
    coated_side=toml.text,
    profile=check.profile(),
    sheet_prices=toml.by_key(check.sheet, check.price),
    price_per_square_metre=check.price,
)
_ROOM = toml.table(
    Room,
    together=check.go_together,
    name=toml.text,
    units=toml.choice("in", "mm"),
    currency=toml.text,
    working_ppi=toml.whole,
    border=check.edge,
    bleed=check.edge,
    name_pattern=check.name_pattern,
    sheets=toml.many(check.sheet),
    rolls=toml.many(toml.table(Roll, width=check.size, length=check.size)),
    floor=toml.many(
        toml.table(
            FloorRow, optional=("up_to",), up_to=check.size, ppi=toml.whole, distance=check.size
        )
    ),
    papers=toml.many(_PAPER),
    printers=toml.many(
        toml.table(
            Printer,
            optional=("roll",),
            name=toml.text,
            minutes_per_square_metre=check.minutes,
            sheet=_FEED,
            roll=_FEED,
        )
    ),
    colour=toml.table(
        Colour,
        space=toml.choice("sRGB"),
        depth=toml.choice(8, 16, AS_THE_PICTURE),
        packing_16=toml.choice("Deflate", "LZW"),
        intent=toml.choice("perceptual", "relative", "saturation", "absolute"),
        untagged_cmyk=check.profile("CMYK"),
        untagged_grey=toml.choice("sRGB"),
    ),
    tolerance=toml.table(Tolerance, place=check.size, size=check.size, floor=check.share),
    limits=toml.table(Limits, seconds=toml.whole, memory_mb=toml.whole, pixels=toml.whole),
)
