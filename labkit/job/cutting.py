"""A layout to be cut to white borders, as it is asked for in words."""

import re
from fractions import Fraction

from labkit.errors import LabError
from labkit.geometry.layout import Layout
from labkit.geometry.length import ZERO, Length, length
from labkit.geometry.trimplan import plan_of, to_be_cut, widest_border
from labkit.geometry.weight import EVEN, Weight
from labkit.room.laying import blade_of
from labkit.room.room import Room

WIDEST = "widest"
"""The word for as much white as the narrowest side has."""
_SHARE = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*%\s*")


def cut_to(
    layout: Layout,
    border: str | Length | None,
    below: str | Length | None,
    room: Room,
    *,
    marked: bool = True,
    within: Length = ZERO,
) -> Layout:
    """The layout cut to a ``border`` (a length, or :data:`WIDEST`) on three sides, and below to so much more
    (a length, or a share such as ``10%``); as it is where no border is asked for. ``within`` is what a
    border may be short by, a pixel of a file that was measured.

    LabError where it cannot be cut so, by the sheet, the printer's reach or the room's trimmer.
    """
    if border is None:
        if below is not None:
            raise LabError(
                "what is more below counts where a print is cut: give the border as well."
            )
        return layout
    if layout.trim:
        raise LabError(
            "it is cut at its own corner marks already: leave the border to be cut to out."
        )
    weight = weight_of(below)
    if border == WIDEST:
        border = widest_border(layout.picture, (layout.sheet.width, layout.sheet.height), weight)
    kept = length(border, "the border to cut to")
    cut = to_be_cut(layout, kept, weight, marked=marked, within=within)
    plan_of(cut, blade_of(room))
    return cut


def weight_of(below: str | Length | None) -> Weight:
    """How much more there is below: a length, or a share of the border above.

    >>> weight_of("10%").below(length("2in"))
    Length('2.2 in')
    """
    if below is None:
        return EVEN
    share = _SHARE.fullmatch(below) if isinstance(below, str) else None
    if share:
        return Weight(share=Fraction(share[1].replace(",", ".")) / 100)
    return Weight(length(below, "what is more below"))
