"""The record of what was printed: it only grows, whole lines at a time, whoever writes to it."""

import csv
import subprocess
import sys
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.errors import LabError
from labkit.files.record.cell import safe_cell, text_of_cell
from labkit.files.record.entry import COLUMNS, Entry
from labkit.files.record.record import add_to_record, read_record

BOAT = Entry(
    job="7KQ4TM",
    date=date(2031, 5, 12),
    file="Ada-Brook_Boat_13x19in.tif",
    fingerprint="9f86d081884c7d65",
    owner="Ada Brook",
    title="Boat",
    course="Photo 2",
    printer="Heron",
    paper="pearl 260",
    size="13x19in",
    copies=2,
    area_m2=Decimal("0.32"),
    price=Decimal("8.40"),
)


@pytest.fixture
def record(tmp_path):
    return tmp_path / "record.csv"


def test_what_was_added_is_read_back_in_order(record):
    spoiled = replace(BOAT, result="spoiled", why="head strike, left edge", price=None)
    add_to_record(record, [BOAT])
    add_to_record(record, [spoiled, BOAT])
    assert read_record(record) == (BOAT, spoiled, BOAT)


def test_without_a_record_there_are_no_entries(record):
    assert read_record(record) == ()


def test_it_is_a_table_that_any_reader_of_csv_reads(record):
    add_to_record(record, [replace(BOAT, title='Boat, "late" light\nsecond line')])
    with record.open(encoding="utf-8-sig", newline="") as opened:
        head, row = csv.reader(opened)
    assert tuple(head) == COLUMNS
    assert row[COLUMNS.index("title")] == 'Boat, "late" light\nsecond line'


@given(st.text(st.characters(codec="utf-8", exclude_characters="\0"), max_size=20))
def test_no_cell_begins_as_a_formula_and_each_is_read_back(text):
    """The signs: OWASP, "CSV Injection"."""
    cell = safe_cell(text)
    assert not cell.startswith(("=", "+", "-", "@", "\t", "\r"))
    assert text_of_cell(cell) == text


@pytest.mark.parametrize(
    ("column", "cell", "sentence"),
    [
        ("date", "12/5/31", "line 2, column “date”: “12/5/31” is no date such as 2031-05-12."),
        ("copies", "0", "line 2, column “copies”: “0” is no number of copies."),
        ("price", "£4.80", "line 2, column “price”: “£4.80” is no price such as 4.80."),
        ("result", "bad", "“bad” is no result: it is one of good, spoiled."),
        ("area_m2", "NaN", "“NaN” is no area in square metres."),
    ],
)
def test_a_cell_that_a_spreadsheet_changed_is_named(record, column, cell, sentence):
    add_to_record(record, [BOAT])
    head, row = record.read_text(encoding="utf-8").splitlines()
    cells = row.split(",")
    cells[COLUMNS.index(column)] = cell
    before = f"{head}\r\n{','.join(cells)}\r\n".encode()
    record.write_bytes(before)
    for use in (lambda: read_record(record), lambda: add_to_record(record, [BOAT])):
        with pytest.raises(LabError) as refused:
            use()
        assert sentence in str(refused.value)
    assert record.read_bytes() == before


@pytest.mark.parametrize("content", [b"a,b,c\r\n1,2,3\r\n", b"\xff\xfe\0\0", b"job;date\r\n"])
def test_a_file_that_is_no_record_is_left_alone(record, content):
    record.write_bytes(content)
    with pytest.raises(LabError, match="is no record of prints: its first line must be job,date"):
        add_to_record(record, [BOAT])
    assert record.read_bytes() == content


def test_a_line_cut_short_is_named(record):
    add_to_record(record, [BOAT, BOAT])
    record.write_bytes(record.read_bytes()[:-60])
    with pytest.raises(LabError, match=r"line 3 has no cell for “.*”: it was cut short"):
        read_record(record)


def test_where_it_cannot_be_written_nothing_is_left(tmp_path):
    record = tmp_path / "nowhere" / "record.csv"
    with pytest.raises(LabError, match=r"cannot be written \(no such file or directory\)"):
        add_to_record(record, [BOAT])
    assert list(tmp_path.iterdir()) == []


def test_a_failure_half_way_leaves_the_record_as_it_was(record, monkeypatch):
    add_to_record(record, [BOAT])
    before = record.read_bytes()

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("labkit.files.record.record.os.fsync", full)
    with pytest.raises(LabError, match="no space left on device"):
        add_to_record(record, [BOAT])
    assert record.read_bytes() == before
    assert not list(record.parent.glob("*.part"))


def test_processes_that_add_at_once_lose_no_line(record):
    program = (
        "import sys; from pathlib import Path; from dataclasses import replace\n"
        "from labkit.files.record.record import add_to_record\n"
        "from tests.files.record.test_record import BOAT\n"
        "for n in range(20): add_to_record(Path(sys.argv[1]), [replace(BOAT, job=f'{sys.argv[2]}{n}')])"
    )
    running = [
        subprocess.Popen([sys.executable, "-c", program, str(record), letter]) for letter in "ABC"
    ]
    assert [each.wait() for each in running] == [0, 0, 0]
    jobs = [entry.job for entry in read_record(record)]
    assert sorted(jobs) == sorted(f"{letter}{n}" for letter in "ABC" for n in range(20))
