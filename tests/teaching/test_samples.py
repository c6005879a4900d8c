"""Samples of a picture: enlarged crops with what each lost, and the block of a blind sheet."""

import json
from base64 import b64decode
from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from labkit.errors import LabError
from labkit.files.child import kept
from labkit.files.header.reading import read_picture
from labkit.teaching.blind import PPIS
from labkit.teaching.samples import (
    BLOCK,
    FILTERS,
    SAMPLE,
    STRIP,
    TILE,
    TIMES,
    at_ppi,
    blind_block,
    busiest,
    enlarged,
)
from tests.files import make
from tests.files.sheets import shipped
from tests.geometry.refused import refusal


def noise(size, seed=1) -> np.ndarray:
    return np.random.default_rng(seed).integers(0, 256, (size[1], size[0], 3), np.uint8)


@pytest.fixture
def told(tmp_path):
    """Of a picture of noise, which cannot be enlarged well."""
    file = tmp_path / "noise.png"
    Image.fromarray(noise((TILE, TILE))).save(file)
    enlarged(read_picture(file), shipped(), tmp_path / "made.json")
    return json.loads((tmp_path / "made.json").read_text())


@pytest.fixture
def tiles(told):
    strip = np.asarray(Image.open(BytesIO(b64decode(told["strip"].partition(",")[2]))))
    assert strip.shape == (TILE, TILE * len(STRIP), 3)
    return dict(zip(STRIP, np.hsplit(strip, len(STRIP)), strict=True))


def test_the_first_crop_is_the_picture_as_it_was(tiles):
    assert np.array_equal(tiles["original"], noise((TILE, TILE)))


def test_nearest_repeats_each_pixel(tiles):
    small = tiles["nearest"][::TIMES, ::TIMES]
    assert np.array_equal(tiles["nearest"], small.repeat(TIMES, 0).repeat(TIMES, 1))


def test_all_three_are_made_of_the_same_few_pixels(tiles):
    small = Image.fromarray(tiles["nearest"][::TIMES, ::TIMES].copy())
    for name, way in FILTERS.items():
        again = small.resize((TILE, TILE), way)
        assert np.array_equal(tiles[name], np.asarray(again)), name


def test_what_was_lost_is_measured(told, tiles):
    for name in FILTERS:
        off = tiles[name].astype(float) - tiles["original"]
        assert told["lost"][name] == pytest.approx(np.abs(off).mean())
        shown = tiles[f"{name}, lost"].astype(float)
        assert np.abs(shown - np.clip(128 + 2 * off, 0, 255)).max() < 1


def test_the_detail_is_the_spectrums(told):
    """Parseval: noise of variance s² has s / √n a wave, on average times √(π/4)."""
    values = told["detail"]["original"]
    assert len(values) == TILE // 2
    spread = np.asarray(Image.fromarray(noise((TILE, TILE))).convert("L"), float).std()
    assert np.mean(values[20:]) == pytest.approx(spread / TILE * np.sqrt(np.pi / 4), rel=0.03)


def test_enlarging_brings_no_fineness_back(told):
    finest = TILE // (2 * TIMES)
    original = np.mean(told["detail"]["original"][2 * finest :])
    for name in ("bilinear", "bicubic"):
        assert np.mean(told["detail"][name][2 * finest :]) < original / 5


def test_a_flat_picture_loses_nothing(tmp_path):
    file = tmp_path / "flat.png"
    Image.new("RGB", (300, 250), (90, 120, 30)).save(file)
    enlarged(read_picture(file), shipped(), tmp_path / "made.json")
    assert set(json.loads((tmp_path / "made.json").read_text())["lost"].values()) == {0}


def test_the_busiest_part_is_taken(tmp_path):
    values = np.full((600, 900, 3), 128, np.uint8)
    values[380:600, 650:900] = noise((250, 220))
    Image.fromarray(values).save(tmp_path / "a.png")
    crop, _ = busiest(read_picture(tmp_path / "a.png"), shipped(), (200, 200))
    assert np.asarray(crop).std() > 60


def test_a_picture_that_is_too_small_is_refused(tmp_path):
    small = read_picture(make.picture(tmp_path / "small.png", size=(1079, 2000)))
    assert refusal(blind_block, small, shipped(), PPIS, tmp_path / "a.tif") == (
        "small.png has 1079 × 2000 pixels, and this takes 1080 × 864: choose a larger picture in "
        "00-start-here."
    )


