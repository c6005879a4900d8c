"""Rows made a band at a time, once for all the threads that ask for some of them."""

from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import Future
from threading import Lock

import numpy as np


class Bands:
    """Rows made in bands of so many, which begin at the same rows whoever asks; each is made once for all who
    ask for some of it about then."""

    def __init__(self, make: Callable[[int, int], np.ndarray], high: int, count: int, kept: int):
        self._make, self._high, self._count, self._most = make, high, count, kept
        self._kept: OrderedDict[int, Future[np.ndarray]] = OrderedDict()
        self._lock = Lock()

    def rows(self, first: int, last: int) -> np.ndarray:
        """Rows ``first`` to ``last`` of all that there are."""
        parts = []
        for number in range(first // self._high, -(-last // self._high)):
            top = number * self._high
            parts.append(self._band(number)[max(0, first - top) : last - top])
        return parts[0] if len(parts) == 1 else np.concatenate(parts)

    def _band(self, number: int) -> np.ndarray:
        with self._lock:
            band = self._kept.get(number)
            is_new = band is None
            if is_new:
                band = self._kept[number] = Future()
                while len(self._kept) > self._most:
                    self._kept.popitem(last=False)
        if is_new:
            top = number * self._high
            try:
                band.set_result(self._make(top, min(self._count, top + self._high)))
            except BaseException as fault:
                band.set_exception(fault)
        return band.result()
