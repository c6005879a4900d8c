"""A sheet with a picture on it: the figure most lessons are made of, with its controls in one order."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from labkit.drawing.sheet import describe_sheet, draw_sheet
from labkit.drawing.style import WIDTH
from labkit.files.header.picture import Picture
from labkit.geometry.layout import Layout
from labkit.geometry.length import ZERO, inches, length
from labkit.geometry.paper import Sheet, find_sheet
from labkit.job import words as job
from labkit.lessons.parts.figure import (
    ChoiceControl,
    Control,
    Drag,
    FigureApp,
    LengthControl,
    MenuControl,
    Reading,
)
from labkit.lessons.parts.placing import BY_HAND, STEPS, Placing, try_layout
from labkit.room.rules import Room

_LEAST_WIDTH, _MOST_BLEED = length("2in"), length("1/2in")
_TRIMS = tuple(
    find_sheet(size) for size in ("8x10in", "letter", "A4", "11x14in", "A3", "11x17in", "12x18in")
)
_PLACES = (
    ("centre", "centre"),
    ("optical centre", "optical"),
    ("three even borders", "even-three"),
)


class SheetApp(FigureApp):
    """A picture on a sheet, set by those ``controls`` that are named, by dragging and by arrow keys.

    ``name`` tells its drawing's ids from those of other apps on the page. The state is a
    :class:`Placing`. The picture can be dragged where "left" is among the controls. ``more`` are controls
    of the lesson's own, which come last.
    """

    def __init__(
        self,
        name: str,
        picture: Picture,
        placing: Placing,
        controls: Sequence[str],
        read: Callable[[Placing, str], list[Reading]],
        *,
        room: Room,
        more: Sequence[Control] = (),
    ):
        self.picture, self._wide = picture, WIDTH
        by_hand = "left" in controls
        known = sheet_controls(placing, room, by_hand=by_hand)
        super().__init__(
            placing,
            [*(control for control in known if control.name in controls), *more],
            draw=lambda state, units: draw_sheet(
                state.layout, units=units, prefix=name, scale_width=self._wide
            ),
            tell=lambda state, units: state.layout.sentence(units),
            read=read,
            units=room.units,
            photo=job.preview(picture, room=room),
            drag=DRAG if by_hand else None,
        )

    def become(self, other: "SheetApp") -> None:
        """Show the other's picture on its sheet."""
        self.picture = other.picture
        super().become(other)

    def narrow(self, wide: int) -> None:
        """The sheet smaller, the type as large."""
        self._wide = wide
        super().narrow(wide)

    @property
    def placing(self) -> Placing:
        """What is set."""
        return self.state

    @property
    def layout_now(self) -> Layout | None:
        """The layout as it is set; None where it cannot be printed so."""
        return try_layout(self.placing)[0]

    @property
    def sentence(self) -> str:
        """All that the drawing shows, in words."""
        layout, refusal = try_layout(self.placing)
        return refusal if layout is None else describe_sheet(layout, units=self.units)


def sheet_controls(placing: Placing, room: Room, *, by_hand: bool) -> list[Control]:
    """Every control a sheet can have, in the order every app keeps: sheet, size, place."""
    stock = [(str(sheet), sheet) for sheet in room.sheets]
    if _upright(placing.sheet) not in room.sheets:
        stock.insert(0, (str(_upright(placing.sheet)), _upright(placing.sheet)))
    printers = [(each.name, each.sheet.unprintable) for each in room.printers if each.sheet]
    places = [*_PLACES, (BY_HAND, BY_HAND)] if by_hand else _PLACES
    return [
        MenuControl(
            "printer",
            "printer",
            shown=lambda state: state.edges,
            made=lambda state, edges: replace(state, edges=edges).resized(state.width),
            options=printers,
        ),
        MenuControl(
            "sheet",
            "sheet",
            shown=lambda state: _upright(state.sheet),
            made=lambda state, sheet: state.on(sheet.turned() if state.sheet.is_turned else sheet),
            options=stock,
        ),
        ChoiceControl(
            "turn",
            "the sheet lies",
            shown=lambda state: state.sheet.is_turned,
            made=lambda state, _: state.on(state.sheet.turned()),
            options=[("upright", False), ("on its side", True)],
        ),
        LengthControl(
            "width",
            "picture's width",
            made=Placing.resized,
            span=lambda state: (min(_LEAST_WIDTH, state.widest), state.widest),
        ),
        LengthControl(
            "height",
            "its height",
            made=lambda state, height: replace(state, height=height).resized(state.width),
            span=lambda state: (min(_LEAST_WIDTH, state.printable[1]), state.printable[1]),
        ),
        MenuControl(
            "trim",
            "trimmed to",
            shown=lambda state: next(t for t in _TRIMS if {t.width, t.height} == set(state.trim)),
            made=lambda state, size: replace(state, trim=_lying(size, state.sheet)),
            options=[(str(size), size) for size in _TRIMS],
        ),
        LengthControl("bleed", "bleed", span=lambda state: (ZERO, _MOST_BLEED)),
        ChoiceControl("at", "place", made=_put_at, options=places),
        LengthControl(
            "left",
            "left border",
            shown=lambda state: state.corner[0],
            made=lambda state, left: state.moved(left, state.corner[1], step=None, snap=False),
            span=lambda state: state.reach[0],
        ),
        LengthControl(
            "top",
            "top border",
            shown=lambda state: state.corner[1],
            made=lambda state, top: state.moved(state.corner[0], top, step=None, snap=False),
            span=lambda state: state.reach[1],
        ),
    ]


def _put_at(placing: Placing, at: str) -> Placing:
    """At a named place; by hand it first stays where it is."""
    left, top = placing.corner
    return replace(placing, at=at, left=left, top=top)


def _upright(sheet: Sheet) -> Sheet:
    return sheet.turned() if sheet.is_turned else sheet


def _lying(size: Sheet, sheet: Sheet):
    """A trim size, lying as the sheet does."""
    turned = size.turned() if sheet.is_turned else size
    return turned.width, turned.height


def _move(placing: Placing, left: float, top: float, by: str, units: str) -> Placing:
    corner = [
        now if float(now) == asked else inches(asked)
        for now, asked in zip(placing.corner, (left, top), strict=True)
    ]
    return placing.moved(*corner, step=STEPS[units], snap=by == "drag")


def _snaps(placing: Placing) -> list[dict]:
    return [
        {"axis": snap.axis, "at": float(snap.at), "line": float(snap.line), "label": snap.label}
        for snap in placing.snaps
    ]


DRAG = Drag(
    place=lambda state: (float(state.layout.picture.left), float(state.layout.picture.top)),
    move=_move,
    step=lambda units: float(STEPS[units]),
    snaps=_snaps,
)
"""The picture on the sheet, in inches."""


def border_readings(placing: Placing, units: str) -> list[tuple[str, str]]:
    """The four borders, and that they add up to the sheet with the picture between them."""
    layout = placing.layout
    edges, box, sheet = layout.borders, layout.picture, layout.sheet
    across = " + ".join(short(each, units) for each in (edges.left, box.width, edges.right))
    down = " + ".join(short(each, units) for each in (edges.top, box.height, edges.bottom))
    return [
        *((f"{side} border", border.both(units)) for side, border in edges.items()),
        ("across the sheet", f"{across} = {short(sheet.width, units)}"),
        ("down the sheet", f"{down} = {short(sheet.height, units)}"),
    ]


def short(size, units: str) -> str:
    return size.mm_text() if units == "mm" else size.inch_text()
