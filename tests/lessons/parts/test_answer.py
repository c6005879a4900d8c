"""An answer folded away: nothing of it is to be seen, and all of it is there."""

import re
from html import unescape

import pytest
from IPython.core.interactiveshell import InteractiveShell

from labkit.drawing.show import show_in_notebook
from labkit.geometry.layout import lay_out
from labkit.geometry.length import length
from labkit.geometry.paper import find_sheet
from labkit.lessons.parts import answer as module
from labkit.lessons.parts.answer import answer
from tests.lessons.hands import words

LAYOUT = lay_out((4500, 3000), find_sheet("13x19in"), width=length("12in"))


@pytest.fixture(autouse=True)
def notebook(monkeypatch):
    """A running notebook's formatters, taught to show our results."""
    shell = InteractiveShell.instance()
    for asked in ("IPython.get_ipython", f"{module.__name__}.get_ipython"):
        monkeypatch.setattr(asked, lambda: shell)
    show_in_notebook()
    return shell.display_formatter


def shown(notebook, value) -> tuple[str, str]:
    """What a page shows of it, and what is compared."""
    told = notebook.format(answer(value))[0]
    assert set(told) == {"text/html", "text/plain"}
    return told["text/html"], told["text/plain"]


@pytest.mark.parametrize(
    ("value", "told"),
    [
        ("off by -0.27 %: <True>", "off by -0.27 %: <True>"),
        (["Top: cut 1 in.", "Left: cut 2 in."], "['Top: cut 1 in.', 'Left: cut 2 in.']"),
        (LAYOUT, LAYOUT.sentence()),
    ],
    ids=["words", "a list", "a layout"],
)
def test_all_of_it_is_below_the_fold(notebook, value, told):
    html, plain = shown(notebook, value)
    assert plain == told
    before, folded = html.split("</summary>")
    assert re.match(r"<details(?! open)\b", before)
    assert words(before) == "Show the answer"
    assert told in unescape(folded)
    assert html.endswith("</details>")
    assert html.count("</details>") == 1


def test_a_drawing_is_an_image_that_any_page_shows(notebook):
    html, _ = shown(notebook, LAYOUT)
    assert f'<img alt="{LAYOUT.sentence()}"' in html
    assert 'src="data:image/svg+xml;base64,' in html
    assert "<svg" not in html
