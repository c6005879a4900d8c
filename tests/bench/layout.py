"""How little paper layouts take on published problems and on a day's jobs, beside rectpack's; how fast a
roll of prints is written, beside libvips."""

import argparse
from random import Random
from statistics import mean
from time import perf_counter

import rectpack

from labkit.geometry.length import Length, inches, millimetres
from labkit.geometry.packing import Piece, Roll, pack
from tests.bench.joined import measure_joined
from tests.bench.measured import table, verdict
from tests.geometry.packing.published import OPTIMA, Problem, problems

MOST_OVER = {0.5: 0.025, 2.0: 0.017}
"""By how much, on the mean of the published problems, a layout with any number of stages may be longer
than the optimum, by the seconds it takes."""
MOST_OVER_BEST, DAY_SECONDS = 0.05, 0.2
"""By how much a day's job in two stages may be longer than the best known, and in how many seconds."""
SIZES = "4x6 5x7 6x8 8x10 8x12 8.5x11 11x14 11x17 12x12 12x16 12x18 13x19 16x20 16x24 18x24 20x24 20x30 24x36"
"""What a day's jobs are made of, in inches: stocked sizes, common practice, no source."""
ROLLS = (17, 24, 36, 44)
SIDE, GAP = millimetres(5), inches("3/8")
"""What the printer does not reach on either side of a roll, and the gap that holds a slug line."""


def add_options(parser: argparse.ArgumentParser) -> None:
    """Which of it, and how many jobs."""
    parser.add_argument("--rounds", type=int, default=3, help="how often a roll is written (3)")
    parser.add_argument(
        "--only", choices=("published", "day", "joined"), help="measure one of the three"
    )
    parser.add_argument("--jobs", type=int, default=20, help="a day's jobs (20)")
    parser.add_argument("--long", type=float, default=5, help="seconds for the best known (5)")
    parser.add_argument("--seed", type=int, default=0, help="another search and other jobs (0)")


def measure(asked: argparse.Namespace) -> None:
    """Measure what is asked for and print the tables; the two means come last."""
    if asked.only in (None, "joined"):
        measure_joined(asked.rounds)
    if asked.only in (None, "day"):
        _measure_day(asked.jobs, asked.long, asked.seed)
    if asked.only in (None, "published"):
        _measure_published(asked.seed)


# Published problems


def _measure_published(seed: int) -> None:
    ways = [(None, 0.5), (None, 2.0), (3, 2.0), (2, 2.0)]
    excess: dict[object, dict[str, list[float]]] = {}
    longest: dict[object, float] = {}
    for problem in problems():
        for way in (*ways, "rectpack"):
            start = perf_counter()
            used = _best_of_rectpack(problem) if way == "rectpack" else _used(problem, way, seed)
            longest[way] = max(longest.get(way, 0), perf_counter() - start)
            of_set = excess.setdefault(way, {}).setdefault(problem.name[:2], [])
            of_set.append(problem.excess(used))
    heads = [f"{stages or 'any'} stages, {seconds:g} s" for stages, seconds in ways]
    rows = [
        (name, *(f"{mean(excess[way][name]):.2%}" for way in (*ways, "rectpack")))
        for name in OPTIMA
    ]
    means = {way: mean(mean(each) for each in excess[way].values()) for way in (*ways, "rectpack")}
    rows.append(("mean", *(f"{each:.2%}" for each in means.values())))
    rows.append(("longest search", *(f"{longest[way]:.2f} s" for way in means)))
    print("Longer than the optimum; rectpack's best has no straight-cut rule.")
    print(table(("set", *heads, "rectpack"), rows))
    told = []
    for seconds, most in MOST_OVER.items():
        over = means[None, seconds]
        told.append(f"{over:.2%} at {seconds:g} s (at most {most:.1%}: {verdict(over <= most)})")
    print(f"Mean excess, any number of stages: {', '.join(told)}")


def _used(problem: Problem, way: tuple[int | None, float], seed: int) -> float:
    stages, seconds = way
    return float(problem.pack(stages=stages, seconds=seconds, seed=seed).used)


def _best_of_rectpack(problem: Problem) -> float:
    """The shortest of all its variants on an open strip, and of MaxRects on strips ever longer."""
    sorts = [getattr(rectpack, name) for name in dir(rectpack) if name.startswith("SORT_")]
    sorts.remove(rectpack.SORT_NONE)
    open_end = 10 * problem.optimum
    packed = (
        _rectpack(problem, algorithm, sort, open_end)
        for algorithm in _variants("MaxRects", "Skyline", "Guillotine")
        for sort in sorts
    )
    best = min(used for used in packed if used is not None)
    for height in range(problem.optimum, best):
        for algorithm in _variants("MaxRects"):
            if any(_rectpack(problem, algorithm, sort, height) for sort in sorts):
                return height
    return best


