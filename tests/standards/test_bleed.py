"""Trim, bleed and crop marks against the boxes of ISO 32000 and the rules of CSS Paged Media."""

import papersizes
import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.geometry.box import Box
from labkit.geometry.layout import lay_out
from labkit.geometry.length import ZERO, inches, length, millimetres
from labkit.geometry.paper import find_sheet
from labkit.geometry.trim import MARK_LENGTH, MARK_WIDTH, Trim
from tests.geometry.strategies import edges, lengths, thorough

METRIC, INCH = length("3mm"), length("1/8in")
A4 = find_sheet("A4")
PIECE = Trim(Box(inches(2), inches(2), A4.width, A4.height), METRIC)


def contains(outer: Box, inner: Box) -> bool:
    return min(room for _, room in inner.within(outer).items()) >= ZERO


def apart(one: Box, other: Box) -> bool:
    across = one.right <= other.left or other.right <= one.left
    down = one.bottom <= other.top or other.bottom <= one.top
    return across or down


def test_a4_with_3_mm_of_bleed():
    """216 × 303 mm: worked at dr-juergen-krueger.de, pdf-boxen."""
    assert PIECE.bleed_box.size == (length("216mm"), length("303mm"))


def test_a4_with_bleed_as_papersizes_adds_it():
    """papersizes 0.6.1, ``PaperSize.add_bleed``: “3mm internationally and 1/8" US”."""
    theirs = papersizes.A4.add_bleed(3 * papersizes.mm)
    ours = [float(side.inches) * 72 for side in PIECE.bleed_box.size]
    assert list(theirs) == pytest.approx(ours)


def test_the_two_usual_bleeds_are_not_equal():
    """1/8 in is 3.175 mm. Common practice both, no source."""
    assert length("0.175mm") == INCH - METRIC


def test_the_layout_s_picture_is_the_bleed_box():
    layout = lay_out((3000, 4000), find_sheet("A3"), trim=(A4.width, A4.height), bleed=METRIC)
    assert layout.picture.size == (length("216mm"), length("303mm"))
    assert layout.trim.box.size == (A4.width, A4.height)


@pytest.mark.parametrize("bleed", [METRIC, INCH, ZERO])
def test_crop_marks_lie_outside_and_in_line_with_the_cuts(bleed):
    """CSS Paged Media 3, marks: short lines outside the page box, extensions of its four edges, with
    no ink near or in the box. Length of 5–6 mm, offset of the bleed or more: common practice."""
    piece = Trim(PIECE.box, bleed)
    marks = piece.marks()
    assert len(set(marks)) == 8
    edges_of_cut = {piece.box.left, piece.box.right, piece.box.top, piece.box.bottom}
    for mark in marks:
        assert apart(mark, piece.bleed_box)
        middle = (mark.left + mark.width / 2, mark.top + mark.height / 2)
        assert edges_of_cut & set(middle)
        assert length("5mm") <= max(mark.size) <= length("6mm")
    assert {min(mark.size) for mark in marks} == {MARK_WIDTH}


@thorough
@given(lengths(1, 20), lengths(1, 20), st.sampled_from([ZERO, METRIC, INCH]), edges)
def test_trim_lies_in_bleed_and_bleed_on_the_medium(width, height, bleed, printer):
    """TrimBox in BleedBox in MediaBox: ISO 32000-1 §14.11.2 and PDF/X-3:2002, quoted second-hand."""
    sheet = find_sheet("ARCH E")
    layout = lay_out((3000, 4000), sheet, trim=(width, height), bleed=bleed, unprintable=printer)
    trim = layout.trim
    assert contains(trim.bleed_box, trim.box)
    assert contains(trim.marked_box, trim.bleed_box)
    assert contains(layout.printable, trim.marked_box)
    assert contains(layout.sheet_box, layout.printable)
    assert trim.marked_box == trim.box.grown(bleed + MARK_LENGTH)


def test_bleed_and_marks_of_a4_need_more_than_sra4():
    """SRA4 is 225 × 320 mm: 7.5 mm beside A4, where 3 mm and a mark of 6 mm take 9. Our own
    arithmetic."""
    sra4, needed = find_sheet("SRA4"), PIECE.marked_box.size
    assert needed == (millimetres(228), millimetres(315))
    assert needed[0] > sra4.width
    assert PIECE.bleed_box.width < sra4.width
