"""Practice cases: drawn from a seed, good and bad mixed as at a counter, each made when it comes up."""

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from labkit.errors import LabError
from labkit.files.header.reading import read_picture
from labkit.geometry.layout import Layout, lay_out
from labkit.geometry.length import Length, inches, length
from labkit.geometry.paper import Sheet, sheet_of
from labkit.room.rules import Room, load_room
from labkit.teaching.brief import Candidate
from labkit.teaching.faults.hand_in import HandIn
from labkit.teaching.faults.made import write
from labkit.teaching.faults.sorts import Fault, Good
from labkit.teaching.faults.table import FAULTS, GOOD, ODDITIES
from labkit.teaching.pictures import demo_pictures

LEVELS = (1, 2)
CLEAN_SHARE, ODD_SHARE = 0.4, 0.1
"""How many of a set are good, and how many only odd."""

OWNERS = (
    "Nia Oak", "Ada Brook", "Ewan Tarn", "Łucja Wrzos", "Søren Lynghede", "Inés Ribera",
    "نور الساحل", "陈溪", "Оля Роща", "मीरा वन", "Θάλεια Ακτή", "하늘 윤슬",
)  # fmt: skip
"""Invented people of Quillmarsh."""
TITLES = (
    "Low water", "Ropes", "Eight past six", "Lantern", "Überfahrt", "Morgenlys", "Marea baja",
    "ميناء", "渡口", "Причал", "नदी", "Λιμάνι",
)  # fmt: skip
_SHAPES = tuple(Fraction(*pair) for pair in ((3, 2), (4, 3), (5, 4), (1, 1), (4, 5), (3, 4)))
_PANORAMA = Fraction(7, 2)
_SHARES = tuple(Fraction(percent, 100) for percent in (70, 75, 80, 85, 90))
_PRINTS_WELL = {"format", "compression", "bigtiff", "turned-flag"}
"""Faults of form: no paper is lost where they are printed without asking."""
_MARKED = length("1in")
"""What a trimmed print leaves free on all sides, for bleed and corner marks."""
_TRIES = 200
_REDUCED, _PARTS = 8, 24
"""How many times smaller a picture is looked at for its detail, and how many parts of it are."""


@dataclass(frozen=True)
class Case:
    """One hand-in at the practice counter, and what the technician would do with it.

    ``fault`` is what is wrong or odd, None where nothing is (or a technician's own file says it in
    ``reason``); ``cost`` is the paper that is lost if it is printed wrongly, in the room's currency, None
    without a price, or where it would print well all the same. ``level`` is 0 and ``hand_in`` None for a
    file of the technician's own, which is at ``own``.
    """

    fault: Fault | None
    answer: str
    reason: str
    name: str
    owner: str
    title: str
    sheet: Sheet | None
    cost: Decimal | None
    level: int
    codes: tuple[str, ...] = ()
    hand_in: HandIn | None = None
    own: Path | None = None

    @property
    def kind(self) -> str:
        """The case in two or three words: the name of its fault, or that there is none."""
        if self.fault:
            return self.fault.name
        return "nothing wrong" if self.answer == "print" else "from the technician's own files"

    @property
    def beside(self) -> str:
        """The name of a file that was handed in before it and matters, or ""."""
        before = self.hand_in and self.hand_in.beside
        return before.file_name if before else ""


def cases(
    seed: int | str,
    level: int,
    count: int,
    *,
    pictures: Sequence[Candidate] | None = None,
    room: Room | None = None,
) -> list[Case]:
    """A set for practice: about 40 % good, some odd, the others faults of ``level``; the same for a seed.

    No fault comes twice before all were seen, nor a way of being good. ``pictures`` are ours and
    ``room`` the shipped one where None. LabError for a level or a count that there is not.
    """
    if count < 1:
        raise LabError(f"{count} cases are none: ask for one or more.")
    chance = random.Random(f"{seed}, {level}")
    rules, shown = room or load_room(), our_pictures() if pictures is None else pictures
    clean, odd = round(count * CLEAN_SHARE), round(count * ODD_SHARE)
    decks = (
        (clean, _deck(chance, _good_in(rules))),
        (odd, _deck(chance, _of_level(ODDITIES, level))),
        (count - clean - odd, _deck(chance, _of_level(FAULTS, level))),
    )
    drawn = [next(deck) for share, deck in decks for _ in range(share)]
    chance.shuffle(drawn)
    return [_case(chance, each, level, shown, rules) for each in drawn]


