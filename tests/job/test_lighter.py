"""One tone step in a print file: asked for, told, and measured back from the pixels on the disk."""

import re
from base64 import b64decode
from io import BytesIO

import numpy as np
import pytest
import tifffile
from PIL import Image

from labkit import check, open_picture, place, write
from labkit.files.header.reading import read_picture as facts_of
from tests.files import make, sheets
from tests.files.srgb import encoded, linear
from tests.geometry.refused import refusal

pytestmark = pytest.mark.usefixtures("warm")

WHO = {"owner": "Ada Brook", "title": "Boat"}
GREYS = np.arange(256, dtype=np.uint8)


@pytest.fixture
def greys(tmp_path):
    """All 256 greys of sRGB, one a column, 100 % at 60 ppi."""
    values = np.repeat(np.tile(GREYS, (60, 1))[..., None], 3, 2)
    path = tmp_path / "greys.png"
    Image.fromarray(values).save(path, dpi=(60, 60), icc_profile=make.srgb())
    return path


def written(file, out, **options):
    """The print file, and its pixels where the picture is and where it is not."""
    picture = open_picture(file)
    layout = place(picture, on="6x4in", width="4 4/15in")
    room = sheets.room_with("", working_ppi=60)
    made = write(picture, layout, **WHO, out=out, room=room, **options)
    sheet = tifffile.imread(made.file)
    box = made.printed.raster.picture
    laid = sheet[box.top : box.bottom, box.left : box.right].copy()
    sheet[box.top : box.bottom, box.left : box.right] = 255
    return made, laid, sheet


@pytest.mark.parametrize("step", [0.3, 0.9, -0.6])
def test_the_step_is_measured_back_at_middle_grey(greys, tmp_path, step):
    """CIE L* 50 is a light of 0.1842 (CIE 15), sRGB 118.9; a stop is twice the light.

    The level in the file lies within half a level of the one worked out with IEC 61966-2-1.
    """
    _, laid, _ = written(greys, tmp_path, lighter=step)
    middle = 0.18418651851244416
    wanted = encoded(middle * 2**step) * 255
    got = np.interp(encoded(middle) * 255, GREYS, laid[30, :, 0])
    assert got == pytest.approx(wanted, abs=0.6)
    measured = np.log2(linear(got / 255) / middle)
    assert measured == pytest.approx(step, abs=0.02)


@pytest.mark.parametrize("step", [4, -8])
def test_a_step_of_lightness_is_measured_back_at_middle_grey(greys, tmp_path, step):
    """CIE L* = 116 · Y^(1/3) − 16 (CIE 15) of the light that IEC 61966-2-1 gives for the level."""
    _, laid, _ = written(greys, tmp_path, lighter=step, by="lightness")
    got = np.interp(encoded(0.18418651851244416) * 255, GREYS, laid[30, :, 0])
    assert 116 * np.cbrt(linear(got / 255)) - 16 == pytest.approx(50 + step, abs=0.3)


def test_a_unit_without_a_step_is_refused(greys, tmp_path):
    picture = open_picture(greys)
    layout = place(picture, on="6x4in", width="4in")
    told = refusal(write, picture, layout, **WHO, out=tmp_path / "out", by="lightness")
    assert "no step is asked for" in told


def test_nothing_else_changes(greys, tmp_path):
    made, laid, paper = written(greys, tmp_path, lighter=0.6)
    assert (paper == 255).all()
    assert (laid[..., 0] == laid[..., 1]).all()
    assert (laid[..., 0] == laid[..., 2]).all()
    assert (laid == laid[:1]).all()
    assert (np.diff(laid[0, :, 0].astype(int)) >= 0).all()
    assert (laid[0, 0] == 0).all()
    assert (laid[0, 255] == 255).all()
    assert check(made.file, against=made.layout).verdict == "fine"


def test_without_one_every_pixel_is_as_it_was(greys, tmp_path):
    _, laid, _ = written(greys, tmp_path)
    assert (laid[0, :, 0] == GREYS).all()


def test_16_bits_are_made_lighter_at_16_bits(tmp_path):
    """Of 65536 levels more than 8 bits could hold come out, whatever came in at 16."""
    values = np.linspace(0, 65535, 400).astype(np.uint16)
    file = tmp_path / "slope.tif"
    tifffile.imwrite(
        file,
        np.repeat(np.tile(values, (60, 1))[..., None], 3, 2),
        photometric="rgb",
        resolution=(60, 60),
        resolutionunit="INCH",
        metadata=None,
    )
    picture = open_picture(file)
    room = sheets.room_with("colour", depth=16)
    layout = place(picture, on="8x4in", width="6 2/3in", room=room)
    made = write(picture, layout, **WHO, out=tmp_path, lighter=0.3, keep_pixels=True, room=room)
    box = made.printed.raster.picture
    row = tifffile.imread(made.file)[box.top, box.left : box.right, 0]
    assert row.dtype == np.uint16
    assert len(np.unique(row)) > 390
    assert len(np.unique(row % 257)) > 100


def test_it_is_told_in_the_file_on_the_ticket_and_in_the_sentence(greys, tmp_path):
    made, _, _ = written(greys, tmp_path, lighter=0.3)
    told = (
        "The picture was made 0.3 stops lighter at middle grey, as asked; black and white are as "
        "they were."
    )
    assert told in made.printed.converted
    with tifffile.TiffFile(made.file) as file:
        assert told in file.pages[0].tags["ImageDescription"].value
    assert told in made.ticket.read_text(encoding="utf-8")
    assert made.file.stem == "Ada-Brook_Boat_6x4in"
    assert facts_of(made.file).profile_name


def test_unasked_it_is_not_mentioned(greys, tmp_path):
    made, _, _ = written(greys, tmp_path)
    assert "middle grey" not in made.ticket.read_text(encoding="utf-8")
    assert not made.printed.converted


def test_the_tickets_picture_is_as_light_as_the_print(greys, tmp_path):
    light = {}
    for step in (0, 0.9):
        page = written(greys, tmp_path / str(step), lighter=step)[0].ticket.read_text(
            encoding="utf-8"
        )
        jpeg = re.search(r"data:image/jpeg;base64,([^\"']+)", page)[1]
        light[step] = np.asarray(Image.open(BytesIO(b64decode(jpeg)))).mean()
    assert light[0.9] > light[0] + 20


def test_too_large_a_step_leaves_nothing_behind(greys, tmp_path):
    out = tmp_path / "out"
    out.mkdir()
    picture = open_picture(greys)
    layout = place(picture, on="6x4in", width="4in")
    assert refusal(write, picture, layout, **WHO, out=out, lighter=3).startswith("a tone step is")
    assert list(out.iterdir()) == []
