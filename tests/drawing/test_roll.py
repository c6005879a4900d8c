"""The drawing of prints on a roll: to one scale, turned as a print file is, and labelled."""

import re
from xml.etree import ElementTree

import pytest

from labkit.drawing.roll import Shown, Strip, draw_strip
from labkit.geometry.box import Box, Edges
from labkit.geometry.length import inches, length

EDGE = length("1/4in")
STRIP = Strip(inches(24), (inches(40),), Edges(EDGE, EDGE, EDGE, EDGE), inches(1), inches(2))
BOAT = Shown(Box(inches(1), inches(3), inches(8), inches(10)), "Boat & sea", "Ada")


def drawn(pieces=(BOAT,), strip=STRIP, **more):
    svg = draw_strip(
        strip, list(pieces), [inches(13)], units="in", prefix="x", title="t", words="w", **more
    )
    return ElementTree.fromstring(svg)


def box_of(root, ident):
    found = next(each for each in root.iter() if each.get("id") == ident)
    return [float(found.get(side)) for side in ("x", "y", "width", "height")]


def test_it_is_a_print_file_turned_a_quarter_anticlockwise():
    """Top at the left: 3 in from the left end. The file's left edge is below: 1 in above the lower side."""
    root = drawn()
    scale = float(root.get("data-unit-scale"))
    paper, boat = box_of(root, "x-paper"), box_of(root, "x-0")
    assert boat[0] - paper[0] == pytest.approx(3 * scale, abs=0.02)
    below = paper[1] + paper[3] - (boat[1] + boat[3])
    assert below == pytest.approx(1 * scale, abs=0.02)
    assert boat[2:] == pytest.approx([10 * scale, 8 * scale], abs=0.02)


def test_the_scale_stays_when_a_longest_is_given():
    short = Strip(inches(24), (inches(10),), STRIP.edges)
    scales = [
        drawn((), strip, longest=inches(60)).get("data-unit-scale") for strip in (STRIP, short)
    ]
    assert scales[0] == scales[1]


def test_a_cut_is_drawn_where_it_is():
    root = drawn()
    scale, paper = float(root.get("data-unit-scale")), box_of(root, "x-paper")
    cut = next(each for each in root.iter() if each.get("id") == "x-cut-0")
    x = float(re.match(r"M([\d.]+)", cut.get("d"))[1])
    assert x - paper[0] == pytest.approx(13 * scale, abs=0.02)


def test_what_does_not_fit_is_an_outline_and_in_the_legend():
    off = Shown(BOAT.box, "Wall", off=True)
    words = {each.text for each in drawn([off]).iter() if each.text}
    assert "does not fit" in words
    assert "does not fit" not in {each.text for each in drawn().iter()}


def test_runs_follow_each_other():
    strip = Strip(inches(24), (inches(10), inches(20)), STRIP.edges, inches(1), inches(2))
    assert strip.length == inches(30)
    assert list(strip.each()) == [(inches(0), inches(10)), (inches(10), inches(20))]


def test_a_small_piece_keeps_its_number():
    """It is what ties the piece to its line in the table; the end of the title is what is left off."""
    small = Shown(Box(inches(1), inches(3), inches(4), inches(3)), "17 First light", "Ada Brook")
    words = [each.text for each in drawn([small]).iter() if each.tag.endswith("text")]
    [label] = [each for each in words if each.startswith("17")]
    assert label.endswith("…")
