"""Charts: a PNG, and a sentence that states the plotted numbers."""

from base64 import b64encode
from collections.abc import Callable
from dataclasses import dataclass, field
from io import BytesIO

from labkit.drawing.style import INK

SIZE_INCHES, PPI = (7.2, 4.2), 130
LOOK = {
    "font.family": ["DejaVu Sans"],
    "font.size": 11,
    "text.color": INK,
    "axes.labelcolor": INK,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.grid": True,
    "grid.color": "#dddddd",
    "legend.frameon": False,
}
"""One look for every chart, given to it alone."""


@dataclass(frozen=True)
class Chart:
    """A drawn chart; ``sentence`` states what is plotted, for whoever cannot see it."""

    sentence: str
    png: bytes = field(repr=False)

    def __str__(self) -> str:
        return self.sentence

    def _repr_mimebundle_(self, **_):
        return {"text/plain": self.sentence, "image/png": b64encode(self.png).decode()}


def draw_chart(plot: Callable, sentence: str) -> Chart:
    """Let ``plot`` draw on a matplotlib axes of its own, without touching anybody's settings."""
    from matplotlib import rc_context
    from matplotlib.figure import Figure

    with rc_context(LOOK):
        figure = Figure(figsize=SIZE_INCHES, dpi=PPI, layout="constrained")
        plot(figure.subplots())
        made = BytesIO()
        figure.savefig(made, format="png", metadata={"Software": None})
    return Chart(sentence, made.getvalue())
