"""The package as a wheel: everything it reads at run time is in it, and nothing is needed twice."""

import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "labkit" / "pyproject.toml").read_text(encoding="utf-8"))["project"]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)],
        cwd=ROOT / "labkit",
        check=True,
        capture_output=True,
    )
    with zipfile.ZipFile(next(folder.glob("*.whl"))) as archive:
        yield set(archive.namelist())


def test_every_file_of_the_package_is_in_the_wheel(wheel):
    kept = subprocess.run(
        ["git", "ls-files", "labkit"], cwd=ROOT, check=True, capture_output=True, text=True
    ).stdout.splitlines()
    assert "labkit/room/room.toml" in kept
    assert set(kept) - {"labkit/pyproject.toml"} <= wheel


def test_nothing_else_is_in_the_wheel(wheel):
    assert not [name for name in wheel if not name.startswith(("labkit/", "labkit-"))]
    assert "labkit/pyproject.toml" not in wheel


def test_runtime_dependencies_stand_in_one_place_only():
    runtime = {line.split(">")[0].split("=")[0] for line in PROJECT["dependencies"]}
    for file in ("requirements.txt", "tests/requirements.txt"):
        lines = (ROOT / file).read_text(encoding="utf-8").splitlines()
        named = {line.split(">")[0].split("=")[0] for line in lines if line and line[0] not in "#-"}
        assert not named & runtime, file


def test_ci_pins_every_runtime_dependency():
    pins = (ROOT / "tests" / "constraints.txt").read_text(encoding="utf-8").splitlines()
    pinned = {pin.split("==")[0].lower().replace("_", "-") for pin in pins}
    assert {line.split(">")[0] for line in PROJECT["dependencies"]} <= pinned
