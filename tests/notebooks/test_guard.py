"""What must hold of every committed notebook, whatever nbval lets pass."""

import re

import nbformat
import pytest

from tests.notebooks.normal import FOLDER, VIEW, normal_form, notebooks, text_of

NOTEBOOKS = notebooks()
MOST_LINES = 6
HIDING = re.compile(r"NBVAL_|nbval-|skip-execution|raises-exception")
PLACES = re.compile(r"(?<![\w./])/(?:home|root|tmp|work|Users|usr|var|opt)/|[A-Za-z]:\\\\")
HEADINGS = (
    "Set-up",
    "Look",
    "Predict",
    "Try it",
    "Check yourself",
    "Exercise",
    "What you now know",
)
SAY_FIRST = re.compile(
    r"before you run (?!\w+ again)|before each|(say|by hand) (it )?first\b", re.I
)
"""What asks the reader to say what a cell will come to; not what it will once they have changed it."""
FURTHER = "To go further"
"""What the exercise does not need: it may stand below the lesson."""


def test_there_are_notebooks():
    assert len(NOTEBOOKS) >= 2
    assert NOTEBOOKS[0].name == "00-start-here.ipynb"


@pytest.fixture(params=NOTEBOOKS, ids=lambda file: file.stem)
def file(request):
    return request.param


@pytest.fixture
def notebook(file):
    return nbformat.read(file, as_version=4)


@pytest.fixture
def code(notebook):
    return [cell for cell in notebook.cells if cell.cell_type == "code"]


@pytest.fixture
def outputs(code):
    return [output for cell in code for output in cell.outputs]


def test_it_is_in_its_normal_form(file, notebook):
    assert file.read_text(encoding="utf-8") == text_of(normal_form(notebook))


def test_every_cell_was_run_in_order(code):
    assert code
    assert [cell.execution_count for cell in code] == list(range(1, len(code) + 1))


def test_nothing_went_wrong(outputs):
    kinds = {output.output_type for output in outputs}
    assert "error" not in kinds
    assert not [o for o in outputs if o.output_type == "stream" and o.name == "stderr"]


def test_every_app_is_committed_as_a_sentence(outputs):
    for output in outputs:
        if output.output_type != "stream":
            told = output.data["text/plain"]
            assert VIEW not in output.data
            assert "object at 0x" not in told
            assert re.search(r"[a-z].*[.:]", told, re.S), told


def test_no_machine_shows(file):
    assert not PLACES.search(file.read_text(encoding="utf-8"))


def test_nothing_is_hidden_from_the_checker(file, notebook):
    assert not HIDING.search(file.read_text(encoding="utf-8"))
    assert not [cell for cell in notebook.cells if cell.metadata]


def test_code_is_short_and_plain(code):
    for cell in code:
        lines = cell.source.splitlines()
        assert 1 <= len(lines) <= MOST_LINES
        assert not re.search(
            r"^\s*(def|class|for|while|lambda)\b|ipywidgets|import \*", cell.source, re.M
        )
        assert not lines[-1].rstrip().endswith(";")


def test_what_is_to_be_said_first_is_folded_away(notebook):
    asked = False
    for cell in notebook.cells:
        if cell.cell_type == "markdown":
            asked = bool(SAY_FIRST.search(cell.source))
            continue
        folds = cell.source.splitlines()[-1].startswith("answer(")
        assert folds == asked, cell.source
        for output in cell.outputs if folds else ():
            assert output.data["text/html"].startswith("<details data-"), cell.source
            assert set(output.data) == {"text/html", "text/plain"}


def test_imports_stand_in_the_first_code_cell(code):
    assert re.match(r"(from|import) ", code[0].source)
    assert not [cell for cell in code[1:] if re.search(r"^\s*(from|import) ", cell.source, re.M)]


def test_it_has_the_shape_of_a_lesson(file, notebook):
    prose = [cell.source for cell in notebook.cells if cell.cell_type == "markdown"]
    title, headings = (
        prose[0],
        [
            line.removeprefix("## ")
            for text in prose
            for line in text.splitlines()
            if line.startswith("## ")
        ],
    )
    assert title.startswith("# ")
    assert "you will be able to**" in title
    assert re.search(r"\*\*Time:\*\* .*\d+", title)
    while headings[-1].startswith(f"{FURTHER}: "):
        headings.pop()
    assert headings[0] == "Set-up"
    assert headings[-1] == "What you now know"
    if file.name.startswith("00"):
        return
    kinds = [
        next((kind for kind in HEADINGS if text.split(":")[0] == kind), text) for text in headings
    ]
    assert set(kinds) == set(HEADINGS), kinds
    assert 1 <= kinds.count("Predict") <= 3
    assert kinds.index("Look") == 1
    assert kinds[-3:] == ["Check yourself", "Exercise", "What you now know"]


def test_it_leads_on_to_lessons_that_exist(file, notebook):
    text = "\n".join(cell.source for cell in notebook.cells)
    for target in re.findall(r"\]\(([^)#]+)\)", text):
        assert (FOLDER / target).exists(), f"{file.name} leads to {target}"


def test_teaching_notes_speak_of_it(file):
    notes = (FOLDER / "teaching-notes.md").read_text(encoding="utf-8")
    assert re.search(rf"^## {file.stem[:2]}\b", notes, re.M)
