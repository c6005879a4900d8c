"""08-at-the-counter: reading a hand-in: what the file says of itself, what the picture says, what to ask."""

import random
from dataclasses import dataclass, replace
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory

import ipywidgets as widgets
from PIL import Image

from labkit.drawing.hand_in import draw_file, draw_hand_in, draw_nothing
from labkit.errors import LabError
from labkit.files.checks.catalogue import codes_of
from labkit.files.checks.check import check
from labkit.files.checks.findings import Findings
from labkit.files.folder.alike import findings_across
from labkit.files.header.picture import Picture
from labkit.files.look.address import address_bytes, address_of
from labkit.geometry.length import decimal, size_text
from labkit.geometry.paper import Sheet
from labkit.home import home
from labkit.lessons.parts.controls import App, card, choice, columns, menu, table
from labkit.lessons.parts.figure import Reading
from labkit.lessons.parts.reader import our_pictures
from labkit.lessons.parts.settings import settings
from labkit.lessons.parts.sheetview import SheetView
from labkit.room.rules import Room
from labkit.teaching.faults import FAULTS, GOOD, Case, draw_case, make_case, with_another

FACTS = {
    "the name": codes_of("name"),
    "the kind of file": codes_of("form"),
    "the resolution": codes_of("resolution"),
    "the sheet it amounts to": codes_of("no-sheet") + codes_of("sheet"),
    "colours and profile": codes_of("colour"),
    "layers and pages": codes_of("layers"),
}
"""What a file says of itself, each with the findings that are about it."""
SLIP = "its slip"
"""What the student wrote on the slip that came with the file, which no check of the file sees."""
NONE = "none of them"
_TO_READ = (
    ("resolution-label",),
    ("picture-without-sheet",),
    (),
    ("layers",),
    ("profile-missing",),
    ("resolution-label", "profile-missing"),
    (SLIP,),
    ("layers", "name-camera"),
)
"""The hand-ins of the app by what is wrong with them, if anything."""
_FALSE_SLIP = (
    "Your slip asks for {}, and your file is a sheet of {}. Which of the two do you want? I change "
    "neither for you."
)
_HALF_RIGHT = {
    (
        "the sheet it amounts to",
        "the resolution",
    ): "The size is odd, but it only follows: pixels divided by "
    "the resolution. Which of those two is wrong?",
    (
        "the name",
        "the sheet it amounts to",
    ): "The name says another size than the file has, but a new name "
    "would not make it a sheet. What would?",
    (
        "the resolution",
        "the sheet it amounts to",
    ): "300 ppi is what this room works at. Divide the pixels by it: is that a sheet we keep?",
}
"""What to say to a wrong answer that is half right, by it and the right one."""


@dataclass(frozen=True)
class Looked:
    """A hand-in that was looked over: what the check found, and the name of a file that was handed in
    before it and matters, or ""."""

    found: Findings
    beside: str = ""

    @property
    def photo(self) -> str:
        """The picture as it lies on the sheet; the whole file where no sheet is known; "" for none."""
        if not self.whole or not self.found.layout:
            return self.whole
        return cut_out(self.whole, self.found.seen.box, self.found.facts.pixels)

    @property
    def whole(self) -> str:
        """The whole file, small; "" for none."""
        return self.found.seen.thumbnail if self.found.seen else ""

    def draw(self, units: str, prefix: str, *, whole: str = "") -> str:
        """The sheet with its measured borders, with the ``whole`` file on it; the file alone where there
        is no sheet."""
        words, name = self.words(units), self.found.file.name
        if self.found.layout:
            return draw_hand_in(self.found.layout, units=units, prefix=prefix, whole=whole)
        if not self.whole:
            return draw_nothing(prefix=prefix, title=name, words=words)
        pixels = self.found.facts.pixels
        told = {"told": "not measured: part of them is lost"} if self.is_damaged else {}
        return draw_file(pixels, prefix=prefix, title=name, words=words, **told)

    def words(self, units: str) -> str:
        """The drawing in words."""
        if self.found.layout:
            return self.found.layout.sentence(units)
        if not self.whole:
            return "Nothing can be shown of it."
        if self.is_damaged:
            return "Part of the file is lost, so nothing in it is measured."
        return "The file as it is. No sheet can be told, so no borders are measured."

    @property
    def is_damaged(self) -> bool:
        """Whether part of it is lost."""
        return any(item.code == "damaged" for item in self.found.items)

    @property
    def closer(self) -> str:
        """A part of the picture as it is, as HTML that unfolds; "" where nothing can be shown."""
        if not self.found.seen or not self.found.seen.closer:
            return ""
        return (
            '<details class="labkit-closer"><summary>Look at a part of it at 100 %</summary>'
            f'<img src="{self.found.seen.closer}" alt="a part of the picture, pixel for pixel"></details>'
        )

    def says(self, units: str) -> tuple[str, ...]:
        """What the picture says, a line each: where it is, and which place that is, if it has a name."""
        places = [item.sentence() for item in self.found.items if item.code in ("place", "trim")]
        return self.words(units), *places


