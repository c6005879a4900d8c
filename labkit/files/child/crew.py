"""Several guarded children that share one limit on memory."""

from collections.abc import Callable
from queue import SimpleQueue
from threading import Lock

from labkit.files.child.guarded import Guarded, OutOfMemory


class Crew:
    """So many guarded children, each at work on one call; threads may call at once.

    Each may use its share of the memory; a call that needs more is made again when all others are
    done, with the whole. Use it as a context manager, like :class:`Guarded`.
    """

    def __init__(self, count: int, *preload: str):
        self._children = [Guarded(*preload) for _ in range(count)]
        self._idle: SimpleQueue[Guarded] = SimpleQueue()
        for child in self._children:
            self._idle.put(child)
        self._one_alone = Lock()

    def __enter__(self) -> "Crew":
        return self

    def __exit__(self, *_):
        for child in self._children:
            child.end()

    def run(self, function: Callable, *args, memory_mb: int, **more):
        """Call a function in a child that is idle; as :meth:`Guarded.run` has it."""
        count = len(self._children)
        child = self._idle.get()
        try:
            share = memory_mb // count
            return child.run(function, *args, memory_mb=memory_mb, share_mb=share, **more)
        except OutOfMemory:
            if count == 1:
                raise
        finally:
            self._idle.put(child)
        return self._run_alone(function, *args, memory_mb=memory_mb, **more)

    def _run_alone(self, function: Callable, *args, **more):
        with self._one_alone:
            all_idle = [self._idle.get() for _ in self._children]
            try:
                for child in all_idle:
                    child.end()  # what they hold counts as well
                return all_idle[0].run(function, *args, **more)
            finally:
                for child in all_idle:
                    self._idle.put(child)
