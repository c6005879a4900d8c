"""The resolution tag as bytes: against the formats' own texts, and against what a library writes."""

import struct

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from labkit.files.header.label import (
    JFIF,
    jfif_bytes,
    jfif_start,
    png_bytes,
    relabelled,
    tiff_bytes,
)
from labkit.files.header.reading import read_picture
from labkit.teaching.pictures import demo_pictures
from tests.files import make


def test_jfif_as_its_specification_has_it():
    """JFIF 1.02, p. 5: one byte for the unit, 1 the inch; two for each density, high byte first."""
    assert jfif_bytes(300) == bytes.fromhex("01 012c 012c")
    assert jfif_bytes(72) == bytes.fromhex("01 0048 0048")


@pytest.mark.parametrize(
    ("ppi", "per_metre"),
    [(72, 2835), (96, 3780), (150, 5906), (240, 9449), (300, 11811), (360, 14173), (600, 23622)],
)
def test_png_in_pixels_per_metre(ppi, per_metre):
    """PNG 1.2, 4.2.4.2; the PNG book, ch. 11, gives 23622 for 600 dpi."""
    assert png_bytes(ppi) == struct.pack(">IIB", per_metre, per_metre, 1)


def test_tiff_as_a_fraction():
    """TIFF 6.0, section 8: XResolution is RATIONAL, two LONGs, numerator first."""
    assert tiff_bytes(300) == bytes.fromhex("2c010000 01000000")


@pytest.mark.parametrize("ppi", [72, 150, 240, 300, 360, 600])
def test_a_library_writes_the_same_bytes(tmp_path, ppi):
    jpeg = make.picture(tmp_path / "a.jpg", ppi=ppi)
    assert jpeg.read_bytes()[JFIF] == jfif_bytes(ppi)
    png = make.picture(tmp_path / "a.png", ppi=ppi)
    assert b"pHYs" + png_bytes(ppi) in png.read_bytes()
    tiff = make.picture(tmp_path / "a.tif", ppi=ppi)
    assert tiff_bytes(ppi) in tiff.read_bytes()


@given(st.integers(2, 20_000))
def test_another_label_changes_five_bytes_and_no_pixel(tmp_path_factory, ppi):
    path = make.picture(tmp_path_factory.mktemp("label") / "a.jpg", ppi=300)
    before = Image.open(path).tobytes()
    data = path.read_bytes()
    path.write_bytes(relabelled(data[:20], ppi) + data[20:])
    assert path.read_bytes()[18:] == data[18:]
    assert path.read_bytes()[:13] == data[:13]
    assert read_picture(path).ppi == (ppi, ppi)
    assert Image.open(path).tobytes() == before


def test_our_pictures_begin_with_their_label():
    starts = [jfif_start(demo.file) for demo in demo_pictures()]
    assert [start[JFIF] for start in starts] == [jfif_bytes(300), jfif_bytes(72)]


@pytest.mark.parametrize("ending", ["png", "tif", "webp"])
def test_any_other_file_has_no_such_start(tmp_path, ending):
    assert jfif_start(make.picture(tmp_path / f"a.{ending}")) == b""
