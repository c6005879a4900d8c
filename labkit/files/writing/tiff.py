"""Write a sheet as one flat TIFF, strip by strip: memory does not grow with the sheet."""

import math
import os
from collections import deque
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import numpy as np

from labkit.files.writing.packing import PACKINGS, Packing, differenced
from labkit.files.writing.printfile import SOFTWARE
from labkit.files.writing.strips import CHANNELS, SheetStrips, rows_per_strip
from labkit.geometry.raster import Raster

THREADS = 2
_CLASSIC_LIMIT = 2**32 - 2**20
"""TIFF 6.0, section 2: a classic file ends below 2**32 bytes; the rest is left for its directory."""


@dataclass(frozen=True)
class Written:
    """What a strip-wise writer knows of its own file: enough to prove the file on disk strip by strip.

    ``packing`` is one of :data:`~labkit.files.writing.packing.PACKINGS`. ``blank`` holds the stored forms
    of blank strips; ``sums`` has, for each strip, None where it is blank and else the checksums of its raw
    (differenced) bytes and of the stored ones.
    """

    packing: str
    blank: frozenset[bytes]
    sums: "tuple[Sums | None, ...]"


Sums = tuple[int, int]


@dataclass(frozen=True)
class Labels:
    """What the file says of itself besides its pixels: owner, title, a description, its profile."""

    owner: str
    title: str
    description: str
    profile: bytes


def write_strips(
    path: Path,
    strips: SheetStrips,
    raster: Raster,
    labels: Labels,
    packing: str = "LZW",
    threads: int = THREADS,
) -> Written:
    """Write the sheet to ``path``, which must not exist yet, and flush it to the disk.

    One page, RGB, chunky, of the depth of ``strips``, packed by one of
    :data:`~labkit.files.writing.packing.PACKINGS` with horizontal differencing. Strips are encoded ahead
    in ``threads``; a blank one is encoded once. A classic TIFF unless only a BigTIFF can hold it.
    """
    width, _ = raster.sheet
    picture_rows = raster.picture.height + 4 * rows_per_strip(width, strips.depth)
    most = picture_rows * width * CHANNELS * strips.depth // 8 * PACKINGS[packing].worst
    limit = None if most < _CLASSIC_LIMIT // 2 else _CLASSIC_LIMIT
    try:
        return _write(path, strips, raster, labels, packing, threads, bigtiff=False, limit=limit)
    except _OverLimit:
        path.unlink()
        return _write(path, strips, raster, labels, packing, threads, bigtiff=True, limit=None)


class _OverLimit(Exception):
    pass


def _write(
    path, strips, raster, labels, packing: str, threads: int, *, bigtiff: bool, limit: int | None
) -> Written:
    from tifffile import TiffWriter

    width, height = raster.sheet
    rows = rows_per_strip(width, strips.depth)
    packed = PACKINGS[packing]
    sums: list[Sums | None] = []
    blank: dict[int, bytes] = {}

    def encoded() -> Iterator[bytes]:
        total = 0
        for data, both_sums in _encode_all(strips, packed, height, rows, blank, threads):
            sums.append(both_sums)
            total += len(data)
            if limit is not None and total > limit:
                raise _OverLimit
            yield data

    ppi = raster.ppi
    with open(path, "xb") as file:
        with TiffWriter(file, bigtiff=bigtiff, byteorder="<") as tiff:
            tiff.write(
                encoded(),
                shape=(height, width, CHANNELS),
                dtype=strips.blank(0).dtype,
                photometric="rgb",
                planarconfig="contig",
                compression=packed.word,
                predictor=True,
                rowsperstrip=rows,
                resolution=(_rational(ppi), _rational(ppi)),
                resolutionunit="inch",
                iccprofile=labels.profile,
                description=labels.description.encode(),
                software=SOFTWARE,
                metadata=None,
                extratags=[
                    (269, 2, 0, labels.title.encode(), True),  # DocumentName
                    (274, 3, 1, 1, True),  # Orientation: as it lies
                    (315, 2, 0, labels.owner.encode(), True),  # Artist
                ],
            )
        file.flush()
        os.fsync(file.fileno())
    return Written(packing, frozenset(blank.values()), tuple(sums))


def _encode_all(
    strips: SheetStrips,
    packed: Packing,
    height: int,
    rows: int,
    blank: dict[int, bytes],
    threads: int,
) -> Iterator[tuple[bytes, Sums | None]]:
    """Each strip's stored bytes and checksums in order, a few encoded ahead in threads."""

    def make(top: int) -> tuple[bytes, Sums]:
        raw = differenced(strips.rows(top, min(height, top + rows)))
        stored = packed.encode(raw)
        return stored, (_checksum(raw), _checksum(stored))

    with ThreadPoolExecutor(threads) as pool:
        waiting: deque[Callable] = deque()
        for top in range(0, height, rows):
            bottom = min(height, top + rows)
            if strips.is_blank(top, bottom):
                high = bottom - top
                if high not in blank:
                    blank[high] = packed.encode(differenced(strips.blank(high)))
                waiting.append(lambda data=blank[high]: (data, None))
            else:
                waiting.append(pool.submit(make, top).result)
            if len(waiting) > 2 * threads:
                yield waiting.popleft()()
        while waiting:
            yield waiting.popleft()()


def _checksum(raw: np.ndarray | bytes) -> int:
    """The CRC-32 that zlib gives as well."""
    import imagecodecs

    return imagecodecs.deflate_crc32(raw)


def _rational(ppi: Fraction) -> tuple[int, int]:
    """The exact ratio where two 32-bit numbers hold it, else the nearest that they do."""
    most = 2**32 - 1
    if max(ppi.numerator, ppi.denominator) > most:
        ppi = ppi.limit_denominator(most // math.ceil(ppi))
    return ppi.numerator, ppi.denominator
