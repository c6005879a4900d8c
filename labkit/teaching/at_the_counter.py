"""What the lesson at the counter asks: judging hand-ins as the technician would, and mending one."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from labkit.errors import LabError
from labkit.files.checks.catalogue import codes_of, reasons
from labkit.files.header.reading import read_picture
from labkit.geometry.layout import PLACES, Layout, lay_out
from labkit.geometry.length import Length, length
from labkit.geometry.paper import Sheet
from labkit.geometry.resolution import ppi_at, ppi_text
from labkit.room.rules import Room
from labkit.teaching.brief import Brief, Candidate, brief_of, chance_for
from labkit.teaching.faults import ANSWERS, ODDITIES, Case
from labkit.teaching.margins import AT

CASES = "LABKIT_CASES"
"""The environment variable that names a folder of a technician's own hand-ins."""
NOTHING, ODD = "nothing is wrong", "it looks odd, but may be meant that way"
"""Two reasons that no finding goes with."""
KINDS = {words: codes_of(reason) for reason, words in reasons().items()}
"""What can be wrong with a hand-in, in a worker's words, each with the findings it goes with."""

OUTCOMES = {
    ("print", "send back"): "good work sent back",
    ("send back", "print"): "bad work printed",
    ("ask", "print"): "printed without asking",
    ("ask", "send back"): "sent back without asking",
    ("print", "ask"): "asked without need",
    ("send back", "ask"): "asked, where it could only go back",
}
"""What a wrong decision amounts to, by the technician's answer and the one given."""


@dataclass(frozen=True, slots=True)
class Decided:
    """One hand-in, decided: the technician's ``answer`` and the one ``given``, and the ``reason`` given.

    ``kinds`` are the reasons that fit, none where that is not known. ``cost`` is the paper it takes,
    None where it has no price.
    """

    answer: str
    given: str
    reason: str
    kinds: tuple[str, ...]
    cost: Decimal | None = None

    @property
    def is_right(self) -> bool:
        """Whether it was decided as the technician would have."""
        return self.given == self.answer

    @property
    def outcome(self) -> str:
        """What a wrong decision amounts to; "" for a right one."""
        return OUTCOMES.get((self.answer, self.given), "")

    @property
    def has_right_reason(self) -> bool:
        """Whether the reason given fits; so it does where nobody knows."""
        return not self.kinds or self.reason in self.kinds

    @property
    def kind(self) -> str:
        """What it goes under: work sent back for nothing, under what was held against it."""
        if self.kinds == (NOTHING,) and self.reason:
            return self.reason
        return self.kinds[0] if self.kinds else "other"


@dataclass(frozen=True, slots=True)
class Score:
    """All that was decided so far."""

    decided: tuple[Decided, ...] = ()

    def having(self, outcome: str) -> tuple[Decided, ...]:
        """Those decided wrongly in this way."""
        return tuple(each for each in self.decided if each.outcome == outcome)

    @property
    def right(self) -> tuple[Decided, ...]:
        """Those decided as the technician would have."""
        return tuple(each for each in self.decided if each.is_right)

    def wasted(self, outcome: str) -> Decimal:
        """What the paper cost of those that were printed wrongly in this way, as far as it has a price."""
        printed = (each for each in self.having(outcome) if each.given == "print")
        return sum((each.cost or Decimal(0) for each in printed), Decimal(0))

    def summary(self, currency: str) -> list[tuple[str, str]]:
        """What came out, to read off: each kind of mistake with how often, at what, and what paper it
        cost. Good work sent back and bad work printed are always told."""
        rows = [("decided as the technician would", f"{len(self.right)} of {len(self.decided)}")]
        known = [each for each in self.right if each.kinds]
        if known or not self.right:
            fit = sum(each.has_right_reason for each in known)
            rows.append(("and for a reason that fits", f"{fit} of {len(known)}"))
        for number, outcome in enumerate(OUTCOMES.values()):
            if number < 2 or self.having(outcome):
                rows.append((outcome, self._told(outcome, currency)))
        return rows

    def _told(self, outcome: str, currency: str) -> str:
        found = self.having(outcome)
        if not found:
            return "none"
        counted = Counter(each.kind for each in found).most_common()
        kinds = "; ".join(kind if count == 1 else f"{kind}, {count}×" for kind, count in counted)
        cost = self.wasted(outcome)
        return f"{len(found)} ({kinds})" + (f", {money(cost, currency)} of paper" if cost else "")


def money(amount: Decimal, currency: str) -> str:
    """A sum with its currency in front.

    >>> money(Decimal("6.2"), "£"), money(Decimal(3), "EUR")
    ('£6.20', 'EUR 3.00')
    """
    space = " " if currency[-1:].isalpha() else ""
    return f"{currency}{space}{amount:.2f}"


