"""Tiles of a picture under several profiles, on two papers, and in five steps."""

import json
from base64 import b64decode
from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from labkit.files.header.reading import read_picture
from labkit.room.rules import load_room
from labkit.teaching.colour_samples import (
    PROOFS,
    READINGS,
    STRIPS,
    hatched,
    keep_proofs,
    keep_readings,
    keep_strips,
)
from labkit.teaching.papers import STEPS
from tests.files import make


def made(tmp_path, keep, names, size=(120, 80), **options):
    """What is kept, and each tile's mean level by its name."""
    picture = read_picture(make.picture(tmp_path / "one.png", size=size, **options))
    kept = tmp_path / "kept.json"
    keep(picture, load_room(), kept)
    told = json.loads(kept.read_text(encoding="utf-8"))
    strip = np.asarray(Image.open(BytesIO(b64decode(told["strip"].split(",")[1]))), float)
    assert strip.shape[1] == told["shape"][0] * len(names)
    assert strip.shape[0] == told["shape"][1]
    tiles = np.split(strip, len(names), 1)
    return told, dict(zip(names, tiles, strict=True))


def test_readings(tmp_path):
    told, tiles = made(tmp_path, keep_readings, READINGS)
    assert told["changed"]["file"] == 0
    assert told["changed"]["translated"] < 1
    for name in ("as wide", "as matt", "wide, label lost", "matt, label lost"):
        assert told["changed"][name] > 2, name
        assert np.abs(tiles[name] - tiles["file"]).mean() > 2, name
    assert told["translated"] != told["spot"]
    assert np.abs(tiles["translated"] - tiles["file"]).mean() < 2


def test_numbers_read_as_wide_are_more_colourful_and_the_other_way_round_duller(tmp_path):
    _, tiles = made(tmp_path, keep_readings, READINGS)
    colour = {name: np.ptp(tile, axis=2).mean() for name, tile in tiles.items()}
    assert colour["wide, label lost"] < colour["file"] < colour["as wide"]


def test_proofs(tmp_path):
    told, tiles = made(tmp_path, keep_proofs, PROOFS)
    papers = told["papers"]
    assert papers["gloss"]["lost"] < papers["matt"]["lost"]
    assert papers["matt"]["dark"] <= papers["matt"]["lost"]
    for name in papers:
        assert papers[name]["moved"]["relative"] > 0
        own = tiles[f"{name}, relative, own white"]
        assert own.mean() < tiles[f"{name}, relative"].mean()
    off = {name: np.abs(tiles[f"{name}, relative"] - tiles["file"]).mean() for name in papers}
    assert off["gloss"] < off["matt"]


def test_strips_get_lighter_step_by_step(tmp_path):
    _, tiles = made(tmp_path, keep_strips, STRIPS, size=(400, 300))
    for name in ("gloss", "matt"):
        light = [tiles[f"{name}, {step}"].mean() for step in STEPS]
        assert light == sorted(light)
        assert light[-1] - light[0] > 20


@pytest.mark.parametrize(
    "size",
    [
        (40, 300),
        pytest.param((60, 60), marks=pytest.mark.slow),
        pytest.param((900, 100), marks=pytest.mark.slow),
    ],
)
def test_strips_of_pictures_of_any_shape_are_4_to_3(tmp_path, size):
    told, _ = made(tmp_path, keep_strips, STRIPS, size=size)
    assert told["shape"] == [240, 180]


def test_a_picture_in_a_space_of_its_own_is_read_by_it(tmp_path):
    _, plain = made(tmp_path, keep_proofs, PROOFS)
    _, other = made(tmp_path, keep_proofs, PROOFS, profile=make.rgb_profile(1.2))
    assert np.abs(plain["file"] - other["file"]).mean() > 5


def test_the_hatching_lies_where_it_should_and_is_seen_on_every_colour():
    picture = np.full((16, 16, 3), 128, np.uint8)
    where = np.zeros((16, 16), bool)
    where[:, :8] = True
    made_ = hatched(picture, where)
    assert (made_[:, 8:] == 128).all()
    assert {0, 255} <= set(np.unique(made_[:, :8]))
    assert (picture == 128).all()
