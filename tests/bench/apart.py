"""How far two pictures are apart: ``python -m tests.bench.apart ONE OTHER``.

Prints the mean, in levels of 255.
"""

import sys

import pyvips


def main(*files: str) -> None:
    """Compare them from top to bottom, neither held in memory."""
    one, other = (pyvips.Image.new_from_file(file, access="sequential") for file in files)
    if (one.width, one.height, one.bands) != (other.width, other.height, other.bands):
        raise SystemExit(f"{files} are not of one size.")
    print((one - other).abs().avg() / (257 if one.format == "ushort" else 1))


if __name__ == "__main__":
    main(*sys.argv[1:])
