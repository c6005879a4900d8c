"""Average every file of a folder by libvips: ``python -m tests.bench.averages FOLDER PROCESSES``."""

import sys
from multiprocessing import Pool
from pathlib import Path

import pyvips


def average(file: Path) -> float:
    """The mean of all samples, the file read from top to bottom."""
    return pyvips.Image.new_from_file(str(file), access="sequential").avg()


def main(folder: str, processes: str) -> None:
    """Average them all."""
    files = sorted(Path(folder).iterdir())
    with Pool(int(processes)) as pool:
        print(sum(pool.imap_unordered(average, files)) / len(files))


if __name__ == "__main__":
    main(*sys.argv[1:])