def reasons_for(case: Case) -> tuple[str, ...]:
    """The reasons that fit a case, the plainest first; none where only the technician's own words tell."""
    if case.answer == "print":
        return (NOTHING,)
    kinds = tuple(kind for kind, codes in KINDS.items() if set(codes) & set(case.codes))
    return (*kinds, ODD) if case.fault in ODDITIES else kinds


def decide(case: Case, given: str, reason: str) -> Decided:
    """A decision on a case. LabError for none, one without a reason, or one that its reason denies."""
    if given not in ANSWERS:
        raise LabError("decide first: print it, ask, or send it back.")
    if not reason:
        raise LabError(f"say why as well: choose a reason, or “{NOTHING}”.")
    if given != "print" and reason == NOTHING:
        raise LabError("if nothing is wrong, print it; else choose what it is.")
    return Decided(case.answer, given, reason, reasons_for(case), case.cost)


# The exercise

_BORDERS = {
    "in": tuple(length("1/4in") * count for count in range(2, 13)),
    "mm": tuple(length("5mm") * count for count in range(3, 16)),
}
"""Borders to ask for, by the unit the sheet is defined in, so that sliders reach the width they make."""
_LEAST_BORDER, _LEAST_WIDTH = length("1/2in"), length("4in")
_TRIES = 1000
_HINTS = {
    "sheet-size": "The file that came in was the picture alone. Yours has to be as large as the "
    "sheet on the slip.",
    "sheet-turned": "The slip says which way the sheet lies.",
    "picture-size": "The slip gives the borders, not the width: the sheet's width less the left and the "
    "right border. The height follows.",
    "resolution-label": "Forget the label it came with: the new one has to make these pixels as large as "
    "the sheet.",
    "resolution-missing": "Without a label nobody knows how large these pixels are.",
    "border": "The slip gives the left and the right border; the place says how the rest is shared.",
    "name": "At the printer, the name is all that says whose it is.",
}


def counter_brief(reader: str, pictures: Sequence[Candidate], room: Room) -> Brief:
    """The task for ``reader``: one of ``pictures`` came in alone and wrongly labelled, with a slip that says
    sheet, borders and place; the file that can be printed is to be made.

    LabError without a name, or where no sheet in stock takes a print of 4 in with such borders.
    """
    chance = chance_for("at the counter", reader)
    for _ in range(_TRIES):
        candidate = chance.choice(pictures)
        sheet = chance.choice(room.sheets)
        sheet = sheet.turned() if chance.random() < 0.4 else sheet
        border, at = chance.choice(_BORDERS[sheet.unit]), chance.choice(PLACES)
        layout = answer(candidate[1], sheet, border, at, room)
        if layout is not None and stated_width(candidate) != layout.picture.width:
            break
    else:
        raise LabError(
            f"no sheet in stock at {room.name} takes a print of {_LEAST_WIDTH} with borders of "
            f"{_LEAST_BORDER}: add a larger one to the room's file."
        )
    demo, pixels = candidate
    lies = "lying on its side" if sheet.is_turned else "upright"
    asked = (
        f"“{demo.title}” came to the counter as the picture alone: {pixels[0]} × {pixels[1]} pixels, no "
        f"sheet round it, and {_label(candidate)}. The slip with it says: “{sheet}, {lies}; left and right "
        "border ", border, f" each; {AT[at]}.” Make the file that prints like that at 100 %. Put your own "
        "name on it, so that it can be told from your neighbour's.",
    )  # fmt: skip
    return brief_of(reader, candidate, asked, layout, room, _HINTS)


def answer(
    pixels: tuple[int, int], sheet: Sheet, border: Length, at: str, room: Room
) -> Layout | None:
    """The print with ``border`` left and right; None where it would be too small, have too few pixels, or
    come too near to an edge."""
    width = sheet.width - border * 2
    if width < _LEAST_WIDTH or ppi_at(pixels[0], width) < room.working_ppi:
        return None
    try:
        layout = lay_out(pixels, sheet, unprintable=room.unprintable(sheet), width=width, at=at)
    except LabError:
        return None
    borders = [each for _, each in layout.borders.items()]
    return layout if min(borders) >= _LEAST_BORDER else None


def stated_width(candidate: Candidate) -> Length | None:
    """How wide a picture says it is; None where it says nothing."""
    size = read_picture(candidate[0].file).size
    return size[0] if size else None


def _label(candidate: Candidate) -> str:
    """What the picture's label says, in words."""
    facts = read_picture(candidate[0].file)
    if facts.size is None:
        return "no label that says how large it is"
    return f"a label of {ppi_text(facts.ppi[0])}, which makes it {facts.size[0]} wide"
