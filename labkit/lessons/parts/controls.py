"""What every app is built of: the frame that shows errors, two columns, choices, cards and readings."""

from collections.abc import Callable
from html import escape
from pathlib import Path

import anywidget
import ipywidgets as widgets

from labkit.errors import LabError
from labkit.lessons.parts.settings import settings

LABEL_WIDTH = "7.5em"


class Frame(anywidget.AnyWidget):
    """The look of an app, its keys kept from the notebook, and what a screen reader is told of its controls.

    Nothing of it is seen. It sends back each message of its script, which so knows that whatever was set
    before has arrived.
    """

    _esm = Path(__file__).with_name("frame.js")
    _css = Path(__file__).with_name("labkit.css")

    def __init__(self):
        super().__init__(layout={"display": "none"})
        self.on_msg(lambda _, content, buffers: self.send(content))


class App(widgets.VBox):
    """An app in a notebook: its parts, one under the other, and a line for what went wrong.

    The line may be a ``message`` that stands elsewhere. It follows the reader's settings. Where no kernel
    runs it shows as one sentence and one drawing.
    """

    def __init__(self, *parts: widgets.Widget, message: widgets.HTML | None = None):
        self._message, self._followed = message or widgets.HTML(), []
        last = [] if message else [self._message]
        super().__init__([Frame(), *parts, *last])
        self.add_class("labkit-app")
        self._size_type()
        self.follow("large", self._size_type)

    @property
    def sentence(self) -> str:
        """The app's state in words."""
        return ""

    @property
    def still(self) -> str | None:
        """The app's drawing as SVG, if it has one."""
        return None

    def follow(self, setting: str, handler: Callable[[], None]) -> None:
        """Call ``handler`` whenever the reader changes that one of their settings."""
        chosen, run = settings(), self.answer(handler, clear=False)
        chosen.observe(run, setting)
        self._followed.append((chosen, run, setting))

    def close(self) -> None:
        """Take the app away; it follows nothing any more."""
        for chosen, run, setting in self._followed:
            chosen.unobserve(run, setting)
        self._followed.clear()
        super().close()

    def _size_type(self) -> None:
        (self.add_class if settings().large else self.remove_class)("labkit-large")

    def say(self, text: str, *, right: bool = False) -> None:
        """Show a sentence below the app; "" takes it away."""
        look = "labkit-message labkit-right" if right else "labkit-message"
        self._message.value = (
            f'<div class="{look}" role="status">{escape(text)}</div>' if text else ""
        )

    def answer(self, handler: Callable[[], None], *, clear: bool = True) -> Callable:
        """``handler`` as a callback whose refusals are shown here instead of being swallowed; what was
        said before is cleared first, unless ``clear`` is false."""

        def run(*_):
            try:
                if clear:
                    self.say("")
                handler()
            except LabError as refusal:
                self.say(str(refusal))
            except Exception as fault:
                self.say(
                    f"That did not work ({type(fault).__name__}: {fault}): run this cell again."
                )

        return run

    def button(
        self, label: str, handler: Callable[[], None], *, busy: str = "", main: bool = False
    ) -> widgets.Button:
        """A button as wide as its label, its refusals shown here; what it takes time for says ``busy``.

        Enter in a field of the app presses the ``main`` one.
        """

        def work():
            self.say(busy)
            self.add_class("labkit-busy")
            try:
                handler()
            finally:
                self.remove_class("labkit-busy")

        made = widgets.Button(description=label, layout={"width": "auto"})
        made.add_class("labkit-main" if main else "labkit-command")
        made.on_click(self.answer(work if busy else handler))
        return made

    def _repr_mimebundle_(self, **kwargs):
        bundle = super()._repr_mimebundle_(**kwargs)
        data = bundle[0] if isinstance(bundle, tuple) else bundle
        data["text/plain"] = self.sentence
        if self.still is not None:
            data["image/svg+xml"] = self.still
        return data


def columns(side: widgets.Widget, *shown: widgets.Widget) -> widgets.HBox:
    """Controls and readings in a narrow column, and the drawing beside it."""
    side.add_class("labkit-side")
    made = widgets.HBox([side, *shown])
    made.add_class("labkit-columns")
    return made


def choice(label: str, options: list[tuple[str, object]], value) -> widgets.ToggleButtons:
    """Two to four ways to choose from, side by side."""
    made = widgets.ToggleButtons(
        options=options, value=value, description=label, style={"button_width": "auto"}
    )
    made.add_class("labkit-choice")
    return made


def menu(label: str, options: list[tuple[str, object]], value) -> widgets.Dropdown:
    """More ways than fit side by side."""
    made = widgets.Dropdown(options=options, value=value, description=label)
    made.add_class("labkit-menu")
    return made


def card(
    heading: str, lines: tuple[str, ...], *, steps: bool = False, folded: bool = False
) -> widgets.HTML:
    """A heading and a list; ``folded`` away until the heading is pressed, as numbered ``steps`` are."""
    items = "".join(f"<li>{escape(line)}</li>" for line in lines)
    listed = f"<ol>{items}</ol>" if steps else f"<ul>{items}</ul>"
    if steps or folded:
        told = f"<details><summary>{escape(heading)}</summary>{listed}</details>"
    else:
        told = f"<h4>{escape(heading)}</h4>{listed}"
    return widgets.HTML(f'<section class="labkit-card">{told}</section>')


def table(rows: list[tuple[str, str]]) -> str:
    """Labels and figures to read off, as HTML."""
    if not rows:
        return ""
    lines = "".join(
        f"<div><span>{escape(label)}</span> <b>{escape(figure)}</b></div>" for label, figure in rows
    )
    return f'<div class="labkit-readings" aria-live="polite">{lines}</div>'
