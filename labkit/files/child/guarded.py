"""Run whatever reads a stranger's file in a child process with a limit on time and memory.

A damaged or hostile picture can make a decoder hang, eat all memory or die. Here it takes only the
child with it: the parent hears one sentence. What comes back is plain JSON, never pixels and never
an object.
"""

import atexit
import json
import os
import pickle
import sys
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from functools import cache
from queue import Empty, SimpleQueue
from typing import BinaryIO, Protocol

from labkit.errors import LabError, system_reason
from labkit.files.child.search_path import trusted_path
from labkit.files.child.worker import receive, send

_PROGRAM = """
import json, sys
sys.path += [each for each in json.loads(sys.argv.pop(1)) if each not in sys.path]
from labkit.files.child.worker import answer_calls
answer_calls()
"""
"""Started alone (-I): no folder of the moment and no variable of Python's own leads it to other modules."""
_POLL_SECONDS = 0.05
_MOST_CALLS = 50
"""A decoder that loses a little memory on each file loses no more than so many times that."""
_SETTINGS = {"OPENBLAS_NUM_THREADS": "1"}
"""No linear algebra is done in the child, so its numpy need not make ready for it."""


class Child(Protocol):
    """What a function can be called in: one child, or a crew of them."""

    def run(
        self,
        function: Callable,
        *args,
        seconds: float,
        memory_mb: int,
        about: str = "",
        hear: Callable | None = None,
    ):
        """See :meth:`Guarded.run`."""


class OutOfMemory(LabError):
    """More memory was needed than there may be."""


class Guarded:
    """A child process that answers calls, one after another; start it early and its imports cost no time.

    ``preload`` names modules the child imports while the parent is still busy. Use it as a context
    manager: leaving the block ends the child, whatever happened. A child that failed, and one that has
    answered ``_MOST_CALLS``, is replaced by a fresh one at the next call; one that cannot be started is
    told of then. It ends by itself when its parent is gone, however that came.
    """

    def __init__(self, *preload: str):
        self._preload = preload
        self._one_call = threading.Lock()
        self._start()

    def _start(self) -> None:
        import subprocess

        self._calls, self._is_ready, self._why_not = 0, False, ""
        kept = {name: each for name, each in os.environ.items() if not name.startswith("PYTHON")}
        alone = ["-I", *(("-X", "utf8") if sys.flags.utf8_mode else ())]
        try:
            self._child = subprocess.Popen(
                [
                    sys.executable,
                    *alone,
                    "-c",
                    _PROGRAM,
                    json.dumps(trusted_path()),
                    *self._preload,
                ],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                env=kept | _SETTINGS,
            )
        except OSError as error:
            self._child, self._why_not = None, system_reason(error)
            return
        self._heard: SimpleQueue[bytes] = SimpleQueue()
        listening = (self._child.stdout, self._heard)
        self._ear = threading.Thread(target=_pass_on, args=listening, daemon=True)
        self._ear.start()

    def end(self) -> None:
        """End the child; the next call starts another."""
        if self._child is None:
            return
        self._child.kill()
        self._child.wait()
        self._ear.join()
        for pipe in (self._child.stdin, self._child.stdout):
            with suppress(OSError):  # what was not yet sent to it
                pipe.close()
        self._child = None

    def __enter__(self) -> "Guarded":
        return self

    def __exit__(self, *_):
        self.end()

    def run(
        self,
        function: Callable,
        *args,
        seconds: float,
        memory_mb: int,
        share_mb: int | None = None,
        about: str = "",
        hear: Callable | None = None,
    ):
        """Call a module-level ``function`` in the child and return what it returns, through JSON.

        ``about`` names the file in the sentences. Of a generator function each value that it yields is
        given to ``hear`` at once, though it may fail later. ``share_mb`` is what the child may use of
        ``memory_mb`` while others are at work, all of it if None. LabError with the function's own
        sentence if it refused, or one that says that time or memory ran out (OutOfMemory), that the
        decoder died, or that no child can be started.
        """
        with self._one_call:
            if self._child is None or self._calls >= _MOST_CALLS or self._child.poll() is not None:
                self.end()
                self._start()
            self._calls += 1
            try:
                self._ask((function.__module__, function.__qualname__, args, memory_mb))
                deadline = time.monotonic() + seconds
                while True:
                    message = self._message(deadline, share_mb or memory_mb)
                    if message["is"] != "part":
                        break
                    if hear:
                        hear(message["value"])
            except _Late:
                self.end()
                raise _refusal(
                    about,
                    f"took longer than the {seconds:g} seconds this room allows: it may be damaged; save "
                    "it anew, or raise limits.seconds in the room's file.",
                ) from None
            except _Died as death:
                self.end()
                told = f"made its decoder fail ({death}): save it anew and try again."
                raise _refusal(about, told, "damaged") from None
            except MemoryError:
                self.end()
                raise _out_of_memory(about, memory_mb) from None
            except BaseException:
                self.end()
                raise
        return _value(message, about, memory_mb)

    def _ask(self, call: tuple) -> None:
        if self._child is not None:
            with suppress(OSError):  # it has ended, which is heard of next
                send(self._child.stdin, pickle.dumps(call))

    def _message(self, deadline: float, most_mb: int) -> dict:
        """The next that the child says of a call."""
        while True:
            if self._child is None:
                raise _not_started(self._why_not)
            left = deadline - time.monotonic()
            try:
                heard = self._heard.get(timeout=max(0, min(left, _POLL_SECONDS)))
            except Empty:
                self._watch(deadline, most_mb)
                continue
            if not heard:
                code = f"exit {self._child.wait()}"
                raise _Died(code) if self._is_ready else _not_started(code)
            message = json.loads(heard)
            if message["is"] == "unready":
                raise _not_started(message["sentence"])
            if message["is"] != "ready":
                return message
            self._is_ready = True

    def _watch(self, deadline: float, most_mb: int) -> None:
        import psutil  # once the child is at work

        if time.monotonic() > deadline:
            raise _Late
        with suppress(psutil.Error):
            if psutil.Process(self._child.pid).memory_info().rss > most_mb * 1e6:
                raise MemoryError


