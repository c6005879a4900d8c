"""What a print file says of the tone steps made on its picture: in words, which are read back."""

import re
from collections.abc import Sequence

from labkit.geometry.light import UNITS, ToneStep, tone_step

_WORDS = {word: by for by, unit in UNITS.items() for word in (unit.one, unit.more)}
_SAID = re.compile(
    r"The picture (?:was|had been) made (\d+(?:\.\d+)?) "
    rf"({'|'.join(map(re.escape, sorted(_WORDS, key=len, reverse=True)))}) (lighter|darker) at middle grey"
)
_MOST = 20
"""More steps, one on another, nobody made in earnest."""


def say_steps(before: Sequence[ToneStep], step: ToneStep | None) -> list[str]:
    """The sentences for steps that were made ``before`` on the file that was given, and for the one that was
    asked for; none of either are not mentioned.

    >>> say_steps([], ToneStep(0.0))
    ['The picture was made neither lighter nor darker, as asked.']
    """
    told = [f"The picture had been made {each} at middle grey before." for each in before]
    if step:
        told.append(
            f"The picture was made {step} at middle grey, as asked; black and white are as they were."
        )
    elif step is not None:
        told.append(f"The picture was made {step}, as asked.")
    return told


def said_steps(description: str) -> tuple[ToneStep, ...]:
    """The steps that a file's description states, the first one first.

    >>> said_steps(" ".join(say_steps([ToneStep(-0.3)], ToneStep(4.0, "lightness"))))
    (ToneStep(amount=-0.3, by='stops'), ToneStep(amount=4.0, by='lightness'))
    """
    found = []
    for each in list(_SAID.finditer(description))[:_MOST]:
        count, word, way = each.groups()
        amount = float(count) if way == "lighter" else -float(count)
        if abs(amount) <= UNITS[_WORDS[word]].most:
            found.append(tone_step(amount, _WORDS[word]))
    return tuple(found)


def on_top(before: Sequence[ToneStep], step: ToneStep | None) -> list[str]:
    """The warning that a step was made on a file that has one already."""
    if not (before and step):
        return []
    made = ", then ".join(map(str, before))
    return [
        f"The file given had been made {made} already, and this step came on top of that. If one step was "
        "meant, make the file again from the picture itself, with that step alone."
    ]
