"""How a result of ours shows in a notebook: its sentence, and its drawing to scale."""

import sys
from zlib import crc32

from labkit.drawing.sheet import draw_sheet
from labkit.geometry.layout import Layout


def show_in_notebook() -> None:
    """Teach the running notebook, if there is one, to draw layouts and findings. Nothing else changes.

    Other types draw themselves; these two lie below the drawing and do not know it.
    """
    shell = sys.modules["IPython"].get_ipython() if "IPython" in sys.modules else None
    if shell is None:
        return
    svg = shell.display_formatter.formatters["image/svg+xml"]
    svg.for_type(Layout, layout_svg)
    svg.for_type_by_name(
        "labkit.files.checks.findings", "Findings", lambda found: layout_svg(found.layout)
    )


def layout_svg(layout: Layout | None) -> str | None:
    """The drawing, its ids told from those of other results on the page; None for no layout."""
    if layout is None:
        return None
    return draw_sheet(layout, prefix=f"layout-{crc32(str(layout).encode()):08x}")
