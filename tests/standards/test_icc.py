"""ICC.1: the header of what we embed, and the numbers of the rendering intents."""

import struct

import pytest
import tifffile

from labkit.files.pixels.conversion import srgb_profile
from labkit.files.pixels.transform import INTENTS
from tests.files import make, sheets

HEADER = {
    12: b"mntr",
    16: b"RGB ",
    20: b"XYZ ",
    36: b"acsp",
    68: bytes.fromhex("0000f6d6000100000000d32d"),
}
"""ICC.1:2010, clause 7.2: class, space, connection space, signature, illuminant D50."""


@pytest.fixture(params=["made here", "read back"])
def profile(request, tmp_path) -> bytes:
    if request.param == "made here":
        return srgb_profile()
    picture = make.picture(tmp_path / "boat.png")
    sheets.print_file(tmp_path / "boat.tif", picture, on="5x4in", width="3in")
    with tifffile.TiffFile(tmp_path / "boat.tif") as file:
        tag = file.pages[0].tags[34675]
        assert int(tag.dtype) == 7  # UNDEFINED: ICC.1, annex B
        return tag.value


@pytest.mark.parametrize("at", HEADER)
def test_the_header(profile, at):
    assert profile[at : at + len(HEADER[at])] == HEADER[at]


def test_the_size_stands_first(profile):
    assert struct.unpack_from(">I", profile, 0) == (len(profile),)


def test_no_date_stands_in_it_so_that_files_are_alike(profile):
    """Clause 7.2: bytes 24 to 35."""
    assert profile[24:36] == bytes(12)


def test_the_default_intent_is_a_known_one(profile):
    assert struct.unpack_from(">I", profile, 64)[0] in range(4)


def test_every_tag_lies_inside_and_on_a_boundary_of_four(profile):
    """Clause 7.3."""
    (count,) = struct.unpack_from(">I", profile, 128)
    assert count >= 9
    for entry in range(count):
        at, size = struct.unpack_from(">II", profile, 136 + 12 * entry)
        assert at % 4 == 0
        assert 132 + 12 * count <= at
        assert at + size <= len(profile)


def test_the_intents_have_their_numbers():
    """Table 23: 0 perceptual, 1 media-relative colorimetric, 2 saturation, 3 ICC-absolute."""
    assert INTENTS == {
        "perceptual": 0,
        "relative": 1,
        "saturation": 2,
        "absolute": 3,
    }
