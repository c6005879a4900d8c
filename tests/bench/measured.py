"""One process measured, and what several rounds of such measures say."""

import os
import subprocess
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from time import monotonic, perf_counter

import psutil

ROOT = Path(__file__).parents[2]
CALM, PATIENCE, TRIES = 0.1, 30, 4
"""The share of the processors that others may take on a calm machine; for how many seconds, and how
often, to look for that."""


@dataclass(frozen=True)
class Run:
    """A finished process: seconds from start to end, its peak memory in MB, what it printed.

    The peak is that of the largest single process among it and the children it waited for: what
    ``wait4`` gives as ``ru_maxrss``, in kilobytes on Linux and in bytes on macOS. Pages of a mapped
    file count while they are in memory. A process begins with the peak of the one that started it,
    so whoever calls this must stay small itself. ``others`` is the share of the processors that all
    else on the machine took meanwhile, from 0 to 1.
    """

    seconds: float
    peak: float
    others: float
    said: str


def run(*arguments: object, folder: Path, calm: bool = False) -> Run:
    """Run Python with these arguments to its end; see :func:`surroundings` for ``folder``.

    ``calm`` looks for a moment in which others take no more than ``CALM`` of the processors: it waits
    for one, tries again if it did not last, and gives the calmest of ``TRIES`` runs.
    """
    command = [sys.executable, *map(str, arguments)]
    runs = []
    while not runs or (calm and runs[-1].others > CALM and len(runs) < TRIES):
        if calm:
            _wait_for_calm()
        runs.append(_run(command, surroundings(folder)))
    return min(runs, key=lambda each: each.others)


def _wait_for_calm() -> None:
    until = monotonic() + PATIENCE
    while monotonic() < until and psutil.cpu_percent(interval=0.5) > CALM * 100:
        pass


def _run(command: list[str], environment: dict[str, str]) -> Run:
    busy, start = _busy_seconds(), perf_counter()
    process = subprocess.Popen(
        command, stdout=subprocess.PIPE, text=True, cwd=ROOT, env=environment
    )
    with process.stdout as output:
        said = output.read()
    _, status, usage = os.wait4(process.pid, 0)
    seconds = perf_counter() - start
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise SystemExit(f"{' '.join(command)} failed (exit {process.returncode}).")
    unit = 1 if sys.platform == "darwin" else 1024
    own = usage.ru_utime + usage.ru_stime
    others = (_busy_seconds() - busy - own) / seconds / os.cpu_count()
    return Run(seconds, usage.ru_maxrss * unit / 1e6, max(0, others), said)


def _busy_seconds() -> float:
    """What all processors have worked since the machine started."""
    spent = psutil.cpu_times()
    return sum(spent) - spent.idle - getattr(spent, "iowait", 0)


def surroundings(folder: Path) -> dict[str, str]:
    """The environment of a process: the reader's own folder and Python's compiled files in ``folder``.

    So nothing is compiled twice, as for any reader; the first run of all is not to be counted.
    """
    told = os.environ | {
        "LABKIT_HOME": str(folder / "home"),
        "PYTHONPYCACHEPREFIX": str(folder / "compiled"),
    }
    told.pop("PYTHONDONTWRITEBYTECODE", None)
    return told


def ratio(slow: Iterable[float], fast: Iterable[float]) -> float:
    """How many times as long ``slow`` takes: the median of the rounds' ratios."""
    return median(one / other for one, other in zip(slow, fast, strict=True))


def verdict(reached: bool) -> str:
    """What is printed of a target."""
    return "reached" if reached else "not reached"


def table(head: tuple[str, ...], rows: list[tuple[str, ...]]) -> str:
    """Columns under their heads, the first to the left and the others to the right."""
    widths = [max(len(row[column]) for row in (head, *rows)) for column in range(len(head))]
    lines = [
        "  ".join(
            cell.rjust(width) if column else cell.ljust(width)
            for column, (cell, width) in enumerate(zip(row, widths, strict=True))
        )
        for row in (head, *rows)
    ]
    return "\n".join([lines[0], "-" * len(lines[0]), *lines[1:]])
