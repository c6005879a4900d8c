"""What is read from a header agrees with two other readers of it: libtiff's tiffinfo, and exiftool."""

import json
import re
import subprocess
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
import tifffile

from labkit.files.header.picture import Picture
from labkit.files.header.reading import read_picture
from tests.files import make, sheets
from tests.peers import find_program

PER_CENTIMETRE = Fraction("2.54")
PPI_300 = ((300, 1), (300, 1))


def planes(path: Path) -> Path:
    values = np.moveaxis(np.asarray(make.drawing()), -1, 0)
    options = {"planarconfig": "separate", "metadata": None}
    tifffile.imwrite(path, values, photometric="rgb", resolution=(300, 300), **options)
    return path


def saved(**options):
    return lambda path: make.picture(path, **options)


def tiff(**options):
    return lambda path: make.tiff(path, **options)


SRGB = make.srgb()
METRIC = ((11811, 100), (11811, 100))
TIFFS = {
    "plain": tiff(ppi=PPI_300),
    "LZW, turned, with a profile": tiff(
        compression="lzw", ppi=PPI_300, orientation=6, profile=SRGB
    ),
    "16 bits, big-endian BigTIFF, by the centimetre": tiff(
        bits=16, big=True, byteorder=">", compression="zlib", ppi=METRIC, unit=3
    ),
    "16 bits, grey": tiff(bits=16, channels=1, ppi=((240, 1), (240, 1))),
    "a shape only": tiff(channels=1, compression="packbits", ppi=((2, 1), (1, 1)), unit=1),
    "another resolution down": tiff(ppi=((300, 1), (150, 1))),
    "a broken resolution": tiff(ppi=((8000, 3), (8000, 3))),
    "JPEG inside": tiff(compression="jpeg", photometric="ycbcr"),
    "alpha": tiff(channels=4, extrasamples=["unassalpha"]),
    "tiles": tiff(tile=(16, 16), compression="lzw"),
    "planes": planes,
    "CMYK": saved(mode="CMYK", ppi=300),
    "Lab": saved(mode="LAB"),
    "colour table": saved(mode="P"),
    "black and white": saved(mode="1", compression="group4"),
    "grey with a profile": saved(mode="L", profile=make.grey_profile()),
}
OTHERS = {
    "a.png": saved(ppi=300, profile=SRGB),
    "alpha.png": saved(mode="RGBA", ppi=72),
    "grey.png": saved(mode="L"),
    "bare.png": saved(),
    "16.png": make.png_16,
    "a.jpg": saved(ppi=240, profile=SRGB),
    "cm.jpg": lambda path: make.jfif(path, 2, 118, 118),
    "shape.jpg": lambda path: make.jfif(path, 0, 2, 1),
    "turned.jpg": saved(orientation=8),
    "cmyk.jpg": saved(mode="CMYK"),
    "grey.jpg": saved(mode="L"),
    "a.webp": saved(profile=SRGB, orientation=6),
    "lossless.webp": saved(lossless=True),
}

each_tiff = pytest.mark.parametrize("name", TIFFS)


def stored_ppi(found: Picture):
    """As it stands in the file, before the picture is turned."""
    return found.ppi[::-1] if found.ppi and found.orientation >= 5 else found.ppi


def about(ppi):
    """Within half a pixel per metre: PNG holds whole ones, and the readers print few digits."""
    return None if ppi is None else tuple(pytest.approx(float(each), abs=0.0127) for each in ppi)


# libtiff


SCHEMES = {
    "None": "none", "LZW": "LZW", "PackBits": "PackBits", "JPEG": "JPEG",
    "CCITT Group 4": "CCITT Group 4",
}  # fmt: skip
"""Its words for tag 259; of Deflate it names a maker too."""
COLOURS = {
    "RGB color": {"RGB", "RGBA"}, "min-is-black": {"L", "I;16", "1"}, "separated": {"CMYK"},
    "palette color (RGB from colormap)": {"P"}, "CIE L*a*b*": {"LAB"},
    "YCbCr": {"RGB"},  # of JPEG inside, which its decoder turns into RGB
}  # fmt: skip
CORNERS = {"row 0 top, col 0 lhs": 1, "row 0 rhs, col 0 top": 6}
"""Its words for tag 274."""


def libtiff(path: Path) -> dict[str, str]:
    """What tiffinfo says, a line to a field."""
    fields = re.findall(r"^  ([\w /]+?): (.+)$", sheets.tiffinfo(path), re.M)
    assert fields
    return dict(fields)