def look_over(case: Case, room: Room) -> Looked:
    """Make a case's file, and what was handed in before it, and look both over; nothing is kept."""
    with TemporaryDirectory() as folder:
        file = make_case(case, Path(folder))
        found = check(file, room=room, thumbnail=True, closer=True)
        if case.beside:
            earlier = check(file.with_name(case.beside), room=room)
            more = findings_across([earlier, found], room).get(file, [])
            found = replace(found, items=(*found.items, *more))
    return Looked(found, case.beside)


def fact_readings(looked: Looked, units: str) -> list[Reading]:
    """What the file says of itself; of one that cannot be opened, that."""
    facts = looked.found.facts
    named = [("its name", looked.found.file.name)]
    if looked.beside:
        named.append(("handed in before it", looked.beside))
    if facts is None:
        return [*named, ("it cannot be opened", looked.found.items[0].found)]
    packing = f", packed as {facts.packing}" if facts.packing else ""
    return [
        *named,
        ("kind of file", f"{facts.kind}{packing}"),
        ("pixels", f"{facts.pixels[0]} × {facts.pixels[1]}"),
        ("resolution", _resolution(facts)),
        ("at 100 % that makes", size_text(facts.size, units) if facts.size else "no size"),
        ("colours", f"{facts.colours}, {facts.depth} bits a channel"),
        ("profile", facts.profile_name or ("damaged" if facts.profile_fault else "none")),
        ("layers and pages", _layers(facts)),
    ]


def paper_reading(looked: Looked) -> list[Reading]:
    """What colour the paper round the picture is in the file, where there is any."""
    seen, layout = looked.found.seen, looked.found.layout
    if not seen or not layout or not any(border for _, border in layout.borders.items()):
        return []
    told = "white" if min(seen.surround) == 255 else "({}, {}, {})".format(*seen.surround)
    return [("paper round the picture", told)]


def cut_out(address: str, box, pixels: tuple[int, int]) -> str:
    """The part of a small picture (a ``data:`` address) that shows ``box`` of a file of so many pixels."""
    with Image.open(BytesIO(address_bytes(address))) as small:
        across, down = (side / whole for side, whole in zip(small.size, pixels, strict=True))
        left, top = round(box.left * across), round(box.top * down)
        right, bottom = round(box.right * across), round(box.bottom * down)
        part = small.crop((left, top, max(left + 1, right), max(top + 1, bottom)))
    return address_of(part)


def finding_lines(found: Findings) -> tuple[str, ...]:
    """What the check found, gravest first, a line each."""
    return tuple(f"{each.grade}: {each.sentence()}" for each in found.faults) or (
        "fine: nothing to mend.",
    )


def tell_beside(app: App, side: widgets.VBox, *more: widgets.Widget) -> None:
    """Move the line that says what went wrong, and ``more``, to where the reader's buttons are: the end of
    the column ``side``."""
    side.children = (*side.children, app._message, *more)
    app.children = app.children[:-1]


