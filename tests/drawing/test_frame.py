import pytest

from labkit.drawing.frame import MOULDING, draw_frame
from labkit.geometry.length import ZERO, inches, length
from tests.drawing.drawn import Drawn
from tests.geometry.refused import refusal

SIZE = inches(8), inches(10)


def drawn(size=SIZE, lip="1/4in", border="1in", units="in"):
    made = draw_frame(
        size, length(lip), length(border), units=units, prefix="frame", words="A frame."
    )
    return Drawn(made, "frame")


def middle(box):
    return box[0] + box[2] / 2, box[1] + box[3] / 2


@pytest.mark.parametrize("size", [SIZE, SIZE[::-1], (inches(16), inches(20))])
def test_print_sight_size_and_picture_are_to_scale_and_concentric(size):
    made = drawn(size)
    scale = float(made.root.get("data-unit-scale"))
    for ident, less in (("print", 0), ("sight", 0.5), ("inside", 2), ("photo", 2)):
        box = made.box(ident)
        wanted = tuple((float(side) - less) * scale for side in size)
        assert box[2:] == pytest.approx(wanted, abs=0.02)
        assert middle(box) == pytest.approx(middle(made.box("print")), abs=0.02)


@pytest.mark.parametrize("size", [SIZE, (inches(20), inches(16)), (inches(40), inches(5))])
def test_the_frame_stays_left_of_the_cut(size):
    made = drawn(size, lip="0in", border="0in")  # the widest it gets
    left, top, wide, high = made.box("print")
    scale = float(made.root.get("data-unit-scale"))
    moulding = float(MOULDING) * scale
    assert left - moulding >= 15.9
    assert left + wide + moulding <= 388.1
    assert top - moulding >= 40
    assert top + high + moulding <= made.size[1] - 30


def test_without_a_border_the_picture_reaches_the_edge_of_the_print():
    made = drawn(border="0in")
    assert made.box("photo") == made.box("print")
    assert "inside" not in made.by_id
    assert "white" not in made.by_id
    assert "picture" not in made.texts
    assert "picture" in drawn().texts


def test_the_lip_is_drawn_at_its_length_in_the_cut():
    for lip in ("1/8in", "1/2in"):
        path = drawn(lip=lip).by_id["lip"].get("d")
        end = float(path.split("H")[1].split("m")[0])
        start = float(path.split()[0].removeprefix("M"))
        assert end - start == pytest.approx(float(length(lip)) * 110, abs=0.02)


def test_the_unit_that_comes_first_is_large():
    assert drawn().texts.index("lip 1/4 in") == drawn().texts.index("6.4 mm") - 1
    assert "lip 6.4 mm" in drawn(units="mm").texts


def test_a_lip_that_hides_all_is_refused():
    told = refusal(draw_frame, SIZE, inches(4), ZERO, units="in", prefix="frame", words="A frame.")
    assert told.startswith("a lip of 4 in (101.6 mm) leaves nothing to see")


def test_the_same_drawing_every_time():
    assert drawn().svg == drawn().svg
