"""The invented printer: managed once its print is the file, never it is dull and dark, twice the opposite."""

import json
from base64 import b64decode
from io import BytesIO

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from labkit.files.header.reading import read_picture
from labkit.teaching.invented_printer import (
    PRINTS,
    TILE,
    keep_prints,
    managed,
    printed,
    to_levels,
    to_light,
)
from tests.files import make
from tests.files.sheets import shipped

LIGHTS = st.tuples(*[st.floats(0, 1)] * 3).map(np.array)


@given(LIGHTS)
def test_managed_once_whatever_the_printer_can_print_comes_out_as_it_was(light):
    wanted = printed(light)
    assert np.allclose(printed(managed(wanted)), wanted, atol=1e-9)


@pytest.mark.parametrize("grey", [0.0, 1.0])
def test_black_and_white_are_left_alone(grey):
    light = np.full(3, grey)
    assert printed(light) == pytest.approx(light)
    assert managed(light) == pytest.approx(light)


def test_by_hand():
    """Red alone: its luminance is 0.2126 (IEC 61966-2-1); 35 % of the way to it, to the power of 1.5."""
    red = np.array([1.0, 0.0, 0.0])
    assert printed(red) == pytest.approx([0.72441**1.5, 0.07441**1.5, 0.07441**1.5])


@given(LIGHTS)
def test_unmanaged_nothing_comes_out_lighter(light):
    luminance = np.array([0.2126, 0.7152, 0.0722])  # IEC 61966-2-1
    assert printed(light) @ luminance <= light @ luminance + 1e-9


@given(st.floats(0, 1))
def test_greys_by_the_formula(grey):
    light = np.full(3, grey)
    assert printed(light) == pytest.approx(light**1.5)
    assert printed(managed(managed(light))) == pytest.approx(light ** (1 / 1.5))


def test_what_cannot_be_printed_comes_as_near_as_it_goes():
    sent = managed(np.array([1.0, 0.0, 0.0]))
    assert sent.min() >= 0
    assert sent.max() <= 1
    assert printed(sent)[0] < 1


@pytest.mark.parametrize(("level", "light"), [(0, 0), (10, 0.0030353), (128, 0.2158605), (255, 1)])
def test_levels_of_srgb(level, light):
    """IEC 61966-2-1: below 0.04045 divided by 12.92, above a power of 2.4."""
    assert to_light(np.array([level]))[0] == pytest.approx(light, abs=1e-6)


def test_every_level_comes_back():
    levels = np.arange(256)
    assert np.array_equal(to_levels(to_light(levels)), levels)


@pytest.fixture
def told(tmp_path):
    file = make.picture(tmp_path / "slopes.png", size=(900, 600))
    keep_prints(read_picture(file), shipped(), tmp_path / "made.json")
    return json.loads((tmp_path / "made.json").read_text(encoding="utf-8"))


def test_the_strip_holds_four_tiles(told):
    strip = Image.open(BytesIO(b64decode(told["strip"].partition(",")[2])))
    width, height = told["shape"]
    assert strip.size == (width * len(PRINTS), height)
    assert max(width, height) <= TILE
    assert width / height == pytest.approx(1.5, rel=0.02)


def test_how_light_and_colourful_each_is(told):
    light, colour = told["light"], told["colour"]
    assert light["never"] < light["once"] < light["twice"]
    assert colour["never"] < colour["once"]
    assert light["once"] == pytest.approx(light["file"], abs=8)
