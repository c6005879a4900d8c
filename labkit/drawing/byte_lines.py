"""Lines of bytes in one width of type, as SVG."""

from collections.abc import Sequence
from html import escape

from labkit.drawing.canvas import open_canvas
from labkit.drawing.style import SMALL

_SIDE, _TOP, _LINE = 16, 58, 24


def draw_byte_lines(lines: Sequence[str], *, prefix: str, title: str) -> str:
    """Draw ``lines`` of bytes and figures one below the other; spaces in them keep their width."""
    drawn = "".join(
        f'<text x="{_SIDE}" y="{_TOP + number * _LINE}" font-family="ui-monospace, monospace" '
        f'font-size="{SMALL + 1}" xml:space="preserve">{escape(line)}</text>'
        for number, line in enumerate(lines)
    )
    start = open_canvas(prefix, _TOP + len(lines) * _LINE, title, " ".join(lines))
    return f"{start}{drawn}</svg>"
