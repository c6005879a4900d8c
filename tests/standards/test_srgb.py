"""sRGB: the profile in every file without one of its own, and the greys on their way to it.

IEC 61966-2-1 as quoted in w3c/csswg-drafts issue 9467 (from EN 61966-2-1:2003); check values of
colour-science 0.4.7.
"""

import struct

import numpy as np
import pytest
from PIL import Image

from labkit.files.header.reading import read_picture
from labkit.files.pixels.conversion import conversion, srgb_profile
from labkit.files.pixels.decode import decode
from tests.files import make, sheets, srgb

DECODED = {
    0.5: 0.214041140482,
    0.2: 0.0331047666,
    0.1: 0.0100228256,
    10 / 255: 0.003035269835,
    128 / 255: 0.2158605001,
    188 / 255: 0.5028864580,
}
ENCODED = {0.5: 0.735356983052, 0.18: 0.461356129500}


def tag(name: bytes) -> bytes:
    """A tag of the profile: ICC.1, clause 7.3."""
    profile = srgb_profile()
    (count,) = struct.unpack_from(">I", profile, 128)
    for entry in range(count):
        found, at, size = struct.unpack_from(">4sII", profile, 132 + 12 * entry)
        if found == name:
            return profile[at : at + size]
    raise AssertionError(name)


def fixed(data: bytes) -> np.ndarray:
    """Numbers of 16 bits before and 16 behind the point: ICC.1, s15Fixed16Number."""
    return np.frombuffer(data, ">i4") / 65536


def curve(name: bytes, value: float) -> float:
    """A parametric curve of type 3 (ICC.1, "parametricCurveType"): (aV + b)^g from d on, cV below."""
    data = tag(name)
    assert data[:4] == b"para"
    assert struct.unpack_from(">H", data, 8) == (3,)
    g, a, b, c, d = fixed(data[12:32])
    return (a * value + b) ** g if value >= d else c * value


@pytest.mark.parametrize("value", DECODED)
def test_the_formula_the_tests_use(value):
    assert srgb.linear(value) == pytest.approx(DECODED[value], abs=1e-9)
    assert srgb.encoded(DECODED[value]) == pytest.approx(value, abs=1e-8)


@pytest.mark.parametrize("light", ENCODED)
def test_the_formula_the_other_way(light):
    assert srgb.encoded(light) == pytest.approx(ENCODED[light], abs=1e-9)


def test_the_formula_at_its_joint():
    """Up to and including 0.04045 it is a straight line."""
    assert srgb.linear(0.04045) == 0.04045 / 12.92


@pytest.mark.parametrize("channel", [b"rTRC", b"gTRC", b"bTRC"])
@pytest.mark.parametrize("value", [*DECODED, 0.0, 0.04, 1.0])
def test_the_curves_of_the_embedded_profile(channel, value):
    """Its numbers have 16 bits behind the point."""
    wanted = DECODED.get(value, float(srgb.linear(value)))
    assert curve(channel, value) == pytest.approx(wanted, abs=5e-5)


def test_the_colours_of_the_embedded_profile():
    """Red .64 .33, green .30 .60, blue .15 .06 under D65, adapted to D50 as ICC.1 asks."""
    columns = np.array([fixed(tag(name)[8:20]) for name in (b"rXYZ", b"gXYZ", b"bXYZ")]).T
    assert np.abs(columns - srgb.xyz_of_rgb()).max() < 5e-4
    assert np.abs(columns.sum(axis=1) - srgb.D50).max() < 5e-4


@pytest.mark.parametrize(("light", "grey"), [(55, 128), (128, 188)])
def test_a_linear_grey_becomes_the_srgb_value_of_its_light(tmp_path, light, grey):
    """0.2158605001 · 255 is 55.04, and 0.5028864580 · 255 is 128.24."""
    profile = make.grey_profile(gamma=1.0)
    path = tmp_path / "grey.png"
    Image.new("L", (8, 8), light).save(path, icc_profile=profile)
    picture = read_picture(path)
    to_rgb = conversion(picture, sheets.shipped().colour)
    got = to_rgb.rgb(to_rgb.resizable(decode(picture).region((0, 0, 1, 1)))).getpixel((0, 0))
    assert len(set(got)) == 1
    assert abs(got[0] - grey) <= 1


def test_an_srgb_value_is_written_as_it_is(tmp_path):
    """No second conversion: 188 in an untagged picture is 188 in the file that says sRGB."""
    path = tmp_path / "grey.png"
    Image.new("RGB", (60, 40), (10, 128, 188)).save(path)
    sheets.print_file(tmp_path / "a.tif", path, on="5x4in", width="3in")
    with Image.open(tmp_path / "a.tif") as image:
        assert image.getpixel((50, 40)) == (10, 128, 188)
        assert image.info["icc_profile"] == srgb_profile()


def test_the_profile_of_the_tests_own_pictures_is_srgb_too():
    assert make.srgb() == srgb_profile()
