"""08-at-the-counter: hand-ins to decide as the technician would, what to say, and one to mend."""

import os
import random
from collections.abc import Callable
from html import escape
from pathlib import Path

import ipywidgets as widgets

from labkit.files.header.picture import Picture
from labkit.geometry.length import length
from labkit.home import home
from labkit.lessons.at_the_counter.reading import (
    Looked,
    fact_readings,
    finding_lines,
    look_over,
    paper_reading,
    tell_beside,
)
from labkit.lessons.parts.controls import App, card, choice, columns, menu, table
from labkit.lessons.parts.exercise import Exercise
from labkit.lessons.parts.placing import Placing
from labkit.lessons.parts.predict import ChoiceQuestion
from labkit.lessons.parts.reader import our_pictures
from labkit.lessons.parts.settings import settings
from labkit.lessons.parts.sheetapp import SheetApp, border_readings
from labkit.lessons.parts.sheetview import SheetView
from labkit.room.rules import Room
from labkit.teaching.at_the_counter import (
    CASES,
    KINDS,
    NOTHING,
    ODD,
    Decided,
    Score,
    counter_brief,
    decide,
)
from labkit.teaching.faults import Case, cases, read_cases

COUNT = 12
"""Hand-ins in a round."""
_ANSWERS = [("print it", "print"), ("ask", "ask"), ("send it back", "send back")]
_SAYS = {"print": "Print it.", "ask": "Ask first.", "send back": "Send it back."}
_WOULD = {"print": "print it", "ask": "ask first", "send back": "send it back"}
_DID = {"print": "printed it", "ask": "asked", "send back": "sent it back"}
_DECIDE, _NEXT, _MORE = "That is my decision", "Next hand-in", "Another round"


