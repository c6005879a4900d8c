"""The sheet a file amounts to."""

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.files.checks.size import find_size
from labkit.files.header.picture import Picture
from labkit.geometry.paper import find_sheet
from tests.files.sheets import shipped

ROOM = shipped()


def picture(pixels, ppi=None, **facts) -> Picture:
    """A file of so many pixels that states ``ppi``, one number or two."""
    if ppi is not None:
        across, down = ppi if isinstance(ppi, tuple) else (ppi, ppi)
        ppi = Fraction(across), Fraction(down)
    return Picture(Path("a.tif"), "TIFF", pixels, mode="RGB", ppi=ppi, **facts)


def sized(*given_, **facts):
    return find_size(picture(*given_, **facts), ROOM)


def codes(found) -> list[str]:
    return [item.code for item in found.items]


@pytest.mark.parametrize(
    ("pixels", "ppi", "name", "turned"),
    [
        # 300 ppi: A4 of ISO 216 is 2480 × 3508 px, 13 × 19 in 3900 × 5700
        ((2480, 3508), 300, "A4", False),
        ((3508, 2480), 300, "A4", True),
        ((3900, 5700), 300, "13x19in", False),
        ((5700, 3900), 300, "13x19in", True),
        ((1950, 2850), 150, "13x19in", False),
        # 297 × 420 mm typed as 11.69 × 16.54 in
        ((3507, 4962), 300, "A3", False),
    ],
)
def test_a_sheet_in_stock_is_known_either_way_round(pixels, ppi, name, turned):
    found = sized(pixels, ppi)
    wanted = find_sheet(name).turned() if turned else find_sheet(name)
    assert (found.sheet, found.ppi, found.items) == (wanted, ppi, ())
    assert found.is_known


def test_right_pixels_with_a_wrong_label():
    """5700 × 3900 px at 72 ppi are 79 × 54 in; at 300 exactly 19 × 13 in."""
    found = sized((5700, 3900), 72)
    [told] = found.items
    assert (told.code, told.grade) == ("resolution-label", "stop")
    assert "79.167 × 54.167 in" in told.found
    assert "54.167 in" in told.found
    assert told.expected.startswith("19 × 13 in")
    assert told.why == (
        "At 300 ppi they are exactly that size: the pixels are right, only the stated resolution is wrong."
    )
    assert (found.sheet, found.ppi) == (find_sheet("19x13in"), 300)


def test_a_label_that_may_be_meant_for_a_roll_is_for_a_person_to_decide():
    """3900 × 5700 px at 150 ppi are 26 × 38 in, which a 44 in roll takes."""
    found = sized((3900, 5700), 150)
    assert [(item.code, item.grade) for item in found.items] == [("resolution-label", "look")]


@pytest.mark.parametrize(
    ("facts", "code"),
    [({}, "resolution-missing"), ({"shape_only": True}, "resolution-shape")],
)
def test_without_a_resolution_the_pixels_still_tell_a_sheet(facts, code):
    found = sized((3300, 5100), **facts)
    assert codes(found) == [code]
    assert found.items[0].why.endswith(f"At 300 ppi they are exactly {find_sheet('11x17in')}.")
    assert (found.sheet, found.ppi, found.is_known) == (find_sheet("11x17in"), 300, True)


def test_without_a_resolution_and_without_a_sheet_there_is_no_size():
    found = sized((4032, 3024))
    assert codes(found) == ["resolution-missing"]
    assert found.sheet is None


def test_two_resolutions_make_no_sheet():
    found = sized((3900, 5700), (300, 360))
    assert codes(found) == ["resolution-unequal"]
    assert "300 ppi across and 360 ppi down" in found.items[0].found
    assert found.sheet == find_sheet("13x19in")  # that is what the pixels are
    assert sized((3901, 5700), (300, 360)).sheet is None


def test_two_resolutions_that_differ_by_a_rounding_are_one():
    """PNG counts pixels by the metre: 11811 of them are 299.9994 ppi."""
    assert sized((3900, 5700), (300, Fraction("299.9994"))).is_known


def test_a_size_off_by_a_slip():
    """8.25 × 11.75 in is what some take A4 for: 210 × 297 mm is 8.268 × 11.693 in."""
    found = sized((2475, 3525), 300)
    [told] = found.items
    assert (told.code, told.grade) == ("sheet-rounded", "look")
    assert told.expected.startswith("A4")
    assert "2480 × 3508 pixels at 300 ppi" in told.remedy
    assert not found.is_known


@pytest.mark.parametrize(
    ("pixels", "code", "grade"),
    [
        ((2400, 3000), "sheet-unstocked", "look"),  # 8 × 10 in would go on letter
        ((7200, 10800), "sheet-unstocked", "fine"),  # 24 × 36 in is what the roll is for
        ((13200, 28800), "sheet-unstocked", "fine"),
        ((15000, 15000), "sheet-too-large", "stop"),  # 50 in: no roll is so wide
    ],
)
def test_what_no_sheet_in_stock_holds_comes_off_a_roll(pixels, code, grade):
    found = sized(pixels, 300)
    assert [(item.code, item.grade) for item in found.items] == [(code, grade)]


@pytest.mark.parametrize(
    ("pixels", "ppi", "label"),
    [
        (
            (5143, 6429),
            "214.3",
            "24x30in",
        ),  # 23.9991 × 29.9995 in: whole pixels of what was asked for
        ((8574, 12140), "366.6485", "A1"),  # 593.97 × 841.01 mm
        ((4724, 7205), "200", "600x915mm"),  # 599.95 × 915.04 mm
    ],
)
def test_a_size_rounded_to_pixels_is_called_what_it_was_asked_for(pixels, ppi, label):
    assert sized(pixels, Fraction(ppi)).sheet.label == label


@given(st.integers(1, 30_000), st.integers(1, 30_000), st.integers(2, 2000) | st.none())
def test_every_size_is_told_or_known(wide, high, ppi):
    found = sized((wide, high), ppi)
    assert found.items or found.is_known
    if found.sheet and ppi and not codes(found):
        off = abs(found.sheet.width.inches - Fraction(wide, ppi))
        assert off <= max(ROOM.tolerance.size.inches, Fraction(1, 2 * ppi))


def test_two_resolutions_are_told_whatever_else_is():
    """JFIF and Exif each have a field for it."""
    both = sized((3900, 5700), 300, other_ppi=(Fraction(72), Fraction(72)))
    assert codes(both) == ["resolution-two"]
    assert both.items[0].found == (
        "the file states two resolutions: 300 ppi, and 72 ppi in its Exif data"
    )
    assert both.sheet == find_sheet("13x19in")
    wrong = sized((3900, 5700), 72, other_ppi=(Fraction(300), Fraction(300)))
    assert codes(wrong) == ["resolution-label", "resolution-two"]
    rounded = sized((3900, 5700), 300, other_ppi=(Fraction(2999, 10), Fraction(2999, 10)))
    assert codes(rounded) == []
