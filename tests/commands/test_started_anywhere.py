"""Nothing that lies where hand-ins lie is imported, however a command is started there."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image

from tests.files import make
from tests.properties import a_few

TRAP = "open('was-run', 'w').close()\nraise SystemExit(99)\n"
TRAPS = (
    "argparse", "json", "signal", "numpy", "PIL", "imagecodecs", "tifffile", "psutil", "pickle",
    "defusedxml", "olefile", "sitecustomize", "usercustomize",
)  # fmt: skip
"""Modules that the command or its child import, or would if there were such."""

ENTRY = (
    "import sys; sys.path[0] = sys.argv.pop(1); from labkit.__main__ import main; sys.exit(main())"
)
"""What the installed command does: the first folder to look in is the one it lies in itself."""


@pytest.fixture
def folder(tmp_path) -> Path:
    made = tmp_path / "hand-ins"
    made.mkdir()
    for name in TRAPS:
        (made / f"{name}.py").write_text(TRAP)
    image = Image.new("RGB", (600, 400), "white")
    image.paste(make.drawing((300, 200)), (150, 100))
    image.save(made / "Ada-Brook_Boat_6x4in.tif", dpi=(100, 100))
    return made


def started(folder: Path, *how: str, **variables: str) -> subprocess.CompletedProcess:
    return subprocess.run(
        [sys.executable, *how],
        cwd=folder,
        capture_output=True,
        text=True,
        env=os.environ | variables,
    )


@pytest.mark.parametrize(
    "how",
    a_few(
        [("-m", "labkit"), ("-P", "-m", "labkit"), ("-c", ENTRY, os.path.dirname(sys.executable))]
    ),
)
@pytest.mark.parametrize(
    "command",
    [("check", "."), ("prepare", "Ada-Brook_Boat_6x4in.tif", "--sheet", "6x4in", "--fit")],
)
def test_code_among_hand_ins_is_never_run(folder, tmp_path, how, command):
    if how != ("-m", "labkit"):  # so Python itself looks for the package there
        (folder / "labkit.py").write_text(TRAP)
    out = ("--out", str(tmp_path)) if command[0] == "prepare" else ()
    run = started(folder, *how, *command, *out)
    assert not (folder / "was-run").exists()
    assert run.returncode in (0, 1), run.stderr
    assert "Ada-Brook_Boat_6x4in.tif" in run.stdout


def test_nor_in_the_child_where_a_variable_leads_there(folder):
    """PYTHONPATH is the reader's own; what is read in the child goes by none of it."""
    for name in set(TRAPS) - {"imagecodecs", "tifffile"}:
        (folder / f"{name}.py").unlink()
    run = started(folder, "-m", "labkit", "check", ".", PYTHONPATH=f".{os.pathsep}")
    assert not (folder / "was-run").exists()
    assert "Ada-Brook_Boat_6x4in.tif" in run.stdout, run.stderr
