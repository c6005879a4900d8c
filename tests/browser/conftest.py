"""One server, one browser and one page a lesson for all tests here."""

import shutil
import tempfile
from pathlib import Path

import pytest

from tests.browser.lab import FLAGS, running_lab
from tests.browser.lesson import Lesson
from tests.peers import find_browser


@pytest.fixture(scope="package")
def chromium():
    """A browser. Closed after this package: its event loop is in the way of other tests."""
    from playwright.sync_api import sync_playwright

    program = find_browser()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=FLAGS)
        yield browser
        browser.close()


@pytest.fixture(scope="package")
def lab(chromium):
    folder = Path(tempfile.mkdtemp(prefix="labkit-browser-"))
    with running_lab(folder) as running:
        yield running
    shutil.rmtree(folder, ignore_errors=True)


@pytest.fixture(scope="package")
def opened(chromium, lab):
    """Each lesson by its name, opened and run when it is first asked for."""

    class Opened(dict):
        def __missing__(self, name: str) -> Lesson:
            page = chromium.new_page(viewport={"width": 1366, "height": 768})
            page.set_default_timeout(30_000)
            self[name] = Lesson(page, lab.url, name)
            return self[name]

    return Opened()


@pytest.fixture(autouse=True)
def quiet(request):
    """Whatever a test does, the browser has nothing to complain of."""
    yield
    if "opened" in request.fixturenames:
        for lesson in request.getfixturevalue("opened").values():
            errors, lesson.errors[:] = list(lesson.errors), []
            assert not errors, lesson.name


@pytest.fixture
def start(opened) -> Lesson:
    """00-start-here, in a window of a common laptop."""
    return _on_a_laptop(opened["00-start-here"])


@pytest.fixture
def margins(opened) -> Lesson:
    """04-margins, likewise."""
    return _on_a_laptop(opened["04-margins"])


def _on_a_laptop(lesson: Lesson) -> Lesson:
    lesson.resize(1366, 768)
    lesson.page.bring_to_front()
    return lesson
