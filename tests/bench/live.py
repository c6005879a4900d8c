"""From a slider to the drawing in the browser, beside the barest round trip; a redraw; an import."""

import argparse
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from playwright.sync_api import Page

from labkit.commands.lessons import SERVER
from tests.bench.lab import PATIENCE, notebook_open
from tests.bench.measured import run, table, verdict

MOST_OVER_BARE = 1.1
"""How many times as long as the barest round trip a slider may take to the drawing."""
MOST_MS = 40
"""The same in milliseconds, with the server's setting."""
MOST_REDRAW_MS = 1
MOST_IMPORT_S = 0.15
IMPORTS = 9
PAUSE = 30
"""Milliseconds from an answer to the next move, as of a slider that is dragged."""

BARE = """\
import ipywidgets as widgets
slider, told = widgets.FloatSlider(value=50, step=1, readout=False), widgets.Label("50")
slider.observe(lambda change: setattr(told, "value", str(change["new"])), "value")
bare = widgets.VBox([slider, told])
bare.add_class("bare")
bare"""
OURS = """\
from labkit.lessons.margins import borders
borders()"""

WATCH = """
([handle, answering]) => {
  const times = [];
  let pressed = null;
  handle.addEventListener("keydown", () => (pressed = performance.now()), { capture: true });
  new MutationObserver(() => {
    if (pressed !== null) times.push(performance.now() - pressed);
    pressed = null;
  }).observe(answering, { childList: true, characterData: true, subtree: true });
  return times;
}
"""
"""Milliseconds from each key on a slider's handle to the first change in what answers it."""


def add_options(parser: argparse.ArgumentParser) -> None:
    """How many moves."""
    parser.add_argument("--moves", type=int, default=40, help="of each slider (40)")


def measure(asked: argparse.Namespace) -> None:
    """Measure and print the tables."""
    with TemporaryDirectory() as made:
        folder = Path(made)
        _print_sliders(folder, asked.moves)
        _print_redraw(folder)
        _print_import(folder)


def _print_sliders(folder: Path, moves: int) -> None:
    lines = []
    for name, options in (("as shipped", ()), ("with our settings", SERVER)):
        with notebook_open(folder, [BARE, OURS], options) as page:
            label, drawing = _moved(page, moves)
        over = drawing / label
        told = [verdict(over <= MOST_OVER_BARE)]
        told.append(verdict(drawing <= MOST_MS) if options else "")
        lines.append((f"JupyterLab {name}", f"{label:.1f}", f"{drawing:.1f}", f"{over:.2f}", *told))
    ends = ("to label, ms", "to drawing, ms", "ratio", f"≤ {MOST_OVER_BARE}", f"≤ {MOST_MS} ms")
    print(f"From a slider, medians of {moves} moves\n{table(('', *ends), lines)}")


def _moved(page: Page, moves: int) -> tuple[float, float]:
    """Both sliders moved in turn, to and fro: medians in milliseconds, to label and to drawing."""
    sliders = [
        (page.locator(".bare .noUi-handle"), page.locator(".bare .widget-label").last),
        (page.locator(".labkit-app .noUi-handle").first, page.locator(".labkit-stage")),
    ]
    watched = []
    for handle, answering in sliders:
        for each in (handle, answering):
            each.wait_for(timeout=PATIENCE * 1000)
        ends = [handle.element_handle(), answering.element_handle()]
        watched.append(page.evaluate_handle(WATCH, ends))
    for move in range(moves + 2):  # the first two are for the caches
        for (handle, _), times in zip(sliders, watched, strict=True):
            handle.press("ArrowRight" if move % 2 else "ArrowLeft")
            page.wait_for_function(
                "([times, move]) => times.length > move", arg=[times, move], timeout=10_000
            )
            page.wait_for_timeout(PAUSE)
    label, drawing = (median(times.json_value()[2:]) for times in watched)
    return label, drawing


def _print_redraw(folder: Path) -> None:
    whole, drawing = map(float, run("-m", "tests.bench.redraw", folder=folder).said.split())
    lines = [
        ("all that a move sets off", f"{whole:.2f}", verdict(whole <= MOST_REDRAW_MS)),
        ("draw_sheet alone", f"{drawing:.2f}", verdict(drawing <= MOST_REDRAW_MS)),
    ]
    print(f"\nIn Python\n{table(('', 'ms', f'≤ {MOST_REDRAW_MS} ms'), lines)}")


def _print_import(folder: Path) -> None:
    lines = []
    for words, target in (
        ("import labkit", MOST_IMPORT_S),
        ("from labkit import check, open_picture, place, write", None),
        ("pass", None),
    ):
        times = [run("-c", words, folder=folder).seconds for _ in range(IMPORTS + 1)]
        middle = median(times[1:])
        lines.append((words, f"{middle:.3f}", verdict(middle <= target) if target else ""))
    head = ("", "s", f"≤ {MOST_IMPORT_S} s")
    print(f"\nA fresh Python, medians of {IMPORTS}\n{table(head, lines)}")
