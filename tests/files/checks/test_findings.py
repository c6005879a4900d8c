"""What a check can say: every finding complete, none unused, none unknown."""

import ast
import re
import tomllib
from pathlib import Path
from string import Formatter

import pytest

import labkit
from labkit.files.checks.findings import GRADES, Finding, Findings, tell
from labkit.geometry.layout import lay_out
from labkit.geometry.length import inches
from labkit.geometry.paper import find_sheet

PACKAGE = Path(labkit.__file__).parent
TEXTS = tomllib.loads((PACKAGE / "files" / "checks" / "findings.toml").read_text(encoding="utf-8"))
REFUSED = {"empty", "not-a-picture", "too-large", "damaged", "unreadable", "not-looked-at"}
"""What a refusal to open a file may amount to."""
PARTS = ("found", "expected", "why", "remedy")


def figures(code: str) -> dict[str, str]:
    """A stand-in for each figure a finding asks for."""
    fields = (
        field for part in PARTS for _, field, *_ in Formatter().parse(TEXTS[code].get(part, ""))
    )
    return {field: f"<{field}>" for field in fields if field}


def calls() -> list[tuple[ast.Call, ast.Module]]:
    """Every call of ``tell`` in the package."""
    found = []
    for path in PACKAGE.rglob("*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        found += [
            (node, tree)
            for node in ast.walk(tree)
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "tell"
        ]
    return found


def codes(call: ast.Call, tree: ast.Module) -> set[str]:
    """The codes a call may be made with, be they written there or held by a name; none where a refusal
    brings its own."""
    first = call.args[0]
    if isinstance(first, ast.Attribute):
        return set()
    if isinstance(first, ast.Name):
        held = [node.value for node in ast.walk(tree) if isinstance(node, ast.Assign)]
        names = [node.targets[0] for node in ast.walk(tree) if isinstance(node, ast.Assign)]
        parts = [v for v, n in zip(held, names, strict=True) if getattr(n, "id", "") == first.id]
    else:
        parts = [first]
    parts = [
        branch
        for part in parts
        for branch in ((part.body, part.orelse) if isinstance(part, ast.IfExp) else (part,))
    ]
    return {part.value for part in parts}


def test_every_code_in_the_program_has_its_text_and_every_text_its_code():
    used = set().union(REFUSED, *(codes(call, tree) for call, tree in calls()))
    assert len(used) > 15
    assert used == set(TEXTS)


def test_every_call_gives_the_figures_its_text_asks_for():
    for call, tree in calls():
        spread = any(keyword.arg is None for keyword in call.keywords)
        given = {keyword.arg for keyword in call.keywords} - {None, "grade", "command"}
        for code in codes(call, tree):
            wanted = set(figures(code)) - {"side"}
            assert given - {"side"} <= wanted, code
            assert spread or given - {"side"} == wanted, code


@pytest.mark.parametrize("code", TEXTS)
def test_each_finding_is_complete(code):
    """What was found and how to mend it; and why it matters, but for what explains itself."""
    text = TEXTS[code]
    assert text["grade"] in GRADES
    assert set(text) <= {"grade", *PARTS}
    if text["grade"] != "fine" and code not in REFUSED:  # a refusal says it all
        assert text["remedy"].endswith((".", "{remedy}"))
        assert text.get("why", ".").endswith((".", "{reason}", "{fits}"))
        assert "why" in text or code in ("written", "picture", "picture-other")
        assert text.get("expected") or code == "written"
    assert not text["found"].endswith(".")
    assert not text.get("expected", "").endswith(".")


@pytest.mark.parametrize("code", TEXTS)
def test_each_finding_reads_as_sentences(code):
    told = tell(code, **figures(code) | {"side": "left"}).sentence()
    assert "{" not in told
    assert "  " not in told
    assert ".." not in told
    assert told.endswith((".", "<remedy>"))
    assert told[0] == told[0].upper()
    for figure in figures(code).values():
        assert figure in told or figure == "<side>"


def test_a_missing_figure_is_a_fault_of_the_program():
    with pytest.raises(KeyError):
        tell("format")
    with pytest.raises(KeyError):
        tell("no such code")


def test_what_is_told():
    found = tell("format", kind="JPEG", lossy="")
    assert found == Finding(
        "format",
        "look",
        "the file is JPEG",
        "TIFF",
        "A print file is handed in without loss, in the one form this room prints from.",
        "Save it as TIFF with LZW compression.",
    )
    assert found.sentence() == (
        "The file is JPEG; expected is TIFF. A print file is handed in without loss, in the one form "
        "this room prints from. Save it as TIFF with LZW compression."
    )


def test_a_grade_can_be_overruled():
    assert tell("profile", carried="no profile").grade == "look"
    assert tell("profile", grade="stop", carried="no profile").grade == "stop"


FINE, LOOK, STOP = (Finding(grade, grade, f"it is {grade}") for grade in GRADES)


@pytest.mark.parametrize(
    ("items", "verdict", "faults"),
    [
        ((), "fine", ()),
        ((FINE,), "fine", ()),
        ((FINE, LOOK), "look", (LOOK,)),
        ((LOOK, FINE, STOP, LOOK), "stop", (STOP, LOOK, LOOK)),
    ],
)
def test_the_verdict_is_the_gravest_grade_and_faults_come_gravest_first(items, verdict, faults):
    found = Findings(Path("a.tif"), items)
    assert found.verdict == verdict
    assert found.faults == faults


def test_the_sentence_of_a_sound_file_says_where_the_picture_sits():
    layout = lay_out((3600, 2400), find_sheet("13x19in"), width=inches(12))
    found = Findings(Path("x/a.tif"), (), layout)
    assert str(found).startswith("a.tif: fine. Nothing to mend. Picture 12 in (304.8 mm) wide")
    assert "304.8 mm (12 in) wide" in found.sentence("mm")
    assert str(Findings(Path("a.tif"), ())) == "a.tif: fine. Nothing to mend."


def test_the_sentence_of_another_tells_each_fault():
    found = Findings(Path("a.tif"), (LOOK, STOP))
    assert str(found) == "a.tif: stop. It is stop. It is look."


AGAINST = {"written", "sheet-size", "sheet-turned", "border"} | {
    f"picture-{what}" for what in ("size", "shape", "other", "stretched", "part")
}
"""Told only where it is known what the file should be."""


def test_the_readme_lists_every_code_under_its_grade():
    text = (PACKAGE.parent / "README.md").read_text(encoding="utf-8")
    rows = [line.split("|")[2:5] for line in text.splitlines() if line.count("|") == 5]
    listed = {
        code: grade
        for row in rows
        for grade, cell in zip(("stop", "look", "fine"), row, strict=True)
        for code in re.findall(r"`([a-z-]+)`", cell)
        if code in TEXTS
    }
    assert listed == {code: text["grade"] for code, text in TEXTS.items() if code not in AGAINST}
    assert all(f"`{code}`" in text for code in AGAINST)
