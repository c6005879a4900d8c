"""What was measured, put into the text of a room file: nothing else in it is changed."""

import re
from datetime import date
from fractions import Fraction

from labkit.errors import LabError
from labkit.geometry.length import ZERO, Length, decimal, millimetres
from labkit.geometry.measured import Errors, Estimate
from labkit.room.printers import Measured
from labkit.room.schema import find_lines

_PLACES = 5
_VALUE = r"""(\s*['"]?{key}['"]?\s*=\s*)("[^"]*"|'[^']*'|[^#\s]+)(.*)"""


def as_measured(errors: Errors, day: date, former: Measured | None = None) -> Measured:
    """What is kept of the errors: parts of one to five places, offsets to a hundredth of a millimetre.

    An offset that was not measured stays as it was in ``former``, or none.
    """
    spread = max(errors.across.spread, errors.along.spread)
    return Measured(
        day,
        _rounded(1 + errors.across.mean),
        _rounded(1 + errors.along.mean),
        _rounded(spread),
        _shift(errors.offset_across, former.offset_across if former else ZERO),
        _shift(errors.offset_along, former.offset_along if former else ZERO),
    )


def with_measured(written: str, number: int, measured: Measured) -> str:
    """The text of a room file with ``measured`` in its setting of that ``number``, counted from 0.

    Lines that are there keep their notes. LabError where the file is laid out so that this cannot be done
    line by line, with what to write by hand.
    """
    values = values_of(measured)
    found, newline = find_lines(written), "\r\n" if "\r\n" in written else "\n"
    lines = written.split(newline)
    at = ("settings", number)
    if not found.get(at, (0, ""))[1].startswith("[["):
        raise _by_hand(values)
    if (*at, "measured") in found:
        if not found[(*at, "measured")][1].startswith("["):
            raise _by_hand(values)
        for key, value in values.items():
            line = found[(*at, "measured", key)][0] - 1
            fitting = re.fullmatch(_VALUE.format(key=key), lines[line])
            if not fitting:
                raise _by_hand(values)
            lines[line] = f"{fitting[1]}{value}{fitting[3]}"
        return newline.join(lines)
    end = _end(lines, found[at][0], [line for line, told in found.values() if told.startswith("[")])
    block = ["", *block_of(values)]
    return newline.join([*lines[:end], *block, *lines[end:]])


def values_of(measured: Measured) -> dict[str, str]:
    """The settings of ``[settings.measured]``, each as it is written."""
    return {
        "date": measured.date.isoformat(),
        "across": _number(measured.across),
        "along": _number(measured.along),
        "spread": _number(measured.spread),
        "offset_across": _quoted(measured.offset_across),
        "offset_along": _quoted(measured.offset_along),
    }


def block_of(values: dict[str, str]) -> list[str]:
    """The same as lines of a room file."""
    return ["[settings.measured]", *(f"{key} = {value}" for key, value in values.items())]


def _end(lines: list[str], start: int, headings: list[int]) -> int:
    """How many lines there are up to the last that says something in the group that starts on a line."""
    end = min((line for line in headings if line > start), default=len(lines) + 1) - 1
    while not lines[end - 1].strip() or lines[end - 1].lstrip().startswith("#"):
        end -= 1
    return end


def _by_hand(values: dict[str, str]) -> LabError:
    told = "; ".join(block_of(values))
    return LabError(
        "this room file writes its settings in a way that cannot be changed line by line, so it is left as "
        f"it is. Write it in by hand, below the setting, each on a line of its own: {told}."
    )


def _rounded(value: Fraction) -> Fraction:
    return Fraction(decimal(value, _PLACES))


def _shift(error: Estimate | None, former: Length) -> Length:
    if error is None:
        return former
    return millimetres(Fraction(decimal(Length(error.mean).mm, 2)))


def _number(value: Fraction) -> str:
    told = decimal(value, _PLACES)
    return told if "." in told else f"{told}.0"


def _quoted(size: Length) -> str:
    return f'"{decimal(size.mm, 2)}mm"'
