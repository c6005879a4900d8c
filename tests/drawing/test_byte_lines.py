"""Lines of bytes: each on a line of its own, and told in words."""

from labkit.drawing.byte_lines import draw_byte_lines
from tests.drawing.drawn import Drawn


def test_lines_stand_below_one_another_and_are_told():
    made = Drawn(
        draw_byte_lines(("JPEG  01 01", "a < b"), prefix="bytes", title="A label"), "bytes"
    )
    assert made.texts[-2:] == ["JPEG  01 01", "a < b"]
    assert made.title == "A label"
    assert made.words == "JPEG  01 01 a < b"
