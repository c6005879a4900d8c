"""A crop saved again and again, and a file with layers printed by its switches."""

import json
from io import BytesIO

import numpy as np
import pytest
import tifffile
from PIL import Image

from labkit.files.header.reading import read_picture
from labkit.files.look.address import address_bytes
from labkit.teaching.pictures import demo_pictures
from labkit.teaching.samples import TILE
from labkit.teaching.saved_samples import (
    LAYERED,
    QUALITIES,
    SAVED,
    SAVES,
    _layered,
    _printed,
    keep_layers,
    keep_saves,
)
from tests.files import make
from tests.files.sheets import shipped
from tests.geometry.refused import refusal


def kept(maker, file, folder) -> tuple[dict, np.ndarray]:
    """What is told, and the strip as pixels."""
    maker(read_picture(file), shipped(), folder / "kept.json")
    told = json.loads((folder / "kept.json").read_text(encoding="utf-8"))
    return told, np.asarray(Image.open(BytesIO(address_bytes(told["strip"]))).convert("RGB"), float)


@pytest.fixture(scope="module")
def saves(tmp_path_factory):
    """Of a part of our harbour."""
    folder = tmp_path_factory.mktemp("saves")
    with Image.open(demo_pictures()[0].file) as opened:
        opened.crop((3000, 1100, 3400, 1500)).save(folder / "small.png")
    return kept(keep_saves, folder / "small.png", folder)


def tile(strip, name) -> np.ndarray:
    at = SAVED.index(name)
    return strip[:, at * TILE : (at + 1) * TILE]


def test_what_is_told_is_what_the_crops_show(saves):
    told, strip = saves
    assert strip.shape == (TILE, len(SAVED) * TILE, 3)
    exact = tile(strip, "original")
    for way in QUALITIES:
        for count in SAVES:
            less = tile(strip, f"{way}, {count}") - exact
            assert told["off"][way][str(count)] == pytest.approx(np.sqrt((less**2).mean()))
            shown = tile(strip, f"{way}, {count}, lost")
            assert np.abs(shown - np.clip(128 + 4 * less, 0, 255)).max() < 1


def test_at_one_quality_it_hardly_grows_and_otherwise_it_does(saves):
    """Measured by us on three photos at quality 85: 50 times 1.02 to 1.10 times the first loss, and about
    double or more with a change before each."""
    off = {way: [each[str(count)] for count in SAVES] for way, each in saves[0]["off"].items()}
    grown = {way: each[-1] / each[0] for way, each in off.items()}
    assert 1 < grown["same"] < 1.2
    assert grown["other"] > 1.4
    assert grown["shifted"] > 2
    assert off["same"][-1] == off["same"][-2], "after some times nothing more is lost"
    assert all(each == sorted(each) for way, each in off.items() if way != "same")


def test_no_quality_is_below_the_one_it_is_compared_with():
    assert min(QUALITIES["other"]) == QUALITIES["same"][0]


def test_a_picture_that_is_too_small_is_refused(tmp_path):
    small = read_picture(make.picture(tmp_path / "small.png", size=(319, 400)))
    told = refusal(keep_saves, small, shipped(), tmp_path / "kept.json")
    assert "small.png has 319 × 400 pixels, and this takes 320 × 320" in told
    assert not (tmp_path / "kept.json").exists()


def test_the_layers_are_pages_and_the_switches_decide_what_comes_out():
    grey = np.full((200, 300, 3), 180, np.uint8)
    file = _layered(grey)
    with tifffile.TiffFile(BytesIO(file)) as tiff:
        assert [page.shape for page in tiff.pages] == [(200, 300, 4)] * 3
    assert np.array_equal(_printed(file, False, False), grey)
    dark, notes = _printed(file, True, False), _printed(file, False, True)
    assert dark[0].mean() < 100
    assert np.array_equal(dark[-1], grey[-1])
    marked = (notes != grey).any(axis=2).mean()
    assert 0.01 < marked < 0.2


def test_the_strip_has_every_print_and_the_flat_file_is_smaller(tmp_path):
    file = make.picture(tmp_path / "a.png", size=(600, 400))
    told, strip = kept(keep_layers, file, tmp_path)
    wide, high = told["shape"]
    assert wide / high == pytest.approx(3 / 2, rel=0.01)
    assert strip.shape == (high, len(LAYERED) * wide, 3)
    prints = np.split(strip, len(LAYERED), axis=1)
    for at, one in enumerate(prints):
        assert all(np.abs(one - other).mean() > 1 for other in prints[at + 1 :])
    assert told["bytes"]["flat"] < told["bytes"]["layers"]
