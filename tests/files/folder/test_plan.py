"""The order in which a day's prints are made, and what is left for each group."""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

from labkit.files.checks.findings import Findings
from labkit.files.folder.jobs import Job
from labkit.files.folder.plan import Print, in_groups
from labkit.geometry.length import length
from labkit.geometry.paper import find_sheet
from tests.files.sheets import shipped

TODAY, SOON, LATER = date(2031, 5, 12), date(2031, 5, 13), date(2031, 5, 20)


def printing(
    name: str, size: str, paper: str, latest: date = date.max, copies: int = 1, room=None
) -> Print:
    route = (room or shipped()).route(find_sheet(size), paper)
    job = Job(file=Path(f"{name}.tif"), paper=paper, copies=copies)
    return Print(job, Findings(job.file, ()), route, "", name, name, latest)


def order(*prints: Print) -> list[tuple[str, str, str]]:
    """Paper, size and the names of each group in turn."""
    return [
        (g.row.route.paper.name, g.row.route.stock_name, "".join(p.owner for p in g.prints))
        for g in in_groups(prints, TODAY)
    ]


def test_a_paper_is_printed_to_its_end_the_one_due_first_in_front():
    assert order(
        printing("a", "A4", "plain 120"),
        printing("b", "A4", "pearl 260", LATER),
        printing("c", "A3", "pearl 260"),
        printing("d", "A4", "cotton matt 300", SOON),
        printing("e", "A4", "pearl 260"),
    ) == [
        ("cotton matt 300", "A4", "d"),
        ("pearl 260", "A4", "be"),
        ("pearl 260", "A3", "c"),
        ("plain 120", "A4", "a"),
    ]


def test_one_paper_of_which_some_is_for_today_is_kept_together():
    assert order(
        printing("a", "A4", "plain 120", SOON), printing("b", "A4", "pearl 260", TODAY),
        printing("c", "A4", "pearl 260"),
    ) == [("pearl 260", "A4", "bc"), ("plain 120", "A4", "a")]  # fmt: skip


def test_what_is_for_today_never_waits_for_another_papers_rest():
    """Three changes of paper, not two: what is left of the first paper comes when nothing is late by it."""
    assert order(
        printing("a", "A4", "cotton matt 300", TODAY),
        printing("b", "A4", "cotton matt 300", LATER),
        printing("c", "A4", "pearl 260", TODAY),
        printing("d", "A4", "pearl 260", LATER),
        printing("e", "A4", "plain 120", SOON),
    ) == [
        ("cotton matt 300", "A4", "a"),
        ("pearl 260", "A4", "cd"),
        ("plain 120", "A4", "e"),
        ("cotton matt 300", "A4", "b"),
    ]


def test_every_print_is_in_one_group_and_printers_do_not_mix():
    prints = [
        printing(f"{n}", size, paper, latest)
        for n, (size, paper, latest) in enumerate(
            (s, p, d)
            for s in ("A4", "A3", "24x36in")
            for p in ("pearl 260", "plain 120")
            for d in (TODAY, SOON, date.max)
        )
    ]
    groups = in_groups(prints, TODAY)
    told = [each.owner for group in groups for each in group.prints]
    assert sorted(told) == sorted(each.owner for each in prints)
    printers = [group.row.route.printer.name for group in groups]
    assert printers == sorted(printers)
    assert set(printers) == {"Bittern", "Heron"}


def test_what_is_left_is_told_group_by_group():
    """Two groups of one stock, parted by a date: 25 sheets of board, then 5 less; of a roll 22 m."""
    board = [
        printing("a", "13x19in", "rag board 450", date(2031, 5, 11), 5),
        printing("b", "13x19in", "rag board 450", LATER, 21),
        printing("c", "A4", "pearl 260", TODAY), printing("d", "A4", "pearl 260", LATER),
    ]  # fmt: skip
    told = {g.prints[0].owner: (g.left, g.is_enough, g.left_text) for g in in_groups(board, TODAY)}
    assert told["a"] == (25, True, " of 25 left")
    assert told["b"] == (20, False, " of 20 left: not enough")
    assert told["c"] == (None, None, "")
    (roll,) = in_groups([printing("e", "36x48in", "pearl 260", copies=2)], TODAY)
    # 48 in is 1219.2 mm, with leader and tail 1299.2 mm; twice that
    assert (roll.row.needed, roll.left_text) == ("2.60 m", " of 22.00 m left")
    short = replace(roll, taken=length("20000mm"))
    assert (short.is_enough, short.left_text) == (False, " of 2.00 m left: not enough")


def test_how_many_of_a_group_will_be_wet_when_they_are_due():
    day = date(2031, 5, 13)
    prints = [
        printing(f"{n}", "A4", "cotton matt 300", latest)
        for n, latest in enumerate((day - timedelta(1), day))
    ]
    [group] = in_groups(prints, day)
    assert group.wet_text(day) == "1 of 2 not dry by then"
    assert group.wet_text(day + timedelta(1)) == "not dry by then"
    assert group.wet_text(day - timedelta(1)) == ""
