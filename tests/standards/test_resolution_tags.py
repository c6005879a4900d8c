"""Resolution as the formats hold it: JFIF, PNG, TIFF, Exif and BMP, read back exactly.

Sources: JFIF 1.02, p. 5; PNG 1.2, 4.2.4.2 (ISO 15948); TIFF 6.0, section 8; Exif 2.3, p. 26.
The tags are written as bytes by hand wherever a library might round or drop them.
"""

import struct
from fractions import Fraction

import pytest
import tifffile
from hypothesis import HealthCheck, given
from hypothesis import strategies as st
from PIL import Image

from labkit.files.header.reading import read_picture
from labkit.geometry.length import length
from labkit.geometry.resolution import LEAST_PPI
from tests.files import make
from tests.properties import examples

many = examples(100, suppress_health_check=[HealthCheck.function_scoped_fixture])


def ppi_of(path):
    return read_picture(path).ppi


# JFIF


def test_the_bytes_of_jfif_at_300_dots_an_inch(tmp_path):
    path = make.picture(tmp_path / "a.jpg", ppi=300)
    assert path.read_bytes()[13:18].hex() == "01012c012c"
    assert ppi_of(path) == (300, 300)


def test_the_bytes_of_jfif_without_a_resolution_mean_none_and_not_one(tmp_path):
    path = make.picture(tmp_path / "a.jpg")
    assert path.read_bytes()[13:18].hex() == "0000010001"
    assert ppi_of(path) is None


@pytest.mark.parametrize(
    ("unit", "across", "down", "ppi"),
    [
        (1, 72, 72, (72, 72)),
        (1, 300, 150, (300, 150)),
        (2, 118, 118, (Fraction("299.72"), Fraction("299.72"))),
        (2, 100, 100, (254, 254)),
        (2, 50, 100, (127, 254)),
        (0, 300, 300, None),
        (3, 300, 300, None),
        (1, 0, 0, None),
        (1, 300, 0, None),
        (1, 1, 1, None),
        (1, 65535, 65535, None),
    ],
)
def test_jfif_unit_1_is_the_inch_2_the_centimetre_and_0_a_shape_only(
    tmp_path, unit, across, down, ppi
):
    assert ppi_of(make.jfif(tmp_path / "a.jpg", unit, across, down)) == ppi


# PNG: 1 inch is exactly 0.0254 m, so most whole ppi are rounded to whole pixels per metre


@pytest.mark.parametrize(
    ("ppi", "per_metre"),
    # PNG book, chapter 11: 600 dpi is 23 622.05, held as 23622; the rest by the same rounding
    [
        (72, 2835), (96, 3780), (150, 5906), (240, 9449), (300, 11811), (360, 14173),
        (600, 23622), (720, 28346), (254, 10000),
    ],
)  # fmt: skip
def test_whole_resolutions_survive_the_rounding_of_png(tmp_path, ppi, per_metre):
    path = make.picture(tmp_path / "a.png", ppi=ppi)
    data = path.read_bytes()
    assert data[data.index(b"pHYs") + 4 :][:9] == struct.pack(">IIB", per_metre, per_metre, 1)
    assert ppi_of(path) == (ppi, ppi)


def phys(path, across, down, unit):
    return make.png_with(path, make.chunk(b"pHYs", struct.pack(">IIB", across, down, unit)))


@many
@given(ppi=st.integers(LEAST_PPI, 2400))
def test_every_whole_ppi_comes_back_whole_from_png(tmp_path, ppi):
    per_metre = int(ppi / Fraction("0.0254") + Fraction(1, 2))
    path = phys(tmp_path / "a.png", per_metre, per_metre, 1)
    assert ppi_of(path) == (ppi, ppi)


def test_what_is_no_rounding_of_a_whole_ppi_stays_exact(tmp_path):
    # 11 810 pixels per metre are 299.974 ppi, 11 812 are 300.0248: a pixel per metre off
    assert ppi_of(phys(tmp_path / "a.png", 11810, 11812, 1)) == (
        Fraction("299.974"), Fraction("300.0248"),
    )  # fmt: skip