def draw_case(
    chance: random.Random,
    level: int,
    pictures: Sequence[Candidate],
    *,
    room: Room | None = None,
    kind: Fault | Good | None = None,
) -> Case:
    """One case as ``chance`` has it, or of the ``kind`` asked for. LabError for a level there is not."""
    rules = room or load_room()
    if kind is None:
        shares = (CLEAN_SHARE, ODD_SHARE, 1 - CLEAN_SHARE - ODD_SHARE)
        tables = (_good_in(rules), _of_level(ODDITIES, level), _of_level(FAULTS, level))
        kind = chance.choice(chance.choices(tables, shares)[0])
    return _case(chance, kind, level, pictures, rules)


def with_another(case: Case, fault: Fault) -> Case:
    """The case with one more fault, which must not hide the first."""
    hand_in = fault.ways[0](case.hand_in)
    return replace(
        case,
        answer="send back" if "send back" in (case.answer, fault.answer) else "ask",
        reason=f"{case.reason} {fault.reason}",
        name=hand_in.file_name,
        codes=(*case.codes, *fault.codes),
        hand_in=hand_in,
    )


def make_case(case: Case, folder: Path) -> Path:
    """The case's file, made in ``folder``; one of the technician's own stays where it is."""
    return write(case.hand_in, folder) if case.hand_in else case.own


def our_pictures() -> list[Candidate]:
    """Our pictures with their sizes in pixels."""
    return [(demo, read_picture(demo.file).pixels) for demo in demo_pictures()]


def good_hand_in(
    chance: random.Random, at: str, pictures: Sequence[Candidate], room: Room
) -> HandIn:
    """A hand-in as it should be, placed ``at`` as :class:`Good` says.

    LabError where no part of ``pictures`` can be placed so on the smaller sheets in stock.
    """
    ppi = room.working_ppi
    for _ in range(_TRIES):
        demo, pixels = chance.choice(pictures)
        sheet = _sheet(chance, at, room)
        try:
            layout = _layout(chance, at, sheet, pixels, room)
        except LabError:
            continue
        if any(border < room.border for _, border in layout.borders.items()):
            continue
        used = layout.picture.width.pixels(ppi), layout.picture.height.pixels(ppi)
        if used[0] > pixels[0] or used[1] > pixels[1]:
            continue
        start = tuple(
            chance.randint(0, most - side) for most, side in zip(pixels, used, strict=True)
        )
        return HandIn(
            picture=demo.file,
            start=start,
            layout=layout,
            ppi=ppi,
            owner=chance.choice(OWNERS),
            title=chance.choice(TITLES),
            pattern=room.name_pattern,
        )
    raise LabError(
        f"no picture can be placed “{at}” on the smaller sheets of {room.name}: "
        "give larger pictures, or a room with other sheets."
    )


def _case(
    chance: random.Random,
    kind: Fault | Good,
    level: int,
    pictures: Sequence[Candidate],
    room: Room,
) -> Case:
    hand_in = chance.choice(kind.ways)(good_hand_in(chance, kind.at, pictures, room))
    if hand_in.enlarged > 1 or hand_in.soft:
        hand_in = replace(hand_in, start=_busiest(chance, hand_in))
    return Case(
        fault=kind if isinstance(kind, Fault) else None,
        answer=kind.answer,
        reason=kind.reason,
        name=hand_in.file_name,
        owner=hand_in.owner,
        title=hand_in.title,
        sheet=hand_in.layout.sheet,
        cost=None if _prints_well(kind) else room.price(None, hand_in.layout.sheet),
        level=level,
        codes=kind.codes,
        hand_in=hand_in,
    )


