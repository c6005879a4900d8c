"""Tone steps, measured back from the pixels they were made on."""

import math

import imagecodecs
import numpy as np
import pytest

from labkit.files.pixels.lab import D50, lab_of_xyz
from labkit.files.pixels.tone import MIDDLE_LIGHT, tone
from tests.files import srgb
from tests.geometry.refused import refusal

GREY = 118.86 / 255
"""sRGB of L 50 (IEC 61966-2-1, CIE 15), which lies between two levels."""
STEPS = [("stops", step) for step in (-2, -0.5, 0.1, 0.3, 1, 2)]
STEPS += [("lightness", step) for step in (-24, -4, 1, 8, 24)]
each_step = pytest.mark.parametrize(("by", "step"), STEPS)
each_depth = pytest.mark.parametrize("depth", [np.uint8, np.uint16])


def lightness(light):
    """CIE L* of light."""
    return lab_of_xyz(np.asarray(light)[..., None] * D50)[..., 0]


def grey_picture(depth) -> np.ndarray:
    """Middle grey in dithered levels, so that their mean light is that of L 50."""
    most = np.iinfo(depth).max
    level = math.floor(GREY * most)
    below, above = srgb.linear(level / most), srgb.linear((level + 1) / most)
    many = round((MIDDLE_LIGHT - below) / (above - below) * 1000)
    picture = np.full((10, 100, 3), level, depth)
    picture.reshape(-1, 3)[:many] += 1
    return picture


@each_depth
@each_step
def test_the_step_measured_back_from_pixels(by, step, depth):
    """By the formulas of sRGB and CIE L*: at 8 bits to a fiftieth of a stop or a quarter of L*."""
    before = grey_picture(depth)
    after = tone(step, by)(before)
    assert (after.dtype, after.shape) == (before.dtype, before.shape)
    light, made = (srgb.linear(p / np.iinfo(depth).max).mean() for p in (before, after))
    fine = 1 if depth == np.uint8 else 0.05
    if by == "stops":
        assert math.log2(made / light) == pytest.approx(step, abs=0.02 * fine)
    else:
        assert lightness(made) - lightness(light) == pytest.approx(step, abs=0.25 * fine)


@pytest.mark.parametrize("levels", [256, 65536])
@each_step
def test_ends_stay_and_the_curve_rises(by, step, levels):
    table = tone(step, by).table(levels)
    assert (table[0], table[-1]) == (0, levels - 1)
    assert np.all(np.diff(table) >= 0)
    inside = table[levels // 16 : -levels // 16] - np.arange(levels)[levels // 16 : -levels // 16]
    assert np.all(np.sign(inside) * np.sign(step) >= 0)
    assert len(np.unique(table)) > 0.5 * levels


@pytest.mark.parametrize("by", ["stops", "lightness"])
@pytest.mark.parametrize("levels", [256, 65536])
def test_no_step_changes_no_level(by, levels):
    assert np.array_equal(tone(0, by).table(levels), np.arange(levels))


@pytest.mark.parametrize("by", ["stops", "lightness"])
def test_a_larger_step_is_nowhere_darker(by):
    tables = np.stack([tone(step, by).table(65536) for step in (-2, -1, -0.5, 0, 0.5, 1, 2)])
    assert np.all(np.diff(tables, axis=0)[:, 1:-1] >= 0)
    assert np.all(np.diff(tables[:, 30000]) > 0)


@pytest.mark.parametrize("gamma", [1.0, 563 / 256])
def test_a_picture_of_another_profile_gets_the_step_by_that_profile(gamma):
    """A power of the value is the light: linear, and 2.2 as ICC.1 stores it."""
    primaries = [0.64, 0.33, 1, 0.30, 0.60, 1, 0.15, 0.06, 1]
    profile = imagecodecs.cms_profile(
        "rgb", gamma=gamma, whitepoint=[0.3127, 0.3290, 1], primaries=primaries
    )
    level = round(MIDDLE_LIGHT ** (1 / gamma) * 65535)
    made = tone(1, profile=profile)(np.full((1, 1, 3), level, np.uint16))
    assert (made[0, 0] / level) ** gamma == pytest.approx(2, abs=0.002)


def test_each_channel_alike():
    picture = np.array([[[10, 100, 200], [200, 10, 100]]], np.uint8)
    made = tone(0.5)(picture)
    assert made[0, 1].tolist() == np.roll(made[0, 0], 1).tolist()


@pytest.mark.parametrize(
    ("step", "by", "told"),
    [
        (1, "percent", "tone steps are told in stops or in lightness, not in “percent”."),
        (2.5, "stops", "a tone step is a number of stops from -2 to 2, such as 0.3, and not 2.5."),
        (
            -30,
            "lightness",
            "a tone step is a number of L* units from -24 to 24, such as 4, and not -30.",
        ),
    ],
)
def test_a_step_that_cannot_be_made_is_refused(step, by, told):
    assert refusal(tone, step, by) == told