def test_png_unit_0_gives_a_shape_and_no_resolution(tmp_path):
    assert ppi_of(phys(tmp_path / "a.png", 300, 300, 0)) is None
    assert ppi_of(phys(tmp_path / "a.png", 0, 0, 1)) is None


def test_a_png_whose_chunk_is_too_short_states_nothing(tmp_path):
    path = make.png_with(tmp_path / "a.png", make.chunk(b"pHYs", b"\0\0\x2e\x23"))
    assert ppi_of(path) is None


# TIFF


@pytest.mark.parametrize(
    ("ppi", "unit", "read"),
    [
        (((300, 1), (300, 1)), 2, (300, 300)),
        (((3_000_000, 10_000), (3_000_000, 10_000)), 2, (300, 300)),
        (((300, 1), (150, 1)), 2, (300, 150)),
        (((1_440, 7), (1_440, 7)), 2, (Fraction(1440, 7), Fraction(1440, 7))),
        # the inch is not a rounding: what stands there is meant
        (((2_999_994, 10_000), (300, 1)), 2, (Fraction("299.9994"), 300)),
        # 300 ppi in centimetres is 118.1102…; 118.11 comes back from Pillow as 299.9994
        (((1_181_102, 10_000), (1_181_102, 10_000)), 3, (300, 300)),
        (((11_811, 100), (11_811, 100)), 3, (300, 300)),
        (((118, 1), (118, 1)), 3, (Fraction("299.72"), Fraction("299.72"))),
        (((300, 1), (300, 1)), 1, None),
        (((0, 1), (0, 1)), 2, None),
        (((1, 1), (1, 1)), 2, None),
        (((4_000_000_000, 1), (300, 1)), 2, None),
    ],
)
@pytest.mark.parametrize("big", [False, True])
def test_tiff_rationals_are_read_as_they_stand(tmp_path, ppi, unit, read, big):
    path = make.tiff(tmp_path / "a.tif", ppi=ppi, unit=unit, big=big)
    with tifffile.TiffFile(path) as tiff:
        tags = tiff.pages[0].tags
        assert Fraction(*tags[282].value) == Fraction(*ppi[0])
        assert Fraction(*tags[283].value) == Fraction(*ppi[1])
        assert tags[296].value == unit
    assert ppi_of(path) == read


def test_a_tiff_without_the_tags_states_nothing_though_pillow_says_1(tmp_path):
    path = make.picture(tmp_path / "a.tif")
    with tifffile.TiffFile(path) as tiff:
        assert not {282, 283, 296} & {tag.code for tag in tiff.pages[0].tags}
    with Image.open(path) as image:
        assert image.info["dpi"] == (1, 1)
    assert ppi_of(path) is None


def with_code(path, old: int, new: int):
    """The TIFF with one of its tags made unknown."""
    with tifffile.TiffFile(path) as tiff:
        at = tiff.pages[0].tags[old].offset
    data = bytearray(path.read_bytes())
    data[at : at + 2] = struct.pack("<H", new)
    path.write_bytes(data)
    return path


def test_a_tiff_without_a_unit_means_the_inch(tmp_path):
    path = make.tiff(tmp_path / "a.tif", ppi=((300, 1), (300, 1)), unit=3)
    assert ppi_of(path) == (762, 762)
    assert ppi_of(with_code(path, 296, 297)) == (300, 300)


def test_a_tiff_with_one_of_the_two_resolutions_states_none(tmp_path):
    path = make.tiff(tmp_path / "a.tif", ppi=((300, 1), (300, 1)))
    assert ppi_of(with_code(path, 283, 281)) is None


def test_a_division_by_nothing_states_nothing(tmp_path):
    path = make.tiff(tmp_path / "a.tif", ppi=((300, 1), (300, 1)))
    with tifffile.TiffFile(path) as tiff:
        at = tiff.pages[0].tags[282].valueoffset
    data = bytearray(path.read_bytes())
    assert struct.unpack_from("<II", data, at) == (300, 1)
    data[at + 4 : at + 8] = bytes(4)
    path.write_bytes(data)
    assert ppi_of(path) is None


