"""What a notebook shows of our results: the verdict first, a line each, then the drawing."""

from dataclasses import replace
from pathlib import Path

import pytest
from IPython.core.interactiveshell import InteractiveShell
from IPython.lib.pretty import pretty

from labkit.drawing import show
from labkit.files.checks.findings import Finding, Findings
from labkit.home import home
from labkit.job import words as job
from labkit.teaching.judge import Hints, Judgement
from tests.drawing.layouts import LAYOUTS
from tests.files.make import picture
from tests.lessons.hands import words

STOP = Finding(
    "no-profile", "stop", "there is <no> profile", remedy="Export it again.", command="mend"
)
LOOK = Finding("name", "look", "its name is long")


@pytest.fixture
def notebook(monkeypatch):
    """A running notebook's formatters, taught to show our results."""
    shell = InteractiveShell.instance()
    monkeypatch.setattr("IPython.get_ipython", lambda: shell)
    show.show_in_notebook()
    return shell.display_formatter


def shown(notebook, result) -> dict:
    return notebook.format(result)[0]


def test_the_verdict_comes_first_then_a_line_each_then_the_sheet(notebook):
    layout = next(iter(LAYOUTS.values()))
    found = Findings(Path("boat.tif"), (LOOK, STOP), layout)
    told = shown(notebook, found)["text/html"]
    assert words(told) == (
        "boat.tif: stop stop There is <no> profile. Export it again. mend look Its name is long."
    )
    assert told.index("boat.tif: stop") < told.index("<li>") < told.index("<img ")
    assert told.count("<li>") == 2
    assert f'alt="{layout.sentence()}"' in told


def test_a_file_in_which_nothing_is_wrong_says_so(notebook):
    told = shown(notebook, Findings(Path("boat.tif"), ()))["text/html"]
    assert words(told) == "boat.tif: fine. Nothing to mend."


def test_what_was_made_tells_file_folder_and_what_was_done(notebook, tmp_path):
    boat = job.open_picture(picture(tmp_path / "boat.png", size=(900, 600)))
    made = job.write(boat, job.place(boat, on="letter", width="3in"), owner="Nia Oak", title="Boat")
    told = shown(notebook, made)
    lines = told["text/plain"].splitlines()
    assert (
        lines[0] == "Made: Nia-Oak_Boat_letter.tif, and its ticket Nia-Oak_Boat_letter_ticket.html."
    )
    assert lines[1] == "Folder: exports, in the folder that LABKIT_HOME names."
    assert lines[2].startswith("2550 × 3300 pixels at 300 ppi, ")
    assert all(line in words(told["text/html"]) for line in lines)
    assert "image/svg+xml" not in told


def test_hints_read_as_sentences_and_a_right_file_says_so(notebook):
    wrong = Hints(
        ["Its name is long.", "Make it 12 in wide."], "boat.tif is not ready yet; 2 things."
    )
    assert wrong == ("Its name is long.", "Make it 12 in wide.")
    assert pretty(wrong).splitlines() == [
        "boat.tif is not ready yet; 2 things.",
        "  Its name is long.",
        "  Make it 12 in wide.",
    ]
    right = Hints([], "boat.tif is ready to print.")
    assert pretty(right) == "boat.tif is ready to print."
    for result in (wrong, Judgement(Findings(Path("boat.tif"), ()), wrong)):
        assert shown(notebook, result)["text/html"].count("<li>") == 2


def test_where_a_folder_is(monkeypatch, tmp_path):
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    mine = replace(home(), folder=tmp_path / "labkit")
    assert (
        mine.told(mine.exports / "04-margins") == "labkit/exports/04-margins, in your home folder"
    )
    assert mine.told(tmp_path / "elsewhere") == str(tmp_path / "elsewhere")
