"""What a room keeps: papers, each in its own sheets and rolls."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from labkit.geometry.length import Length
from labkit.geometry.paper import Sheet
from labkit.geometry.size import SAME_SHEET


@dataclass(frozen=True, slots=True)
class KeptSheet:
    """A cut sheet that a paper is kept in, upright; ``price`` of one print, and how many are ``left``:
    None where the room does not say."""

    sheet: Sheet
    price: Decimal | None = None
    left: int | None = None

    @property
    def name(self) -> str:
        """What the counter calls it."""
        return self.sheet.name


@dataclass(frozen=True, slots=True)
class Roll:
    """A roll that a paper is kept in: its width, and the ``length`` of a new one.

    ``price_per_metre`` of the whole width, and the length that is ``left``: None where the room does not
    say.
    """

    width: Length
    length: Length
    price_per_metre: Decimal | None = None
    left: Length | None = None

    @property
    def name(self) -> str:
        """What the counter calls it."""
        return f"{self.width.inch_text()} roll"


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper, and what it is kept in: grams per square metre, the thickness of a sheet.

    ``turn`` is False where a print must lie on the roll as it lies in its file.
    """

    name: str
    surface: str
    weight_gsm: int
    thickness: Length
    coated_side: str
    suits: str
    turn: bool
    sheets: tuple[KeptSheet, ...]
    rolls: tuple[Roll, ...]

    def sheet(self, asked: Sheet) -> KeptSheet | None:
        """The sheet of this size that it is kept in, either way round; else None."""
        found = find_same_sheet(asked, [each.sheet for each in self.sheets])
        return next((each for each in self.sheets if each.sheet == found), None)

    def rolls_for(self, asked: Sheet) -> list[Roll]:
        """The rolls that a piece of this size comes off, the narrowest first."""
        holding = [roll for roll in self.rolls if lies_on(roll, asked, self.turn) is not None]
        return sorted(holding, key=lambda roll: roll.width)

    def is_kept_for(self, asked: Sheet) -> bool:
        """Whether a print on a sheet of this size can be made from what is kept."""
        return bool(self.sheet(asked) or self.rolls_for(asked))


def lies_on(roll: Roll, asked: Sheet, may_turn: bool) -> tuple[Length, bool] | None:
    """The length that a piece takes along a roll, and whether it is turned a quarter on it; None where it
    does not fit. It lies so that it takes the least. One made for the whole width, which is rounded to
    pixels, may be a little wider: it is still that roll."""
    ways = [(asked.width, asked.height, False)]
    if may_turn:
        ways.append((asked.height, asked.width, True))
    fitting = [
        (along, is_turned)
        for across, along, is_turned in ways
        if across <= roll.width + SAME_SHEET and along <= roll.length
    ]
    return min(fitting, default=None)


def find_same_sheet(sheet: Sheet, known: Sequence[Sheet]) -> Sheet | None:
    """The nearest of the ``known`` sheets that is this one, either way round; else None."""
    near = [each for each in known if each.same_size(sheet, SAME_SHEET, either_way=True)]
    return min(near, key=lambda each: abs(upright(each).width - upright(sheet).width), default=None)


def upright(sheet: Sheet) -> Sheet:
    """The sheet as it stands on its short side."""
    return sheet.turned() if sheet.is_turned else sheet
