import re
from fractions import Fraction

import pytest

from labkit.drawing.edge import draw_edge
from labkit.geometry.length import Length, inches, millimetres
from tests.drawing.drawn import Drawn


def drawn(tolerance=2, ppi=300, off=Fraction(-1, 1200)):
    made = draw_edge(
        millimetres(tolerance),
        inches(Fraction(1, ppi)),
        Length(Fraction(off)),
        prefix="edge",
        title="The right edge of A4",
        words="Enlarged.",
    )
    return Drawn(made, "edge")


def place(made, ident):
    return float(re.match(r"M([\d.]+)", made.by_id[ident].get("d"))[1])


@pytest.mark.parametrize("tolerance", ["1.5", 2, 3])
@pytest.mark.parametrize("ppi", [20, 72, 300, 720])
def test_tolerance_and_pixels_are_to_one_scale(tolerance, ppi):
    made = drawn(tolerance, ppi)
    left, _, wide, _ = made.box("allowed")
    scale = float(made.root.get("data-unit-scale"))
    assert wide == pytest.approx(2 * float(tolerance) / 25.4 * scale, abs=0.01)
    assert place(made, "edge") == pytest.approx(left + wide / 2)
    wide = re.search(r"h-([\d.]+)", made.by_id["pixels"].get("d"))[1]
    assert float(wide) == pytest.approx(scale / ppi, abs=0.01)


def test_the_last_pixel_ends_where_it_does():
    scale = float(drawn().root.get("data-unit-scale"))
    for off in (Fraction(-1, 600), Fraction(0), Fraction(1, 900)):
        made = drawn(off=off)
        end = place(made, "end") - place(made, "edge")
        assert end == pytest.approx(float(off) * scale, abs=0.02)


def test_the_pixels_fill_the_strip_to_its_left_end():
    for ppi in (20, 97, 300, 720):
        made = drawn(ppi=ppi)
        scale = float(made.root.get("data-unit-scale"))
        lefts = [float(at) for at in re.findall(r"M([\d.-]+) ", made.by_id["pixels"].get("d"))]
        assert min(lefts) - 2 * scale / ppi <= made.box("allowed")[0]


def test_how_far_the_cut_may_be_off_is_written_on_it():
    assert {"1.5 mm short", "1.5 mm over"} <= set(drawn("1.5").texts)
    assert drawn().title == "The right edge of A4"
    assert drawn().svg == drawn().svg
