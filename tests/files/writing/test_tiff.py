"""The written file as other readers see it: libtiff (Pillow, tiffinfo), libvips and tifffile."""

import hashlib
import re
import struct
from fractions import Fraction

import numpy as np
import pytest
import tifffile
from hypothesis import HealthCheck, assume, given
from hypothesis import strategies as st
from PIL import Image

from labkit.errors import LabError
from labkit.files.header.reading import read_picture
from labkit.files.pixels.conversion import srgb_profile
from labkit.files.writing import strips
from labkit.files.writing import tiff as writer
from labkit.files.writing.packing import PACKINGS
from labkit.files.writing.tiff import Labels, write_strips
from labkit.geometry.layout import lay_out
from labkit.geometry.length import inches, length, millimetres
from labkit.geometry.paper import find_sheet, sheet_of
from labkit.geometry.raster import mark_boxes, rasterize
from tests.files import make, sheets
from tests.peers import by_vips
from tests.properties import examples

few = examples(60, suppress_health_check=[HealthCheck.function_scoped_fixture])
PLACED = {"on": "5x4in", "width": "3in"}


@pytest.fixture
def boat(tmp_path):
    return make.picture(tmp_path / "boat.png")


@pytest.fixture
def small_strips(monkeypatch):
    """Strips of a few rows, so that small sheets have many."""
    monkeypatch.setattr(strips, "STRIP_BYTES", 2000)


def tags(path) -> tifffile.TiffTags:
    with tifffile.TiffFile(path) as file:
        assert len(file.pages) == 1
        return file.pages[0].tags


# The file


def test_it_is_flat_chunky_rgb_of_8_bits_packed_by_lzw_with_differencing(tmp_path, boat):
    """TIFF 6.0, sections 6, 8, 13 and 14."""
    sheets.print_file(tmp_path / "a.tif", boat, **PLACED)
    found = tags(tmp_path / "a.tif")
    expected = {256: 100, 257: 80, 258: (8, 8, 8), 259: 5, 262: 2, 274: 1, 277: 3, 284: 1, 317: 2}
    assert {code: found[code].value for code in expected} == expected
    assert 338 not in found  # no channel besides the colours


def test_it_holds_all_of_it_and_nothing_that_changes_with_the_day(tmp_path, boat):
    sheets.print_file(tmp_path / "a.tif", boat, **PLACED)
    kept = [256, 257, 258, 259, 262, 269, 270, 273, 274, 277, 278, 279, 282, 283, 284, 296]
    kept += [305, 315, 317, 34675]  # no date (306)
    assert sorted(tag.code for tag in tags(tmp_path / "a.tif")) == kept


def test_libtiff_reads_the_same_of_it_and_has_nothing_to_complain_of(tmp_path, boat):
    sheets.print_file(tmp_path / "a.tif", boat, **PLACED)
    told = sheets.tiffinfo(tmp_path / "a.tif")
    for line in (
        "Image Width: 100 Image Length: 80",
        "Resolution: 20, 20 pixels/inch",
        "Bits/Sample: 8",
        "Compression Scheme: LZW",
        "Photometric Interpretation: RGB color",
        "Orientation: row 0 top, col 0 lhs",
        "Samples/Pixel: 3",
        "Planar Configuration: single image plane",
        "Predictor: horizontal differencing 2 (0x2)",
        "Artist: Ada Brook",
        "DocumentName: Boat",
    ):
        assert line in told
    assert "Warning" not in told
    assert "Extra Samples" not in told
    assert told.count("TIFF Directory") == 1


def test_pillow_reads_the_same_of_it(tmp_path, boat):
    sheets.print_file(tmp_path / "a.tif", boat, **PLACED)
    with Image.open(tmp_path / "a.tif") as image:
        assert (image.size, image.mode, image.n_frames) == ((100, 80), "RGB", 1)
        assert image.info["dpi"] == (20, 20)
        assert image.info["compression"] == "tiff_lzw"
        assert image.info["icc_profile"] == srgb_profile()


