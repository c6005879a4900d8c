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
        """Rows ``first`` to ``last`` of all that there are.

        The bands that nobody makes yet are made before any that another thread makes is waited for.
        """
        wanted = range(first // self._high, -(-last // self._high))
        claimed = [(number, *self._claim(number)) for number in wanted]
        for number, band, is_new in claimed:
            if is_new:
                self._fill(band, number)
        parts = []
        for number, band, _ in claimed:
            top = number * self._high
            parts.append(band.result()[max(0, first - top) : last - top])
        return parts[0] if len(parts) == 1 else np.concatenate(parts)

    def _claim(self, number: int) -> tuple[Future[np.ndarray], bool]:
        """A band, made or yet to come, and whether the caller is the one to make it."""
        with self._lock:
            band = self._kept.get(number)
            is_new = band is None
            if is_new:
                band = self._kept[number] = Future()
                while len(self._kept) > self._most:
                    self._kept.popitem(last=False)
        return band, is_new

    def _fill(self, band: Future[np.ndarray], number: int) -> None:
        top = number * self._high
        try:
            band.set_result(self._make(top, min(self._count, top + self._high)))
        except BaseException as fault:
            band.set_exception(fault)
