"""A sheet with a picture on it, and controls in one fixed order: the app most lessons are made of."""

from collections.abc import Callable, Sequence
from dataclasses import replace

import ipywidgets as widgets

from labkit import job
from labkit.drawing.sheet import describe_sheet, draw_sheet
from labkit.files.picture import Picture
from labkit.geometry.layout import Layout
from labkit.geometry.length import ZERO, inches, length
from labkit.geometry.paper import find_sheet
from labkit.home import home
from labkit.lessons.controls import App, LengthSlider, choice, menu, table
from labkit.lessons.placing import BY_HAND, STEPS, Placing, try_layout
from labkit.lessons.sheetview import SheetView
from labkit.room import Room

ORDER = (
    "printer",
    "sheet",
    "turn",
    "width",
    "trim",
    "bleed",
    "at",
    "left",
    "top",
    "units",
    "large",
)
"""Every app has its controls in this order: the sheet, the picture's size, its place, how it is shown."""

Readings = Callable[[Placing, str], list[tuple[str, str]]]
"""Label and figure of each thing to read off, from what is set and the unit shown first."""

_LEAST_WIDTH, _MOST_BLEED = length("2in"), length("1/2in")
_TRIMS = ("8x10in", "letter", "A4", "11x14in", "A3", "11x17in", "12x18in")


