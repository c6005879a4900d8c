"""Each test has a reader's own folder, empty and to itself; so has whatever it starts."""

import os
import shutil
import tempfile
from pathlib import Path

import pytest

HOME = "LABKIT_HOME"


def pytest_configure(config):
    """For what starts outside a test, such as a fixture of a whole module."""
    config.labkit_home = os.environ[HOME] = tempfile.mkdtemp(prefix="labkit-tests-")


def pytest_unconfigure(config):
    shutil.rmtree(config.labkit_home, ignore_errors=True)


@pytest.fixture(autouse=True)
def own_folder(tmp_path_factory, monkeypatch) -> Path:
    """The reader's own folder for one test."""
    folder = tmp_path_factory.mktemp("reader")
    monkeypatch.setenv(HOME, str(folder))
    return folder
