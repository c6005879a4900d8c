"""Job numbers: the day, and five signs that tell the file."""

from datetime import date
from hashlib import sha256
from pathlib import Path

_SIGNS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Digits and letters that are not taken for one another: no 0 and O, no 1 and I."""
_COUNT, _SAMPLE = 5, 65536


def job_number(file: Path, day: date, name: str | None = None) -> str:
    """The number of a job: ``310512-7KQ2M``, the same for the same file on the same day.

    The signs come from the file's ``name`` (None: its own), its size, and 64 KiB of its bytes from its
    start, middle and end. Two files of one day have one number once in thirty million.
    """
    size = file.stat().st_size
    told = sha256(f"{name or file.name}\n{size}\n".encode("utf-8", "surrogateescape"))
    with file.open("rb") as opened:
        for start in (0, size // 2, max(0, size - _SAMPLE)):
            opened.seek(start)
            told.update(opened.read(_SAMPLE))
    value = int.from_bytes(told.digest()[:8], "big")
    signs = "".join(_SIGNS[value >> 5 * place & 31] for place in range(_COUNT))
    return f"{day:%y%m%d}-{signs}"


def same_job(one: str, other: str) -> bool:
    """Whether two job numbers are of the same file, printed on whichever day.

    >>> same_job("310512-7KQ2M", "310513-7kq2m"), same_job("310512-7KQ2M", "310512-7KQ2N")
    (True, False)
    """
    signs = [each.strip().casefold().rpartition("-")[2] for each in (one, other)]
    return signs[0] == signs[1] and len(signs[0]) == _COUNT
