"""The task on roll paper: each reader's own, solved by the best layout, and judged with hints that teach."""

import numpy as np
import pytest
import tifffile

from labkit.files.gang.gang import Gang
from labkit.files.gang.slug import SLUG_ROOM
from labkit.files.header.reading import read_picture
from labkit.geometry.packing import Piece, pack_rows
from labkit.job.gang import write_gangs
from labkit.room.rules import load_room
from labkit.teaching.pictures import demo_pictures
from labkit.teaching.roll_paper import (
    GAP,
    judge_roll,
    make_prints,
    roll_handed_in,
    roll_paper_task,
)
from tests.files.make import srgb
from tests.properties import a_few

pytestmark = pytest.mark.usefixtures("warm")

ROOM = load_room()
NAMES = [f"Reader {number}" for number in range(8)]


def ours():
    return tuple((demo, read_picture(demo.file).pixels) for demo in demo_pictures())


def task_of(name):
    return roll_paper_task(name, ours(), ROOM)


@pytest.fixture(scope="module")
def task():
    return task_of("Ada Brook")


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("roll")


@pytest.fixture(scope="module")
def prints(task, folder):
    return make_prints(task, folder / "prints")


def rows_of(packing):
    """The rows of a layout, each print by its number in the task."""
    owners = {}
    for each in packing.placed:
        owners.setdefault(each.box.top, []).append((each.name, each.turned))
    return [row for _, row in sorted(owners.items())]


def export(task, prints, folder, at, rows) -> str:
    """The file of these rows on that roll, as the lesson's figure makes it."""
    pieces = [Piece(each.name, *each.size) for each in prints]
    number = {wanted.owner: place for place, wanted in enumerate(task.wanted)}
    given = [[(number[owner], turned) for owner, turned in row] for row in rows]
    stock = task.media[at].stock(below=SLUG_ROOM)
    gang = Gang(
        tuple(prints), pack_rows(pieces, given, stock, gap=GAP), task.media[at], one_file=True
    )
    made = write_gangs([gang], ROOM, job=task.reader, folder=folder, replace=True)
    return made.files[0]


@pytest.fixture(scope="module")
def solved(task, prints, folder):
    best = task.best[task.better]
    return export(task, prints, folder, task.better, rows_of(best))


def changed(solved, change, name, **stated):
    """The solved file with its pixels changed, in a file of another name."""
    made = change(tifffile.imread(solved).copy())
    file = solved.parent / f"{name}.tif"
    stated = {"resolution": (100, 100), "resolutionunit": "inch", **stated}
    tifffile.imwrite(file, made, photometric="rgb", iccprofile=srgb(), **stated)
    return file


# The task


def test_names_give_tasks_of_their_own_and_the_same_each_time():
    assert len({task_of(name).sentence() for name in NAMES}) == len(NAMES)
    assert task_of("  ada BROOK ").wanted == task_of("Ada Brook").wanted


@pytest.mark.parametrize("name", a_few(NAMES))
def test_one_roll_is_clearly_better_and_its_best_layout_is_proven(name):
    task = task_of(name)
    costs = [task.cost(at, task.best[at].used) for at in (0, 1)]
    assert min(costs) == costs[task.better]
    assert max(costs) >= min(costs) * 104 / 100
    assert all(best.proven and not best.left_out for best in task.best)


def test_the_better_roll_is_not_always_the_same_one():
    assert {task_of(name).better for name in (*NAMES, "Ada Brook")} == {0, 1}


# What is judged


def test_the_solution_passes_and_is_found_by_progress(task, prints, solved):
    judged = judge_roll(solved, task, prints)
    assert judged.passed, judged.hints
    assert "ready to print" in judged.sentence()
    assert solved.stem == task.stem
    assert roll_handed_in(task, solved.parent) == solved


def test_it_does_not_matter_what_made_the_file(task, prints, solved):
    assert judge_roll(changed(solved, lambda sheet: sheet, "again"), task, prints).passed


def test_one_print_to_a_row_is_too_long(task, prints, tmp_path):
    rows = [[(each.owner, False)] for each in task.wanted]
    file = export(task, prints, tmp_path, task.better, rows)
    (hint,) = judge_roll(file, task, prints).hints
    assert "more than the best that we know" in hint
    assert "A row is as long as its longest print" in hint


def test_the_best_on_the_dearer_roll(task, prints, tmp_path):
    other = 1 - task.better
    file = export(task, prints, tmp_path, other, rows_of(task.best[other]))
    (hint,) = judge_roll(file, task, prints).hints
    assert hint.startswith("Length is not price")


