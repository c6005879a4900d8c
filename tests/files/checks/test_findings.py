"""What a check can say: every finding complete, none unused, none unknown."""

import ast
from pathlib import Path
from string import Formatter

import pytest

import labkit
from labkit.files.checks.catalogue import GRADES, PARTS, catalogue, codes_of, families, reasons
from labkit.files.checks.findings import Finding, Findings, phrase, tell
from labkit.geometry.layout import lay_out
from labkit.geometry.length import inches
from labkit.geometry.paper import find_sheet
from tests.files.checks.readme import findings, parts

PACKAGE = Path(labkit.__file__).parent
ENTRIES = catalogue()
REFUSED = {"empty", "not-a-picture", "too-large", "damaged", "unreadable", "not-looked-at"}
"""What a refusal to open a file may amount to."""
BY_MODE = {"lab", "palette", "one-bit"}
"""Told by the colours of a file."""
VARIANTS = [(code, variant) for code, entry in ENTRIES.items() for variant in ("", *entry.variants)]


def figures(code: str, variant: str = "") -> dict[str, str]:
    """A stand-in for each figure a finding asks for."""
    said = ENTRIES[code].said(variant)
    fields = (field for part in PARTS for _, field, *_ in Formatter().parse(said[part]))
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
    brings its own, or a table holds them."""
    first = call.args[0]
    if isinstance(first, ast.Attribute | ast.Subscript):
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
    used = set().union(REFUSED, BY_MODE, *(codes(call, tree) for call, tree in calls()))
    assert len(used) > 15
    assert used == set(ENTRIES)


def test_every_call_gives_the_figures_its_text_asks_for():
    """Of one that may tell several variants, all the figures of all of them."""
    for call, tree in calls():
        spread = any(keyword.arg is None for keyword in call.keywords)
        named = {keyword.arg for keyword in call.keywords} - {None}
        given = named - {"grade", "command", "variant", "side"}
        for code in codes(call, tree):
            variants = ENTRIES[code].variants if "variant" in named else ()
            asks = {variant: set(figures(code, variant)) - {"side"} for variant in ("", *variants)}
            assert given <= set().union(*asks.values()), code
            assert spread or "variant" in named or given == asks[""], code


@pytest.mark.parametrize(("code", "variant"), VARIANTS)
def test_each_finding_is_complete(code, variant):
    """What was found and how to mend it; and why it matters, but for what explains itself."""
    entry, said = ENTRIES[code], ENTRIES[code].said(variant)
    assert said["grade"] in GRADES
    assert set(entry.texts) <= set(PARTS)
    assert set(entry.variants.get(variant, ())) <= {"grade", *PARTS}
    assert said["found"] or (entry.variants and not variant)
    if said["grade"] != "fine" and code not in REFUSED:  # a refusal says it all
        assert said["remedy"].endswith((".", "{remedy}"))
        assert said["why"] or code in ("not-as-written", "no-picture", "picture-other")
        assert not said["why"] or said["why"].endswith(".")
        assert said["expected"] or code == "not-as-written"
    assert not said["found"].endswith(".")
    assert not said["expected"].endswith(".")


@pytest.mark.parametrize(("code", "variant"), VARIANTS)
def test_each_finding_reads_as_sentences(code, variant):
    given = figures(code, variant)
    if not ENTRIES[code].said(variant)["found"]:
        assert ENTRIES[code].variants  # it is told in one of its variants only
        return
    told = tell(code, variant=variant, **given | {"side": "left"}).sentence()
    assert "{" not in told
    assert "  " not in told
    assert ".." not in told
    assert told.endswith((".", "<remedy>"))
    assert told[0] == told[0].upper()


@pytest.mark.parametrize(
    ("code", "name"),
    [(code, name) for code, entry in ENTRIES.items() for name in entry.phrases],
)
def test_each_phrase_is_used(code, name):
    family = "".join(path.read_text(encoding="utf-8") for path in PACKAGE.rglob("files/**/*.py"))
    assert f'"{name}"' in family
    fields = {field for _, field, *_ in Formatter().parse(ENTRIES[code].phrases[name]) if field}
    assert "{" not in phrase(code, name, **dict.fromkeys(fields, "x"))


def test_a_missing_figure_is_a_fault_of_the_program():
    with pytest.raises(KeyError):
        tell("format")
    with pytest.raises(KeyError):
        tell("no such code")


def test_what_is_told():
    found = tell("format", kind="JPEG")
    assert found == Finding(
        "format",
        "look",
        "the file is JPEG",
        "TIFF",
        "This room prints from TIFF, which loses nothing when it is saved.",
        "Save it as TIFF with LZW compression.",
    )
    assert found.sentence() == (
        "The file is JPEG. Expected: TIFF. This room prints from TIFF, which loses nothing when it is "
        "saved. Save it as TIFF with LZW compression."
    )


def test_a_grade_can_be_overruled():
    assert tell("profile-missing").grade == "look"
    assert tell("profile-missing", grade="stop").grade == "stop"


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


def test_the_readme_has_the_table_that_the_toml_makes():
    assert parts()[1] == findings(), "run python -m tests.files.checks.readme"


def test_every_family_and_every_reason_has_its_findings():
    assert {entry.family for entry in ENTRIES.values()} == set(families())
    assert {entry.reason for entry in ENTRIES.values()} - {""} == set(reasons())
    assert all(codes_of(reason) for reason in reasons())


def test_a_worker_has_a_reason_for_whatever_a_hand_in_may_be_told():
    """But for what is always for information only."""
    lacking = [entry for entry in ENTRIES.values() if not entry.reason and not entry.told]
    assert {
        entry.said(variant)["grade"] for entry in lacking for variant in ("", *entry.variants)
    } == {"fine"}
