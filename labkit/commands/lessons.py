"""Open the lessons in JupyterLab."""

import os
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

from labkit.errors import LabError
from labkit.home import VARIABLE, home

EPILOG = "What follows -- goes to JupyterLab: labkit lessons -- --port 8889"
NOTES = "teaching-notes.md"
"""The instructors' answers: not in the learners' list of files."""
SERVER = (
    f"--ContentsManager.hide_globs=['__pycache__', '*.pyc', '.DS_Store', '*~', '{NOTES}']",
    "--ServerApp.kernel_websocket_connection_class=labkit.server.PromptConnection",
)
"""A list of files for learners, and sliders that answer at once."""


def add_arguments(parser) -> None:
    """The options of the command."""
    parser.add_argument(
        "--cases", metavar="FOLDER", help="hand-ins of your own for the practice counter"
    )
    parser.add_argument("rest", nargs="*", metavar="-- …", help="options for JupyterLab")


def run(options) -> int:
    """Open JupyterLab on the first lesson, and stay until it ends.

    One document at a time, file list closed, no question about news: all for this run. What the reader set
    in a JupyterLab of their own stays as it is, and counts here too.
    """
    first = Path(__file__).resolve().parents[2] / "notebooks" / "00-start-here.ipynb"
    if not first.exists():
        raise LabError(
            f"the lessons are not at {first.parent}: run this inside a clone of the project."
        )
    if find_spec("jupyterlab") is None:
        raise LabError("JupyterLab is not installed: run `pip install -r requirements.txt` first.")
    print(f"Your own files go to {home().folder} (set {VARIABLE} to choose another folder).")
    environment = os.environ | {"JUPYTER_CONFIG_PATH": _with_ours("JUPYTER_CONFIG_PATH")}
    if options.cases:
        from labkit.teaching.at_the_counter import CASES
        from labkit.teaching.faults import read_cases

        read_cases(Path(options.cases))  # told here of what is wrong with it, and not in a lesson
        environment[CASES] = str(Path(options.cases).resolve())
    opened = (
        f"--ServerApp.root_dir={first.parent}",
        f"--LabApp.default_url=/doc/tree/{first.name}",
        f"--LabApp.workspaces_dir={home().folder / 'workspaces'}",
    )
    server = subprocess.Popen(
        [sys.executable, "-P", "-m", "jupyterlab", *opened, *SERVER, *options.rest], env=environment
    )
    try:
        return server.wait()
    except KeyboardInterrupt:
        server.terminate()  # not killed: it ends its kernels first
        return server.wait()


def _with_ours(variable: str) -> str:
    """A list of folders in the environment, with the settings of the lessons' JupyterLab before it."""
    ours = Path(__file__).with_name("lab")
    return os.pathsep.join(filter(None, (str(ours), os.environ.get(variable))))
