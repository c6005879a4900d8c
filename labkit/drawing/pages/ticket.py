"""The job ticket: one page of HTML that goes with a print file to the printer and the cutter."""

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources import files

from jinja2 import Environment, StrictUndefined, Template
from markupsafe import Markup

from labkit.drawing.sheet import describe_sheet, draw_sheet, label_texts
from labkit.errors import LabError
from labkit.files.look.address import is_address
from labkit.files.writing.printfile import PrintFile
from labkit.geometry.layout import Layout
from labkit.geometry.paper import Sheet
from labkit.geometry.resolution import ppi_text
from labkit.geometry.trim import cut_for_equal_borders
from labkit.room.rules import Room

SQUARE_FEET = 1 / Fraction("0.09290304")
"""In one square metre: a foot is 0.3048 m, exact since the international foot of 1959."""
DRAWING_WIDTH = 480
"""Of the sheet's drawing, in units to which its type is 12 and 14 high."""


@dataclass(frozen=True, slots=True)
class Order:
    """What is asked for besides the file: prints, paper and printer (None: the room's own for the size),
    course, due date."""

    copies: int = 1
    paper: str | None = None
    printer: str | None = None
    course: str = ""
    due: str = ""


def ticket(made: PrintFile, room: Room, order: Order = Order(), preview: str | None = None) -> str:
    """The job ticket of a print file, as one self-contained page of HTML.

    ``preview`` shows the whole picture in the drawing, as a ``data:image/…`` address. The page prints
    on one sheet of letter or A4. LabError for less than one copy, a paper the room does not have, or
    a preview that is kept elsewhere.
    """
    if order.copies < 1:
        raise LabError(f"{order.copies} copies cannot be printed: ask for 1 or more.")
    if preview is not None and not is_address(preview):
        raise LabError(
            "the preview must be in the ticket itself: give it as a data:image/… address, or leave it out."
        )
    layout, units = made.layout, room.units
    route = room.route(layout.sheet, order.paper, order.printer)
    drawing = draw_sheet(
        layout, units=units, href=preview, prefix="ticket", scale_width=DRAWING_WIDTH
    )
    return _template().render(
        made=made,
        layout=layout,
        room=room,
        order=order,
        paper=route.paper,
        route=route,
        drawing=Markup(drawing),  # escaped where it was drawn
        words=describe_sheet(layout, units=units),
        price=room.money(route.price(order.copies), "ask at the counter"),
        area=_area(layout.sheet, order.copies),
        cuts=_cuts(layout, units),
        names=("millimetres", "inches") if units == "mm" else ("inches", "millimetres"),
        borders=[(side, label_texts(size, units)) for side, size in layout.borders.items()],
        both=lambda size: size.both(units),
        ppi_text=ppi_text,
    )


@cache
def _template() -> Template:
    text = files("labkit.drawing.pages").joinpath("ticket.html").read_text(encoding="utf-8")
    rules = Environment(
        autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    return rules.from_string(text)


def _area(sheet: Sheet, copies: int) -> tuple[str, str]:
    """The paper that all copies take, in square metres and in square feet.

    >>> from labkit.geometry.paper import find_sheet
    >>> _area(find_sheet("A0"), 2)
    ('2.000 m²', '21.53 sq ft')
    """
    metres = sheet.width.mm * sheet.height.mm * copies / 1_000_000
    return f"{float(metres):.3f} m²", f"{float(metres * SQUARE_FEET):.2f} sq ft"


def _cuts(layout: Layout, units: str) -> list[str]:
    """Where to cut, a sentence to a step; empty for a print that keeps its borders as they are."""
    trim, borders = layout.trim, layout.borders
    if trim:
        width, height = (side.both(units) for side in trim.box.size)
        (left, right), (top, bottom) = layout.guides
        return [
            f"Cut at the corner marks: {left.both(units)} and {right.both(units)} from the left edge, "
            f"{top.both(units)} and {bottom.both(units)} from the top edge.",
            f"The finished piece is {width} by {height}.",
        ]
    if borders.left == borders.top == borders.right < borders.bottom:
        place = cut_for_equal_borders(layout.picture).both(units)
        return [f"One cut {place} from the top edge leaves equal borders all round."]
    return []
