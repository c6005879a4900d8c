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

from labkit.errors import LabError

_POLL_SECONDS = 0.05
_SETTINGS = {"OPENBLAS_NUM_THREADS": "1"}
"""No linear algebra is done in the child, so its numpy need not make ready for it."""


class Guarded:
    """A child process that waits for one call; start it early and its imports cost no time.

    ``preload`` names modules the child imports while the parent is still busy. Use it as a context
    manager: leaving the block ends the child, whatever happened.
    """

    def __init__(self, *preload: str):
        import subprocess

        self._child = subprocess.Popen(
            [sys.executable, "-c", "from labkit.files.guarded import _child; _child()", *preload],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=os.environ | _SETTINGS | {"PYTHONPATH": os.pathsep.join(filter(None, sys.path))},
        )

    def __enter__(self) -> "Guarded":
        return self

    def __exit__(self, *_):
        self._child.kill()
        self._child.wait()
        self._child.stdin.close()
        self._child.stdout.close()

    def run(
        self, function: Callable, *args, seconds: float, memory_mb: int, what: str = "the file"
    ):
        """Call a module-level ``function`` in the child and return what it returns, through JSON.

        ``what`` names the file in the sentences. LabError with the function's own sentence if it
        refused, or one that says that time or memory ran out, or that the decoder died.
        """
        call = (function.__module__, function.__qualname__, args, memory_mb)
        answer: list[bytes] = []
        reader = threading.Thread(
            target=lambda: answer.append(self._child.stdout.read()), daemon=True
        )
        try:
            self._child.stdin.write(pickle.dumps(call))
            self._child.stdin.close()
        except OSError:
            raise LabError(f"{what}: the program that reads it could not be started.") from None
        reader.start()
        import psutil  # once the child is at work

        deadline, watched = time.monotonic() + seconds, psutil.Process(self._child.pid)
        while reader.is_alive():
            reader.join(_POLL_SECONDS)
            if time.monotonic() > deadline:
                raise LabError(
                    f"{what} took longer than the {seconds:g} seconds this room allows: it may be "
                    "damaged; save it anew, or raise limits.seconds in the room's file."
                )
            try:
                used = watched.memory_info().rss / 1e6
            except psutil.Error:
                continue
            if used > memory_mb:
                raise _out_of_memory(what, memory_mb)
        return self._result(b"".join(answer), what, memory_mb)

    def _result(self, answer: bytes, what: str, memory_mb: int):
        if not answer:
            code = self._child.wait()
            raise LabError(
                f"{what} made its decoder fail (exit {code}): save it anew and try again."
            )
        said = json.loads(answer)
        if said["is"] == "refused":
            raise LabError(said["sentence"])
        if said["is"] == "memory":
            raise _out_of_memory(what, memory_mb)
        if said["is"] == "fault":
            raise LabError(
                f"{what} cannot be used: {said['sentence']}. Save it anew and try again."
            )
        return said["value"]


def guarded(function: Callable, *args, seconds: float, memory_mb: int, what: str = "the file"):
    """Call ``function`` in a guarded child: :class:`Guarded` for a single call."""
    with Guarded() as child:
        return child.run(function, *args, seconds=seconds, memory_mb=memory_mb, what=what)


def _out_of_memory(what: str, memory_mb: int) -> LabError:
    return LabError(
        f"{what} needs more than the {memory_mb} MB of memory this room allows: save it with fewer "
        "pixels, or raise limits.memory_mb in the room's file."
    )


def _child() -> None:
    # The answer has standard output to itself: whatever a library prints goes nowhere.
    out = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    for name in sys.argv[1:]:
        importlib.import_module(name)
    request = sys.stdin.buffer.read()
    if not request:
        return
    module, name, args, memory_mb = pickle.loads(request)
    _limit_memory(memory_mb)
    try:
        value = getattr(importlib.import_module(module), name)(*args)
        said = {"is": "done", "value": value}
    except LabError as refusal:
        said = {"is": "refused", "sentence": str(refusal)}
    except MemoryError:
        said = {"is": "memory"}
    except Exception as fault:
        words = " ".join(str(fault).split()).rstrip(".")
        sentence = ": ".join(filter(None, (type(fault).__name__, words)))
        said = {"is": "fault", "sentence": sentence}
    out.write(json.dumps(said).encode())
    out.flush()
    os._exit(0)


def _limit_memory(memory_mb: int) -> None:
    if not sys.platform.startswith("linux"):
        return
    import resource

    with open("/proc/self/statm") as sizes:
        mapped = int(sizes.read().split()[0]) * resource.getpagesize()
    size = mapped + memory_mb * 1_000_000
    resource.setrlimit(resource.RLIMIT_AS, (size, size))
