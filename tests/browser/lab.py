"""The lessons' server, started the way a reader starts it, on a copy of the clone."""

import os
import shutil
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from urllib.error import URLError
from urllib.request import urlopen

CLONE = Path(__file__).parents[2]
FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-dev-shm-usage",
)
OPTIONS = ("--no-browser", "--allow-root", "--IdentityProvider.token=")
SECONDS = 60


@dataclass(frozen=True)
class Lab:
    """A running server: its address, the clone it runs on, and the reader's own folder."""

    url: str
    clone: Path
    home: Path


@contextmanager
def running_lab(folder: Path) -> Iterator[Lab]:
    """``python -m labkit lessons`` in a copy of the clone, with all that it keeps below ``folder``."""
    clone, home = folder / "clone", folder / "home"
    for part in ("images", "labkit", "notebooks"):
        shutil.copytree(CLONE / part, clone / part, ignore=shutil.ignore_patterns("__pycache__"))
    own = {"PYTHONPATH": clone, "LABKIT_HOME": home, "IPYTHONDIR": folder / "ipython"}
    own |= {f"JUPYTER_{part}_DIR": folder / "jupyter" for part in ("CONFIG", "DATA", "RUNTIME")}
    port = _free_port()
    command = [sys.executable, "-m", "labkit", "lessons", "--", f"--port={port}", *OPTIONS]
    log = folder / "server.log"
    with log.open("w") as out:
        server = subprocess.Popen(
            command,
            cwd=clone,
            env=os.environ | {name: str(value) for name, value in own.items()},
            stdout=out,
            stderr=subprocess.STDOUT,
        )
    url = f"http://127.0.0.1:{port}"
    try:
        _wait_for(url, server, log)
        yield Lab(url, clone, home)
    finally:
        server.terminate()
        server.wait(SECONDS)


def _free_port() -> int:
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return asked.getsockname()[1]


def _wait_for(url: str, server: subprocess.Popen, log: Path) -> None:
    end = time.monotonic() + SECONDS
    while server.poll() is None and time.monotonic() < end:
        try:
            with urlopen(f"{url}/api"):
                return
        except URLError:
            time.sleep(0.1)
    raise RuntimeError(f"the server did not start:\n{log.read_text()}")