def _variants(*families: str) -> list[type]:
    return [getattr(rectpack, name) for name in dir(rectpack) if name.startswith(families)]


def _rectpack(problem: Problem, algorithm: type, sort, height: int) -> int | None:
    """What it takes of a strip so long; None if not all fits."""
    packer = rectpack.newPacker(pack_algo=algorithm, sort_algo=sort, rotation=True)
    packer.add_bin(problem.width, height)
    for size in problem.sizes:
        packer.add_rect(*size)
    packer.pack()
    placed = packer.rect_list()
    if len(placed) < len(problem.sizes):
        return None
    return max(y + high for _, _, y, _, high, _ in placed)


# A day's jobs


def _measure_day(jobs: int, long: float, seed: int) -> None:
    rows, over_two, over_any, slowest = [], [], [], 0.0
    for number in range(jobs):
        width, pieces = _job(Random(1000 * seed + number))
        roll = Roll(inches(width) - SIDE * 2)
        start = perf_counter()
        quick = pack(pieces, roll, gap=GAP, seconds=DAY_SECONDS, seed=seed)
        slowest = max(slowest, perf_counter() - start)
        two, three, some = (_length(pieces, roll, stages, long, seed) for stages in (2, 3, None))
        two = min(two, quick.used)
        best = min(two, three, some)
        over_two.append(float(quick.used / two - 1))
        over_any.append(float(quick.used / best - 1))
        rows.append(
            (
                f"{len(pieces)} prints on {width} in",
                *(f"{float(each):.2f} in" for each in (quick.used, two, best, quick.bound)),
                f"{over_two[-1]:.1%}",
                f"{over_any[-1]:.1%}",
                "yes" if quick.proven else "",
            )
        )
    rows.append(("mean", "", "", "", "", f"{mean(over_two):.1%}", f"{mean(over_any):.1%}", ""))
    head = (f"two stages, {DAY_SECONDS:g} s", "best of two", "best of any", "bound")
    print(f"A day's jobs, with a gap of {GAP.inch_text()}; the best known of {long:g} s each.")
    print(table(("job", *head, "over two", "over any", "proven"), rows))
    for what, over in (("two stages", over_two), ("any number", over_any)):
        within = sum(each <= MOST_OVER_BEST for each in over)
        print(
            f"Over the best known with {what}: {mean(over):.1%} on the mean, {max(over):.1%} at most, "
            f"{within} of {jobs} within {MOST_OVER_BEST:.0%}: {verdict(within == jobs)}"
        )
    print(f"The longest search took {slowest:.2f} s.")
    _measure_few(jobs, seed)


def _measure_few(jobs: int, seed: int) -> None:
    """Whether layouts of up to six prints are proven, for every number of stages."""
    proven, slowest = [], 0.0
    for number in range(jobs):
        width, pieces = _job(Random(1000 * seed + number))
        for stages in (2, 3, None):
            start = perf_counter()
            roll = Roll(inches(width) - SIDE * 2)
            few = pack(pieces[:6], roll, gap=GAP, stages=stages, seconds=DAY_SECONDS)
            slowest = max(slowest, perf_counter() - start)
            proven.append(few.proven)
    print(
        f"Of up to 6 prints in 2, 3 or any stages {sum(proven)} of {len(proven)} layouts are proven: "
        f"{verdict(all(proven))}; the longest took {slowest:.2f} s.\n"
    )


def _length(
    pieces: list[Piece], roll: Roll, stages: int | None, seconds: float, seed: int
) -> Length:
    return pack(pieces, roll, gap=GAP, stages=stages, seconds=seconds, seed=seed).used


def _job(chance: Random) -> tuple[int, list[Piece]]:
    """A roll's width and 5 to 30 prints of stocked sizes that it takes."""
    width = chance.choice(ROLLS)
    sizes = [[inches(side) for side in size.split("x")] for size in SIZES.split()]
    sizes = [size for size in sizes if size[0] <= inches(width) - SIDE * 2]
    count = chance.randint(5, 30)
    return width, [Piece(f"{n}", *chance.choice(sizes)) for n in range(1, count + 1)]
