"""A class's prints on one length of roll: laid by hand by a reader, and the computer's layout of them."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

from labkit.errors import LabError
from labkit.files.gang.slug import SLUG_ROOM
from labkit.geometry.length import Length, length
from labkit.geometry.packing import Cutter, Packing, Piece, Placed, Roll, pack
from labkit.geometry.packing.loose import Loose, Lying, one_below_another
from labkit.geometry.packing.told import joined
from labkit.room.laying import Medium, cutter_of
from labkit.room.rules import Room

_CLASS = (
    ("Mina", "8x12"), ("Noor", "14x11"), ("Otto", "5x7"), ("Pia", "10x8"), ("Quin", "6x9"),
    ("Rhea", "12x8"),
)  # fmt: skip
"""An invented evening class, and what each of them wants printed, in inches."""
_GAP = length("1/4in")
_STEPS = 150


@dataclass(frozen=True)
class ByHand:
    """Prints as the reader has laid them on a roll; ``chosen`` is the one that is moved or turned.

    ``is_theirs``: the computer's layout is what is drawn. ``is_asked``: the reader has asked for it.
    """

    medium: Medium
    loose: Loose
    room: Room
    chosen: int = 0
    is_theirs: bool = False
    is_asked: bool = False

    @cached_property
    def answer(self) -> Packing:
        """The computer's layout of the same prints; LabError where it finds none for all of them."""
        loose = self.loose
        pieces = tuple(each.piece for each in loose.prints)
        return _answer(pieces, loose.roll, loose.gap, loose.cutter)

    @property
    def drawn(self) -> Loose:
        """The prints as they are drawn: theirs or the reader's."""
        return self.theirs if self.is_theirs else self.loose

    @cached_property
    def theirs(self) -> Loose:
        """The prints as they lie in it."""
        places = {each.name: each for each in self.answer.placed}
        return replace(
            self.loose, prints=tuple(_as_in(places[own.name]) for own in self.loose.prints)
        )

    def names(self, numbers: Sequence[int]) -> str:
        """Of those prints, in one phrase."""
        return joined([self.loose.prints[at].name for at in numbers])

    def own(self) -> "ByHand":
        """The same to be moved; LabError while the computer's layout is drawn, which stays as it is."""
        if self.is_theirs:
            raise LabError("this is the computer's layout: choose yours to go on with it.")
        return self


def _as_in(placed: Placed) -> Lying:
    return Lying(placed.piece, placed.box.left, placed.box.top, placed.turned)


@lru_cache(maxsize=4)
def _answer(pieces: tuple[Piece, ...], roll: Roll, gap: Length, cutter: Cutter) -> Packing:
    found = pack(pieces, roll, gap=gap, stages=None, cutter=cutter, seconds=None, steps=_STEPS)
    if found.left_out:
        raise LabError(" ".join(each.reason for each in found.left_out))
    return found


def begun(medium: Medium, room: Room) -> ByHand:
    """The prints one below another. LabError where none is narrow enough for the roll."""
    roll = replace(medium.stock(below=SLUG_ROOM), max_length=None)
    pieces = []
    for name, size in _CLASS:
        sides = [length(f"{side}in") for side in size.split("x")]
        if (min(sides) if medium.turn else sides[0]) <= roll.width:
            pieces.append(Piece(name, *sides, turn=medium.turn))
    if not pieces:
        raise LabError(f"no print of the class is narrow enough for the {medium.name}.")
    cutter = cutter_of(room, medium.paper)
    return ByHand(medium, one_below_another(pieces, roll, gap=_GAP, cutter=cutter), room)
