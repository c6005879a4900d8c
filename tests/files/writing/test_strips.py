"""A sheet in strips against the same sheet made whole by other means."""

import gc
import weakref
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st
from PIL import Image

from labkit.files.header.reading import read_picture
from labkit.files.pixels.conversion import Conversion, conversion
from labkit.files.pixels.decode import decode
from labkit.files.writing import strips
from labkit.geometry.layout import lay_out
from labkit.geometry.length import ZERO, inches, length
from labkit.geometry.paper import sheet_of
from labkit.geometry.raster import mark_boxes, rasterize
from tests.files import make, sheets
from tests.properties import examples

few = examples(40, suppress_health_check=[HealthCheck.function_scoped_fixture])
SHEET = sheet_of(inches(5), inches(4))


def laid(path, sheet=SHEET, resample=None, **placed):
    """The strips of a picture on a sheet, its raster and its layout."""
    picture = read_picture(path)
    layout = lay_out(picture.pixels, sheet, **placed)
    raster = rasterize(layout, picture.pixels, working_ppi=300, resample=resample)
    return sheets.strips_of(picture, layout, raster), raster, layout


def whole(made: strips.SheetStrips, raster) -> np.ndarray:
    return made.rows(0, raster.sheet[1])


@pytest.fixture
def plain(tmp_path):
    return make.picture(tmp_path / "a.png")


