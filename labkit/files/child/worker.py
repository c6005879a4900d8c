"""The guarded child's own side: calls come in, and what comes of them goes out."""

import importlib
import inspect
import json
import os
import pickle
import sys
import threading
from queue import SimpleQueue
from typing import BinaryIO

from labkit.errors import LabError

_LENGTH = 8
"""Bytes in which the length of a message is told."""


def send(pipe: BinaryIO, message: bytes) -> None:
    """A message, its length in front."""
    pipe.write(len(message).to_bytes(_LENGTH) + message)
    pipe.flush()


def receive(pipe: BinaryIO) -> bytes:
    """The next message, b"" when there is none to come."""
    return pipe.read(int.from_bytes(pipe.read(_LENGTH)))


def answer_calls() -> None:
    """Answer until the parent ends; what the arguments name is imported first."""
    # The answers have standard output to themselves: whatever a library prints goes nowhere.
    out = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    calls: SimpleQueue[bytes] = SimpleQueue()
    threading.Thread(target=_take_calls, args=(calls,), daemon=True).start()
    try:
        for name in sys.argv[1:]:
            importlib.import_module(name)
    except Exception as fault:
        _say(out, {"is": "unready", "sentence": _in_words(fault)})
        os._exit(1)
    _say(out, {"is": "ready"})
    try:
        while True:
            _work(out, *pickle.loads(calls.get()))
    finally:
        os._exit(1)  # without waiting for the thread that takes calls


def _take_calls(calls: "SimpleQueue[bytes]") -> None:
    """Calls as they come; where they end the parent has ended, and nobody waits for an answer."""
    while call := receive(sys.stdin.buffer):
        calls.put(call)
    os._exit(0)


def _work(out: BinaryIO, module: str, name: str, args: tuple, memory_mb: int) -> None:
    """Say what comes of a call: values, or why there is none."""
    _limit_memory(memory_mb)
    try:
        value = getattr(importlib.import_module(module), name)(*args)
        while inspect.isgenerator(value):
            try:
                _say(out, {"is": "part", "value": next(value)})
            except StopIteration as end:
                value = end.value
        said = {"is": "done", "value": value}
    except LabError as refusal:
        code, about = refusal.code, refusal.about
        said = {"is": "refused", "sentence": refusal.rest, "code": code, "about": about}
    except MemoryError:
        said = {"is": "memory"}
    except Exception as fault:
        said = {"is": "fault", "sentence": _in_words(fault)}
    _say(out, said)


def _say(out: BinaryIO, message: dict) -> None:
    send(out, json.dumps(message).encode())


def _in_words(fault: Exception) -> str:
    words = " ".join(str(fault).split()).rstrip(".")
    return ": ".join(filter(None, (type(fault).__name__, words)))


def _limit_memory(memory_mb: int) -> None:
    if not sys.platform.startswith("linux"):
        return
    import resource

    with open("/proc/self/statm") as sizes:
        mapped = int(sizes.read().split()[0]) * resource.getpagesize()
    most = resource.getrlimit(resource.RLIMIT_AS)[1]
    resource.setrlimit(resource.RLIMIT_AS, (mapped + memory_mb * 1_000_000, most))
