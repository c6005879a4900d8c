"""Each test has a reader's own folder, empty and to itself; so has whatever it starts."""

import gc
import os
import shutil
import tempfile
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import settings

from tests.files import children

HOME = "LABKIT_HOME"
settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")
STARTING_CHILDREN = (
    "labkit.commands.log",
    "labkit.commands.prepare",
    "labkit.commands.strip",
    "labkit.commands.ticket",
    "labkit.files.child.crew",
    "labkit.job.gang",
    "labkit.job.planned",
    "labkit.job.strip",
    "labkit.teaching.roll_paper",
)


def pytest_configure(config):
    """For what starts outside a test, such as a fixture of a whole module."""
    config.labkit_home = os.environ[HOME] = tempfile.mkdtemp(prefix="labkit-tests-")


def pytest_collection_finish():
    """What was collected stays to the end: the garbage collector need not look through it again and again."""
    gc.collect()
    gc.freeze()


def pytest_unconfigure(config):
    shutil.rmtree(config.labkit_home, ignore_errors=True)


def pytest_terminal_summary(terminalreporter, config):
    """What was not run, and why: one line for each reason, however many tests share it."""
    reasons = Counter(
        report.longrepr[2].removeprefix("Skipped: ")
        for report in terminalreporter.stats.get("skipped", ())
    )
    lines = [f"{number} × {reason}" for reason, number in sorted(reasons.items())]
    if config.option.markexpr == "not slow":
        lines.append(
            'those marked slow, which take minutes: python -m pytest -m "slow or not slow"'
        )
    if lines:
        terminalreporter.section("not run")
        terminalreporter.write("".join(f"{line}\n" for line in lines))


@pytest.fixture(autouse=True)
def own_folder(pytestconfig, monkeypatch) -> Path:
    """The reader's own folder for one test."""
    folder = Path(tempfile.mkdtemp(dir=pytestconfig.labkit_home))
    monkeypatch.setenv(HOME, str(folder))
    return folder


@pytest.fixture
def warm(monkeypatch):
    """Children that are at work already, for tests of what is made or found in them."""
    for place in STARTING_CHILDREN:
        monkeypatch.setattr(f"{place}.Guarded", children.Warm)
