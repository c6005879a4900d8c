"""Hand-ins drawn: the whole file on its sheet, the file alone, and nothing at all."""

import pytest

from labkit.drawing.hand_in import draw_file, draw_hand_in, draw_nothing
from labkit.drawing.sheet import draw_sheet
from labkit.geometry.layout import lay_out
from labkit.geometry.length import length
from labkit.geometry.paper import find_sheet
from tests.drawing.drawn import Drawn

WHOLE = "data:image/jpeg;base64,AAAA"


@pytest.fixture
def layout():
    return lay_out((3, 2), find_sheet("letter"), width=length("6in"))


def test_the_whole_file_covers_the_sheet_and_lies_under_the_rest(layout):
    svg = draw_hand_in(layout, units="in", prefix="one", whole=WHOLE)
    made = Drawn(svg, "one")
    assert made.box("whole") == made.box("sheet")
    assert made.by_id["whole"].get("href") == WHOLE
    assert svg.index('"one-sheet"') < svg.index('"one-whole"') < svg.index('"one-picture"')


def test_without_it_the_drawing_is_the_sheet(layout):
    assert draw_hand_in(layout, units="mm", prefix="one") == draw_sheet(
        layout, units="mm", prefix="one"
    )


def test_an_address_is_escaped(layout):
    svg = draw_hand_in(layout, units="in", prefix="one", whole='x"><script>\\1')
    assert Drawn(svg, "one").by_id["whole"].get("href") == 'x"><script>\\1'


@pytest.mark.parametrize("pixels", [(3000, 2000), (500, 4000), (1, 1)])
def test_a_file_alone_keeps_its_shape_and_says_its_pixels(pixels):
    made = Drawn(draw_file(pixels, prefix="two", title="boat.jpg", words="Alone."), "two")
    _, _, wide, high = made.box("frame")
    assert wide / high == pytest.approx(pixels[0] / pixels[1], rel=0.01)
    assert made.texts[-1].startswith(f"{pixels[0]} × {pixels[1]} pixels, and no sheet")
    assert made.by_id["photo"].get("href") is None
    assert high < made.size[1]


def test_of_what_cannot_be_opened_nothing_is_shown():
    made = Drawn(draw_nothing(prefix="three", title="<boat>", words="Nothing."), "three")
    assert made.title == "<boat>"
    assert made.texts[-1] == "nothing can be shown of it"
