"""Hand-ins that are labelled with what is wrong with them, to measure a check by.

Every fault of ``labkit/teaching/faults`` in each of its strengths, alone and in pairs; a few more that
only a test makes; and clean files of many kinds and writers. On sheets of 4 × 6 in and A6, so that it is
quick. What is random is drawn from a seed.
"""

import random
import shutil
import subprocess
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, fields, replace
from decimal import Decimal
from itertools import combinations, count, product
from pathlib import Path

import numpy as np
import tifffile
from PIL import Image

from labkit.files.checks.check import check
from labkit.files.checks.findings import Findings
from labkit.files.child.guarded import Guarded
from labkit.files.folder.alike import findings_across
from labkit.geometry.length import length
from labkit.geometry.paper import find_sheet
from labkit.geometry.pixelbox import PixelBox
from labkit.room.rules import Room, load_room
from labkit.room.stock import KeptSheet
from labkit.teaching.brief import Candidate
from labkit.teaching.faults.cases import good_hand_in
from labkit.teaching.faults.hand_in import Change, HandIn, on_sheet
from labkit.teaching.faults.made import write
from labkit.teaching.faults.sorts import Fault
from labkit.teaching.faults.table import FAULTS, GOOD, ODDITIES
from labkit.teaching.pictures import demo_pictures
from tests.files import make
from tests.peers import vips_is_here, vips_save

STRUCTURAL = {
    "picture-without-sheet", "bigtiff", "cmyk-unknown", "palette", "compression", "damaged", "format",
    "layers", "name-camera",
    "name-size", "several-pages", "ppi-floor", "profile-missing", "profile-class", "resolution-label",
    "resolution-missing", "resolution-shape", "resolution-unequal", "sheet-unstocked",
    "transparency", "turned-flag", "alpha", "grey", "wrong-ending", "empty", "not-a-picture",
    "text-note", "document",
    "animation", "profile-damaged", "profile-space",
}  # fmt: skip
"""Codes that a file's own form gives away: nothing has to be guessed from its pixels."""
BUNDLED = (
    "coffee", "chelsea", "rocket", "brick", "grass", "gravel", "immunohistochemistry",
)  # fmt: skip
"""Pictures that come inside scikit-image: photographs of things, plain textures, a stained
tissue with light edges. None has a flat ground of its own: alone, it is a sheet to any eye."""
_LARGEST = 1500
"""A picture of ours is used in a part of so many pixels, for it is opened again for each file."""


@dataclass(frozen=True)
class Labelled:
    """A file, and what is known of it.

    ``what`` is "clean", "fault", "odd" or "pair"; ``name`` says which, ``codes`` are the findings it should
    give. ``box`` is where the picture lies, where it lies as it is known. ``beside`` is a file that
    has to be looked at with it.
    """

    what: str
    name: str
    file: Path
    codes: frozenset[str]
    hand_in: HandIn | None = None
    beside: Path | None = None

    @property
    def box(self) -> PixelBox | None:
        """Where the picture lies on the sheet, in pixels."""
        return self.hand_in and self.hand_in.box

    @property
    def is_structural(self) -> bool:
        """Whether all that is wrong shows in the file's form."""
        return bool(self.codes) and self.codes <= STRUCTURAL


def small_room() -> Room:
    """The shipped room with two small sheets besides its own, and narrower borders on them."""
    room = load_room()
    small = tuple(KeptSheet(find_sheet(name), Decimal("0.80")) for name in ("A6", "4x6in"))
    first, *others = room.papers
    papers = replace(first, sheets=(*small, *first.sheets)), *others
    return replace(room, papers=papers, border=length("1/4in"))


