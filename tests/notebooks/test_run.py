"""nbval runs every lesson and compares what comes out with what is committed, strictly."""

import os
import subprocess
import sys
from pathlib import Path

from tests.notebooks.normal import notebooks

WRONG = Path(__file__).with_name("wrong.ipynb")


def nbval(*files: Path, home: Path) -> subprocess.CompletedProcess:
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
            *map(str, files),
        ],
        env=os.environ | {"LABKIT_HOME": str(home)},
        cwd=files[0].parent,
        capture_output=True,
        text=True,
        timeout=300,
    )


def test_lessons_give_what_is_committed(tmp_path):
    for number, file in enumerate(notebooks()):
        ran = nbval(file, home=tmp_path / str(number))
        assert ran.returncode == 0, ran.stdout
        assert " passed" in ran.stdout


def test_a_wrong_notebook_fails(tmp_path):
    ran = nbval(WRONG, home=tmp_path)
    assert ran.returncode == 1, ran.stdout
    assert "1 failed, 1 passed" in ran.stdout
    assert "Length('31 in')" in ran.stdout
