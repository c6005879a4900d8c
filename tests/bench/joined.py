"""How fast prints are joined on a roll 44 in wide and 30 ft long, beside libvips joining the same pictures.

``python -m tests.bench.joined FOLDER`` makes the prints; ``… MAKER JOB`` joins them and prints the seconds.
"""

import json
import shutil
import sys
from collections import defaultdict
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter

from tests.bench.measured import ROOT, ratio, run, table, verdict

LENGTH, TARGET, ALLOWANCE = 30 * 12, 2.5, 120
"""Inches of roll; how many times as fast as libvips is aimed at; MB besides the largest picture."""
SIZE, COUNT, DIFFERENT, PPI = (21, 29), 24, 4, 300
"""Inches of each print, two beside each other; how many there are, and how many of them differ."""
WAYS = {"in strips": 55, "in strips, turned": 40, "in one strip": 29 * 300}
"""Rows in a strip of each kind of print; the turned and those in one strip are unpacked whole."""


def measure_joined(rounds: int) -> None:
    """Join the prints ``rounds`` times each way, and print time and memory beside libvips'."""
    lines = []
    with TemporaryDirectory() as made:
        folder = Path(made)
        run("-m", "tests.bench.joined", folder, folder=folder)
        for way in WAYS:
            lines.append(_measure(folder, way, rounds))
            print(" ".join(lines[-1]), flush=True)
    heads = "prints;labkit s;LZW s;Deflate s;× LZW;× Deflate;;peak MB;bound;"
    head = tuple(heads.split(";"))
    print(
        f"{COUNT} prints joined on a roll 44 in wide, {LENGTH / 12:g} ft; beside libvips with each packing, "
        "Deflate at its quickest."
    )
    print(table(head, lines))
    print()


def _measure(folder: Path, way: str, rounds: int) -> tuple[str, ...]:
    files = sorted((folder / way).iterdir())
    out, found, peaks = folder / "out", defaultdict(list), []
    told = ["layout", *files, "--roll", "44in", "--paper", "pearl 260", "--one-file"]
    for _ in range(rounds):
        shutil.rmtree(out, ignore_errors=True)
        words = [*told, "--write", out, "--job", "7"]
        done = run("-m", "labkit", *words, folder=folder)
        found["labkit"].append(done.seconds)
        peaks.append(done.peak)
        (ours,) = out.glob("*.tif")
        job = json.dumps({"ours": str(ours), "files": [str(file) for file in files]})
        for packing in ("lzw", "deflate"):
            found[packing].append(
                run("-m", "tests.bench.joined", packing, job, folder=folder).seconds
            )
    picture = SIZE[0] * SIZE[1] * PPI**2 * 3 / 1e6
    bound = picture + ALLOWANCE
    faster = [ratio(found[packing], found["labkit"]) for packing in ("lzw", "deflate")]
    return (
        way,
        *(f"{median(found[maker]):.1f}" for maker in ("labkit", "lzw", "deflate")),
        *(f"{each:.2f}" for each in faster),
        verdict(min(faster) >= TARGET),
        f"{max(peaks):.0f}",
        f"{bound:.0f}",
        verdict(max(peaks) <= bound),
    )


# In processes of their own


def make_prints(folder: Path) -> None:
    """The prints: a few different ones, each under several names, so that no two are one file."""
    import numpy as np
    import tifffile
    from PIL import Image

    with Image.open(ROOT / "images" / "harbour.jpg") as small:
        profile = small.info["icc_profile"]
        large = np.asarray(small.convert("RGB").resize([side * PPI for side in SIZE]))
    names = [f"Ada-Brook_Print-{number:02}_21x29in.tif" for number in range(1, COUNT + 1)]
    for way in WAYS:
        (folder / way).mkdir()
    for number in range(DIFFERENT):
        grain = np.random.default_rng(number).integers(-4, 5, large.shape, np.int16)
        values = np.clip(large + grain, 0, 255).astype(np.uint8)
        for way, rows in WAYS.items():
            first, *others = (folder / way / name for name in names[number::DIFFERENT])
            shown = np.ascontiguousarray(np.rot90(values)) if "turned" in way else values
            tifffile.imwrite(
                first, shown, photometric="rgb", compression="lzw", predictor=True,
                rowsperstrip=rows, resolution=(PPI, PPI), resolutionunit="inch",
                iccprofile=profile, metadata=None,
            )  # fmt: skip
            for other in others:
                other.hardlink_to(first)


def join(packing: str, text: str) -> None:
    """By libvips: the same pictures in the same places, read from top to bottom."""
    import pyvips
    import tifffile

    from labkit.files.gang.statement import read_statement

    job = json.loads(text)
    with tifffile.TiffFile(job["ours"]) as tiff:
        page = tiff.pages[0]
        size = page.imagewidth, page.imagelength
        places = read_statement(page.tags[270].value).places
    start = perf_counter()
    white = (pyvips.Image.black(1, 1, bands=3) + 255).cast("uchar")
    sheet = white.embed(0, 0, *size, extend="copy")
    for file, place in zip(job["files"], places, strict=True):
        picture = pyvips.Image.new_from_file(file, access="sequential", unlimited=True)
        if (picture.width, picture.height) != (place.width, place.height):
            picture = pyvips.Image.new_from_file(file, unlimited=True).rot90()
        sheet = sheet.insert(picture, place.left, place.top)
    per_mm = PPI / 25.4
    quickly = {"level": 1} if packing == "deflate" else {}
    sheet.tiffsave(
        str(Path(job["ours"]).with_name("libvips.tif")), compression=packing, bigtiff=True,
        predictor="horizontal", xres=per_mm, yres=per_mm, resunit="inch", **quickly,
    )  # fmt: skip
    print(perf_counter() - start)


if __name__ == "__main__":
    if len(sys.argv) == 2:
        make_prints(Path(sys.argv[1]))
    else:
        join(*sys.argv[1:])
