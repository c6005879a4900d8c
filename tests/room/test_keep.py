"""What was measured, put into the text of a room file: nothing else in it changes."""

from dataclasses import replace
from datetime import date
from difflib import ndiff
from fractions import Fraction

import pytest

from labkit.geometry.length import inches, length, millimetres
from labkit.geometry.measured import Errors, Reading, offset_across, scale_error
from labkit.room.keep import as_measured, values_of, with_measured
from labkit.room.printers import Measured
from labkit.room.rules import SHIPPED, load_room
from tests.geometry.refused import refusal

TEXT = SHIPPED.read_text(encoding="utf-8")
ROOM = load_room()
NEW = Measured(
    date(2031, 5, 12), Fraction("0.9985"), Fraction(1), Fraction("0.0004"), millimetres("0.25"),
    -millimetres("0.1"),
)  # fmt: skip
WITH = next(n for n, each in enumerate(ROOM.settings) if each.measured)
WITHOUT = next(n for n, each in enumerate(ROOM.settings) if not each.measured)


def changes(before: str, after: str) -> list[str]:
    return [line for line in ndiff(before.splitlines(), after.splitlines()) if line[:1] in "+-"]


def room_of(text: str, tmp_path):
    file = tmp_path / "room.toml"
    file.write_bytes(text.encode())
    return load_room(file)


@pytest.mark.parametrize("number", range(len(ROOM.settings)))
def test_every_setting_gets_it_and_nothing_else_changes(number, tmp_path):
    settings = list(ROOM.settings)
    settings[number] = replace(settings[number], measured=NEW)
    changed = with_measured(TEXT, number, NEW)
    assert room_of(changed, tmp_path) == replace(ROOM, settings=tuple(settings))


def test_only_lines_with_other_values_change():
    told = changes(TEXT, with_measured(TEXT, WITH, NEW))
    assert [line[2:] for line in told if line.startswith("+")] == [
        "date = 2031-05-12", "across = 0.9985", "along = 1.0", "spread = 0.0004",
        'offset_across = "0.25mm"', 'offset_along = "-0.1mm"',
    ]  # fmt: skip
    assert len([line for line in told if line.startswith("-")]) == 6


def test_where_there_was_none_lines_are_added_and_none_taken_away():
    told = changes(TEXT, with_measured(TEXT, WITHOUT, NEW))
    assert next(line[2:] for line in told if line[2:].strip()) == "[settings.measured]"
    assert all(line.startswith("+") for line in told)


def test_notes_at_the_end_of_a_line_and_windows_line_ends_stay(tmp_path):
    noted = TEXT.replace("along = 0.999\n", "along = 0.999   # by hand\n", 1).replace("\n", "\r\n")
    changed = with_measured(noted, WITH, NEW)
    assert "along = 1.0   # by hand\r\n" in changed
    assert changed.count("\n") == changed.count("\r\n") == noted.count("\n")
    assert room_of(changed, tmp_path).settings[WITH].measured == NEW


def test_a_file_laid_out_otherwise_is_refused_with_what_to_write():
    rows = "\n".join(f"{key} = {value}" for key, value in values_of(NEW).items())
    inline = "[[settings]]\nmeasured = { " + rows.replace("\n", ", ") + " }\n"
    told = refusal(lambda: with_measured(inline, 0, NEW))
    assert "left as it is" in told
    assert "[settings.measured]; date = 2031-05-12; across = 0.9985" in told
    assert "by hand" in refusal(lambda: with_measured("settings = [ { path = 'roll' } ]\n", 0, NEW))


def test_what_is_kept_of_three_prints():
    """12 in came out 11.98, 11.98 and 11.99 in: 11.98333 / 12 = 0.99861; they differ by 0.01 / 12 =
    0.00083. The print lies (25.9 - 25.3) / 2 = 0.3 mm to the right."""
    errors = Errors(
        scale_error(
            [Reading(inches(12), length(each)) for each in ("11.98in", "11.98in", "11.99in")]
        ),
        scale_error([Reading(inches(18), inches(18))] * 3),
    )
    moved = offset_across([length("25.9mm")] * 3, [length("25.3mm")] * 3, errors.across, inches(13))
    errors = replace(errors, offset_across=moved)
    kept = as_measured(errors, NEW.date)
    assert (kept.across, kept.along, kept.spread) == (
        Fraction("0.99861"), 1, Fraction("0.00083"),
    )  # fmt: skip
    assert (kept.offset_across, kept.offset_along) == (millimetres("0.3"), millimetres(0))
    again = as_measured(errors, NEW.date, NEW)
    assert (again.offset_across, again.offset_along) == (millimetres("0.3"), NEW.offset_along)
