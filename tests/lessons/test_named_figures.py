"""A figure that a lesson's prose sends the reader to is there to be seen, in the app right below."""

import re
from html import unescape
from importlib import import_module

import nbformat
import pytest

from labkit.lessons.parts.figure import FigureApp
from tests.notebooks.normal import notebooks
from tests.properties import a_few

LESSONS = notebooks()


def apps(file):
    """Each app of a lesson that has figures to read off, with the prose above it."""
    lesson = vars(import_module(f"labkit.lessons.{file.stem[3:].replace('-', '_')}"))
    prose = ""
    for cell in nbformat.read(file, as_version=4).cells:
        if cell.cell_type == "markdown":
            prose = cell.source
        elif (call := re.fullmatch(r'(\w+)\((?:"(\w+)")?\)', cell.source)) and call[1] in lesson:
            app = lesson[call[1]](*filter(None, [call[2]]))
            if isinstance(app, FigureApp):
                yield prose, app


@pytest.mark.parametrize("file", a_few(LESSONS, 6), ids=lambda file: file.stem)
def test_no_figure_that_prose_names_waits_behind_all_figures(file):
    seen = 0
    for prose, app in apps(file):
        shown = unescape(app._read_off.value)
        hidden = [label for label in app.readings if f"<span>{label}</span>" not in shown]
        assert [label for label in hidden if label in prose] == []
        seen += 1
    assert seen >= 1