class Practice(App):
    """Hand-ins one at a time: print, ask or send back, and why; then what the technician would have said.

    ``draw`` gives the cases of a round, counted from 1. Each file is made when it comes up.
    """

    def __init__(self, draw: Callable[[int], list[Case]], room: Room):
        self._draw, self._room, self._round = draw, room, 0
        self.units = settings().units or room.units
        self._earlier = ""
        self.cases: list[Case] = []
        self.at, self.score = 0, Score()
        self.looked: Looked | None = None
        self.given = choice("you decide", _ANSWERS, None)
        reasons = [("choose …", ""), *((each, each) for each in (NOTHING, *KINDS, ODD))]
        self.reason = menu("your reason", reasons, "")
        self.go = self.button(_DECIDE, self._go)
        self._heading, self._facts, self._closer, self._told = (widgets.HTML() for _ in range(4))
        self._rules = card("Our rules", _rules(room, self.units), folded=True)
        self.view = SheetView()
        side = widgets.VBox(
            [
                self._heading,
                self._facts,
                self.given,
                self.reason,
                widgets.HBox([self.go]),
            ]
        )
        super().__init__(columns(side, self.view))
        tell_beside(self, side, self._told, self._closer, self._rules)
        self._begin()
        self.follow("units", self._draw_again)

    @property
    def case(self) -> Case:
        """The hand-in at the counter."""
        return self.cases[self.at]

    @property
    def sentence(self) -> str:
        """What lies on the counter, and what is asked."""
        found = self.looked.found
        told = (
            found.facts.sentence(self.units)
            if found.facts
            else f"{self.case.name}: {found.items[0].found}."
        )
        return f"{self._place} {told} Print it, ask, or send it back, and why?"

    @property
    def still(self) -> str:
        """The drawing without the photo."""
        return self.looked.draw(self.units, "counter")

    @property
    def _place(self) -> str:
        return f"Hand-in {self.at + 1} of {len(self.cases)}."

    def begin_anew(self) -> None:
        """The first round again: another reader's hand-ins."""
        self._round, self._earlier, self.score = 0, "", Score()
        self._begin()

    def _begin(self) -> None:
        if self.score.decided:
            right = f"{len(self.score.right)} of {len(self.score.decided)}"
            self._earlier += f" · round {self._round}: {right}"
        self._round += 1
        self.cases, self.score = self._draw(self._round), Score()
        self._show(0)

    def _show(self, at: int) -> None:
        """Make a hand-in's file, look it over, and show what is known before anybody decides."""
        self._told.value = ""
        self.say("The next one is being handed in …")
        self.looked, self.at = look_over(self.cases[at], self._room), at
        self._heading.value = f"<b>{escape(self._place)}</b>{self._earlier}"
        self._closer.value = self.looked.closer
        self._draw_again()
        self.given.disabled = self.reason.disabled = False
        self.given.value, self.reason.value = None, ""
        self.go.description = _DECIDE
        self.say("")

    def _draw_again(self) -> None:
        """What is known of the hand-in, in the units that are shown first."""
        self.units = settings().units or self._room.units
        readings = [*fact_readings(self.looked, self.units), *paper_reading(self.looked)]
        self._facts.value = table(readings)
        self._rules.value = card("Our rules", _rules(self._room, self.units), folded=True).value
        with self.view.hold_sync():
            self.view.photo = self.looked.photo
            self.view.drawing = self.looked.draw(self.units, "counter", whole=self.looked.whole)
            self.view.sentence = self.looked.words(self.units)

    @property
    def _is_last(self) -> bool:
        return self.at + 1 == len(self.cases)

    def _go(self) -> None:
        """One button for both, so that it keeps the keyboard's focus: decide, then go on."""
        if self.go.description == _DECIDE:
            self._decide()
        elif self._is_last:
            self._begin()
        else:
            self._show(self.at + 1)

    def _decide(self) -> None:
        decided = decide(self.case, self.given.value or "", self.reason.value)
        self.score = Score((*self.score.decided, decided))
        self.given.disabled = self.reason.disabled = True
        self._told.value = self._answer(decided)
        self.go.description = _MORE if self._is_last else _NEXT
        self.say(self._verdict(decided), right=decided.is_right)

    def _verdict(self, decided: Decided) -> str:
        if not decided.is_right:
            would, did = _WOULD[decided.answer], _DID[decided.given]
            return f"The technician would {would}, and you {did}: {decided.outcome}."
        if decided.has_right_reason:
            return "As the technician would."
        return f"As the technician would, but for another reason: {decided.kinds[0]}."

    def _answer(self, decided: Decided) -> str:
        """What the technician would have said, what the check finds, and at the end how it went."""
        told = [
            card("The technician", (f"{_SAYS[decided.answer]} {self.case.reason}",)).value,
            card("The check finds", finding_lines(self.looked.found)).value,
        ]
        if self._is_last:
            summary = table(self.score.summary(self._room.currency))
            told.insert(0, f"<h4>This round</h4>{summary}")
        return "".join(told)


def practice(
    reader: str | None = None, *, level: int | None = None, cases: str | Path | None = None
) -> Practice:
    """The practice counter: a round of hand-ins drawn from the reader's name, the common faults at level 1
    and the rarer ones at level 2; or a technician's own, in the folder ``cases``.

    Without any of these, the folder that :data:`CASES` names, or level 1. LabError for a level there is
    not, or a folder whose table has a mistake.
    """
    room = home().room()
    folder = cases or (os.environ.get(CASES) if level is None else None)
    if folder:
        own = read_cases(folder, room=room)
        return Practice(lambda number: _in_order(own, number), room)

    def draw(number: int) -> list[Case]:
        name = settings().name if reader is None else reader
        return _drawn(name, number, 1 if level is None else level, room)

    app = Practice(draw, room)
    if reader is None:
        app.follow("name", app.begin_anew)
    return app


def _in_order(own: list[Case], number: int) -> list[Case]:
    """As the table has them in the first round, in another order in each after it."""
    return own if number == 1 else random.Random(number).sample(own, len(own))


