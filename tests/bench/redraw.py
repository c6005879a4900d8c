"""What Python itself takes to answer a slider: ``python -m tests.bench.redraw``.

Prints two figures in milliseconds, medians of 400: all that a move sets off in an app, and the
drawing in it alone.
"""

from collections.abc import Callable
from statistics import median
from time import perf_counter

from labkit.drawing.sheet import draw_sheet
from labkit.lessons.margins import borders
from labkit.lessons.parts.placing import STEPS

MOVES = 400


def main() -> None:
    """Move the width by one step, again and again."""
    app = borders()
    wide = app.placing
    states = [wide.resized(wide.width - STEPS["in"] * (move % 40)) for move in range(MOVES)]
    print(_median_ms(app.put, states), _median_ms(draw_sheet, [each.layout for each in states]))


def _median_ms(called: Callable, values: list) -> float:
    times = []
    for value in values:
        start = perf_counter()
        called(value)
        times.append((perf_counter() - start) * 1000)
    return median(times)


if __name__ == "__main__":
    main()
