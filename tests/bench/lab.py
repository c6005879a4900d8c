"""JupyterLab on a notebook of its own, and a browser with that notebook run."""

import os
import shutil
import socket
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from urllib.error import URLError
from urllib.request import urlopen

import nbformat
from playwright.sync_api import Page, sync_playwright

from tests.bench.measured import surroundings

PATIENCE = 90
"""Seconds that a server, or a notebook, may take to be ready."""


@contextmanager
def notebook_open(folder: Path, cells: list[str], options: Sequence[str]) -> Iterator[Page]:
    """A page of Chromium showing a notebook of these cells, run; ``options`` are the server's."""
    with _jupyterlab(folder, cells, options) as address, sync_playwright() as playwright:
        program = os.environ.get("CHROMIUM") or shutil.which("chromium")
        browser = playwright.chromium.launch(executable_path=program, args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": 1500, "height": 1200})
        page.goto(address)
        page.get_by_text("| Idle").wait_for(timeout=PATIENCE * 1000)
        page.get_by_role("menuitem", name="Run", exact=True).click()
        page.get_by_role("menuitem", name="Run All Cells", exact=True).click()
        yield page
        browser.close()


@contextmanager
def _jupyterlab(folder: Path, cells: list[str], options: Sequence[str]) -> Iterator[str]:
    """The address of the notebook in a server whose settings all lie in ``folder``."""
    work = folder / "notebooks"
    work.mkdir(exist_ok=True)
    notebook = nbformat.v4.new_notebook(
        cells=[nbformat.v4.new_code_cell(cell) for cell in cells],
        metadata={"kernelspec": {"name": "python3", "display_name": "Python 3"}},
    )
    nbformat.write(notebook, work / "bench.ipynb")
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    settings = {"root_dir": work, "port": port, "port_retries": 0, "open_browser": False}
    words = [f"--ServerApp.{name}={value}" for name, value in settings.items()]
    own = {
        f"JUPYTER{name}_DIR": str(folder / f"jupyter{name.lower()}")
        for name in ("_CONFIG", "_DATA", "_RUNTIME", "LAB_SETTINGS", "LAB_WORKSPACES")
    }
    server = subprocess.Popen(
        [
            sys.executable,
            "-m",
            "jupyterlab",
            "--allow-root",
            "--IdentityProvider.token=",
            *words,
            *options,
        ],
        env=surroundings(folder) | own,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        _wait_for(f"http://127.0.0.1:{port}/api")
        yield f"http://127.0.0.1:{port}/lab/tree/bench.ipynb?reset"
    finally:
        server.terminate()
        server.wait(PATIENCE)


def _wait_for(address: str) -> None:
    until = time.monotonic() + PATIENCE
    while True:
        try:
            with urlopen(address):
                return
        except URLError:
            if time.monotonic() > until:
                raise
            time.sleep(0.2)
