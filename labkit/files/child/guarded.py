"""Run whatever decodes a stranger's file in a child process with a limit on time and memory.

A damaged or hostile picture can make a decoder hang, eat all memory or die. Here it takes only the
child with it: the parent hears one sentence. What comes back is plain JSON, never pixels and never
an object.
"""

import importlib
import json
import os
import pickle
import sys
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from typing import BinaryIO

from labkit.errors import LabError

_PROGRAM = "from labkit.files.child.guarded import _child; _child()"
_POLL_SECONDS = 0.05
_LENGTH = 8
"""Bytes in which the length of a message is told."""
_MOST_CALLS = 50
"""A decoder that loses a little memory on each file loses no more than so many times that."""
_SETTINGS = {"OPENBLAS_NUM_THREADS": "1"}
"""No linear algebra is done in the child, so its numpy need not make ready for it."""


class Guarded:
    """A child process that answers calls, one after another; start it early and its imports cost no time.

    ``preload`` names modules the child imports while the parent is still busy. Use it as a context
    manager: leaving the block ends the child, whatever happened. A child that failed, and one that has
    answered ``_MOST_CALLS``, is replaced by a fresh one at the next call.
    """

    def __init__(self, *preload: str):
        self._preload = preload
        self._start()

    def _start(self) -> None:
        import subprocess

        self._calls = 0
        self._child = subprocess.Popen(
            [sys.executable, "-c", _PROGRAM, *self._preload],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=os.environ | _SETTINGS | {"PYTHONPATH": os.pathsep.join(filter(None, sys.path))},
        )

    def _end(self) -> None:
        self._child.kill()
        self._child.wait()
        for pipe in (self._child.stdin, self._child.stdout):
            with suppress(OSError):  # what was not yet sent to it
                pipe.close()

    def __enter__(self) -> "Guarded":
        return self

    def __exit__(self, *_):
        self._end()

    def run(
        self, function: Callable, *args, seconds: float, memory_mb: int, what: str = "the file"
    ):
        """Call a module-level ``function`` in the child and return what it returns, through JSON.

        ``what`` names the file in the sentences. LabError with the function's own sentence if it
        refused, or one that says that time or memory ran out, or that the decoder died.
        """
        if self._calls >= _MOST_CALLS or self._child.stdin.closed:
            self._end()
            self._start()
        self._calls += 1
        try:
            call = (function.__module__, function.__qualname__, args, memory_mb)
            return self._result(self._answer(call, seconds, memory_mb, what), what, memory_mb)
        except _Failed as failure:
            self._end()
            raise LabError(*failure.args) from None

    def _answer(self, call: tuple, seconds: float, memory_mb: int, what: str) -> bytes:
        """What the child says, b"" if it died over it."""
        answer: list[bytes] = []
        reader = threading.Thread(
            target=lambda: answer.append(_receive(self._child.stdout)), daemon=True
        )
        try:
            _send(self._child.stdin, pickle.dumps(call))
        except OSError:
            raise _Failed(f"{what}: the program that reads it could not be started.") from None
        reader.start()
        import psutil  # once the child is at work

        deadline, watched = time.monotonic() + seconds, psutil.Process(self._child.pid)
        while reader.is_alive():
            reader.join(_POLL_SECONDS)
            if time.monotonic() > deadline:
                raise _Failed(
                    f"{what} took longer than the {seconds:g} seconds this room allows: it may be "
                    "damaged; save it anew, or raise limits.seconds in the room's file."
                )
            try:
                used = watched.memory_info().rss / 1e6
            except psutil.Error:
                continue
            if used > memory_mb:
                raise _out_of_memory(what, memory_mb)
        return b"".join(answer)

    def _result(self, answer: bytes, what: str, memory_mb: int):
        if not answer:
            code = self._child.wait()
            raise _Failed(
                f"{what} made its decoder fail (exit {code}): save it anew and try again.",
                "damaged",
            )
        said = json.loads(answer)
        if said["is"] == "refused":
            raise LabError(said["sentence"], said["code"])
        if said["is"] == "memory":
            raise _out_of_memory(what, memory_mb)
        if said["is"] == "fault":
            raise LabError(
                f"{what} cannot be used: {said['sentence']}. Save it anew and try again.", "damaged"
            )
        return said["value"]


class _Failed(Exception):
    """The child is of no more use; a sentence, and the code of the finding it amounts to."""


def _out_of_memory(what: str, memory_mb: int) -> _Failed:
    return _Failed(
        f"{what} needs more than the {memory_mb} MB of memory this room allows: save it with fewer "
        "pixels, or raise limits.memory_mb in the room's file.",
        "too-large",
    )


def _send(pipe: BinaryIO, message: bytes) -> None:
    """A message, its length in front."""
    pipe.write(len(message).to_bytes(_LENGTH) + message)
    pipe.flush()


def _receive(pipe: BinaryIO) -> bytes:
    """The next message, b"" when there is none to come."""
    return pipe.read(int.from_bytes(pipe.read(_LENGTH)))


def _child() -> None:
    # The answers have standard output to themselves: whatever a library prints goes nowhere.
    out = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    for name in sys.argv[1:]:
        importlib.import_module(name)
    while request := _receive(sys.stdin.buffer):
        _send(out, json.dumps(_said(*pickle.loads(request))).encode())
    os._exit(0)


def _said(module: str, name: str, args: tuple, memory_mb: int) -> dict:
    """What comes of a call: a value, or why there is none."""
    _limit_memory(memory_mb)
    try:
        return {"is": "done", "value": getattr(importlib.import_module(module), name)(*args)}
    except LabError as refusal:
        return {"is": "refused", "sentence": str(refusal), "code": refusal.code}
    except MemoryError:
        return {"is": "memory"}
    except Exception as fault:
        words = " ".join(str(fault).split()).rstrip(".")
        return {"is": "fault", "sentence": ": ".join(filter(None, (type(fault).__name__, words)))}


def _limit_memory(memory_mb: int) -> None:
    if not sys.platform.startswith("linux"):
        return
    import resource

    with open("/proc/self/statm") as sizes:
        mapped = int(sizes.read().split()[0]) * resource.getpagesize()
    most = resource.getrlimit(resource.RLIMIT_AS)[1]
    resource.setrlimit(resource.RLIMIT_AS, (mapped + memory_mb * 1_000_000, most))