@pytest.mark.parametrize(
    ("owner", "title"),
    [
        ("Zoë Ångström", "Première lumière"),
        ("Ольга Река", "Лодка"),
        ("柳 水", "舟"),
        ("نور", "قارب"),
        ("A", "🌊 ½"),
    ],
)
def test_owner_and_title_are_kept_in_any_script(tmp_path, boat, owner, title):
    """TIFF 6.0, section 8, Artist 315 and section 12, DocumentName 269; the bytes are UTF-8."""
    labels = Labels(owner, title, f"{title}, by {owner}.", srgb_profile())
    sheets.print_file(tmp_path / "a.tif", boat, labels=labels, **PLACED)
    data = (tmp_path / "a.tif").read_bytes()
    for code, text in ((315, owner), (269, title), (270, f"{title}, by {owner}.")):
        tag = tags(tmp_path / "a.tif")[code]
        assert data[tag.valueoffset :][: tag.count] == text.encode() + b"\0"
        assert tag.dtype == tifffile.DATATYPE.ASCII


def test_the_profile_is_embedded_whole(tmp_path, boat):
    """ICC.1, annex B: tag 34675, type 7, as many bytes as the profile has."""
    profile = make.grey_profile() + bytes(1)
    labels = Labels("A", "B", "C", profile)
    sheets.print_file(tmp_path / "a.tif", boat, labels=labels, **PLACED)
    tag = tags(tmp_path / "a.tif")[34675]
    assert (tag.dtype, tag.count) == (7, len(profile))
    assert (tmp_path / "a.tif").read_bytes()[tag.valueoffset :].startswith(profile)


@pytest.mark.parametrize(
    ("width", "stated"),
    [
        ("3in", (20, 1)),
        ("60mm", (127, 5)),  # 60 pixels over 60 mm are 25.4 to the inch
        ("70mm", (762, 35)),
        ("2 9/16in", (960, 41)),
    ],
)
def test_the_resolution_is_stated_in_inches_as_an_exact_ratio(tmp_path, boat, width, stated):
    sheets.print_file(tmp_path / "a.tif", boat, on="5x4in", width=width)
    found = tags(tmp_path / "a.tif")
    assert Fraction(*found[282].value) == Fraction(*stated) == Fraction(*found[283].value)
    assert found[296].value == 2


def test_a_ratio_too_long_for_two_numbers_is_the_nearest_that_fits():
    ppi = Fraction(300) + Fraction(1, 2**33 + 1)
    over, under = writer._rational(ppi)
    assert max(over, under) < 2**32
    assert abs(Fraction(over, under) - ppi) <= Fraction(1, 2**33)
    assert writer._rational(Fraction(2**32 - 1, 7)) == (2**32 - 1, 7)


@given(ppi=st.fractions(1, 20_000))
@few
def test_a_ratio_always_fits_and_is_exact_where_it_can_be(ppi):
    over, under = writer._rational(ppi)
    assert 0 < over < 2**32
    assert 0 < under < 2**32
    if max(ppi.numerator, ppi.denominator) < 2**32:
        assert Fraction(over, under) == ppi


def test_the_same_picture_gives_the_same_bytes_twice(tmp_path, boat, small_strips):
    sums = set()
    for name in ("one.tif", "two.tif"):
        sheets.print_file(tmp_path / name, boat, **PLACED)
        sums.add(hashlib.sha256((tmp_path / name).read_bytes()).hexdigest())
    assert len(sums) == 1


def test_a_file_of_that_name_is_not_written_over(tmp_path, boat):
    (tmp_path / "a.tif").write_bytes(b"kept")
    with pytest.raises(FileExistsError):
        sheets.print_file(tmp_path / "a.tif", boat, **PLACED)
    assert (tmp_path / "a.tif").read_bytes() == b"kept"


