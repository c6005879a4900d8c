"""Imports run one way, and nothing heavy is loaded before it is needed."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

import labkit
from labkit.__main__ import COMMANDS

PACKAGE = Path(labkit.__file__).parent
ROOT = PACKAGE.parent

LEVELS = {
    "errors": 0, "geometry": 1, "room": 2, "home": 3, "files": 4, "teaching": 5, "drawing": 6,
    "job": 7, "commands": 8, "lessons": 9, "__main__": 10,
}  # fmt: skip
"""A part may import itself, and parts of a lower number."""
ALONE = {"__init__", "server"}
"""The one names modules only as text; the other extends the notebook server."""
WIDGETS = {"ipywidgets", "anywidget"}


def part_of(module: str) -> str:
    """``labkit.files.writing.tiff`` belongs to ``files``."""
    return module.split(".")[1]


def modules() -> dict[str, Path]:
    """Every module of the package by its name, without packages' own ``__init__`` in it."""
    found = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        parts = path.relative_to(ROOT).with_suffix("").parts
        found[".".join(parts if len(parts) == 2 or parts[-1] != "__init__" else parts[:-1])] = path
    return found


MODULES = modules()


def imported(path: Path) -> set[str]:
    """All that a module imports, at its top or inside a function, by full names."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are written in full"
            found.add(node.module)
            found |= {f"{node.module}.{alias.name}" for alias in node.names}
    return found


def ours(path: Path) -> set[str]:
    """Our own modules among them."""
    return {name for name in imported(path) if name in MODULES and name != "labkit.__init__"}


def test_every_part_has_its_level():
    parts = {part_of(module) for module in MODULES}
    assert parts - ALONE == set(LEVELS)


def test_imports_run_one_way():
    back = [
        f"{module} imports {other}"
        for module in MODULES
        if part_of(module) not in ALONE
        for other in ours(MODULES[module])
        if part_of(other) != part_of(module) and LEVELS[part_of(other)] >= LEVELS[part_of(module)]
    ]
    assert back == []


def test_the_test_sees_imports_inside_functions_too():
    assert "labkit.files.checks.check" in ours(MODULES["labkit.job.words"])
    assert "labkit.commands.recipe" in ours(MODULES["labkit.commands.prepare"])


def test_no_two_modules_import_each_other():
    wanted = {name: ours(path) - {name} for name, path in MODULES.items()}
    while free := [name for name, needs in wanted.items() if not needs & set(wanted)]:
        for name in free:
            del wanted[name]
    assert not wanted


def test_the_command_line_imports_no_lesson():
    reached = set()
    ahead = {"labkit.__main__", *(f"labkit.commands.{name}" for name in COMMANDS)}
    while ahead:
        module = ahead.pop()
        reached.add(module)
        ahead |= ours(MODULES[module]) - reached
    assert "labkit.drawing.pages.ticket" in reached
    assert not any(part_of(module) == "lessons" for module in reached)


def test_only_lessons_know_widgets():
    users = {
        part_of(module)
        for module, path in MODULES.items()
        if {name.split(".")[0] for name in imported(path)} & WIDGETS
    }
    assert users == {"lessons"}


def test_geometry_reads_no_room_no_pixels_and_no_file_but_its_table():
    for module, path in MODULES.items():
        if part_of(module) == "geometry":
            foreign = {name.split(".")[0] for name in imported(path)} - {"labkit"}
            assert foreign <= set(sys.stdlib_module_names), module


def test_matplotlib_is_imported_only_where_a_chart_is_drawn():
    for module, path in MODULES.items():
        if any(name.split(".")[0] == "matplotlib" for name in imported(path)):
            assert part_of(module) == "drawing", module


# In a process of its own


def loaded_by(code: str) -> set[str]:
    """The top names of all modules in memory once ``code`` has run."""
    told = "import sys; print(*sorted({name.split('.')[0] for name in sys.modules}))"
    run = subprocess.run(
        [sys.executable, "-c", f"{code}\n{told}"], capture_output=True, text=True, cwd=ROOT
    )
    assert run.returncode == 0, run.stderr
    return set(run.stdout.splitlines()[-1].split())


def foreign(code: str) -> set[str]:
    """Those that come neither with Python nor with us, nor are there before the code runs."""
    return loaded_by(code) - loaded_by("") - set(sys.stdlib_module_names) - {"labkit"}


def test_importing_the_package_loads_nothing_else():
    assert foreign("import labkit") == set()
    assert loaded_by("import labkit") - loaded_by("") <= {"labkit", "importlib", "warnings"}


def test_geometry_and_the_room_load_no_library():
    code = "from labkit.room.rules import load_room; load_room()"
    assert foreign(code) == set()


def test_the_words_load_no_array_library():
    assert foreign("from labkit import open_picture, place, write, check") <= {"PIL", "psutil"}


@pytest.mark.parametrize(
    "command",
    ["['papers']", "['room', 'check', 'labkit/room/room.toml']"],
    ids=["papers", "room check"],
)
def test_a_command_that_reads_no_picture_loads_no_library(command):
    assert foreign(f"from labkit.__main__ import main; assert main({command}) == 0") == set()


def test_drawing_a_sheet_loads_neither_widgets_nor_charts():
    code = """
from labkit.drawing.pages.ticket import ticket
from labkit.files.checks.check import check
from labkit.teaching.judge import judge
"""
    assert not {"ipywidgets", "anywidget", "matplotlib", "IPython"} & loaded_by(code)
