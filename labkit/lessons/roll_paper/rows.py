"""07-roll-paper, the exercise: five prints put into rows by hand, on the better of two rolls."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

from labkit.drawing.roll import Shown, Strip, draw_strip
from labkit.errors import LabError
from labkit.files.gang.gang import Gang
from labkit.files.gang.prints import Print
from labkit.files.gang.slug import SLUG_ROOM
from labkit.files.gang.told import money
from labkit.geometry.box import Box
from labkit.geometry.length import ZERO, Length
from labkit.geometry.packing import Packing, Piece, pack_rows
from labkit.home import home
from labkit.job.gang import write_gangs
from labkit.lessons.parts.exercise import NO_NAME, Exercise, judgement_html
from labkit.lessons.parts.figure import ChoiceControl, FigureApp, MenuControl, Reading
from labkit.room.laying import Medium, cutter_of, price_of
from labkit.teaching.roll_paper import (
    GAP,
    RollJudgement,
    RollTask,
    judge_roll,
    make_prints,
    roll_paper_task,
)

Spot = tuple[int, bool]
"""The row of a print, counted from 0, and whether it is turned."""


@dataclass(frozen=True)
class HandLaid:
    """The five prints in rows that the reader chose, on one of the two rolls."""

    task: RollTask
    at: int
    spots: tuple[Spot, ...]

    @property
    def medium(self) -> Medium:
        """The roll."""
        return self.task.media[self.at]

    @property
    def usable(self) -> Length:
        """What of its width can be printed."""
        return self.medium.stock().width

    @cached_property
    def rows(self) -> tuple[tuple[tuple[int, bool], ...], ...]:
        """The prints of each row that is not empty, by number."""
        numbers = sorted({row for row, _ in self.spots})
        return tuple(
            tuple((at, turned) for at, (row, turned) in enumerate(self.spots) if row == number)
            for number in numbers
        )

    def size(self, number: int, turned: bool) -> tuple[Length, Length]:
        """Across the roll and along it."""
        wanted = self.task.wanted[number]
        size = (wanted.width, wanted.height)
        return size[::-1] if turned else size

    @cached_property
    def boxes(self) -> tuple[tuple[int, Box], ...]:
        """Where each print lies, measured from where printing begins; wider rows than the roll too."""
        found, top = [], ZERO
        for row in self.rows:
            left = ZERO
            for number, turned in row:
                size = self.size(number, turned)
                found.append((number, Box(left, top, *size)))
                left += size[0] + GAP
            top += max(self.size(*each)[1] for each in row) + GAP
        return tuple(found)

    @property
    def used(self) -> Length:
        """How long what is printed is."""
        return max(box.bottom for _, box in self.boxes)

    @property
    def over(self) -> list[int]:
        """The prints that reach beyond what can be printed."""
        return [number for number, box in self.boxes if box.right > self.usable]

    def packing(self, pieces: list[Piece]) -> Packing:
        """The rows as a layout with its cuts; LabError where a row is too wide."""
        stock = self.medium.stock(below=SLUG_ROOM)
        cutter = cutter_of(self.task.room, self.medium.paper)
        return pack_rows(pieces, self.rows, stock, gap=GAP, cutter=cutter)


class RollExercise(Exercise):
    """Five prints in rows: exports print file and cut list, judges any file handed in."""

    ways = (
        "With the figure below: choose a roll, give each print a row, then press “Export my print file”.",
        "On the command line: labkit layout, with the five files from the folder “prints”, --one-file and "
        "--write. Judge what it wrote, and see whether you agree with it.",
        "In any editor: take the same five files. Follow the steps, save the file in your folder, choose it "
        "below, have it judged.",
    )

    begun = "with each print in a row of its own"

    def __init__(self, reader: str | None = None):
        super().__init__(
            "07-roll-paper",
            roll_paper_task,
            lambda *_: rows_figure(self.brief),
            room=home().room(),
            reader=reader,
        )

    @cached_property
    def prints_folder(self) -> Path:
        """Where the five finished prints are."""
        return self.folder / "prints"

    @property
    def prints(self) -> list[Print]:
        """The five finished prints, made where they are not there."""
        if self.brief is None:
            raise LabError(NO_NAME)
        return make_prints(self.brief, self.prints_folder)

    def _give(self) -> None:
        make_prints(self.brief, self.prints_folder)

    def judge(self, file: str | Path) -> RollJudgement:
        """Judge a file, whatever made it, and show what is to be mended."""
        if self.brief is None:
            raise LabError(NO_NAME)
        self._told.value = ""
        if not str(file):
            raise LabError(f"choose a file first; they are looked for in {self.folder}.")
        judgement = judge_roll(file, self.brief, self.prints)
        self.say("")
        self._told.value = judgement_html(judgement)
        return judgement

    def _export(self) -> None:
        self._told.value = ""
        state, prints = self.app.state, self.prints
        packing = state.packing([Piece(each.name, *each.size) for each in prints])
        gang = Gang(tuple(prints), packing, state.medium, one_file=True)
        made = write_gangs(
            [gang], self.room, job=self.brief.reader, folder=self.folder, replace=self.again.value
        )
        self._list_files()
        self.file.value = str(made.files[0])
        self.judge(made.files[0])


def exercise(reader: str | None = None) -> RollExercise:
    """Five prints on the better of two rolls, drawn from the reader's name."""
    return RollExercise(reader)


