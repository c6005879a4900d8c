"""How a result of ours shows in a notebook: first what is to be said of it, then its drawing to scale."""

import sys
from base64 import b64encode
from html import escape
from zlib import crc32

from labkit.drawing.sheet import draw_sheet
from labkit.geometry.layout import Layout

_MARKS = {"stop": "#d55e00", "look": "#e69f00", "fine": "#0072b2"}
"""The colour beside each grade, whose word always stands there too (vermilion, orange, blue)."""


def show_in_notebook() -> None:
    """Teach the running notebook, if there is one, to show our results. Nothing else changes.

    They lie below the drawing, or do not need it elsewhere, and do not know it.
    """
    shell = sys.modules["IPython"].get_ipython() if "IPython" in sys.modules else None
    if shell is None:
        return
    svg, html = (
        shell.display_formatter.formatters[kind] for kind in ("image/svg+xml", "text/html")
    )
    svg.for_type(Layout, layout_svg)
    html.for_type_by_name("labkit.files.checks.findings", "Findings", findings_html)
    html.for_type_by_name("labkit.job.planned", "Made", made_html)
    html.for_type_by_name("labkit.teaching.judge", "Judgement", judgement_html)
    html.for_type_by_name("labkit.teaching.judge", "Hints", hints_html)


def layout_svg(layout: Layout | None) -> str | None:
    """The drawing, its ids told from those of other results on the page; None for no layout."""
    if layout is None:
        return None
    return draw_sheet(layout, prefix=f"layout-{crc32(str(layout).encode()):08x}")


def findings_html(found) -> str:
    """The verdict, a line for each finding, the command that mends it; then the sheet."""
    lines = [
        f"<b>{each.grade}</b> {escape(each.sentence())}"
        + (f"<br><code>{escape(each.command)}</code>" if each.command else "")
        for each in found.faults
    ]
    head = f"{found.file.name}: {found.verdict}" if lines else found.sentence()
    return _told(head, lines, _MARKS[found.verdict]) + _picture(found.layout)


def made_html(made) -> str:
    """What was made, where it lies, what was done; then the sheet."""
    first, *lines = made.lines()
    return _told(first, [escape(line) for line in lines], _MARKS["fine"]) + _picture(made.layout)


def judgement_html(judgement) -> str:
    """The judgement, and a line for each thing to mend."""
    return hints_html(judgement.hints)


def hints_html(hints) -> str:
    """A line for each thing to mend, or that there is none."""
    return _told(
        hints.judgement, [escape(hint) for hint in hints], _MARKS["stop" if hints else "fine"]
    )


def as_image(svg: str, words: str) -> str:
    """A drawing as an image: a page that shows no drawings in its text still shows it."""
    data = b64encode(svg.encode()).decode()
    return (
        f'<img alt="{escape(words)}" style="max-width:100%;max-height:70vh" '
        f'src="data:image/svg+xml;base64,{data}">'
    )


def _told(head: str, lines: list[str], mark: str) -> str:
    items = "".join(f"<li>{line}</li>" for line in lines)
    listed = f'<ul style="margin:4px 0 0;padding-left:1.4em">{items}</ul>' if items else ""
    return (
        f'<div style="max-width:60em;margin:4px 0 8px;padding:4px 12px;border-left:5px solid {mark}">'
        f"<b>{escape(head)}</b>{listed}</div>"
    )


def _picture(layout: Layout | None) -> str:
    return "" if layout is None else as_image(layout_svg(layout), layout.sentence())
