"""All that a case can be: good in its way, with a fault, or only odd."""

from fractions import Fraction

from labkit.teaching.faults.common import COMMON
from labkit.teaching.faults.hand_in import having, moved
from labkit.teaching.faults.rarer import RARER
from labkit.teaching.faults.sorts import Fault, Good

_INCH = Fraction(1)

GOOD = (
    Good("centred", "centre", "Nothing is wrong: it is centred, and the file is as it should be."),
    Good(
        "at the optical centre",
        "optical",
        "Nothing is wrong: more white below than above, as 3 to 2, is the optical centre.",
    ),
    Good(
        "even on three sides",
        "even-three",
        "Nothing is wrong: left, right and top are equal, and the rest below is cut or kept.",
    ),
    Good(
        "to the edge",
        "trim",
        "Nothing is wrong: the marks say where to cut, and the picture runs past the cut.",
    ),
    Good(
        "off a roll",
        "roll",
        "Nothing is wrong: no sheet is that long, so a roll must be meant, and there is nothing to ask.",
    ),
    Good(
        "within tolerance",
        "centre",
        "Nothing is wrong: three pixels are a hundredth of an inch, less than this room can cut to.",
        (moved(_INCH / 100), moved(-_INCH / 150), moved(_INCH * 0, _INCH / 100)),
    ),
)

FAULTS = (*COMMON, *RARER)

ODDITIES = (
    Fault(
        "far off its place",
        1,
        "ask",
        "It follows no rule of placing, so it may well be meant. Is it meant to lie just there?",
        ("unusual-place",),
        (moved(_INCH / 4), moved(-_INCH / 4)),
    ),
    Fault(
        "a black sheet",
        1,
        "ask",
        "The whole sheet is black round your picture. The printer leaves a white rim at the edges: shall "
        "it stay, or is the print to be trimmed?",
        ("surround-colour",),
        (having(surround=(0, 0, 0)), having(surround=(20, 24, 40))),
    ),
    Fault(
        "a soft picture",
        2,
        "ask",
        "It is out of focus all over. If that is what you want it prints well: is it?",
        ("soft",),
        (having(soft=3.0), having(soft=3.5)),
    ),
    Fault(
        "an edge as white as the paper",
        2,
        "ask",
        "Your picture fades into the paper on one side, so I cannot measure or cut along that edge. How "
        "large is it meant to be?",
        ("edge-unclear",),
        (having(fade=0.12), having(fade=0.2)),
    ),
)
"""Nothing is wrong with these: only the student can say whether they are meant."""
