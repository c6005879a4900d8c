"""What the tests of the guarded child run in it, good and bad, and stand-ins for it; light to import."""

import inspect
import json
import os
import sys
import time

from labkit.errors import LabError
from labkit.files.child.guarded import Guarded


class Here:
    """Instead of a child: what it is asked runs in this process."""

    def __init__(self, *preload):
        pass

    def __enter__(self):
        return self

    def __exit__(self, *_):
        pass

    def run(self, function, *given, hear=None, **_):
        value = function(*given)
        while inspect.isgenerator(value):
            try:
                hear(json.loads(json.dumps(next(value))))
            except StopIteration as end:
                value = end.value
        return json.loads(json.dumps(value))


_IDLE: list[Guarded] = []


class Warm:
    """Instead of a child of its own: one that other tests have used before, which need not be started.

    It may take as long as it likes, so that a busy machine fails no test.
    """

    def __init__(self, *preload):
        self._child = None

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.end()

    def end(self):
        if self._child:
            _IDLE.append(self._child)
        self._child = None

    def run(self, function, *given, seconds, **more):
        if self._child is None:
            self._child = _IDLE.pop() if _IDLE else Guarded("labkit.job.making")
        return self._child.run(function, *given, seconds=max(seconds, 600), **more)


class Slow(Guarded):
    """A child that takes some seconds for whatever it is asked, so that a limit of none is always passed."""

    def run(self, function, *given, **limits):
        return super().run(take_a_while, **limits)


def double(number, times=2):
    return {"answer": number * times, "child": os.getpid()}


def say_then(then: str):
    yield "first"
    yield "second"
    if then == "die":
        os._exit(3)
    if then == "refuse":
        raise LabError("it is refused.", "damaged")
    return "last"


def loop_for_ever():
    while True:
        pass


def take_a_while():
    time.sleep(3)
    return "done at last"


def variables():
    return sorted(os.environ)


def most_memory() -> int:
    import resource

    return resource.getrlimit(resource.RLIMIT_AS)[0]


def eat_memory():
    eaten = []
    while True:
        eaten.append(bytearray(10_000_000))


def sit_on_memory(megabytes: int):
    kept = bytearray(megabytes * 1_000_000)
    time.sleep(60)
    return len(kept)


def hold(megabytes: int):
    kept = bytearray(megabytes * 1_000_000)
    time.sleep(0.3)
    return len(kept)


def stop_at_once(code: int):
    os._exit(code)


def print_and_return():
    print("a library's chatter")
    os.write(1, b"more of it, straight to the descriptor")
    print("and complaints", file=sys.stderr)
    return "the answer"


def refuse():
    raise LabError("the sheet is too small: choose a larger one.")


def refuse_damage():
    raise LabError("half of the picture is lost: copy it again.", "damaged")


def stop_now():
    os._exit(3)


def fail():
    raise KeyError("no such\n  table.")


def fail_without_words():
    raise ValueError


def run_out_of_memory():
    raise MemoryError


def not_json():
    return {1, 2}


def write_then_wait(path: str):
    with open(path, "wb") as file:
        file.write(b"half")
        file.flush()
        time.sleep(60)
