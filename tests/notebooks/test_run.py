"""nbval runs every lesson and compares what comes out with what is committed, strictly."""

import os
import subprocess
import sys
from pathlib import Path

from tests.notebooks.normal import notebooks

ROOT = Path(__file__).parents[2]
WRONG = Path(__file__).with_name("wrong.ipynb")


def nbval(*files: Path, home: Path) -> subprocess.CompletedProcess:
    """All of them in one run, each with a reader's folder of its own."""
    return subprocess.run(
        [
            sys.executable,
            "-m",
            "pytest",
            "--nbval",
            "-o",
            "addopts=",
            "-q",
            "-p",
            "no:cacheprovider",
            "-p",
            "tests.notebooks.homes",
            *map(str, files),
        ],
        env=os.environ | {"LABKIT_HOME": str(home), "PYTHONPATH": str(ROOT)},
        cwd=files[0].parent,
        capture_output=True,
        text=True,
        timeout=300,
    )


def test_lessons_give_what_is_committed(tmp_path):
    ran = nbval(*notebooks(), home=tmp_path)
    assert ran.returncode == 0, ran.stdout
    assert " passed" in ran.stdout
    assert {each.stem for each in notebooks()} == {each.name for each in tmp_path.iterdir()}


def test_a_wrong_notebook_fails(tmp_path):
    ran = nbval(WRONG, home=tmp_path)
    assert ran.returncode == 1, ran.stdout
    assert "1 failed, 1 passed" in ran.stdout
    assert "Length('31 in')" in ran.stdout
