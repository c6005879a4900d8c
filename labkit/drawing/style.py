"""One look for all drawings: their size and type, their colours, and the lines told apart by dash as well."""

from dataclasses import dataclass

WIDTH = 640
"""Of a whole drawing, in its own units, which are CSS pixels at full size."""
BIG, SMALL = 14, 12
"""Type sizes: of the unit named first, and of the other."""

OKABE_ITO = {
    "black": "#000000",
    "orange": "#e69f00",
    "sky blue": "#56b4e9",
    "bluish green": "#009e73",
    "yellow": "#f0e442",
    "blue": "#0072b2",
    "vermilion": "#d55e00",
    "reddish purple": "#cc79a7",
}
"""Colours told apart by most eyes: Okabe and Ito, Color Universal Design (2002, revised 2008)."""
PANEL, PAPER, INK, MUTED = "#f6f7f8", "#ffffff", "#1a1a1a", "#4d4d4d"
TINT = "#e3f2fb"
"""Sky blue thinned with white."""


@dataclass(frozen=True, slots=True)
class Line:
    """How one kind of line looks, and what the legend calls it."""

    colour: str
    width: float
    dash: str
    words: str

    def svg(self) -> str:
        """Its look as attributes."""
        dash = f' stroke-dasharray="{self.dash}" stroke-linecap="round"' if self.dash else ""
        return f'fill="none" stroke="{self.colour}" stroke-width="{self.width}"{dash}'


LINES = {
    "paper": Line(MUTED, 1, "", "paper"),
    "picture": Line(OKABE_ITO["blue"], 1.75, "", "picture"),
    "guide": Line(OKABE_ITO["bluish green"], 1.5, "11 4.5 0.5 4.5", "guide"),
    "trim": Line(OKABE_ITO["vermilion"], 1.75, "5 5", "cut here"),
    "bleed": Line(OKABE_ITO["reddish purple"], 2, "0.01 4", "bleed"),
    "mark": Line(OKABE_ITO["black"], 1, "", "corner mark"),
}
"""One look for each kind of line, told apart by dash and by the legend's words as well as by colour."""
