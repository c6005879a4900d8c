"""What a few lines of code come to, folded away until the reader has said it themselves."""

from html import escape

from IPython.core.getipython import get_ipython

from labkit.drawing.show import as_image

_FOLDED = (
    '<details data-lm-suppress-shortcuts="true"><summary style="padding:3px 0;cursor:pointer">'
    "Show the answer</summary>{}</details>"
)
"""Pressed, also by keyboard, it opens, on a page without a kernel as well; the notebook leaves its keys
alone."""


class Answer:
    """A value in a notebook, with nothing of it to be seen before the reader asks."""

    def __init__(self, value):
        self.value = value

    def __repr__(self) -> str:
        return self.value if isinstance(self.value, str) else _told(self.value)["text/plain"]

    def _repr_html_(self) -> str:
        """Folded: what the value itself shows, in its richest form."""
        told = _told(self.value)
        if "text/html" in told:
            return _FOLDED.format(told["text/html"])
        if "image/svg+xml" in told:
            return _FOLDED.format(as_image(told["image/svg+xml"], repr(self)))
        return _FOLDED.format(f'<pre style="white-space:pre-wrap">{escape(repr(self))}</pre>')


def answer(value) -> Answer:
    """Show ``value`` folded: say first what it is, then open it."""
    return Answer(value)


def _told(value) -> dict[str, str]:
    """What the running notebook shows of a value, by kind."""
    return get_ipython().display_formatter.format(value)[0]