@each_tiff
def test_libtiff_reads_the_same(tmp_path, name):
    path = TIFFS[name](tmp_path / "a.tif")
    told, found = libtiff(path), read_picture(path)
    width, height = re.match(r"(\d+) Image Length: (\d+)", told["Image Width"]).groups()
    assert found.stored == (int(width), int(height))
    assert found.depth == int(told["Bits/Sample"])
    scheme = told["Compression Scheme"]
    assert found.packing == ("Deflate" if scheme.endswith("Deflate") else SCHEMES[scheme])
    assert found.mode in COLOURS[told["Photometric Interpretation"]]
    assert found.orientation == CORNERS[told.get("Orientation", "row 0 top, col 0 lhs")]
    assert found.planar == told["Planar Configuration"].startswith("separate")
    assert found.software == told.get("Software", "")


@each_tiff
def test_libtiff_reads_the_same_resolution(tmp_path, name):
    path = TIFFS[name](tmp_path / "a.tif")
    told, found = libtiff(path).get("Resolution"), read_picture(path)
    numbers, unit = None, ""
    if told:
        across, down, unit = re.match(r"([\d.]+), ([\d.]+) ?(.*)", told).groups()
        numbers = Fraction(across), Fraction(down)
    if unit in ("pixels/inch", "pixels/cm"):
        factor = PER_CENTIMETRE if unit == "pixels/cm" else 1
        assert stored_ppi(found) == about([each * factor for each in numbers])
        assert not found.shape_only
    else:
        assert found.ppi is None
        assert found.shape_only == (numbers not in (None, (1, 1)))


# exiftool


UNITS = {2: Fraction(1), 3: PER_CENTIMETRE}
"""Tag 296."""
PACKINGS = {
    1: "none", 4: "CCITT Group 4", 5: "LZW", 7: "JPEG", 8: "Deflate", 32773: "PackBits",
}  # fmt: skip
PHOTOMETRIC = {
    1: {"L", "I;16", "1"}, 2: {"RGB", "RGBA"}, 3: {"P"}, 5: {"CMYK"}, 6: {"RGB"}, 8: {"LAB"},
}  # fmt: skip
PNG_COLOURS = {0: {"L"}, 2: {"RGB"}, 6: {"RGBA"}}
"""ISO 15948, 11.2.2."""


def exiftool(path: Path) -> dict:
    command = [find_program("exiftool"), "-j", "-n", path]
    run = subprocess.run(command, capture_output=True, text=True)
    assert run.returncode == 0, run.stderr
    return json.loads(run.stdout)[0]


def its_ppi(told: dict):
    """Across and down by the inch; None without a unit."""
    if told.get("PixelUnits") == 1:
        return told["PixelsPerUnitX"] * 0.0254, told["PixelsPerUnitY"] * 0.0254
    unit = told.get("ResolutionUnit", 0)
    if "JFIFVersion" in told:  # it counts from 1 there: JFIF 1.02, p. 5
        unit = unit + 1 if unit else 0
    factor = UNITS.get(unit)
    return factor and tuple(told[tag] * float(factor) for tag in ("XResolution", "YResolution"))


def agree(found: Picture, told: dict) -> None:
    """What both kinds of file state."""
    assert found.stored == (told["ImageWidth"], told["ImageHeight"])
    assert found.orientation == told.get("Orientation", 1)
    assert stored_ppi(found) == about(its_ppi(told))
    told_name = told.get("ProfileDescription", "")
    if found.profile_fault:  # one that describes no device is named there alone
        assert told_name in found.profile_fault
    else:
        assert found.profile_name == told_name.replace("sRGB built-in", "sRGB")
    if found.profile:
        assert found.profile_class == told["ProfileClass"]
        assert found.profile_space == told["ColorSpaceData"].ljust(4)


@each_tiff
def test_exiftool_reads_the_same_of_a_tiff(tmp_path, name):
    path = TIFFS[name](tmp_path / "a.tif")
    told, found = exiftool(path), read_picture(path)
    agree(found, told)
    assert {int(bits) for bits in str(told["BitsPerSample"]).split()} == {found.depth}
    assert found.packing == PACKINGS[told["Compression"]]
    assert found.mode in PHOTOMETRIC[told["PhotometricInterpretation"]]
    assert found.planar == (told.get("PlanarConfiguration") == 2)
    assert found.big == (told["MIMEType"] == "image/x-tiff-big")
    if not found.big:
        assert found.byte_order == {"II": "little", "MM": "big"}[told["ExifByteOrder"]]


@pytest.mark.parametrize("name", OTHERS)
def test_exiftool_reads_the_same_of_other_kinds(tmp_path, name):
    path = OTHERS[name](tmp_path / name)
    told, found = exiftool(path), read_picture(path)
    agree(found, told)
    assert found.kind.upper() in told["FileType"]
    if found.kind == "PNG":
        assert found.depth == told["BitDepth"]
        assert found.mode in PNG_COLOURS[told["ColorType"]]
    elif found.kind == "JPEG":
        assert found.depth == told["BitsPerSample"]
        assert {"L": 1, "RGB": 3, "CMYK": 4}[found.mode] == told["ColorComponents"]
