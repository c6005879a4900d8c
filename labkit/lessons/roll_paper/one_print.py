"""07-roll-paper: prints of one size on a roll: side by side or one after another, turned or not."""

from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property
from pathlib import Path

from labkit.drawing.roll import Shown, Strip, draw_strip
from labkit.files.gang.told import money
from labkit.geometry.box import Box
from labkit.geometry.holding import Size, area
from labkit.geometry.length import ZERO, Length, length, size_text
from labkit.geometry.proportion import by_width
from labkit.home import home
from labkit.job import words as job
from labkit.lessons.parts.figure import (
    ChoiceControl,
    FigureApp,
    LengthControl,
    MenuControl,
    NumberControl,
    Reading,
)
from labkit.lessons.parts.predict import FigureQuestion, NumberQuestion
from labkit.lessons.parts.reader import your_picture
from labkit.lessons.parts.settings import follows_picture
from labkit.room.laying import Medium, price_of, rolls_of
from labkit.room.rules import Room
from labkit.teaching.pictures import demo_pictures

_LEAST, _MOST, _MOST_GAP = length("4in"), length("24in"), length("2in")
_MOST_COPIES = 6


@dataclass(frozen=True)
class OnRoll:
    """So many prints of one size on a roll, in rows as full as it allows."""

    shape: tuple[int, int]
    medium: Medium
    width: Length
    copies: int
    gap: Length
    turned: bool
    room: Room

    @cached_property
    def size(self) -> Size:
        """Across the roll, and along it."""
        size = by_width(self.shape, self.width)
        return size[::-1] if self.turned else size

    @property
    def usable(self) -> Length:
        """What of the roll's width can be printed."""
        return self.medium.stock().width

    @property
    def across(self) -> int:
        """How many lie side by side; none where one is too wide."""
        return int((self.usable + self.gap) / (self.size[0] + self.gap))

    @property
    def rows(self) -> int:
        """How many rows that makes."""
        return -(-self.copies // self.across) if self.across else 0

    @property
    def used(self) -> Length:
        """How long what is printed is."""
        return self.size[1] * self.rows + self.gap * (self.rows - 1) if self.rows else ZERO

    @property
    def taken(self) -> Length:
        """What comes off the roll: leader, edges and tail as well."""
        medium = self.medium
        ends = medium.leader + medium.edges.top + medium.edges.bottom + medium.tail
        return self.used + ends

    @property
    def waste(self) -> float:
        """The share of the paper that is no print."""
        printed = area(*self.size) * self.copies
        return 1 - float(printed / area(self.medium.width, self.taken))

    @property
    def price(self) -> Decimal | None:
        """Of all the paper."""
        return price_of(self.room, self.medium, self.taken)

    @property
    def other_way(self) -> "OnRoll":
        """The same, turned a quarter."""
        return replace(self, turned=not self.turned)


@follows_picture
def one_print(picture: str | Path | None = None) -> FigureApp:
    """Your print on a roll, once or several times: how long a piece it takes, turned and not."""
    room = home().room()
    shown = your_picture(room, picture)
    media = rolls_of(room)
    start = OnRoll(
        shown.pixels, media[min(1, len(media) - 1)], length("9in"), 2,
        length("1/4in"), False, room,
    )  # fmt: skip
    return _app(start, room, "one-print", job.preview(shown, room=room))


def _app(start: OnRoll, room: Room, prefix: str, photo: str) -> FigureApp:
    media = rolls_of(room)
    longest = max(
        replace(start, width=_most(start), medium=media[-1], copies=2).used, length("30in")
    )
    return FigureApp(
        start,
        [
            MenuControl("medium", "roll", options=[(each.name, each) for each in media]),
            ChoiceControl(
                "turned", "print lies", options=[("as it is", False), ("turned a quarter", True)]
            ),
            LengthControl("width", "print's width", span=lambda state: (_LEAST, _most(state))),
            NumberControl("copies", "copies", least=1, most=_MOST_COPIES, told=_copies),
            LengthControl("gap", "gap", span=lambda _: (ZERO, _MOST_GAP)),
        ],
        draw=lambda state, units: draw_strip(
            Strip(
                state.medium.width, (state.taken,), state.medium.edges, state.medium.leader,
                state.medium.tail,
            ),
            list(_pieces(state)), _cuts(state), units=units, prefix=prefix,
            title=f"{state.medium.name}, {size_text(state.size, units)} across × along",
            words=_sentence(state, units), longest=longest,
        ),
        tell=_sentence,
        read=readings,
        units=room.units,
        photo=photo,
    )  # fmt: skip


def _copies(count: float) -> str:
    return "1 print" if count == 1 else f"{count} prints"


def _most(state: OnRoll) -> Length:
    return _MOST if state.shape[0] >= state.shape[1] else length("16in")


def _pieces(state: OnRoll):
    if not state.across:
        corner = state.medium.edges.left, state.medium.leader + state.medium.edges.top
        yield Shown(Box(*corner, *state.size), "too wide", off=True)
        return
    for number in range(state.copies):
        row, column = divmod(number, state.across)
        left = state.medium.edges.left + (state.size[0] + state.gap) * column
        top = state.medium.leader + state.medium.edges.top + (state.size[1] + state.gap) * row
        yield Shown(Box(left, top, *state.size), str(number + 1), photo=True, turned=state.turned)


def _cuts(state: OnRoll) -> list[Length]:
    begin = state.medium.leader + state.medium.edges.top
    sides = []
    for row in range(state.rows):
        top = begin + (state.size[1] + state.gap) * row
        sides += [top, top + state.size[1]]
    return sides


def readings(state: OnRoll, units: str) -> list[Reading]:
    """Usable width, how the prints lie, the piece that comes off, its waste and price; the other way."""
    told = [
        ("usable width", state.usable.both(units)),
        ("across × along", size_text(state.size, units)),
    ]
    other = state.other_way
    turned = "turned back" if state.turned else "turned"
    if not state.across:
        short = (state.size[0] - state.usable).both(units)
        return [*told, ("too wide by", short), _compared(turned, other, units)]
    price = state.price
    return [
        *told,
        ("side by side", str(min(state.across, state.copies))),
        ("rows", str(state.rows)),
        ("comes off the roll", state.taken.both(units)),
        ("no print on", f"{state.waste:.0%} of it"),
        ("the paper costs", "no price is set" if price is None else money(state.room, price)),
        _compared(turned, other, units),
    ]


def _compared(word: str, other: OnRoll, units: str) -> Reading:
    return word, f"{other.taken.both(units)} come off" if other.across else "too wide"


def _sentence(state: OnRoll, units: str) -> str:
    told = f"{_copies(state.copies)}, {size_text(state.size, units)} across × along, on a {state.medium.name}"
    if not state.across:
        return f"{told}: too wide for the {state.usable.both(units)} that can be printed."
    return (
        f"{told}, of which {state.usable.both(units)} can be printed: {min(state.across, state.copies)} side "
        f"by side, in {'1 row' if state.rows == 1 else f'{state.rows} rows'}. {state.taken.both(units)} of "
        f"paper come off, and {state.waste:.0%} of that is no print."
    )


def how_long() -> NumberQuestion:
    """Predict a number: the shortest way to lay two prints that almost fit side by side."""
    return NumberQuestion(
        "Two prints, each 12 in wide and 18 in high, on a roll 24 in wide. The printer leaves 5 mm white at "
        "each side, and you want 1/4 in between the prints. You may turn them. Of all ways, which takes "
        "least: how long is what is printed, from the first edge to the last?",
        length("24 1/4in"),
        "Only 23.6 in of the width can be printed, so two prints of 12 in do not lie side by side. Turned, "
        "each is 18 in across and 12 in along: 12 + 1/4 + 12 = 24 1/4 in. Upright, one after another, they "
        "take 36 1/4 in.",
        {
            "18in": "Side by side they need 24 1/4 in of width. The printer reaches only 23.6 in: ask for "
            "the usable width first.",
            "36 1/4in": "That is upright, one after another. What if you turn both?",
            "36in": "That is upright, one after another, without the gap. What if you turn both?",
            "24in": "Turned is right: 12 and 12. Now add the gap between them.",
        },
    )


def side_by_side() -> FigureQuestion:
    """Predict by setting a figure: the largest prints of which two lie side by side."""
    room = home().room()
    medium = min(rolls_of(room), key=lambda each: abs(each.width - length("24in")))
    start = OnRoll((3, 2), medium, length("9in"), 2, length("1/4in"), False, room)
    most = (start.usable - start.gap) / 2
    shown = your_picture(room, demo_pictures()[0].file)
    app = _app(start, room, "side-by-side", job.preview(shown, room=room))

    def mend(state: OnRoll) -> str:
        if state.medium != medium or state.gap != start.gap or state.turned or state.copies != 2:
            return (
                f"Leave the roll at {medium.name}, two copies as they are, and the gap at 1/4 in."
            )
        if state.across < 2:
            return "Now they lie one after another: that is twice the paper. A little smaller."
        if state.width + length("1/8in") < most:
            return "They lie side by side, but there is width to spare. A little larger."
        return ""

    return FigureQuestion(
        f"Two prints of shape 3 : 2 are to lie side by side on the {medium.name}, with 1/4 in between "
        "them. Set the width at which they are as large as they can be.",
        f"The usable width is {start.usable.both()}. One gap goes off, and half of the rest is "
        f"{most.both()}. One step wider, and the piece is twice as long.",
        app,
        mend,
    )
