"""The start of a drawing that is no sheet: its frame, its name and its description, in one look."""

from html import escape

from labkit.drawing.style import BIG, INK, LINES, MUTED, OKABE_ITO, PANEL, SMALL, TINT, WIDTH
from labkit.geometry.proportion import WHOLE, Crop

Rect = tuple[float, float, float, float]
"""Left, top, width and height in a drawing's own units."""


def open_canvas(
    prefix: str,
    height: int,
    title: str,
    words: str,
    *,
    width: int = WIDTH,
    data: dict[str, float] | None = None,
    style: str = "max-width:100%;height:auto",
) -> str:
    """An SVG's beginning, ``width`` units wide: ids begin with ``prefix``; ``words`` say what is drawn.

    ``title`` stands above the drawing too. ``data`` are figures for scripts and tests, as data
    attributes of the root. ``style`` is its CSS. The caller closes it with ``</svg>``.
    """
    told = "".join(f' data-{name}="{value:.4f}"' for name, value in (data or {}).items())
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" id="{prefix}" viewBox="0 0 {width} {height}" '
        f'width="{width}" height="{height}" style="{style}" role="img" '
        f'aria-labelledby="{prefix}-title {prefix}-desc"{told} '
        f'font-family="system-ui, sans-serif" font-size="{SMALL}" fill="{INK}">'
        f'<title id="{prefix}-title">{escape(title)}</title>'
        f'<desc id="{prefix}-desc">{escape(words)}</desc>'
        f'<rect width="{width}" height="{height}" fill="{PANEL}"/>'
        f'<text x="16" y="26" font-size="{BIG + 2}" font-weight="600">{escape(title)}</text>'
    )


def rect(at: Rect) -> str:
    """A rectangle's attributes."""
    return 'x="{:.2f}" y="{:.2f}" width="{:.2f}" height="{:.2f}"'.format(*at)


def photo(ident: str, at: Rect, crop: Crop = WHOLE) -> str:
    """A place for the photo, or for a part of it, stretched to fill it; a crossed box while it is empty.

    ``ident`` with ``-photo`` is the empty image.
    """
    left, top, wide, high = at
    part = (crop.left, crop.top, crop.width, crop.height)
    window = " ".join(f"{float(side) * 1000:.3f}" for side in part)
    cross = f"M{left:.2f} {top:.2f}l{wide:.2f} {high:.2f}m0 {-high:.2f}l{-wide:.2f} {high:.2f}"
    return (
        f'<g><rect {rect(at)} fill="{TINT}"/>'
        f'<path d="{cross}" fill="none" stroke="{OKABE_ITO["sky blue"]}"/>'
        f'<svg {rect(at)} viewBox="{window}" preserveAspectRatio="none">'
        f'<image id="{ident}-photo" width="1000" height="1000" preserveAspectRatio="none"/></svg>'
        f'<rect id="{ident}-frame" {rect(at)} {LINES["picture"].svg()}/></g>'
    )


def text(x: float, y: float, words: str, *, big: bool = False, anchor: str = "start") -> str:
    """A line of type: ``big`` for what matters, else small and muted."""
    look = f'font-size="{BIG}" font-weight="600"' if big else f'font-size="{SMALL}" fill="{MUTED}"'
    return f'<text x="{x:.2f}" y="{y:.2f}" text-anchor="{anchor}" {look}>{escape(words)}</text>'