def test_blank_strips_are_encoded_once_and_known_again(tmp_path, boat, small_strips):
    _, raster, written = sheets.print_file(tmp_path / "a.tif", boat, **PLACED)
    rows = strips.rows_per_strip(100)
    assert rows == 6
    assert len(written.sums) == 14 == -(-80 // rows)
    first, last = raster.picture.top // rows, (raster.picture.bottom - 1) // rows
    inked = [index for index, known in enumerate(written.sums) if known is not None]
    assert inked == list(range(first, last + 1))
    assert len(written.blank) == 2  # whole ones, and the short one at the end
    with tifffile.TiffFile(tmp_path / "a.tif") as file:
        page = file.pages[0]
        data = (tmp_path / "a.tif").read_bytes()
        for index, (at, size) in enumerate(zip(page.dataoffsets, page.databytecounts, strict=True)):
            assert (data[at : at + size] in written.blank) == (index not in inked)


def test_a_fault_in_one_strip_is_heard_and_not_swallowed(tmp_path, boat, small_strips):
    picture = read_picture(boat)
    layout = lay_out(picture.pixels, sheet_of(inches(5), inches(4)), width=inches(3))
    raster = rasterize(layout, picture.pixels, working_ppi=300)
    made = sheets.strips_of(picture, layout, raster)

    def fails(first, last):
        raise LabError("a strip failed.")

    made._picture_rows = fails
    with pytest.raises(LabError, match=r"a strip failed\."):
        write_strips(tmp_path / "a.tif", made, raster, sheets.LABELS)


# Pixels


@st.composite
def jobs(draw):
    """A picture, a sheet, and a place on it, all small: 100 % of a picture at its own resolution."""
    unit, least, parts = draw(st.sampled_from([(inches, 1, 16), (millimetres, 25, 2)]))
    sides = st.fractions(least, least * 5, max_denominator=parts)
    sheet = sheet_of(unit(draw(sides)), unit(draw(sides)))
    size = draw(st.tuples(st.integers(1, 40), st.integers(1, 40)))
    ppi = draw(st.fractions(12, 60, max_denominator=9))
    wide, high = (inches(side / ppi) for side in size)
    assume(wide <= sheet.width and high <= sheet.height)
    spare = sheet.width - wide, sheet.height - high
    left, top = (draw(st.fractions(0, 1, max_denominator=50)) * side for side in spare)
    seed = draw(st.integers(0, 2**16))
    return sheet, size, ppi, wide, left, top, seed


@given(job=jobs())
@few
def test_a_picture_at_100_percent_is_on_the_sheet_bit_for_bit(tmp_path, small_strips, job):
    sheet, size, ppi, wide, left, top, seed = job
    values = np.random.default_rng(seed).integers(0, 256, (size[1], size[0], 3), np.uint8)
    source, path = tmp_path / "picture.png", tmp_path / "made.tif"
    Image.fromarray(values).save(source)
    path.unlink(missing_ok=True)
    picture = read_picture(source)
    layout = lay_out(size, sheet, width=wide, left=left, top=top)
    raster = rasterize(layout, size, working_ppi=300)
    write_strips(path, sheets.strips_of(picture, layout, raster), raster, sheets.LABELS)
    got, box = sheets.pixels(path).copy(), raster.picture
    assert np.array_equal(got[box.top : box.bottom, box.left : box.right], values)
    got[box.top : box.bottom, box.left : box.right] = 255
    assert (got == 255).all()

    back = read_picture(path)
    assert back.ppi == (ppi, ppi) == (raster.ppi, raster.ppi)
    half = inches(1 / (2 * ppi))
    for stated, asked in zip(back.size, (sheet.width, sheet.height), strict=True):
        assert abs(stated - asked) <= half
    within = half * 2  # a picture on the very edge is moved by the pixel that is not there
    assert abs(inches(box.left / ppi) - left) <= within
    assert abs(inches(box.top / ppi) - top) <= within


@given(ppi=st.integers(20, 80), bleed=st.sampled_from(["0mm", "2mm", "1/8in"]))
@few
def test_outside_picture_and_marks_all_is_white(tmp_path, small_strips, ppi, bleed):
    source, path = tmp_path / "black.png", tmp_path / "made.tif"
    Image.new("RGB", (50, 40), "black").save(source)
    path.unlink(missing_ok=True)
    picture = read_picture(source)
    sheet = find_sheet("A6")
    trim = length("60mm"), length("50mm")
    layout = lay_out(picture.pixels, sheet, trim=trim, bleed=length(bleed))
    raster = rasterize(layout, picture.pixels, working_ppi=300, resample=ppi)
    write_strips(path, sheets.strips_of(picture, layout, raster), raster, sheets.LABELS)
    got = sheets.pixels(path).copy()
    marks = mark_boxes(layout, raster.ppi)
    assert len(marks) == 8
    inked = [raster.picture, *marks]
    assert all((got[box.top : box.bottom, box.left : box.right] == 0).all() for box in inked)
    for box in inked:
        got[box.top : box.bottom, box.left : box.right] = 255
    assert (got == 255).all()


@pytest.mark.parametrize("packing", PACKINGS)
def test_others_read_the_same_pixels_however_it_is_packed(tmp_path, boat, small_strips, packing):
    """tifffile, Pillow and libvips; the latter two by libtiff, which undoes differencing for some
    packings only."""
    sheets.print_file(tmp_path / "a.tif", boat, **PLACED, packing=packing)
    ours = tifffile.imread(tmp_path / "a.tif")
    assert np.array_equal(Image.open(tmp_path / "a.tif"), ours)
    assert np.array_equal(by_vips(tmp_path / "a.tif"), ours)


# Too large for a classic TIFF


@pytest.fixture
def noisy(tmp_path):
    path = tmp_path / "noise.png"
    values = np.random.default_rng(1).integers(0, 256, (300, 400, 3), np.uint8)
    Image.fromarray(values).save(path)
    return path


ON_A_LARGE_SHEET = {"on": "22x17in", "width": "20in"}


def test_a_file_that_a_classic_tiff_holds_is_one(tmp_path, noisy):
    sheets.print_file(tmp_path / "a.tif", noisy, **ON_A_LARGE_SHEET)
    assert (tmp_path / "a.tif").read_bytes()[:4] == b"II*\0"


def test_one_that_it_cannot_hold_is_a_bigtiff(tmp_path, noisy, small_strips, monkeypatch):
    """BigTIFF design, libtiff: version 43, offsets of 8 bytes, then 0."""
    monkeypatch.setattr(writer, "_CLASSIC_LIMIT", 100_000)
    _, raster, written = sheets.print_file(tmp_path / "a.tif", noisy, **ON_A_LARGE_SHEET)
    data = (tmp_path / "a.tif").read_bytes()
    assert struct.unpack("<2sHHH", data[:8]) == (b"II", 43, 8, 0)
    box = raster.picture
    got = tifffile.imread(tmp_path / "a.tif")
    assert np.array_equal(got[box.top : box.bottom, box.left : box.right], Image.open(noisy))
    assert np.array_equal(got, sheets.pixels(tmp_path / "a.tif"))
    assert len(written.sums) == -(-raster.sheet[1] // strips.rows_per_strip(raster.sheet[0]))
    told = sheets.tiffinfo(tmp_path / "a.tif")
    assert "Compression Scheme: LZW" in told
    assert re.search(r"Image Width: 440 Image Length: 340", told)


@pytest.mark.parametrize(("room", "kind"), [(0, 42), (-1, 43)])
def test_the_limit_is_kept_to_the_byte(tmp_path, noisy, small_strips, monkeypatch, room, kind):
    sheets.print_file(tmp_path / "classic.tif", noisy, **ON_A_LARGE_SHEET)
    with tifffile.TiffFile(tmp_path / "classic.tif") as file:
        stored = sum(file.pages[0].databytecounts)
    monkeypatch.setattr(writer, "_CLASSIC_LIMIT", stored + room)
    sheets.print_file(tmp_path / "a.tif", noisy, **ON_A_LARGE_SHEET)
    assert struct.unpack("<H", (tmp_path / "a.tif").read_bytes()[2:4]) == (kind,)


def test_the_limit_leaves_room_for_the_directory():
    """TIFF 6.0, section 2: "the largest possible TIFF file is 2**32 bytes"."""
    assert 2**32 - 2**21 <= writer._CLASSIC_LIMIT <= 2**32 - 2**20
