"""Small print files for the tests, ours and those of other writers, and readers that are not ours."""

import struct
import subprocess
from dataclasses import replace
from fractions import Fraction
from functools import cache
from pathlib import Path

import numpy as np
import tifffile
from PIL import Image, ImageOps

from labkit.files.header.picture import Picture
from labkit.files.header.reading import read_picture
from labkit.files.pixels.conversion import conversion, srgb_profile
from labkit.files.pixels.decode import decode
from labkit.files.writing.strips import SheetStrips
from labkit.files.writing.tiff import Labels, Written, write_strips
from labkit.geometry.layout import Layout
from labkit.geometry.paper import find_sheet
from labkit.geometry.raster import Raster, rasterize
from labkit.job import words as job
from labkit.room.rules import Room, load_room
from labkit.room.stock import KeptSheet
from tests.peers import find_program, vips_save

LABELS = Labels("Ada Brook", "Boat", "Boat, by Ada Brook.", srgb_profile())


@cache
def shipped() -> Room:
    """The room that comes with the package."""
    return load_room()


def room_with(group: str, **rules) -> Room:
    """The shipped room with other ``rules`` in one of its groups, or ("") in none."""
    room = shipped()
    if not group:
        return replace(room, **rules)
    return replace(room, **{group: replace(getattr(room, group), **rules)})


def keeping(room: Room, *sheets: str, rolls: bool = True) -> Room:
    """A room whose first paper alone is kept in cut sheets, in these; with or without its rolls."""
    first, *others = (
        replace(paper, sheets=(), rolls=paper.rolls if rolls else ()) for paper in room.papers
    )
    kept = tuple(KeptSheet(find_sheet(name)) for name in sheets)
    return replace(room, papers=(replace(first, sheets=kept), *others))


def strips_of(picture: Picture, layout: Layout, raster: Raster, depth: int = 8) -> SheetStrips:
    """The sheet of a picture in strips, by the shipped room's rules but for its depth."""
    to_rgb = conversion(picture, shipped().colour)
    return SheetStrips(decode(picture), to_rgb, layout, raster, depth)


def print_file(
    path: Path,
    picture: Path,
    *,
    labels: Labels = LABELS,
    keep_pixels: bool = False,
    resample: int | None = None,
    depth: int = 8,
    packing: str = "LZW",
    **placed,
) -> tuple[Layout, Raster, Written]:
    """A picture laid out as ``placed`` says and written to ``path``, in this process."""
    facts = read_picture(picture)
    layout = job.place(facts, room=shipped(), **placed)
    rules = {"working_ppi": 300, "keep_pixels": keep_pixels, "resample": resample}
    raster = rasterize(layout, facts.pixels, **rules)
    strips = strips_of(facts, layout, raster, depth)
    return layout, raster, write_strips(path, strips, raster, labels, packing)


def blank(raster: Raster) -> Image.Image:
    """A white sheet in an editor that is none of ours."""
    return Image.new("RGB", raster.sheet, "white")


def by_hand(picture: Image.Image, raster: Raster) -> Image.Image:
    """The sheet of ``raster`` with a picture laid on it where it belongs."""
    made, box = blank(raster), raster.picture
    made.paste(picture.convert("RGB").resize((box.width, box.height)), (box.left, box.top))
    return made


def save(image: Image.Image, path: Path, ppi: Fraction | float = 300, **options) -> Path:
    """Save a sheet as it should be handed in, unless ``options`` (Pillow's) say otherwise."""
    ppi = float(ppi)
    given = {"dpi": (ppi, ppi), "compression": "tiff_lzw", "icc_profile": srgb_profile()}
    image.save(path, **given | options)
    return path


def save_by_tifffile(values: np.ndarray, path: Path, ppi=(300, 300), **options) -> Path:
    """A sheet written by tifffile; ``options`` are its own."""
    given = {
        "photometric": "rgb",
        "compression": "lzw",
        "predictor": True,
        "resolution": ppi,
        "resolutionunit": "inch" if ppi else None,
        "iccprofile": srgb_profile(),
        "metadata": None,
    }
    tifffile.imwrite(path, values, **given | options)
    return path


