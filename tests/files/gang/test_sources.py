"""Rows of prints as they lie: bit for bit, and no picture decoded oftener or earlier than it must be."""

from concurrent.futures import ThreadPoolExecutor

import numpy as np
import pytest
import tifffile
from PIL import Image

from labkit.files.gang import sources
from labkit.files.gang.sources import Laid, Sources
from labkit.files.header.reading import read_picture
from labkit.geometry.pixelbox import PixelBox
from labkit.room.rules import load_room
from tests.files.gang.prints import finished

COLOUR = load_room().colour


@pytest.fixture
def striped(tmp_path):
    return finished(tmp_path, "Ada-Brook_Boat_3x4in", (3, 4))


@pytest.fixture
def decoded(monkeypatch):
    """Which pictures were decoded whole, in order."""
    names = []

    def noted(picture):
        names.append(picture.path.name)
        return decode(picture)

    decode = sources.decode
    monkeypatch.setattr(sources, "decode", noted)
    return names


def laid(file, turned=False):
    picture = read_picture(file)
    wide, high = picture.pixels[::-1] if turned else picture.pixels
    return Laid(picture, PixelBox(0, 0, wide, high), turned, None)


def rows_of(made: Sources, each: Laid, step: int = 13) -> np.ndarray:
    high = each.place.height
    with ThreadPoolExecutor(3) as pool:
        spans = [(top, min(high, top + step)) for top in range(0, high, step)]
        return np.concatenate(list(pool.map(lambda span: made.rows(each, *span), spans)))


def test_a_tiff_in_strips_is_never_decoded_whole(striped, tmp_path, decoded):
    each = laid(striped)
    assert np.array_equal(
        rows_of(Sources([each], tmp_path, COLOUR), each), tifffile.imread(striped)
    )
    assert decoded == []


def test_a_turned_one_is_read_once_for_all_its_copies(striped, tmp_path, decoded):
    values = tifffile.imread(striped)
    png = tmp_path / "a.png"
    Image.fromarray(values).save(png)
    copies = [laid(file, turned=True) for file in (striped, png) for _ in range(3)]
    made = Sources(copies, tmp_path, COLOUR)
    for each in copies:
        assert np.array_equal(rows_of(made, each), np.rot90(values, -1))
    assert decoded == [png.name]
    assert sorted(tmp_path.iterdir()) == [striped, png]


def test_other_kinds_are_decoded_when_their_rows_are_asked_for(striped, tmp_path, decoded):
    values = np.random.default_rng(1).integers(0, 256, (40, 30, 3)).astype("u1")
    files = [tmp_path / "a.png", tmp_path / "b.png"]
    for file in files:
        Image.fromarray(values).save(file)
    both = [laid(file) for file in files]
    made = Sources(both, tmp_path, COLOUR)
    assert decoded == []
    made.rows(both[0], 0, 5)
    assert decoded == ["a.png"]
    assert np.array_equal(made.rows(both[1], 0, 40), values)
    assert decoded == ["a.png", "b.png"]


def test_a_writer_that_begins_again_gets_the_same(striped, tmp_path, decoded):
    png = tmp_path / "a.png"
    Image.fromarray(tifffile.imread(striped)).save(png)
    each = laid(png, turned=True)
    made = Sources([each], tmp_path, COLOUR)
    first = rows_of(made, each)
    assert np.array_equal(rows_of(made, each), first)
    assert len(decoded) == 2