class SheetApp(App):
    """A picture on a sheet, set by the ``controls`` that are named, by dragging and by arrow keys.

    ``name`` tells its drawing's ids from those of other apps on the page. ``placing`` is the value
    that all of it shows; :meth:`put` shows another. Whoever wants to hear of it adds to ``heard``.
    """

    def __init__(
        self,
        name: str,
        picture: Picture,
        placing: Placing,
        controls: Sequence[str],
        readings: Readings,
        *,
        room: Room,
        units: str | None = None,
    ):
        self.picture, self.room, self.placing = picture, room, placing
        self.units = units or home().reader().units or room.units
        self.heard: list[Callable[[Placing], None]] = []
        self._name, self._readings = name, readings
        self._view = SheetView(movable="left" in controls)
        self.controls = {each: self._made(each) for each in ORDER if each in controls}
        self._read = widgets.HTML()
        side = widgets.VBox([*self.controls.values(), self._read])
        columns = widgets.HBox([side, self._view])
        columns.add_class("labkit-columns")
        super().__init__(columns)
        self._view.observe(lambda change: self._follow(change["new"]), "asked")
        self._view.photo = job.preview(picture, room=room)
        self.put(placing)

    @property
    def layout_now(self) -> Layout | None:
        """The layout as it is set; None where it cannot be printed so."""
        return try_layout(self.placing)[0]

    @property
    def readings(self) -> dict[str, str]:
        """What is to be read off, by its label."""
        return dict(self._readings(self.placing, self.units))

    @property
    def sentence(self) -> str:
        """What the drawing shows, in words."""
        layout, refusal = try_layout(self.placing)
        return refusal if layout is None else describe_sheet(layout, units=self.units)

    @property
    def still(self) -> str:
        """The drawing, with a plain box for the picture."""
        return self._view.drawing

    def put(self, placing: Placing) -> None:
        """Show another placing. One that cannot be printed is told, and the last drawing stays."""
        self.placing = placing
        layout, refusal = try_layout(placing)
        if layout is None:
            self.say(refusal)
        else:
            corner = layout.picture.left, layout.picture.top
            snaps = placing.snaps if self._view.movable else ()
            with self._view.hold_sync():
                self._view.drawing = draw_sheet(layout, units=self.units, prefix=self._name)
                self._view.sentence = layout.sentence(self.units)
                self._view.place = [float(side) for side in corner]
                self._view.step = float(STEPS[self.units])
                self._view.snaps = [_plain(snap) for snap in snaps]
            self._read.value = table(self._readings(placing, self.units))
        self._show_controls()
        for listener in self.heard:
            listener(placing)

    def _follow(self, asked: dict) -> None:
        """Go where the reader dragged or nudged the picture."""

        def go():
            left, top = inches(asked["left"]), inches(asked["top"])
            step, snap = STEPS[self.units], asked["by"] == "drag"
            self.put(self.placing.moved(left, top, step=step, snap=snap))

        self.answer(go)()

    def _made(self, name: str) -> widgets.Widget:
        return getattr(self, f"_{name}_control")()

    def _printer_control(self):
        printers = [(printer.name, printer.sheet.unprintable) for printer in self.room.printers]
        control = menu("printer", printers, self.placing.edges)
        control.observe(self.answer(self._change_printer), "value")
        return control

    def _change_printer(self):
        placing = replace(self.placing, edges=self.controls["printer"].value)
        self.put(placing.resized(placing.width))

    def _sheet_control(self):
        stock = [(str(sheet), sheet) for sheet in self.room.sheets]
        upright = (
            self.placing.sheet.turned() if self.placing.sheet.is_turned else self.placing.sheet
        )
        if upright not in self.room.sheets:
            stock.insert(0, (str(upright), upright))
        control = menu("sheet", stock, upright)
        control.observe(self.answer(self._change_sheet), "value")
        return control

    def _turn_control(self):
        ways = [("upright", False), ("on its side", True)]
        control = choice("the sheet lies", ways, self.placing.sheet.is_turned)
        control.observe(self.answer(self._change_sheet), "value")
        return control

    def _change_sheet(self):
        sheet, turn = self.placing.sheet, self.placing.sheet.is_turned
        if "sheet" in self.controls:
            sheet = self.controls["sheet"].value
        elif turn:
            sheet = sheet.turned()
        if "turn" in self.controls:
            turn = self.controls["turn"].value
        wanted = sheet.turned() if turn else sheet
        if wanted != self.placing.sheet:
            self.put(self.placing.on(wanted))

    def _slider(self, label: str, change: Callable) -> LengthSlider:
        control = LengthSlider(label, self.units)
        control.on_move(lambda value: self.answer(lambda: self.put(change(value)))())
        return control

    def _width_control(self):
        return self._slider("picture's width", lambda width: self.placing.resized(width))

    def _trim_control(self):
        sizes = [find_sheet(size) for size in _TRIMS]
        now = next(size for size in sizes if {size.width, size.height} == set(self.placing.trim))
        control = menu("trimmed to", [(str(size), size) for size in sizes], now)
        control.observe(self.answer(self._change_trim), "value")
        return control

    def _change_trim(self):
        size = self.controls["trim"].value
        lying = size.turned() if self.placing.sheet.is_turned else size
        self.put(replace(self.placing, trim=(lying.width, lying.height)))

    def _bleed_control(self):
        return self._slider("bleed", lambda bleed: replace(self.placing, bleed=bleed))

    def _at_control(self):
        places = [
            ("centre", "centre"),
            ("optical centre", "optical"),
            ("three even borders", "even-three"),
        ]
        if self._view.movable:
            places.append((BY_HAND, BY_HAND))
        control = choice("place", places, self.placing.at)
        control.observe(self.answer(self._change_place), "value")
        return control

    def _change_place(self):
        at = self.controls["at"].value
        if at == self.placing.at:
            return
        left, top = self.placing.corner
        self.put(replace(self.placing, at=at, left=left, top=top))

    def _left_control(self):
        return self._slider("left border", lambda left: self._by_hand(left, self.placing.corner[1]))

    def _top_control(self):
        return self._slider("top border", lambda top: self._by_hand(self.placing.corner[0], top))

    def _by_hand(self, left, top) -> Placing:
        return self.placing.moved(left, top, step=None, snap=False)

    def _units_control(self):
        control = choice("shown first", [("inches", "in"), ("millimetres", "mm")], self.units)
        control.observe(self.answer(self._change_units), "value")
        return control

    def _change_units(self):
        self.units = self.controls["units"].value
        home().keep(replace(home().reader(), units=self.units))
        self.put(self.placing)

    def _large_control(self):
        control = widgets.ToggleButton(description="Large type", tooltip="for the projector")

        def change():
            self.add_class("labkit-large") if control.value else self.remove_class("labkit-large")

        control.observe(self.answer(change), "value")
        return control

    def _show_controls(self) -> None:
        """Stand every control where the placing is."""
        placing, controls = self.placing, self.controls
        (least_left, most_left), (least_top, most_top) = placing.reach
        spans = {
            "width": (placing.width, min(_LEAST_WIDTH, placing.widest), placing.widest),
            "bleed": (placing.bleed, ZERO, _MOST_BLEED),
        }
        if "left" in controls:
            left, top = placing.corner
            spans |= {"left": (left, least_left, most_left), "top": (top, least_top, most_top)}
        for name, span in spans.items():
            if name in controls:
                controls[name].show(*span, self.units)
        if "at" in controls:
            controls["at"].value = placing.at
        if "turn" in controls:
            controls["turn"].value = placing.sheet.is_turned


def _plain(snap) -> dict:
    return {
        "axis": snap.axis,
        "at": float(snap.at),
        "line": float(snap.line),
        "label": snap.label,
    }