def save_by_vips(image: Image.Image, path: Path, ppi: float) -> Path:
    """A sheet written by libvips, packed with LZW."""
    plain = path.with_suffix(".png")
    image.save(plain, icc_profile=srgb_profile())
    per_mm = ppi / 25.4
    return vips_save(plain, path, compression="lzw", resunit="inch", xres=per_mm, yres=per_mm)


def seen(path: Path) -> Image.Image:
    """A picture turned as it says, by Pillow. From an open file: by its name some are garbled."""
    with path.open("rb") as file, Image.open(file) as image:
        return ImageOps.exif_transpose(image)


def description_in(path: Path) -> str:
    """What a TIFF says of itself in tag 270, by tifffile."""
    with tifffile.TiffFile(path) as tiff:
        return tiff.pages[0].tags["ImageDescription"].value


def pixels(path: Path) -> np.ndarray:
    """The pixels of a print file, by libtiff through Pillow."""
    with Image.open(path) as image:
        return np.asarray(image)


def tiffinfo(path: Path) -> str:
    """All that libtiff's own command says of a file, its complaints too."""
    run = subprocess.run([find_program("tiffinfo"), "-s", path], capture_output=True, text=True)
    assert run.returncode == 0, run.stderr
    return run.stdout + run.stderr


# A CMYK profile small enough to compute by hand

_LAB_OF_INK = np.array(
    [  # what each ink takes from L, adds to a and to b, in bytes of 8-bit Lab
        (-40, -30, -20),  # cyan
        (-50, 40, -10),  # magenta
        (-20, 0, 40),  # yellow
        (-145, -10, -10),  # black
    ]
)
_LAB_OF_PAPER = np.array((255, 128, 128))


def lab_of_cmyk(inks: np.ndarray) -> np.ndarray:
    """L, a, b by :func:`cmyk_profile` of inks from 0 to 1: each takes its part, so that it does not
    matter how a program interpolates."""
    bytes_ = _LAB_OF_PAPER + inks @ _LAB_OF_INK
    return bytes_ * (100 / 255, 1, 1) - (0, 128, 128)


D50 = bytes.fromhex("0000f6d6000100000000d32d")
"""X, Y and Z of the connection space's white, 16 bits behind the point."""


def cmyk_profile(paper: bytes = D50) -> bytes:
    """A printer's profile, CMYK to Lab: ICC.1:2001-04, "lut8Type", with a grid of two points.

    ``paper`` is X, Y and Z of the bare paper, which only the absolute intent shows.
    """
    corners = np.array([[i >> 3 & 1, i >> 2 & 1, i >> 1 & 1, i & 1] for i in range(16)])
    grid = (_LAB_OF_PAPER + corners @ _LAB_OF_INK).astype(np.uint8)
    line = bytes(range(256))
    unit = [65536, 0, 0, 0, 65536, 0, 0, 0, 65536]
    lut = b"mft1" + struct.pack(">4x4B9i", 4, 3, 2, 0, *unit)
    lut += line * 4 + grid.tobytes() + line * 3
    name = b"Quillmarsh test inks\0"
    tags = {
        b"desc": b"desc" + struct.pack(">4xI", len(name)) + name + bytes(78),
        b"cprt": b"text\0\0\0\0none\0",
        b"wtpt": b"XYZ \0\0\0\0" + paper,
        b"A2B0": lut,
    }
    return _profile(b"prtr", b"CMYK", b"Lab ", tags)


def _profile(kind: bytes, space: bytes, pcs: bytes, tags: dict[bytes, bytes]) -> bytes:
    """Header, table of tags and tags: ICC.1:2001-04, clauses 6.1 to 6.3."""
    table, body = struct.pack(">I", len(tags)), b""
    start = 128 + 4 + 12 * len(tags)
    for name, data in tags.items():
        table += name + struct.pack(">II", start + len(body), len(data))
        body += data + bytes(-len(data) % 4)
    head = bytearray(128)
    head[0:4] = struct.pack(">I", start + len(body))
    head[8:12] = bytes.fromhex("02400000")
    head[12:24] = kind + space + pcs
    head[36:40] = b"acsp"
    head[68:80] = D50
    return bytes(head) + table + body