@pytest.mark.parametrize(("width", "rows"), [(3900, 89), (13200, 26), (1, 349525), (10**6, 1)])
def test_rows_of_a_strip(width, rows):
    """As many whole rows of RGB as a mebibyte holds, and never none."""
    assert strips.rows_per_strip(width) == rows == max(1, 2**20 // (3 * width))


@pytest.mark.parametrize("width", [inches(3), inches(2)])
def test_the_picture_is_given_up_with_its_sheet(plain, width):
    """At once, before the file is read back, and not when rubbish happens to be collected."""
    picture = read_picture(plain)
    layout = lay_out(picture.pixels, SHEET, width=width)
    raster = rasterize(layout, picture.pixels, working_ppi=300)
    pixels = decode(picture)
    made = strips.SheetStrips(pixels, conversion(picture, sheets.shipped().colour), layout, raster)
    held = weakref.ref(pixels)
    gc.disable()
    try:
        whole(made, raster)
        del made, pixels
        assert held() is None
    finally:
        gc.enable()


# Nothing resampled


def test_the_picture_lies_on_white_where_the_raster_says(plain):
    made, raster, _ = laid(plain, width=inches(3), left=inches(1), top=inches("1.5"))
    assert (raster.ppi, raster.sheet) == (20, (100, 80))
    wanted = sheets.blank(raster)
    wanted.paste(Image.open(plain), (20, 30))
    assert np.array_equal(whole(made, raster), wanted)


@given(spans=st.lists(st.integers(0, 80), min_size=2, max_size=6))
@few
def test_any_span_of_rows_is_a_part_of_the_whole(plain, spans):
    made, raster, _ = laid(plain, width=inches(3), at="optical")
    everything = whole(made, raster)
    for top, bottom in zip(sorted(spans), sorted(spans)[1:], strict=False):
        if top < bottom:
            assert np.array_equal(made.rows(top, bottom), everything[top:bottom])
            assert made.is_blank(top, bottom) == bool((everything[top:bottom] == 255).all())


def test_a_crop_takes_the_pixels_it_names(plain):
    """Filled into a square, 40 of 60 columns stay: those on the left, in the middle, on the right."""
    square = sheet_of(inches(4), inches(4))
    for part, first in ((0, 0), (Fraction(1, 2), 10), (1, 20)):
        made, raster, _ = laid(plain, square, fill=True, keep=(Fraction(part), Fraction(0)))
        assert raster.sheet == (40, 40)
        wanted = Image.open(plain).crop((first, 0, first + 40, 40))
        assert np.array_equal(whole(made, raster), wanted)


def test_a_turned_picture_is_laid_upright(tmp_path):
    path = make.picture(tmp_path / "a.jpg", orientation=6, quality=95)
    made, raster, _ = laid(path, width=inches(2), left=inches(1), top=ZERO)
    box = raster.picture
    assert (box.width, box.height) == (40, 60)
    got = whole(made, raster)[: box.height, box.left : box.right]
    assert np.array_equal(got, sheets.seen(path))


# Resampled


@pytest.fixture
def detailed(tmp_path):
    """Edges, fine lines and noise, 400 × 300."""
    values = np.full((300, 400, 3), 230, np.uint8)
    values[40:200, 60:300] = 30
    values[::7, :200] = 120
    values[150:] ^= np.random.default_rng(1).integers(0, 60, (150, 400, 3), np.uint8)
    path = tmp_path / "detailed.png"
    Image.fromarray(values).save(path)
    return path


@pytest.mark.parametrize("ppi", [25, 37, 90, 230])
def test_strips_resampled_apart_make_one_picture(detailed, ppi):
    """Against the whole picture resized at once by the same rule: Lanczos, 3 lobes."""
    made, raster, _ = laid(detailed, width=inches(4), left=ZERO, top=ZERO, resample=ppi)
    assert raster.resampled
    box = raster.picture
    wanted = Image.open(detailed).resize((box.width, box.height), Image.Resampling.LANCZOS)
    rows = [made.rows(top, min(box.height, top + 17)) for top in range(0, box.height, 17)]
    got = np.concatenate(rows)[:, : box.width].astype(int)
    off = np.abs(got - np.asarray(wanted))
    assert off.max() <= 2
    assert off.mean() < 0.1


def test_a_crop_is_resampled_from_exactly_its_part(detailed):
    square = sheet_of(inches(3), inches(3))
    made, raster, _ = laid(
        detailed, square, fill=True, keep=(Fraction(1), Fraction(0)), resample=40
    )
    assert raster.source == (100, 0, 400, 300)
    lanczos = Image.Resampling.LANCZOS
    wanted = Image.open(detailed).resize((120, 120), lanczos, box=(100, 0, 400, 300))
    assert np.abs(whole(made, raster).astype(int) - np.asarray(wanted)).max() <= 2


def test_colours_are_averaged_before_they_are_converted_and_clear_ones_count_as_white(tmp_path):
    """Clear pixels hold black here; laid on white first, none of it bleeds into the edge."""
    values = np.zeros((60, 60, 4), np.uint8)
    values[:, :31] = (200, 200, 200, 255)
    path = tmp_path / "a.png"
    Image.fromarray(values).save(path)
    made, raster, _ = laid(path, width=inches(4), left=ZERO, top=ZERO, resample=5)
    assert whole(made, raster)[:20, :20].min() >= 195


@pytest.mark.parametrize("mode", ["1", "L", "P", "LA", "CMYK", "LAB"])
def test_every_mode_can_be_resampled(tmp_path, mode):
    profile = sheets.cmyk_profile() if mode == "CMYK" else None
    path = make.picture(tmp_path / "a.tif", mode=mode, profile=profile)
    made, raster, _ = laid(path, width=inches(3), left=ZERO, top=ZERO, resample=10)
    picture = read_picture(path)
    to_rgb = conversion(picture, sheets.shipped().colour)
    full = to_rgb.rgb(to_rgb.resizable(decode(picture).region((0, 0, *make.SIZE))))
    wanted = np.asarray(full.resize((30, 20), Image.Resampling.BOX), int)
    got = whole(made, raster)[:20, :30].astype(int)
    assert np.abs(got.mean((0, 1)) - wanted.mean((0, 1))).max() < 2


# Marks


def test_corner_marks_stand_where_the_cuts_are(plain):
    """6 mm long, a quarter of one wide, in line with the cuts and outside the bleed."""
    trim = inches(2), inches("1.5")
    bleed = length("1/8in")
    made, raster, layout = laid(plain, trim=trim, bleed=bleed, resample=200)
    black = (whole(made, raster) == 0).all(axis=-1)
    box = raster.picture
    black[box.top : box.bottom, box.left : box.right] = False
    rows, columns = np.flatnonzero(black.any(1)), np.flatnonzero(black.any(0))
    per_mm = 200 / 25.4
    for first, last, start, size in (
        (columns[0], columns[-1], layout.trim.box.left, trim[0]),
        (rows[0], rows[-1], layout.trim.box.top, trim[1]),
    ):
        assert abs(first - float(start - bleed) * 200 + 6 * per_mm) <= 1
        assert abs(last + 1 - float(start + size + bleed) * 200 - 6 * per_mm) <= 1
    assert black.sum() == sum(mark.width * mark.height for mark in mark_boxes(layout, raster.ppi))
    inside = black[box.top : box.bottom].any(0).nonzero()[0]
    assert ((inside < box.left) | (inside >= box.right)).all()
    cut = layout.trim.box
    across = sorted(side.pixels(200) for side in (cut.top, cut.bottom))
    in_line = np.flatnonzero(black[:, columns[0]])
    assert all(min(abs(row - side) for side in across) <= 1 for row in in_line)


@given(ppi=st.integers(5, 60), left=st.fractions(Fraction(1, 2), 2), width=st.integers(8, 20))
@few
def test_no_mark_ever_covers_a_pixel_of_the_picture(tmp_path, ppi, left, width):
    path = tmp_path / "white.png"
    Image.new("RGB", (64, 64), "white").save(path)
    sheet = sheet_of(inches(6), inches(6))
    placed = {"trim": (inches(Fraction(width, 8)),) * 2, "left": inches(left), "top": inches(left)}
    made, raster, _ = laid(path, sheet, bleed=length("3mm"), resample=ppi, **placed)
    box = raster.picture
    got = whole(made, raster)
    assert (got[box.top : box.bottom, box.left : box.right] == 255).all()
    assert (got == 0).any()


# Preview


@pytest.mark.parametrize(
    ("size", "longest", "made"),
    [((60, 40), 100, (60, 40)), ((60, 40), 30, (30, 20)), ((61, 41), 30, (21, 14))],
)
def test_a_preview_is_no_longer_than_asked(tmp_path, size, longest, made):
    picture = read_picture(make.picture(tmp_path / "a.png", size=size))
    to_rgb = conversion(picture, sheets.shipped().colour)
    small = strips.preview(decode(picture), to_rgb, longest)
    assert (small.mode, small.size) == ("RGB", made)
    assert max(small.size) <= longest


def test_a_preview_in_bands_is_the_average_of_the_whole(tmp_path):
    picture = read_picture(make.picture(tmp_path / "a.png", size=(90, 1200), mode="RGBA"))
    to_rgb = conversion(picture, sheets.shipped().colour)
    pixels = decode(picture)
    small = strips.preview(pixels, to_rgb, 400)
    flat = to_rgb.resizable(pixels.region((0, 0, 90, 1200)))
    assert np.array_equal(small, flat.reduce(3))


@pytest.mark.parametrize(
    ("mode", "most"), [("RGB", 4), ("RGBA", 4), ("CMYK", 4), ("L", 4), ("P", 10)]
)
def test_a_preview_of_a_large_picture_is_about_its_average(tmp_path, mode, most):
    """A few colours are scattered to stand for many, so of a palette more is left to chance."""
    path = tmp_path / "a.tif"
    make.drawing((1000, 701), mode).save(path, icc_profile=None)
    picture = read_picture(path)
    pixels = decode(picture)
    plain = Conversion(b"", "", ())
    small = strips.preview(pixels, plain, 100)
    whole = plain.rgb(plain.resizable(pixels.region((0, 0, 1000, 701))))
    wanted = whole.resize(small.size, Image.Resampling.BOX)
    assert max(small.size) <= 100
    assert np.abs(np.asarray(small, int) - np.asarray(wanted, int)).mean() < most


def test_a_preview_is_upright(tmp_path):
    path = make.picture(tmp_path / "a.png", orientation=8)
    picture = read_picture(path)
    to_rgb = conversion(picture, sheets.shipped().colour)
    assert np.array_equal(strips.preview(decode(picture), to_rgb, 100), sheets.seen(path))