def pictures(folder: Path, *, bundled: bool) -> list[Candidate]:
    """A part of each of our pictures and, if ``bundled``, those of scikit-image, as PNG files."""
    found = {}
    for demo in demo_pictures():
        with Image.open(demo.file) as image:
            left, top = ((side - _LARGEST) // 2 for side in image.size)
            found[demo.file.stem] = image.crop((left, top, left + _LARGEST, top + _LARGEST))
    if bundled:
        from skimage import data

        found |= {name: Image.fromarray(getattr(data, name)()).convert("RGB") for name in BUNDLED}
    told = []
    for name, image in found.items():
        file = folder / f"{name}.png"
        image.save(file, compress_level=1)
        told.append((replace(demo_pictures()[0], file=file, title=name), image.size))
    return told


# Clean ones


def _by_pillow(**options) -> Callable[[Path], None]:
    def rewrite(path: Path) -> None:
        with Image.open(path) as image:
            image.load()
            image.save(
                path, dpi=image.info["dpi"], icc_profile=image.info["icc_profile"], **options
            )

    return rewrite


def _by_tifffile(bits: int = 8, **options) -> Callable[[Path], None]:
    def rewrite(path: Path) -> None:
        with tifffile.TiffFile(path) as tiff:
            page = tiff.pages[0]
            values, profile = page.asarray(), page.iccprofile
            ppi = page.tags["XResolution"].value
        if bits == 16:
            values = values.astype(np.uint16) * 257
        if options.get("planarconfig") == "separate":
            values = np.moveaxis(values, -1, 0)
        given = {"photometric": "rgb", "metadata": None, "resolutionunit": 2}
        tifffile.imwrite(path, values, resolution=(ppi, ppi), iccprofile=profile, **given | options)

    return rewrite


def _by_tiffcp(*options: str) -> Callable[[Path], None]:
    def rewrite(path: Path) -> None:
        made = path.with_suffix(".made.tif")
        subprocess.run(["tiffcp", *options, path, made], check=True, capture_output=True)
        made.replace(path)

    return rewrite


def _by_libvips(**options) -> Callable[[Path], None]:
    def rewrite(path: Path) -> None:
        vips_save(path, path.with_suffix(".made.tif"), **options).replace(path)

    return rewrite


WRITERS = {
    "labkit's faults": lambda path: None,
    "Pillow, LZW": _by_pillow(compression="tiff_lzw"),
    "Pillow, plain": _by_pillow(),
    "Pillow, deflate": _by_pillow(compression="tiff_adobe_deflate"),
    "tifffile, deflate": _by_tifffile(compression="zlib", predictor=True),
    "tifffile, high byte first": _by_tifffile(byteorder=">"),
    "tifffile, planes": _by_tifffile(planarconfig="separate", compression="lzw"),
    "tifffile, tiles": _by_tifffile(tile=(256, 256), compression="lzw", predictor=True),
    "tifffile, 16 bits": _by_tifffile(16, compression="lzw", predictor=True),
    "tiffcp, LZW": _by_tiffcp("-c", "lzw:2"),
    "tiffcp, tiles": _by_tiffcp("-t", "-c", "zip"),
    "tiffcp, high byte first": _by_tiffcp("-B", "-c", "packbits"),
    "libvips, LZW": _by_libvips(compression="lzw"),
    "libvips, tiles": _by_libvips(compression="deflate", tile=True),
}
"""Each writes again, in its own way and without loss, the file that is there."""


def writers() -> set[str]:
    """The names of those that are installed here."""
    here = {"tiffcp": shutil.which("tiffcp"), "libvips": vips_is_here()}
    return {name for name in WRITERS if here.get(name.split(",")[0], True)}


def clean(
    folder: Path, shown: Sequence[Candidate], room: Room, seed: int = 0, *, every: int = 1
) -> Iterator[Labelled]:
    """Good files: every way of being good by every writer, or one in ``every`` of them.

    A writer that is not installed leaves its files out; the others stay the same.
    """
    chance, here = random.Random(f"clean {seed}"), writers()
    for at, (good, (name, rewrite)) in enumerate(product(GOOD, WRITERS.items())):
        hand_in = chance.choice(good.ways)(good_hand_in(chance, good.at, shown, room))
        if at % every or name not in here:
            continue
        file = write(hand_in, _own_folder(folder, f"{good.name}-{name}"))
        rewrite(file)
        yield Labelled("clean", f"{good.name}, {name}", file, frozenset(), hand_in)


def resaved(labelled: Labelled, quality: int = 85) -> Labelled:
    """A clean one saved as JPEG, beside it."""
    file = labelled.file.with_suffix(".jpg")
    hand_in = labelled.hand_in
    write(replace(hand_in, kind="JPEG", quality=quality), labelled.file.parent)
    return replace(labelled, what="JPEG", file=file, codes=frozenset({"format"}))


# Faults


def faults(
    folder: Path,
    shown: Sequence[Candidate],
    room: Room,
    seed: int = 0,
    *,
    each: int = 1,
    strengths: int | None = None,
) -> Iterator[Labelled]:
    """Every fault and oddity in every strength (or the first few), on ``each`` so many pictures; and the
    faults that only a test makes."""
    chance = random.Random(f"faults {seed}")
    for fault in (*FAULTS, *ODDITIES):
        what = "fault" if fault in FAULTS else "odd"
        for strength, way in enumerate(fault.ways[:strengths], start=1):
            for turn in range(each):
                hand_in = way(good_hand_in(chance, fault.at, shown, room))
                where = _own_folder(folder, f"{fault.name}-{strength}-{turn}")
                file = write(hand_in, where)
                beside = where / hand_in.beside.file_name if hand_in.beside else None
                codes = frozenset(fault.codes)
                yield Labelled(what, fault.name, file, codes, hand_in, beside)
    for name, (code, spoil) in MORE.items():
        hand_in = good_hand_in(chance, "centre", shown, room)
        file = spoil(hand_in, _own_folder(folder, name))
        yield Labelled("fault", name, file, frozenset({code}))


def pairs(
    folder: Path, shown: Sequence[Candidate], room: Room, seed: int = 0, *, every: int = 1
) -> Iterator[Labelled]:
    """Every two faults that one file can have without one hiding the other, or one in ``every`` of them."""
    chance = random.Random(f"pairs {seed}")
    counted = count()
    for one, other in combinations(FAULTS, 2):
        at = one.at if one.at != "centre" else other.at
        good = good_hand_in(chance, at, shown, room)
        ways = chance.choice(one.ways), chance.choice(other.ways)
        if not can_be_paired(one, other, ways, good) or next(counted) % every:
            continue
        hand_in = ways[1](ways[0](good))
        file = write(hand_in, _own_folder(folder, f"{one.name}-{other.name}"))
        codes = frozenset(one.codes + other.codes)
        yield Labelled("pair", f"{one.name} + {other.name}", file, codes, hand_in)


_HIDES_ALL = {"cut short", "grey from some line on", "the same picture twice"}
"""The rest of such a file cannot be seen; and the last needs two files."""
_ONLY_TIFF = {"flag", "layers", "pages", "big", "packing", "unit", "mode"}
"""What a JPEG cannot have, or our writer does not give it."""
_HIDDEN = (
    ({"alone"}, {"layout", "strays", "ppi", "surround", "name", "states", "mode"}),
    ({"mode"}, {"surround", "packing"}),
    ({"states"}, {"layout", "unit"}),
)
"""A change to the first hides, or undoes, one to the second."""


def can_be_paired(one: Fault, other: Fault, ways: tuple[Change, Change], good: HandIn) -> bool:
    """Whether both can be seen in one file."""
    if {one.name, other.name} & _HIDES_ALL:
        return False
    first, second = (_changed(good, way) for way in ways)
    if first & second:
        return False
    for a, b in ((first, second), (second, first)):
        if "kind" in a and b & _ONLY_TIFF:
            return False
        if any(a & hiding and b & hidden for hiding, hidden in _HIDDEN):
            return False
    return True


def _changed(good: HandIn, way: Change) -> set[str]:
    bad = way(good)
    names = {field.name for field in fields(HandIn)}
    return {name for name in names if getattr(bad, name) != getattr(good, name)}


def _own_folder(folder: Path, name: str) -> Path:
    made = folder / name.replace(",", "").replace(" ", "-")
    made.mkdir(parents=True)
    return made


# Faults that only a test makes


def _opaque(hand_in: HandIn, folder: Path) -> Path:
    return write(replace(hand_in, mode="RGBA"), folder)


def _grey(hand_in: HandIn, folder: Path) -> Path:
    return write(replace(hand_in, mode="L", profile=""), folder)


def _rounded(hand_in: HandIn, folder: Path) -> Path:
    """4 × 6 in typed in whole centimetres."""
    return write(on_sheet("10x15cm")(hand_in), folder)


def _unlabelled(hand_in: HandIn, folder: Path) -> Path:
    file = write(hand_in, folder)
    with Image.open(file) as image:
        bare, profile = Image.fromarray(np.asarray(image)), image.info["icc_profile"]
    bare.save(file, compression="tiff_lzw", icc_profile=profile)
    return file


def _misnamed(hand_in: HandIn, folder: Path) -> Path:
    file = write(replace(hand_in, kind="JPEG"), folder)
    return file.rename(file.with_suffix(".tif"))


def _empty(hand_in: HandIn, folder: Path) -> Path:
    file = folder / hand_in.file_name
    file.write_bytes(b"")
    return file


def _text(hand_in: HandIn, folder: Path) -> Path:
    file = (folder / hand_in.file_name).with_suffix(".txt")
    file.write_text("Please print my picture.")
    return file


def _lying_text(hand_in: HandIn, folder: Path) -> Path:
    file = _text(hand_in, folder)
    return file.rename(file.with_suffix(".tif"))


def _document(hand_in: HandIn, folder: Path) -> Path:
    file = write(hand_in, folder)
    with Image.open(file) as image:
        image.convert("RGB").save(file.with_suffix(".pdf"), resolution=300)
    file.unlink()
    return file.with_suffix(".pdf")


def _moving(hand_in: HandIn, folder: Path) -> Path:
    return make.frames((folder / hand_in.file_name).with_suffix(".gif"))


def _with_profile(profile: bytes) -> Callable[[HandIn, Path], Path]:
    def spoil(hand_in: HandIn, folder: Path) -> Path:
        file = write(hand_in, folder)
        values = tifffile.imread(file)
        options = {"photometric": "rgb", "resolution": (300, 300), "resolutionunit": 2}
        tifffile.imwrite(file, values, compression="lzw", iccprofile=profile, **options)
        return file

    return spoil


MORE = {
    "a channel of transparency, nothing transparent": ("alpha", _opaque),
    "grey": ("grey", _grey),
    "a rounded size": ("sheet-rounded", _rounded),
    "no resolution": ("resolution-missing", _unlabelled),
    "an ending that lies": ("wrong-ending", _misnamed),
    "an empty file": ("empty", _empty),
    "a text": ("text-note", _text),
    "a text that ends like a picture": ("not-a-picture", _lying_text),
    "a document": ("document", _document),
    "a moving picture": ("animation", _moving),
    "half a profile": ("profile-damaged", _with_profile(make.srgb()[:200])),
    "a profile of grey": ("profile-space", _with_profile(make.grey_profile())),
}
"""Each with the finding it should give, and what makes it out of a good one."""
EXPECTED_TOO = {
    "grey": {"profile-missing"},
    "an ending that lies": {"format"},
    "a black sheet": {"edge-unclear"},
    "grey from some line on": {"off-centre", "unusual-place", "unprintable", "edge-unclear"},
    "a moving picture": {
        "format",
        "picture-without-sheet",
        "resolution-missing",
        "palette",
        "profile-missing",
    },
}
"""What such a file is rightly told besides."""


# Looked over


def look_over(labelled: Labelled, room: Room, child: Guarded) -> Findings:
    """The findings of one file, with what shows only beside another."""
    found = check(labelled.file, room=room, child=child)
    if labelled.beside:
        before = check(labelled.beside, room=room, child=child)
        more = findings_across([before, found], room).get(found.file, ())
        found = replace(found, items=(*found.items, *more))
    return found


def told(found: Findings) -> set[str]:
    """The codes of all that is not for information only."""
    return {fault.code for fault in found.faults}
