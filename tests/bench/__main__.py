"""``python -m tests.bench BENCH``: export, live, check, enlarged, layout."""

import argparse

from tests import bench
from tests.bench import check, enlarged, export, layout, live


def main() -> None:
    """Measure what is asked for."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.bench",
        description=bench.__doc__,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    benches = parser.add_subparsers(required=True, metavar="BENCH")
    for each in (export, live, check, enlarged, layout):
        added = benches.add_parser(each.__name__.rpartition(".")[2], help=each.__doc__)
        each.add_options(added)
        added.set_defaults(measure=each.measure)
    asked = parser.parse_args()
    asked.measure(asked)


if __name__ == "__main__":
    main()