def _prints_well(kind: Fault | Good) -> bool:
    return bool(kind.codes) and set(kind.codes) <= _PRINTS_WELL


def _busiest(chance: random.Random, hand_in: HandIn) -> tuple[int, int]:
    """Where the part of a picture begins that has most detail, of some: in plain sky nobody sees that it is
    soft."""
    import numpy as np
    from PIL import Image

    with Image.open(hand_in.picture) as opened:
        pixels = opened.size
        opened.draft("L", tuple(side // _REDUCED for side in pixels))
        small = np.asarray(opened.convert("L"), np.int16)
    reduced = pixels[0] / small.shape[1]
    detail = np.abs(np.diff(small, axis=1))
    box, times = hand_in.box, hand_in.enlarged
    used = tuple(round(side / times) for side in (box.width, box.height))
    starts = [
        tuple(
            chance.randint(0, max(0, most - side)) for most, side in zip(pixels, used, strict=True)
        )
        for _ in range(_PARTS)
    ]

    def busy(start: tuple[int, int]) -> float:
        left, top, right, bottom = (
            round(edge / reduced) for edge in (*start, start[0] + used[0], start[1] + used[1])
        )
        return float(detail[top:bottom, left:right].mean())

    return max(starts, key=busy)


def _of_level(table: Sequence[Fault], level: int) -> list[Fault]:
    if level not in LEVELS:
        raise LabError(
            f"there is no level {level}: level 1 has the common faults, level 2 the rarer."
        )
    return [each for each in table if each.level == level]


def _good_in(room: Room) -> list[Good]:
    """All ways of being good, without the roll where the room has none that is long enough."""
    has_roll = room.roll_for(_long_sheet(room)) is not None
    return [each for each in GOOD if each.at != "roll" or has_roll]


def _deck(chance: random.Random, table: Sequence) -> Iterator:
    """Every one in an order of chance, then all over again in another."""
    while True:
        yield from chance.sample(table, len(table))


def _sheet(chance: random.Random, at: str, room: Room) -> Sheet:
    """One of the two smallest sheets in stock, upright or on its side; or a size off a roll."""
    if at == "roll":
        return _long_sheet(room)
    by_area = sorted(room.sheets, key=lambda each: each.width.inches * each.height.inches)
    sheet = chance.choice(by_area[:2])
    lies = at in ("centre", "trim") and chance.random() < 0.4
    return sheet.turned() if lies else sheet


def _long_sheet(room: Room) -> Sheet:
    """Longer than any sheet in stock, and low, for a panorama."""
    longest = max(max(each.width, each.height) for each in room.sheets)
    return sheet_of(longest + length("1/2in"), length("6in"))


def _layout(
    chance: random.Random, at: str, sheet: Sheet, pixels: tuple[int, int], room: Room
) -> Layout:
    shape, share = chance.choice(_SHAPES), chance.choice(_SHARES)
    edges = room.unprintable(sheet)
    if at == "trim":
        bleed = room.bleed
        wide = min(sheet.width, (sheet.height - _MARKED * 2) * shape) - _MARKED * 2
        wide = inches(int(wide.inches * share * 4)) / 4
        trim = wide, inches(int((wide / shape).inches * 4)) / 4
        size = tuple(side + bleed * 2 for side in trim)
        covers = tuple(side.pixels(room.working_ppi) for side in size)
        return lay_out(covers, sheet, unprintable=edges, trim=trim, bleed=bleed)
    if at == "roll":
        shape, share = _PANORAMA, Fraction(1)
    ppi = room.working_ppi
    most = [(side - room.border * 2).pixels(ppi) for side in (sheet.width, sheet.height)]
    wide = min(most[0], most[1] * shape, pixels[0], pixels[1] * shape) * share
    size = int(wide), int(wide / shape)
    place = "centre" if at == "roll" else at
    return lay_out(size, sheet, unprintable=edges, width=Length(Fraction(size[0], ppi)), at=place)