class _Late(Exception):
    """The time is over."""


class _Died(Exception):
    """The child ended without an answer."""


def resident_child() -> Guarded:
    """The child that stays with this process once it was needed, for calls of a moment."""
    return _resident(os.getpid())


@cache
def _resident(_: int) -> Guarded:
    child = Guarded("labkit.files.header.reading")
    atexit.register(child.end)
    return child


def _value(message: dict, about: str, memory_mb: int):
    if message["is"] == "refused":
        raise LabError(message["sentence"], message["code"], about=message["about"])
    if message["is"] == "memory":
        raise _out_of_memory(about, memory_mb)
    if message["is"] == "fault":
        told = f"cannot be used: {message['sentence']}. Save it anew and try again."
        raise _refusal(about, told, "damaged")
    return message["value"]


def _refusal(about: str, told: str, code: str = "unreadable", kind: type = LabError) -> LabError:
    return kind(told, code, about=about) if about else kind(f"the file {told}", code)


def _out_of_memory(about: str, memory_mb: int) -> LabError:
    told = (
        f"needs more than the {memory_mb} MB of memory this room allows: save it with fewer pixels, or "
        "raise limits.memory_mb in the room's file."
    )
    return _refusal(about, told, "too-large", OutOfMemory)


def _not_started(why: str) -> LabError:
    return LabError(
        f"the program that reads pictures could not be started ({why}): close other programs and try "
        "again, or install what README names again.",
        "not-looked-at",
    )


def _pass_on(pipe: BinaryIO, heard: "SimpleQueue[bytes]") -> None:
    """Each message as it comes, and b"" after the last."""
    while message := receive(pipe):
        heard.put(message)
    heard.put(b"")
