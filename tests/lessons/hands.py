"""What a reader does with an app, and what it then says."""

import re
from html import unescape

from labkit.geometry.length import Length
from labkit.lessons.parts.settings import settings


def slide(app, name: str, to: Length) -> None:
    """Move a slider, as the browser does: it sends a plain number in the unit shown first."""
    number = to.mm if app.units == "mm" else to.inches
    app.controls[name]._slider.value = float(number)


def choose(app, name: str, value) -> None:
    """Choose one of the options of a menu or of a row of buttons, or the unit for the whole lesson."""
    if name == "units":
        settings().keep(units=value)
    else:
        app.controls[name].value = value


def drag(app, left: float, top: float, by: str = "drag", thing: str | None = None) -> None:
    """Ask for a place in inches, as the sheet's script does; of several things, for that one's."""
    turn = app.view.asked.get("turn", 0) + 1
    asked = {"left": left, "top": top, "by": by, "turn": turn}
    app.view.asked = asked if thing is None else {**asked, "thing": thing}


def words(html: str) -> str:
    """HTML as it reads."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def said(app) -> str:
    """The sentence below the app."""
    return words(app._message.value)


def is_right(app) -> bool:
    """Whether that sentence looks like praise."""
    return "labkit-right" in app._message.value
