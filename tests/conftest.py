"""Each test has a reader's own folder, empty and to itself; so has whatever it starts."""

import os
import shutil
import tempfile
from collections import Counter
from pathlib import Path

import pytest

HOME = "LABKIT_HOME"


def pytest_configure(config):
    """For what starts outside a test, such as a fixture of a whole module."""
    config.labkit_home = os.environ[HOME] = tempfile.mkdtemp(prefix="labkit-tests-")


def pytest_unconfigure(config):
    shutil.rmtree(config.labkit_home, ignore_errors=True)


def pytest_terminal_summary(terminalreporter, config):
    """What was not run, and why: one line for each reason, however many tests share it."""
    reasons = Counter(
        report.longrepr[2].removeprefix("Skipped: ")
        for report in terminalreporter.stats.get("skipped", ())
    )
    lines = [f"{number} for: {reason}" for reason, number in sorted(reasons.items())]
    if config.option.markexpr == "not slow":
        lines.append('those marked slow, which take minutes: python -m pytest -m "slow or not slow"')
    if lines:
        terminalreporter.section("not run")
        terminalreporter.write("".join(f"{line}\n" for line in lines))


@pytest.fixture(autouse=True)
def own_folder(tmp_path_factory, monkeypatch) -> Path:
    """The reader's own folder for one test."""
    folder = tmp_path_factory.mktemp("reader")
    monkeypatch.setenv(HOME, str(folder))
    return folder