@many
@given(over=st.integers(2 * 5000, 20_000 * 500), under=st.integers(500, 5000))
def test_any_fraction_of_an_inch_is_kept_exactly(tmp_path, over, under):
    path = make.tiff(tmp_path / "a.tif", ppi=((over, under), (over, under)))
    assert ppi_of(path) == (Fraction(over, under), Fraction(over, under))
    assert read_picture(path).size[0].inches * Fraction(over, under) == make.SIZE[0]


# Exif


def cameras(path, x, y, *unit, order="<"):
    block = make.exif(
        (282, 5, x), (283, 5, y), *[(296, 3, (number,)) for number in unit], order=order
    )
    return make.bare_jpeg(path, block)


@pytest.mark.parametrize("order", ["<", ">"])
@pytest.mark.parametrize(
    ("x", "y", "unit", "read"),
    [
        ((300, 1), (300, 1), (2,), (300, 300)),
        ((3_000_000, 10_000), (1_500_000, 10_000), (2,), (300, 150)),
        ((1_181_102, 10_000), (1_181_102, 10_000), (3,), (300, 300)),
        ((300, 1), (300, 1), (), (300, 300)),  # the inch is the default
        ((300, 1), (300, 1), (1,), None),  # not allowed in Exif
        ((300, 0), (300, 1), (2,), None),
        ((0, 1), (0, 1), (2,), None),
        ((72, 1), (72, 1), (2,), (72, 72)),  # may also mean that the camera knew none
    ],
)
def test_exif_states_the_resolution_of_a_jpeg_without_jfif(tmp_path, x, y, unit, read, order):
    assert ppi_of(cameras(tmp_path / "a.jpg", x, y, *unit, order=order)) == read


def test_exif_counts_where_jfif_gives_only_a_shape(tmp_path):
    block = make.exif((282, 5, (240, 1)), (283, 5, (240, 1)), (296, 3, (2,)))
    path = make.bare_jpeg(tmp_path / "a.jpg", block)
    data = path.read_bytes()
    shape_only = bytes.fromhex("ffe000104a46494600010100000100010000")
    path.write_bytes(data[:2] + shape_only + data[2:])
    assert ppi_of(path) == (240, 240)
    inches = shape_only[:11] + bytes.fromhex("01012c012c0000")
    path.write_bytes(data[:2] + inches + data[2:])
    assert ppi_of(path) == (300, 300)


def test_exif_states_the_resolution_of_webp_and_of_png_without_phys(tmp_path):
    block = make.exif((282, 5, (300, 1)), (283, 5, (300, 1)), (296, 3, (2,)))
    for ending in ("webp", "png"):
        path = make.picture(tmp_path / f"a.{ending}", exif=block)
        assert ppi_of(path) == (300, 300)


# BMP: pixels per metre, like PNG


@pytest.mark.parametrize(
    ("per_metre", "ppi"),
    [(2835, 72), (11811, 300), (10000, 254), (11000, Fraction("279.4")), (0, None), (-11811, None)],
)
def test_bmp_holds_pixels_per_metre(tmp_path, per_metre, ppi):
    path = make.picture(tmp_path / "a.bmp")
    data = bytearray(path.read_bytes())
    data[38:46] = struct.pack("<ii", per_metre, per_metre)
    path.write_bytes(data)
    assert ppi_of(path) == (ppi and (ppi, ppi))


# What follows from it


def test_a_stated_size_is_exact(tmp_path):
    path = make.tiff(tmp_path / "a.tif", size=(3900, 5700), ppi=((300, 1), (300, 1)))
    assert read_picture(path).size == (length("13in"), length("19in"))
    per_centimetre = make.tiff(
        tmp_path / "b.tif", size=(3900, 5700), ppi=((1_181_102, 10_000),) * 2, unit=3
    )
    assert read_picture(per_centimetre).size == (length("13in"), length("19in"))
