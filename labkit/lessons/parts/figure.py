"""A figure that answers controls: one frozen value, the drawing of it, what is to be read off it."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import accumulate
from typing import Any, ClassVar

import ipywidgets as widgets

from labkit.errors import LabError
from labkit.geometry.length import ZERO, Length
from labkit.lessons.parts.controls import App, choice, columns, menu, table
from labkit.lessons.parts.settings import settings
from labkit.lessons.parts.sheetview import HELP, SheetView
from labkit.lessons.parts.sliders import LengthSlider, NumberSlider

_MOST_LINES, _LEAST_LINES = 24, 3
"""Lines of readings that stand beside no control; the fewest."""
_FRAME_LINES = 11
"""How many of them what stands round the figure in an exercise takes."""
_LINE = 40
"""How many signs of a reading and its figure stand in one line; a longer one takes two."""
Reading = tuple[str, str]
"""What is read off, and its figure."""


@dataclass(frozen=True)
class Control:
    """One control of a figure.

    It shows, and sets, the field of the state that has its ``name``; or what ``shown`` finds in a
    state, setting what ``made`` makes of a state and a value. It is there ``when`` a state has a use for it.
    """

    name: str
    label: str
    shown: Callable[[Any], Any] | None = None
    made: Callable[[Any, Any], Any] | None = None
    when: Callable[[Any], bool] = lambda state: True
    lines: ClassVar[float] = 1.5
    """Its height, in lines of readings."""

    def of(self, state):
        """The value to show."""
        return self.shown(state) if self.shown else getattr(state, self.name)

    def put(self, state, value):
        """The state once the reader has chosen ``value``."""
        return self.made(state, value) if self.made else replace(state, **{self.name: value})

    def widget(self, state) -> widgets.Widget:
        """The widget, standing at ``state``."""
        raise NotImplementedError

    def show(self, widget, state, units: str) -> None:
        """Stand the widget at ``state``."""
        widget.value = self.of(state)


@dataclass(frozen=True)
class LengthControl(Control):
    """A slider for a length; ``span`` gives the least and the most it may be in a state."""

    span: Callable[[Any], tuple[Length, Length]] = lambda state: (ZERO, ZERO)
    lines = 2.4

    def widget(self, state) -> LengthSlider:
        """A slider in whole steps of the unit shown first."""
        return LengthSlider(self.label)

    def show(self, widget, state, units: str) -> None:
        """With both units beside it."""
        widget.show(self.of(state), *self.span(state), units)


@dataclass(frozen=True)
class NumberControl(Control):
    """A slider for a number from ``least`` to ``most`` by ``step``; ``told`` puts it in words."""

    least: float = 0
    most: float = 1
    step: float = 1
    told: Callable[[float], str] = str
    lines = 2.4

    def widget(self, state) -> NumberSlider:
        """A slider with the number in words beside it."""
        return NumberSlider(self.label, self.least, self.most, self.step, self.told)

    def show(self, widget, state, units: str) -> None:
        """With the number in words."""
        widget.show(self.of(state))


@dataclass(frozen=True)
class ChoiceControl(Control):
    """Two to four ways, side by side."""

    options: Sequence[tuple[str, Any]] = ()

    def widget(self, state) -> widgets.ToggleButtons:
        """Buttons, one of them down."""
        return choice(self.label, list(self.options), self.of(state))


@dataclass(frozen=True)
class MenuControl(Control):
    """More ways than fit side by side."""

    options: Sequence[tuple[str, Any]] = ()

    def widget(self, state) -> widgets.Dropdown:
        """A menu."""
        return menu(self.label, list(self.options), self.of(state))


@dataclass(frozen=True)
class TextControl(Control):
    """A line to type; it counts once the reader leaves it or presses Enter."""

    def widget(self, state) -> widgets.Text:
        """The line, as it stands."""
        return widgets.Text(self.of(state), description=self.label, continuous_update=False)


@dataclass(frozen=True)
class Drag:
    """What can be dragged, and nudged with the arrow keys, in a figure.

    ``place`` gives its left and top in a state, in the drawing's own unit (inches on a sheet);
    ``move`` the state once the reader has asked for another left and top, by "drag" or by "key";
    ``step`` what an arrow key moves it, by the unit shown first; ``snaps`` the guides shown while it
    is dragged, as the script wants them; ``help`` says how, to whoever cannot see it.

    Where there are several, ``things`` gives the place of each by what the drawing calls it, and ``pick``
    the state in which that one is chosen; ``place`` and ``move`` are then about the chosen one. ``keys``
    are further keys, and by what word ``move`` is told of each.
    """

    place: Callable[[Any], tuple[float, float]]
    move: Callable[[Any, float, float, str, str], Any]
    step: Callable[[str], float]
    snaps: Callable[[Any], list[dict]] = lambda state: []
    help: str = HELP
    things: Callable[[Any], dict[str, tuple[float, float]]] = lambda state: {}
    pick: Callable[[Any, str], Any] = lambda state, thing: state
    keys: Mapping[str, str] = field(default_factory=dict)


class FigureApp(App):
    """A state, its controls, its drawing, its readings: whatever is moved, all of it follows.

    ``draw`` makes the SVG of a state, ``tell`` its sentence, ``read`` what is to be read off; each is
    given the state and the unit shown first. A state that cannot be drawn raises LabError there: the
    sentence is shown over the drawing, and all of it stays as it was. Of the readings the first few are
    shown, and the others on demand. ``units`` is the unit shown first to a reader who has
    chosen none. ``photo`` is shown wherever the drawing has an empty image.
    """

    def __init__(
        self,
        state,
        controls: Sequence[Control],
        *,
        draw: Callable[[Any, str], str],
        tell: Callable[[Any, str], str],
        read: Callable[[Any, str], list[Reading]] = lambda state, units: [],
        units: str = "in",
        photo: str = "",
        drag: Drag | None = None,
    ):
        self.side, message = widgets.VBox(), widgets.HTML()
        self._shown, self._read_off = widgets.VBox(), widgets.HTML()
        self._shown.add_class("labkit-view")
        self._all = widgets.ToggleButton(description="All figures")
        self._all.add_class("labkit-unfold")
        self._lines_there = _MOST_LINES, _LEAST_LINES
        super().__init__(columns(self.side, self._shown), message=message)
        self._all.observe(self.answer(self._tell_readings, clear=False), "value")
        self._begin(state, controls, draw, tell, read, units, photo, drag)
        self.follow("units", self._change_units)

    def _begin(self, state, controls, *shown) -> None:
        """Build controls, view and readings; again when the figure becomes another."""
        self._given = (state, controls, *shown)
        self._draw, self._tell, self._read, self._own_units, photo, self._drag = shown
        self.state, self._rows = state, []
        self.units = settings().units or self._own_units
        self._controls = {each.name: each for each in controls}
        self.controls = {name: each.widget(state) for name, each in self._controls.items()}
        for name in self.controls:
            self._listen(name)
        self.view = SheetView(photo=photo, movable=self._drag is not None)
        if self._drag:
            self.view.help, self.view.further_keys = self._drag.help, dict(self._drag.keys)
        self.view.observe(lambda change: self._follow(change["new"]), "asked")
        self.side.children = [*self.controls.values(), self._read_off, self._all]
        self._shown.children = [self.view, self._message]
        self.put(state)

    def become(self, other: "FigureApp") -> None:
        """Show what ``other`` shows, from its beginning, in this app's place."""
        self._begin(*other._given)
        other.close()

    def narrow(self, wide: int) -> None:
        """Leave room for what stands round the figure in its app: fewer readings, and a drawing ``wide`` CSS
        pixels at full size where it can be drawn so."""
        self._lines_there = _MOST_LINES - _FRAME_LINES, 1
        self.put(self.state)

    def _change_units(self) -> None:
        self.units = settings().units or self._own_units
        self.put(self.state)

    @property
    def sentence(self) -> str:
        """What the drawing shows, in words; or why it cannot be drawn."""
        try:
            return self._tell(self.state, self.units)
        except LabError as refusal:
            return str(refusal)

    @property
    def still(self) -> str:
        """The drawing without the photo."""
        return self.view.drawing

    @property
    def readings(self) -> dict[str, str]:
        """What is to be read off, by its label."""
        return dict(self._read(self.state, self.units))

    def put(self, state) -> None:
        """Show another state; where it is refused, say so and stay where we are."""
        try:
            drawn = self._draw(state, self.units), self._tell(state, self.units)
            self._rows = self._read(state, self.units)
        except LabError as refusal:
            self.say(str(refusal))
        else:
            self.state = state
            self._show(*drawn)
        for name, control in self._controls.items():
            control.show(self.controls[name], self.state, self.units)
            self.controls[name].layout.display = None if control.when(self.state) else "none"

    def _show(self, drawing: str, sentence: str) -> None:
        with self.view.hold_sync():
            self.view.drawing, self.view.sentence = drawing, sentence
            if self._drag:
                self.view.place = list(self._drag.place(self.state))
                self.view.things = {
                    thing: list(place) for thing, place in self._drag.things(self.state).items()
                }
                self.view.step = self._drag.step(self.units)
                self.view.snaps = self._drag.snaps(self.state)
        self._tell_readings()

    def _tell_readings(self) -> None:
        """As many as there is room for beside the controls, or all."""
        taken = sum(each.lines for each in self._controls.values() if each.when(self.state))
        most, least = self._lines_there
        shown = _those_that_fit(self._rows, most - taken, least)
        self._all.layout.display = None if len(shown) < len(self._rows) else "none"
        self._read_off.value = table(self._rows if self._all.value else shown)

    def _follow(self, asked: dict) -> None:
        """Go where the reader dragged or nudged it."""
        with self.view.hold_sync():
            self.answer(lambda: self.put(self._gone(asked)))()
            self.view.answered = asked["turn"]

    def _gone(self, asked: dict):
        """The state that the reader asks for."""
        drag, thing = self._drag, asked.get("thing")
        state = self.state if thing is None else drag.pick(self.state, thing)
        if asked["by"] == "pick":
            return state
        return drag.move(state, asked["left"], asked["top"], asked["by"], self.units)

    def _listen(self, name: str) -> None:
        control, widget = self._controls[name], self.controls[name]

        choose = self.answer(lambda: self.put(control.put(self.state, widget.value)))

        def moved(*_):
            if widget.value != control.of(self.state):
                choose()

        if isinstance(widget, LengthSlider | NumberSlider):
            widget.on_move(moved)
        else:
            widget.observe(moved, "value")


def _those_that_fit(rows: list[Reading], lines: float, least: int) -> list[Reading]:
    """The first rows that take no more than so many lines, one that is long taking two; but the ``least``
    always."""
    taken = accumulate(1 + (len(label) + len(told) > _LINE) for label, told in rows)
    fitting = sum(end <= lines for end in taken)
    return rows[: max(fitting, least)]