def test_a_print_laid_over(task, prints, solved):
    def blot(sheet):
        sheet[200:210, 200:210] = 255
        return sheet

    (hint,) = judge_roll(changed(solved, blot, "blot"), task, prints).hints
    assert hint.startswith("Not found, pixel for pixel: the print of")


def test_a_file_as_wide_as_the_usable_width(task, prints, solved):
    edge = task.media[task.better].edges.left.pixels(100)
    file = changed(solved, lambda sheet: sheet[:, edge:-edge], "narrow")
    (hint,) = judge_roll(file, task, prints).hints
    assert "as wide as the whole roll" in hint


def test_prints_moved_into_the_edge(task, prints, solved):
    file = changed(solved, lambda sheet: np.roll(sheet, -15, axis=1), "edge")
    hints = judge_roll(file, task, prints).hints
    assert len(hints) == 1
    assert "reaches into the edge that the printer does not print" in hints[0]


def test_a_long_blank_end(task, prints, solved):
    def longer(sheet):
        return np.concatenate([sheet, np.full((300, *sheet.shape[1:]), 255, sheet.dtype)])

    (hint,) = judge_roll(changed(solved, longer, "longer"), task, prints).hints
    assert "cut the blank end off" in hint


def test_another_resolution(task, prints, solved):
    file = changed(solved, lambda sheet: sheet, "label", resolution=(72, 72))
    (hint,) = judge_roll(file, task, prints).hints
    assert "have 100 ppi" in hint


def place_by_hand(task, prints, corners, wide):
    """A sheet on which the first prints lie at these corners, in pixels; all others below each other."""
    sheet = np.full((9000, wide, 3), 255, np.uint8)
    spare = 4000
    for number, each in enumerate(prints):
        values = tifffile.imread(each.picture.path)
        left, top = corners[number] if number < len(corners) else (40, spare)
        sheet[top : top + len(values), left : left + values.shape[1]] = values
        if number >= len(corners):
            spare += len(values) + 40
    return sheet[: spare + 40]


@pytest.mark.slow
def test_two_that_nearly_touch(task, prints, solved):
    wide = task.media[task.better].width.pixels(100)
    below = task.wanted[0].height.pixels(100)
    made = place_by_hand(task, prints, [(40, 40), (40, 40 + below + 10)], wide)
    hints = judge_roll(changed(solved, lambda _: made, "touch"), task, prints).hints
    assert any("there is 0.1 in" in hint for hint in hints)


def test_rows_that_no_cut_across_parts(task, prints, solved):
    """The first two below each other, and the third beside both."""
    wide = task.media[task.better].width.pixels(100)
    first, second, third = task.wanted[:3]
    low = 40 + first.height.pixels(100) + 40
    right = 40 + max(first.width, second.width).pixels(100) + 40
    corners = [(40, 40), (40, low), (right, low - 60)]
    if right + third.width.pixels(100) > wide:
        pytest.skip("these three do not lie so on this roll")
    made = place_by_hand(task, prints, corners, wide)
    hints = judge_roll(changed(solved, lambda _: made, "brick"), task, prints).hints
    assert any("the first cut across would go through" in hint for hint in hints)


def test_what_cannot_be_opened_is_a_hint(task, prints, tmp_path):
    file = tmp_path / "text.tif"
    file.write_text("no picture")
    judged = judge_roll(file, task, prints)
    assert not judged.passed
    assert len(judged.hints) == 1


def test_the_card_leads_to_the_solution(task, prints, solved):
    """The steps in any editor, done by hand: the same pixels under the same name."""
    wide, high = map(int, task.card()[1].split(": ")[1].split(" pixels")[0].split(" × "))
    sheet = np.full((high, wide, 3), 255, np.uint8)
    steps = {step.split(":")[0]: step for step in task.card()[2:-2]}
    for wanted, each in zip(task.wanted, prints, strict=True):
        step = next(told for owner, told in steps.items() if owner.startswith(wanted.owner))
        left, top = (int(part.split(" pixels")[0]) for part in step.split(" edge at ")[1:])
        values = tifffile.imread(each.picture.path)
        values = np.rot90(values, -1) if "turned" in step else values
        sheet[top : top + len(values), left : left + values.shape[1]] = values
    file = changed(solved, lambda _: sheet, "by-hand")
    assert judge_roll(file, task, prints).passed
    assert task.card()[-1].endswith(f"{solved.name}.")