class HandIns(App):
    """A few hand-ins, one at a time: first only what the file says of itself; which of it is wrong, the
    reader says before the picture is shown and the finding told. ``slips`` has the sheet that each is asked
    for on the slip that came with it."""

    def __init__(self, cases: list[Case], slips: list[Sheet], room: Room):
        self._room, self._looked = room, {}
        self._slips = {case.name: sheet for case, sheet in zip(cases, slips, strict=True)}
        self.units = settings().units or room.units
        names = [
            (f"{letter}. {case.name}", case)
            for letter, case in zip("ABCDEFGH", cases, strict=False)
        ]
        self.case = menu("hand-in", names, cases[0])
        self.entry = choice("", [(each, each) for each in (*FACTS, SLIP, NONE)], None)
        self._facts, self._told = widgets.HTML(), widgets.HTML()
        self.view = SheetView()
        self._answer = widgets.VBox([self.view, self._told])
        self._answer.add_class("labkit-view")
        self._answer.add_class("labkit-told")
        side = widgets.VBox(
            [
                self.case,
                self._facts,
                widgets.HTML("<p><b>Which of its facts is wrong?</b></p>"),
                self.entry,
                widgets.HBox(
                    [
                        self.button("That is my answer", self._check),
                        self.button("Show me", self._tell),
                    ]
                ),
            ]
        )
        self._columns = columns(side)
        super().__init__(self._columns)
        tell_beside(self, side)
        self.case.observe(self.answer(self._show), "value")
        self._show()
        self.follow("units", self._draw_again)

    @property
    def looked(self) -> Looked:
        """The hand-in that is chosen, looked over once."""
        case = self.case.value
        if case.name not in self._looked:
            self._looked[case.name] = look_over(case, self._room)
        return self._looked[case.name]

    @property
    def sentence(self) -> str:
        """What the file says of itself, and the question."""
        facts = self.looked.found.facts
        told = facts.sentence(self.units) if facts else f"{self.case.value.name} cannot be opened."
        return f"{told} Which of its facts is wrong?"

    @property
    def wrong(self) -> list[str]:
        """The facts that are wrong, in the order in which they are asked about."""
        case = self.case.value
        found = [fact for fact, known in FACTS.items() if set(case.codes) & set(known)]
        if self._slips[case.name] != self._room.find_stock(case.sheet):
            found.append(SLIP)
        return found or [NONE]

    def _show(self) -> None:
        self.entry.value = None
        self.say("")
        self._told.value, self._columns.children = "", self._columns.children[:1]
        self._draw_again()

    def _draw_again(self) -> None:
        """What is shown of it, in the units that are shown first."""
        self.units = settings().units or self._room.units
        slip = (SLIP, f"1 print on {self._slips[self.case.value.name].label}")
        name, *facts = fact_readings(self.looked, self.units)
        self._facts.value = table([name, slip, *facts])
        if self._told.value:
            self._show_all()

    def _check(self) -> None:
        if self.entry.value is None:
            raise LabError("choose one of them first.")
        if self.entry.value not in self.wrong:
            again = (
                f"Not {self.entry.value}: read the facts again, and ask of each what a print needs."
            )
            raise LabError(_HALF_RIGHT.get((self.entry.value, self.wrong[0]), again))
        self._tell()
        more = [fact for fact in self.wrong if fact != self.entry.value]
        besides = f" And there is another: {', '.join(more)}." if more else ""
        self.say(f"Yes: {self.entry.value}.{besides}", right=True)

    def _tell(self) -> None:
        """What is wrong with it, and all that there is to see."""
        wrong = " and ".join(self.wrong)
        self.say("Nothing is wrong." if wrong == NONE else f"What is wrong: {wrong}.")
        self._show_all()

    def _show_all(self) -> None:
        """What the picture says, what the check finds, what to say of it, and the sheet."""
        looked = self.looked
        lines = (
            ("The picture says", looked.says(self.units)),
            ("The check finds", finding_lines(looked.found)),
            ("You say", (self.case.value.reason,)),
        )
        cards = (card(heading, told).value for heading, told in lines)
        self._told.value = "".join(cards) + looked.closer
        with self.view.hold_sync():
            self.view.photo = looked.photo
            self.view.drawing = looked.draw(self.units, "hand-in", whole=looked.whole)
        self._columns.children = (self._columns.children[0], self._answer)


def hand_ins() -> HandIns:
    """Eight hand-ins to read: five with one thing wrong or none, two with two, one with a false slip."""
    room = home().room()
    chance, pictures = random.Random("hand-ins to read"), our_pictures(room)
    cases, slips = [], []
    for wanted in _TO_READ:
        codes = [code for code in wanted if code != SLIP]
        case = _case_of(codes, chance, pictures, room)
        while case.name in {each.name for each in cases}:
            case = _case_of(codes, chance, pictures, room)
        own = slip = room.find_stock(case.sheet)
        if SLIP in wanted:
            slip = next(each for each in room.sheets if each != own)
            case = replace(case, reason=_FALSE_SLIP.format(slip.label, own.label))
        cases.append(case)
        slips.append(slip)
    return HandIns(cases, slips, room)


def _case_of(codes: list[str], chance: random.Random, pictures, room: Room) -> Case:
    """A hand-in with those faults, one after the other; a good one for none."""
    kinds = {code: fault for fault in FAULTS for code in fault.codes}
    first, *more = [kinds[code] for code in codes] or [GOOD[0]]
    case = draw_case(chance, 1, pictures, room=room, kind=first)
    for fault in more:
        case = with_another(case, fault)
    return case


def _resolution(facts: Picture) -> str:
    if facts.ppi is None:
        return "only the shape of a pixel" if facts.shape_only else "none stated"
    return " × ".join(dict.fromkeys(decimal(each, 2) for each in facts.ppi)) + " ppi"


def _layers(facts: Picture) -> str:
    told = [
        "layers" if facts.layers else "one flat layer",
        f"{facts.pages} pages" if facts.pages > 1 else "",
        "a channel for transparency" if facts.alpha else "",
        "a hidden flag that turns it" if facts.orientation != 1 else "",
    ]
    return ", ".join(filter(None, told))
