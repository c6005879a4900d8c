"""The sheet on the screen: the drawing, the photo in it, and a picture that can be dragged and nudged."""

from pathlib import Path

import anywidget
import traitlets

HELP = (
    "The sheet. Arrow keys move the picture by the smallest step, with Shift by eight of them; "
    "it can also be dragged, and then snaps to guides."
)


class SheetView(anywidget.AnyWidget):
    """Shows ``drawing`` (SVG) with ``photo`` in it, and the ``sentence`` folded away below.

    The script tells in ``asked`` where the reader wants the picture: ``left`` and ``top`` in inches,
    ``by`` "drag" or "key", and a ``turn`` that goes back in ``answered`` once it was dealt with. It
    shows ``snaps`` while the picture is dragged; ``place`` is where it is now, in inches, and ``step``
    what an arrow key moves it.

    Of several ``things`` to move, by what the drawing calls them (``data-thing``) with the place of each,
    ``place`` is that of the chosen one. The script then tells in ``asked`` which ``thing`` is dragged, or
    "pick" in ``by`` where one was only pressed. ``further_keys`` say what other keys mean: the script
    tells it in ``by``, one after another, with the place a step further on where the key is an arrow.
    """

    _esm = Path(__file__).with_name("sheetview.js")
    drawing = traitlets.Unicode().tag(sync=True)
    photo = traitlets.Unicode().tag(sync=True)
    place = traitlets.List([0.0, 0.0]).tag(sync=True)
    things = traitlets.Dict().tag(sync=True)
    further_keys = traitlets.Dict().tag(sync=True)
    snaps = traitlets.List().tag(sync=True)
    step = traitlets.Float(1 / 16).tag(sync=True)
    sentence = traitlets.Unicode().tag(sync=True)
    movable = traitlets.Bool(False).tag(sync=True)
    help = traitlets.Unicode(HELP).tag(sync=True)
    asked = traitlets.Dict().tag(sync=True)
    answered = traitlets.Int(0).tag(sync=True)
