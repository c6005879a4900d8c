"""Three sheets side by side: to one scale, each picture in the middle of its own."""

from fractions import Fraction

import pytest

from labkit.drawing.series import Hung, draw_series
from labkit.geometry.length import inches
from labkit.geometry.paper import find_sheet
from labkit.geometry.proportion import WHOLE, Crop
from tests.drawing.drawn import Drawn

HUNG = [
    Hung("3 : 2", (inches(9), inches(6)), WHOLE),
    Hung("3 : 4", (inches("4.5"), inches(6)), Crop(width=Fraction(1, 2))),
    Hung("1 : 1", (inches(6), inches(6)), Crop(left=Fraction(1, 6), width=Fraction(2, 3))),
]


def drawn(sheet="11x14in", units="in"):
    given = {"units": units, "prefix": "s", "title": "A series", "words": "Three prints."}
    return Drawn(draw_series(find_sheet(sheet), HUNG, **given), "s")


@pytest.mark.parametrize("sheet", ["11x14in", "14x11in", "A4"])
def test_all_to_one_scale_and_in_the_middle(sheet):
    made = drawn(sheet)
    scale = float(made.root.get("data-unit-scale"))
    papers = [
        each
        for each in made.root.iter()
        if each.tag.endswith("}rect") and each.get("fill") == "#ffffff"
    ]
    assert len(papers) == 3
    for number, (hung, paper) in enumerate(zip(HUNG, papers, strict=True)):
        left, top, wide, high = made.box(f"{number}-frame")
        assert [wide, high] == pytest.approx([float(side) * scale for side in hung.size], abs=0.01)
        x, y, across, down = (float(paper.get(key)) for key in ("x", "y", "width", "height"))
        assert across == pytest.approx(float(find_sheet(sheet).width) * scale, abs=0.01)
        assert left + wide / 2 == pytest.approx(x + across / 2, abs=0.02)
        assert top + high / 2 == pytest.approx(y + down / 2, abs=0.02)


def test_each_shows_its_own_part_of_the_photo():
    inner = [each for each in drawn().root.iter() if each.tag.endswith("}svg")][1:]
    assert [each.get("viewBox") for each in inner] == [
        "0.000 0.000 1000.000 1000.000",
        "0.000 0.000 500.000 1000.000",
        "166.667 0.000 666.667 1000.000",
    ]


def test_names_and_sizes_stand_below():
    assert drawn().texts[1:4] == ["3 : 2", "9 × 6 in", "228.6 × 152.4 mm"]
    assert drawn(units="mm").texts[1:4] == ["3 : 2", "228.6 × 152.4 mm", "9 × 6 in"]


def test_the_same_drawing_every_time():
    assert drawn().svg == drawn().svg