def rows_figure(task: RollTask) -> FigureApp:
    """The five prints, each with its row; they begin one after another on the second roll."""
    start = HandLaid(task, 1 - task.better, tuple((at, False) for at in range(len(task.wanted))))
    longest = start.used * 2
    return FigureApp(
        start,
        [
            ChoiceControl(
                "at", "roll", options=[(each.name, at) for at, each in enumerate(task.media)]
            ),
            *(_row_of(number, task) for number in range(len(task.wanted))),
        ],
        draw=lambda state, units: draw_strip(
            Strip(
                state.medium.width, (_taken(state),), state.medium.edges, state.medium.leader,
                state.medium.tail,
            ),
            list(_pieces(state)), (), units=units, prefix="rows",
            title=f"Five prints on a {state.medium.name}{_costs(state)}", words=_sentence(state, units),
            longest=min(longest, _taken(start)),
        ),
        tell=_sentence,
        read=_readings,
        units=task.room.units,
    )  # fmt: skip


def _row_of(number: int, task: RollTask) -> MenuControl:
    """In which row a print lies, and whether it is turned."""
    options = [
        (f"row {row + 1}{', turned' if turned else ''}", (row, turned))
        for row in range(len(task.wanted))
        for turned in (False, True)
    ]

    def put(state: HandLaid, spot: Spot) -> HandLaid:
        spots = (*state.spots[:number], spot, *state.spots[number + 1 :])
        return replace(state, spots=spots)

    return MenuControl(
        f"print-{number}",
        task.wanted[number].owner,
        lambda state: state.spots[number],
        put,
        options=options,
    )


def _costs(state: HandLaid) -> str:
    """What the paper costs, for the heading; "" where no price is set."""
    price = price_of(state.task.room, state.medium, _taken(state))
    return "" if price is None else f": {money(state.task.room, price)} of paper"


def _taken(state: HandLaid) -> Length:
    return state.task.length(state.at, state.used)


def _pieces(state: HandLaid) -> Iterator[Shown]:
    corner = state.medium.edges.left, state.medium.leader + state.medium.edges.top
    for number, box in state.boxes:
        at = Box(box.left + corner[0], box.top + corner[1], box.width, box.height)
        wanted = state.task.wanted[number]
        yield Shown(at, wanted.owner, wanted.title, off=number in state.over)


def _readings(state: HandLaid, units: str) -> list[Reading]:
    told = [
        ("printed length", state.used.both(units)),
        ("usable width", state.usable.both(units)),
    ]
    for number, row in enumerate(state.rows, 1):
        wide = sum((state.size(*each)[0] for each in row), GAP * (len(row) - 1))
        told.append((f"row {number} is wide", wide.both(units)))
    return told


def _sentence(state: HandLaid, units: str) -> str:
    rows = "1 row" if len(state.rows) == 1 else f"{len(state.rows)} rows"
    told = f"Five prints in {rows} on a {state.medium.name}, {state.used.both(units)} long"
    if not state.over:
        return f"{told}. {state.usable.both(units)} of the width can be printed."
    names = ", ".join(state.task.wanted[number].owner for number in state.over)
    return f"{told}. Too far across: {names}. Only {state.usable.both(units)} can be printed."
