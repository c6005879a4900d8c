"""What is laid out, on what, and what can be cut: pieces, a roll or sheets, the cutter's limits."""

from collections.abc import Iterator
from dataclasses import dataclass

from labkit.errors import LabError
from labkit.geometry.box import Edges
from labkit.geometry.length import ZERO, Length


@dataclass(frozen=True, slots=True)
class Piece:
    """A picture to be cut out ``width`` × ``height``, ``copies`` times.

    ``turn`` says whether it may be turned a quarter. Pieces of one ``group`` (a triptych, a student's
    five) stay together, in the order given; so do the copies of one piece. LabError for a size that is
    not above zero or a number of copies below one.
    """

    name: str
    width: Length
    height: Length
    copies: int = 1
    turn: bool = True
    group: str | None = None

    def __post_init__(self):
        if min(self.width, self.height) <= ZERO:
            raise LabError(
                f"{self.name} is {self.size_text()}: give a width and a height above zero."
            )
        if self.copies < 1:
            raise LabError(f"{self.name} is wanted {self.copies} times: give 1 or more copies.")

    def ways(self) -> Iterator[tuple[Length, Length]]:
        """Its width and height as it may lie: as given, and turned if it may be."""
        yield self.width, self.height
        if self.turn and self.width != self.height:
            yield self.height, self.width

    def size_text(self) -> str:
        """Width by height in words."""
        return f"{self.width} wide and {self.height} high"


@dataclass(frozen=True, slots=True)
class Roll:
    """A roll on which ``width`` can be printed, and ``max_length`` at most in one go if that is given.

    ``margins`` is the white round what is printed: the sides that the printer does not reach, and the
    leader above and the tail below. It is cut away, but holds no piece. ``parted``: the printer itself cuts
    the roll across after each row, so rows come apart, each with margins of its own. LabError for a width
    or length not above zero, or a margin below it.
    """

    width: Length
    max_length: Length | None = None
    margins: Edges = Edges()
    parted: bool = False

    def __post_init__(self):
        _refuse("the roll", self.width, self.max_length, self.margins)

    @property
    def height(self) -> Length | None:
        """How much can be printed along it; None where that is free."""
        return self.max_length

    @property
    def name(self) -> str:
        """What it is called in a sentence."""
        return "the roll"


@dataclass(frozen=True, slots=True)
class Sheets:
    """Sheets on each of which ``width`` × ``height`` can be printed, with ``margins`` white round that.

    LabError for a size not above zero, or a margin below it.
    """

    width: Length
    height: Length
    margins: Edges = Edges()

    def __post_init__(self):
        _refuse("the sheet", self.width, self.height, self.margins)

    @property
    def name(self) -> str:
        """What it is called in a sentence."""
        return "the sheet"


@dataclass(frozen=True, slots=True)
class Cutter:
    """What a cutter can do; None where it sets no limit.

    ``longest`` is the longest line it cuts. Of the two parts that a cut makes, one lies under the
    clamp: ``hold`` is the least that the wider of them must measure, from the cut to its far edge.
    ``least`` is the shorter side of the smallest piece of paper that can be put under the blade.
    ``stack`` is how many sheets it cuts at once. LabError for limits not above zero.
    """

    longest: Length | None = None
    hold: Length | None = None
    least: Length | None = None
    stack: int = 1

    def __post_init__(self):
        for word in ("longest", "hold", "least"):
            limit = getattr(self, word)
            if limit is not None and limit <= ZERO:
                raise LabError(
                    f"the cutter's {word} is {limit}: give a length above zero, or none."
                )
        if self.stack < 1:
            raise LabError(f"the cutter's stack is {self.stack} sheets: give 1 or more.")

    def limit(self, line: Length, distance: Length, depth: Length) -> str:
        """Which limit a cut is beyond, in a sentence; "" where it can be made.

        It is ``line`` long, and ``distance`` from an edge of paper that reaches ``depth`` from there.

        >>> from labkit.geometry.length import inches
        >>> Cutter(longest=inches(15)).limit(inches(24), inches(5), inches(10))
        'that takes a cut 24 in (609.6 mm) long, and the longest is 15 in (381 mm). Use narrower paper or \
another cutter.'
        """
        narrow, held = min(line, depth), max(distance, depth - distance)
        if self.longest is not None and line > self.longest:
            return (
                f"that takes a cut {line} long, and the longest is {self.longest}. Use narrower paper or "
                "another cutter."
            )
        if self.least is not None and narrow < self.least:
            return (
                f"it leaves paper only {narrow} wide to cut, and the least is {self.least}. Cut it by hand, "
                "or make it larger."
            )
        if self.hold is not None and held < self.hold:
            return (
                f"only {held} of paper would lie under the clamp, which has to hold {self.hold}. Cut it by "
                "hand, or make it larger."
            )
        return ""


def _refuse(what: str, width: Length, height: Length | None, margins: Edges) -> None:
    for side, word in ((width, "width"), (height, "length" if what == "the roll" else "height")):
        if side is not None and side <= ZERO:
            raise LabError(f"{what} has a {word} of {side} to print on: give one above zero.")
    for side, size in margins.items():
        if size < ZERO:
            raise LabError(f"{what} has a {side} margin of {size}: give zero or more.")