@pytest.fixture
def block(tmp_path):
    file = tmp_path / "noise.png"
    Image.fromarray(noise(SAMPLE)).save(file)
    blind_block(
        read_picture(file), shipped(), (72, 300, 100, 240, 150, 200), tmp_path / "block.tif"
    )
    return tmp_path / "block.tif"


def sample(block, column, row) -> np.ndarray:
    values = np.asarray(Image.open(block))
    left, top = column * 1170, row * 1008
    return values[top : top + SAMPLE[1], left : left + SAMPLE[0]]


def test_the_block_is_7_and_a_half_by_10_in(block):
    picture = read_picture(block)
    assert picture.pixels == BLOCK
    assert picture.ppi == (300, 300)
    assert picture.profile is not None


def test_the_sample_at_300_is_untouched_and_the_others_are_softer_in_order(block):
    finer = [sample(block, *at) for at in ((1, 0), (1, 1), (1, 2), (0, 2), (0, 1), (0, 0))]
    assert np.array_equal(finer[0], noise(SAMPLE))  # 300, then 240, 200, 150, 100, 72
    left = [float(each.std()) for each in finer]
    assert left == sorted(left, reverse=True)
    assert left[0] > 1.2 * left[1]


def test_every_sample_has_its_letter_below_it(block):
    values = np.asarray(Image.open(block).convert("L"))
    for left in (0, 1170):
        for top in (0, 1008, 2016):
            under = values[top + SAMPLE[1] + 4 : top + 1008, left : left + 90]
            assert (under < 60).any(), (left, top)
    assert (values[:, SAMPLE[0] : 1170] == 255).all()


@pytest.mark.parametrize("ppi", PPIS)
def test_a_sample_keeps_its_size(ppi):
    crop = Image.fromarray(noise((300, 200)))
    assert at_ppi(crop, ppi).size == crop.size


# Kept


def copy(picture, room, file):
    file.write_bytes(picture.path.read_bytes())


def spoil(picture, room, file):
    file.write_bytes(b"half")
    raise LabError("no.")


@pytest.fixture
def here(monkeypatch):
    """The child's work in this process, and how often it was asked for."""
    calls = []

    class Child:
        def run(self, function, *given, **_):
            calls.append(function)
            return function(*given)

    monkeypatch.setattr(kept, "resident_child", Child)
    return calls


def test_what_is_made_of_a_picture_is_made_once(tmp_path, here, own_folder):
    picture = read_picture(make.picture(tmp_path / "a.png"))
    first = kept.cached_file(picture, shipped(), copy, "-copy.png")
    assert first.read_bytes() == picture.path.read_bytes()
    assert first.is_relative_to(own_folder)
    assert kept.cached_file(picture, shipped(), copy, "-copy.png") == first
    assert len(here) == 1


def test_another_picture_under_the_same_name_is_made_anew(tmp_path, here):
    first = kept.cached_file(
        read_picture(make.picture(tmp_path / "a.png")), shipped(), copy, ".png"
    )
    make.picture(tmp_path / "a.png", size=(90, 90))
    second = kept.cached_file(read_picture(tmp_path / "a.png"), shipped(), copy, ".png")
    assert first != second


def test_what_could_not_be_made_leaves_nothing(tmp_path, here, own_folder):
    picture = read_picture(make.picture(tmp_path / "a.png"))
    assert refusal(kept.cached_file, picture, shipped(), spoil, ".png") == "no."
    assert list((own_folder / "previews").iterdir()) == []


def test_it_runs_in_a_guarded_child(tmp_path):
    Image.fromarray(noise((300, 300))).save(tmp_path / "a.png")
    made = kept.cached_file(read_picture(tmp_path / "a.png"), shipped(), enlarged, ".json")
    assert json.loads(made.read_text())["strip"].startswith("data:image/png;base64,")


def test_a_damaged_picture_is_told_of(tmp_path):
    file = make.picture(tmp_path / "a.jpg", size=(300, 300))
    file.write_bytes(file.read_bytes()[:-600])
    told = refusal(kept.cached_file, read_picture(file), shipped(), enlarged, ".json")
    assert "“a.jpg” is damaged or cut short" in told