def _rules(room: Room, units: str) -> tuple[str, ...]:
    """What a hand-in is held to in this room, a line each."""
    sheets = ", ".join(sheet.name for sheet in room.sheets)
    rolls = ", ".join(roll.width.both(units) for roll in room.rolls)
    floor = "; ".join(
        f"{row.ppi} ppi" + (f" up to {row.up_to.both(units)} long" if row.up_to else " beyond")
        for row in room.floor
    )
    return (
        f"Sheets in stock: {sheets}. Anything else comes off a roll"
        + (f" ({rolls} wide) and is cut." if rolls else ", and we have none."),
        "The file: TIFF with lossless packing, one flat layer, RGB with a profile such as sRGB.",
        f"At the least {floor}.",
        f"A picture may be off its place by {room.tolerance.place.both(units)} at the most.",
        f"Its name: {room.name_pattern.format(owner='Owner', title='Title', sheet='size')}.",
        "What the check calls stop goes back; what it calls look is asked about; the rest is printed.",
    )


def how_to_say() -> ChoiceQuestion:
    """What to say to a student whose file goes back."""
    return ChoiceQuestion(
        "A student's file is the picture alone: 4500 × 3000 pixels, its label says 72 ppi. The slip asks for "
        "A3. It is Monday, and prints are due on Friday. What do you say?",
        "It says what is good, what is wrong, what to do, by when, and where to get help. It leaves the "
        "picture to its owner. Whoever reads it knows the next step.",
        {
            "“It has pixels enough for 15 × 10 in at 300 ppi, but it is the picture alone. Put it on a blank "
            "A3, flatten it, and hand it in by Thursday. I am here till five.”": "",
            "“72 ppi is far too low for a print of that size. Look for a better file, please, and hand that "
            "one in by Thursday.”": "72 is what the label says; the pixels are enough for 15 in. And "
            "“look for a better file” is nothing that anybody can do.",
            "“I have put it in the middle of an A3 for you, set it to 300 ppi and flattened it as well, so "
            "this time you need do nothing at all. Come by for the print on Friday.”": "Kind, but where it "
            "goes is not yours to decide, and the next file will come in just the same.",
            "“It does not follow the rules for handing in. They hang on the wall by the door: read them all, "
            "please, before Thursday.”": "True, perhaps. It says neither which rule, nor what to do.",
        },
    )  # fmt: skip


def who_decides() -> ChoiceQuestion:
    """Predict: what a new worker may decide alone."""
    return ChoiceQuestion(
        "It is your second week, and the technician is at lunch. Which of these do you do alone?",
        "Printing a good file at 100 %, on paper that is loaded, is what the counter is for. Everything else "
        "here changes somebody's work, costs somebody money, or can hurt you.",
        {
            "Print a file in which nothing is wrong, on the sheet it is made for.": "",
            "Crop a picture a little, because it comes too near to the edge.": "It is not your picture. Send "
            "it back, say how near it is, and what the printer needs.",
            "Give a print again for nothing, because a student says it came out too dark.": "Perhaps it is "
            "owed, perhaps not. Keep print and file, note what was said, and let the technician decide.",
            "Put a new roll on, because the old one is nearly through.": "A full roll is heavy, and it "
            "slides. Two trained people do it, or the lift does; never one alone.",
            "Refuse a picture that you find upsetting.": "You need not print it, either. Put it aside, say "
            "nothing about it, and tell the technician. Do the same if you doubt whose picture it is.",
        },
    )  # fmt: skip


def exercise(reader: str | None = None) -> Exercise:
    """A picture that came in alone, made into the file its slip asks for, drawn from the reader's name."""
    controls = ("sheet", "turn", "width", "at", "left", "top")

    def begin(picture: Picture, room: Room) -> SheetApp:
        sheet = room.sheets[0]
        placing = Placing(picture.pixels, sheet, length("5in"), room.unprintable(sheet))
        placing = placing.resized(placing.width)
        return SheetApp("task", picture, placing, controls, border_readings, room=room)

    return Exercise("08-at-the-counter", counter_brief, begin, room=home().room(), reader=reader)


def _drawn(name: str, number: int, level: int, room: Room) -> list[Case]:
    """A round drawn from a name: the same for the same one, whatever its case and spaces."""
    seed = f"{' '.join(name.casefold().split())} {number}"
    return cases(seed, level, COUNT, pictures=our_pictures(room), room=room)
