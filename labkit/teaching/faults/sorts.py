"""What a hand-in can be: good in its way, or with a fault that deserves an answer."""

from dataclasses import dataclass

from labkit.teaching.faults.hand_in import Change, having

ANSWERS = ("print", "ask", "send back")
"""What a worker can do with a hand-in."""


@dataclass(frozen=True)
class Good:
    """A way in which a hand-in is as it should be: its ``name``, and what the technician says of it.

    ``at`` is a place of :func:`labkit.geometry.layout.place`, "trim" for a print cut to size, or "roll"
    for one that is longer than any sheet.
    """

    name: str
    at: str
    reason: str
    ways: tuple[Change, ...] = (having(),)
    answer: str = "print"
    codes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Fault:
    """Something wrong, or odd: its ``name``, the ``answer`` it deserves, the ``reason`` as the technician
    would tell it to the student.

    ``level`` is 1 for what is seen every day, 2 for what is rarer; ``codes`` are the findings of a check
    that it gives; ``ways`` make it out of a good hand-in placed ``at``, each in another strength.
    """

    name: str
    level: int
    answer: str
    reason: str
    codes: tuple[str, ...]
    ways: tuple[Change, ...]
    at: str = "centre"
