"""The job ticket: one page of HTML that goes with a print file to the printer and the cutter."""

from dataclasses import dataclass
from fractions import Fraction

from markupsafe import Markup

from labkit.drawing.dimensions import label_texts
from labkit.drawing.pages.template import template
from labkit.drawing.parts import draw_parts
from labkit.drawing.sheet import describe_sheet, draw_sheet
from labkit.errors import LabError
from labkit.files.look.address import is_address
from labkit.files.writing.printfile import PrintFile
from labkit.geometry.layout import Layout
from labkit.geometry.length import Length, size_text
from labkit.geometry.resolution import ppi_text
from labkit.geometry.trim import cut_for_equal_borders
from labkit.geometry.trimplan import plan_of
from labkit.room.printers import hours_text
from labkit.room.route import Route
from labkit.room.rules import Room

SQUARE_FEET = 1 / Fraction("0.09290304")
"""In one square metre: a foot is 0.3048 m, exact since the international foot of 1959."""
DRAWING_WIDTH = 480
"""Of the sheet's drawing, in units to which its type is 12 and 14 high."""


@dataclass(frozen=True, slots=True)
class Order:
    """What is asked for besides the file: prints, paper and printer (None: the room's own for the size),
    course, due date; and the job's number."""

    copies: int = 1
    paper: str | None = None
    printer: str | None = None
    course: str = ""
    due: str = ""
    number: str = ""


def ticket(
    made: PrintFile,
    room: Room,
    order: Order = Order(),
    preview: str | None = None,
    *,
    shows_sheet: bool = False,
) -> str:
    """The job ticket of a print file, as one self-contained page of HTML.

    ``preview`` shows the whole picture in the drawing, or with ``shows_sheet`` the whole sheet, as a
    ``data:image/…`` address. The page prints on one sheet of letter or A4. LabError for less than one
    copy, a paper or printer the room does not have, or a preview that is kept elsewhere.
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
        layout,
        units=units,
        href=preview,
        shows_sheet=shows_sheet,
        prefix="ticket",
        scale_width=DRAWING_WIDTH,
    )
    is_evened = made.prints == 1 and evens_by_one_cut(layout, Length(1 / made.raster.ppi))
    return template("ticket").render(
        made=made,
        layout=layout,
        room=room,
        order=order,
        route=route,
        drawing=Markup(drawing),  # escaped where it was drawn
        words=describe_sheet(layout, units=units),
        price=room.money(route.price(order.copies), "ask at the counter"),
        used=paper_used(route, order.copies, units),
        goes_in=goes_in(route),
        scale=_scale(route),
        dries=hours_text(route.setting.drying_hours) if route.setting else "",
        cuts=_cuts(layout, is_evened, units, made),
        finished=layout.picture.size if made.part else finished_size(layout, is_evened=is_evened),
        hangs=Markup(draw_parts(made.part.split, made.part, units=units, prefix="parts"))
        if made.part
        else "",
        seams=made.part.seams(units) if made.part else [],
        size_text=lambda size: size_text(size, units),
        names=("millimetres", "inches") if units == "mm" else ("inches", "millimetres"),
        borders=[(side, label_texts(size, units)) for side, size in layout.borders.items()],
        both=lambda size: size.both(units),
        ppi_text=ppi_text,
    )


def paper_used(route: Route, copies: int, units: str) -> tuple[str, str]:
    """The paper that all copies really take: sheets, or metres of a roll; and the same as an area."""
    metres = route.area(copies)
    area = f"{metres:.3f} m², {metres * float(SQUARE_FEET):.2f} sq ft"
    if not route.is_roll:
        return ("1 sheet" if copies == 1 else f"{copies} sheets"), area
    piece = size_text((route.usable, route.along), units)
    each = "" if copies == 1 else "each "
    told = f"{each}usable width × length with leader and tail: {piece}; {area}"
    return f"{float(route.along.mm) * copies / 1000:.2f} m of the {route.stock_name}", told


def goes_in(route: Route) -> str:
    """How the file is oriented, and what goes into the printer first, in words nobody misreads.

    >>> from labkit.geometry.paper import find_sheet
    >>> from labkit.room.rules import load_room
    >>> goes_in(load_room().route(find_sheet("19x13in")))
    'Landscape: a short side goes in first, the left edge of the drawing in front.'
    """
    sheet = route.sheet
    edge = f"the {route.first_edge} edge of the drawing in front."
    if sheet.width == sheet.height:
        return f"Square: goes in with {edge}"
    first = sheet.height if route.is_turned else sheet.width
    side = "short" if first == min(sheet.width, sheet.height) else "long"
    return f"{'Landscape' if sheet.is_turned else 'Portrait'}: a {side} side goes in first, {edge}"


def finished_size(layout: Layout, *, is_evened: bool) -> tuple[Length, Length]:
    """Width and height of the piece that is handed out: trimmed, evened by its one cut, or the sheet."""
    if layout.trim:
        return layout.trim.box.size
    if is_evened:
        return layout.sheet.width, cut_for_equal_borders(layout.picture)
    return layout.sheet.width, layout.sheet.height


def _scale(route: Route) -> str:
    """What this setting was last measured to do to lengths; "" where it is not known."""
    measured = route.setting and route.setting.measured
    if not measured:
        return ""
    across, along = (f"{float(each):.2%}" for each in (measured.across, measured.along))
    return (
        f"Measured {measured.date}: {across} across, {along} along, ± {float(measured.spread):.2%}."
    )


def evens_by_one_cut(layout: Layout, pixel: Length) -> bool:
    """Whether three borders are equal to the ``pixel`` and the fourth, below, is wider."""
    borders = layout.borders
    three = borders.left, borders.top, borders.right
    return not layout.trim and max(three) - min(three) <= pixel < borders.bottom - borders.top


def _cuts(layout: Layout, is_evened: bool, units: str, made: PrintFile) -> list[str]:
    """Where to cut, a sentence to a step; empty for a print that keeps its borders as they are."""
    if made.prints > 1:
        return [
            f"{made.prints} prints lie on it: cut them apart in the order that the job’s page to work from "
            "gives."
        ]
    if layout.keeps_white:
        return plan_of(layout).lines(units)
    if layout.trim:
        (left, right), (top, bottom) = layout.guides
        return [
            f"Cut at the corner marks: {left.both(units)} and {right.both(units)} from the left edge, "
            f"{top.both(units)} and {bottom.both(units)} from the top edge.",
        ]
    if made.part:
        (left, right), (top, bottom) = layout.guides
        return [
            f"Cut along the picture's own edges: {left.both(units)} and {right.both(units)} from the left "
            f"edge, {top.both(units)} and {bottom.both(units)} from the top edge.",
        ]
    if is_evened:
        place = cut_for_equal_borders(layout.picture).both(units)
        return [f"One cut {place} from the top edge leaves equal borders all round."]
    return []
