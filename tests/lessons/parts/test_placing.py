"""Figures worked by hand for a 3:2 picture on an upright sheet of 13 × 19 in (330.2 × 482.6 mm)."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.geometry.box import Edges
from labkit.geometry.length import ZERO, Length, inches, length
from labkit.geometry.paper import find_sheet
from labkit.geometry.proportion import HALF, Crop
from labkit.lessons.parts.placing import BY_HAND, STEPS, Placing, try_layout

SHEET = find_sheet("13x19in")
EDGES = Edges(length("4mm"), length("3mm"), length("4mm"), length("7mm"))
STEP = length("1/16in")


def placed(width="12in", at="centre", **fields) -> Placing:
    return Placing((3600, 2400), SHEET, length(width), EDGES, at, **fields)


def lengths(*texts: str) -> tuple[Length, ...]:
    return tuple(map(length, texts))


@pytest.mark.parametrize(
    ("at", "corner"),
    [
        ("centre", lengths("1/2in", "5 1/2in")),
        ("optical", lengths("1/2in", "4.4in")),  # 2/5 of the 11 in to spare
        ("even-three", lengths("1/2in", "1/2in")),
    ],
)
def test_the_corner_of_a_named_place(at, corner):
    placing = placed(at=at)
    assert placing.size == lengths("12in", "8in")
    assert placing.corner == corner
    assert (placing.layout.picture.left, placing.layout.picture.top) == corner


def test_reach_is_inside_the_printable_area():
    # 330.2 - 4 - 304.8 = 21.4 mm, and 482.6 - 7 - 203.2 = 272.4 mm
    assert placed().reach == (lengths("4mm", "21.4mm"), lengths("3mm", "272.4mm"))
    assert placed().widest == length("322.2mm")


def test_a_high_picture_is_as_wide_as_its_height_allows():
    high = replace(placed(), shape=(1000, 2000))
    assert high.widest == length("472.6mm") / 2


def test_the_printers_edges_turn_with_the_sheet():
    lying = placed().on(SHEET.turned())
    # What feeds first, 3 mm, is on the left of a sheet on its side.
    assert lying.unprintable == Edges(*lengths("3mm", "4mm", "7mm", "4mm"))
    assert lying.reach[0] == lengths("3mm", "170.8mm")  # 482.6 - 7 - 304.8
    assert lying.on(SHEET) == placed()


def test_a_trim_size_turns_with_the_sheet():
    trimmed = placed(trim=lengths("11in", "17in"), bleed=length("1/8in"))
    lying = trimmed.on(SHEET.turned())
    assert lying.trim == lengths("17in", "11in")
    assert lying.layout.trim.box.size == lengths("17in", "11in")
    assert lying.on(SHEET) == trimmed
    assert trimmed.on(find_sheet("A3")).trim == trimmed.trim


def test_a_smaller_sheet_makes_the_picture_smaller():
    assert placed().on(find_sheet("A4")).width == length("202mm")  # 210 - 4 - 4
    assert placed("6in").on(find_sheet("A4")).width == length("6in")


def test_no_wider_than_fits():
    assert placed().resized(length("20in")).width == length("322.2mm")
    assert placed().resized(length("5in")).width == length("5in")


def test_a_wider_picture_placed_by_hand_stays_on_the_sheet():
    corner = placed("6in").moved(inches(6), inches(10), step=None, snap=False)
    wide = corner.resized(length("12in"))
    assert wide.corner == lengths("21.4mm", "10in")
    assert wide.layout.picture.width == length("12in")


def test_moving_rounds_to_whole_steps():
    moved = placed("8in").moved(inches(1.03), inches(2.04), step=STEP, snap=False)
    assert moved.at == BY_HAND
    assert moved.corner == lengths("1in", "2 1/16in")
    metric = placed("8in").moved(inches(1.03), inches(2.04), step=STEPS["mm"], snap=False)
    assert metric.corner == lengths("26mm", "52mm")  # 26.16 and 51.8 mm


def test_a_side_that_stays_is_not_rounded():
    at_edge = placed("8in").moved(ZERO, inches(2), step=STEP, snap=False)
    down = at_edge.moved(at_edge.corner[0], inches(2) + STEP, step=STEP, snap=False)
    assert down.corner == lengths("4mm", "2 1/16in")


def test_moving_stops_at_the_printers_edges():
    at_start = placed("8in").moved(inches(-5), inches(-5), step=STEP, snap=False)
    assert at_start.corner == lengths("4mm", "3mm")
    at_end = at_start.moved(inches(50), inches(50), step=STEP, snap=True)
    assert at_end.corner == at_end.reach[0][1:] + at_end.reach[1][1:]


def test_snapping_reaches_a_sixtieth_of_the_sheets_width():
    placing, reach = placed("8in"), SHEET.width / 60  # 8 in wide: centred 2 1/2 in from the left
    within = placing.moved(inches(2.5) + reach, inches(1), step=STEP, snap=True)
    beyond = placing.moved(inches(2.5) + reach * 1.02, inches(1), step=STEP, snap=True)
    assert within.corner[0] == length("2 1/2in")
    assert "centre, left to right" in within.snapped()
    assert beyond.corner[0] == length("2 3/4in")  # 2.721 in, to whole sixteenths
    assert "centre, left to right" not in beyond.snapped()


def test_snapping_meets_a_guide_that_is_on_no_step():
    placing = placed("12in").moved(inches(0.5), inches(4.45), step=STEP, snap=True)
    assert placing.corner == lengths("1/2in", "4.4in")
    assert placing.snapped() == ("centre, left to right", "optical centre")


def test_without_snapping_the_same_move_lands_on_a_step():
    assert placed("12in").moved(inches(0.5), inches(4.45), step=STEP, snap=False).corner[1] == (
        length("4 7/16in")
    )


def test_guides_out_of_reach_are_left_out():
    lopsided = replace(placed(), edges=Edges(left=length("10mm"))).resized(length("20in"))
    assert lopsided.width == length("320.2mm")  # centred it would stand at 5 mm
    assert "centre, left to right" not in {snap.label for snap in lopsided.snaps}
    assert "the printer's left edge" in {snap.label for snap in lopsided.snaps}


@given(
    width=st.integers(32, 200),
    left=st.fractions(-2, 16),
    top=st.fractions(-2, 22),
    turned=st.booleans(),
    snap=st.booleans(),
)
def test_wherever_it_is_moved_it_can_be_printed(width, left, top, turned, snap):
    placing = placed().on(SHEET.turned() if turned else SHEET).resized(STEP * width)
    moved = placing.moved(Length(left), Length(top), step=STEP, snap=snap)
    layout = moved.layout
    needed = dict(layout.unprintable.items())
    assert all(border >= needed[side] for side, border in layout.borders.items())
    for guide in moved.snaps:
        corner = dict(zip("xy", moved.corner, strict=True)) | {guide.axis: guide.at}
        there = moved.moved(corner["x"], corner["y"], step=None, snap=False)
        assert there.corner == (corner["x"], corner["y"]), guide.label


def test_three_even_borders_that_do_not_fit_are_refused_but_have_a_corner():
    lying = placed(at="even-three").on(SHEET.turned())
    layout, refusal = try_layout(lying)
    assert layout is None
    assert refusal == (
        "three even borders of 3 1/2 in (88.9 mm) leave less than that below, for the sheet is only "
        "5 in (127 mm) higher than the piece: turn the sheet, or place it at centre."
    )
    assert lying.corner == lengths("3 1/2in", "3 1/2in")


def test_what_can_be_printed_comes_without_a_refusal():
    layout, refusal = try_layout(placed())
    assert layout == placed().layout
    assert refusal == ""


# Cropped to a box


def boxed(width="8in", height="10in", **fields) -> Placing:
    return placed(width, height=length(height), **fields)


def test_with_a_height_it_is_cropped_to_that_box():
    """8 × 10 in of 3 : 2 keeps 8/15 of the width; on 13 × 19 in it is centred at 2 1/2 and 4 1/2 in."""
    placing = boxed(keep=(Fraction(0), HALF))
    assert placing.size == lengths("8in", "10in")
    assert placing.corner == lengths("2 1/2in", "4 1/2in")
    assert placing.layout.crop == Crop(Fraction(0), Fraction(0), Fraction(8, 15), Fraction(1))
    assert boxed().layout.crop.left == Fraction(7, 30)


def test_a_box_is_as_large_as_the_printer_reaches_each_way_for_itself():
    placing = boxed("20in", "25in").resized(length("20in"))
    assert placing.size == (SHEET.width - length("8mm"), SHEET.height - length("10mm"))
    lying = boxed("8in", "18in").on(SHEET.turned())
    assert lying.size == (length("8in"), SHEET.width - length("8mm"))
    assert lying.layout.crop.height == 1


def test_a_box_is_moved_like_any_picture():
    moved = boxed().moved(inches(20), inches(1), step=STEP, snap=False)
    assert moved.corner == (SHEET.width - length("4mm") - length("8in"), length("1in"))
    assert moved.layout.picture.size == lengths("8in", "10in")
