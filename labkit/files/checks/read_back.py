"""Whether the strips on the disk are those that were written: the writer's own reading back."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Lock

from labkit.files.checks.findings import Finding, tell
from labkit.files.header.tiff_reader import open_tiff
from labkit.files.writing.packing import PACKINGS
from labkit.files.writing.tiff import THREADS, Sums, Written


def disk_findings(path: Path, written: Written) -> Iterator[Finding]:
    """A blank strip's stored bytes are compared with the known blank strip; only others are decoded, after
    which their stored bytes are compared too: the code that ends a strip changes no pixel."""
    with (
        open_tiff(path) as tiff,
        open(path, "rb") as file,
        ThreadPoolExecutor(THREADS) as pool,
    ):
        page = tiff.pages[0]
        packed = PACKINGS[written.packing]
        one_at_a_time = Lock()
        most = page.rowsperstrip * page.imagewidth * page.samplesperpixel * page.dtype.itemsize

        def holds(offset: int, count: int, expected: Sums | None) -> bool:
            import imagecodecs

            with one_at_a_time:
                file.seek(offset)
                stored = file.read(count)
            if expected is None:
                return stored in written.blank
            try:
                raw = packed.decode(stored, most)
            except ValueError:
                return False
            return expected == tuple(map(imagecodecs.deflate_crc32, (raw, stored)))

        strips = len(page.dataoffsets) == len(written.sums)
        if strips and all(pool.map(holds, page.dataoffsets, page.databytecounts, written.sums)):
            return
    yield tell("not-as-written")
