"""Whether a picture has the pixels its size asks for, and whether they are its own."""

from fractions import Fraction

import pytest

from labkit.files.checks.sharpness import sharpness_findings
from labkit.files.look.look import Seen
from labkit.geometry.layout import lay_out
from labkit.geometry.length import inches
from labkit.geometry.paper import find_sheet
from labkit.geometry.pixelbox import PixelBox
from labkit.room.rules import load_room

ROOM = load_room()
"""300 ppi are asked for up to 20 in, and 5 % less will do."""


def told(ppi, **seen) -> list[tuple[str, str]]:
    """What is found of a picture 12 in wide."""
    layout = lay_out((3600, 2400), find_sheet("13x19in"), width=inches(12))
    looked = Seen(PixelBox(0, 0, 10, 10), (255, 255, 255), **seen)
    found = sharpness_findings(layout, looked, Fraction(ppi), ROOM, is_ours=False)
    return [(item.code, item.grade) for item in found]


@pytest.mark.parametrize(("ppi", "is_told"), [("300", 0), ("293.6", 0), ("285", 0), ("284.9", 1)])
def test_the_floor_has_a_tolerance(ppi, is_told):
    assert told(ppi) == [("ppi-floor", "look")] * is_told


def test_an_enlargement_however_small_is_no_way_round_the_floor():
    """What had 293.6 ppi and would have passed is told once it was enlarged to 300."""
    assert told(300, enlarged=300 / 293.6, how_sure="likely") == [("enlarged", "look")]
    assert told(600, enlarged=1.5, how_sure="likely") == [("enlarged", "fine")]


def test_softness_is_measured_by_the_same_tolerance():
    assert told(300, soft=1.04) == [("soft", "fine")]
    assert told(300, soft=1.1) == [("soft", "look")]
