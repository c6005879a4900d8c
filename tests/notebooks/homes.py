"""A plugin for nbval: each notebook's kernel finds a reader's folder of its own, empty."""

import os
from pathlib import Path

import pytest

HOMES = Path(os.environ["LABKIT_HOME"])


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item):
    """Before the kernel of the item's notebook is started, which takes the environment as it is then."""
    home = HOMES / item.path.stem
    home.mkdir(exist_ok=True)
    os.environ["LABKIT_HOME"] = str(home)
