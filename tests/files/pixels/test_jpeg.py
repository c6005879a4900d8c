"""A JPEG's pixels as a second decoder gives them, and damage that its decoder only complains of."""

from io import BytesIO

import imagecodecs
import numpy as np
import pytest
from PIL import Image

from labkit.errors import LabError
from labkit.files.header.reading import read_picture
from labkit.files.pixels.decode import decode
from labkit.files.pixels.intact import Broken
from labkit.files.pixels.jpeg import LEFT_OVER, decode_jpeg
from tests.files.look.test_damage import photo


def packed(mode: str = "RGB", **options) -> bytes:
    made = BytesIO()
    Image.fromarray(photo()).convert(mode).save(made, "JPEG", quality=90, **options)
    return made.getvalue()


def scan(data: bytes) -> int:
    """Where the first scan's data begin (ITU-T T.81, B.2.3)."""
    at = data.index(b"\xff\xda") + 2
    return at + int.from_bytes(data[at : at + 2])


@pytest.mark.parametrize("mode", ["L", "RGB"])
@pytest.mark.parametrize(
    "options", [{}, {"progressive": True}, {"subsampling": 0}, {"restart_marker_rows": 1}]
)
def test_the_pixels_are_those_of_another_decoder(mode, options):
    data = packed(mode, **options)
    values, doubt = decode_jpeg(data, mode)
    assert np.array_equal(values, imagecodecs.jpeg8_decode(data))
    assert doubt == ""


def test_a_second_picture_behind_the_first_changes_nothing():
    values, doubt = decode_jpeg(packed() + packed("L"), "RGB")
    assert values.shape == (240, 320, 3)
    assert doubt == ""


def test_left_over_data_are_a_doubt_and_padding_is_none():
    data = packed()
    odd, plain = (data[:-2] + rest + b"\xff\xd9" for rest in (bytes(range(1, 31)), bytes(30)))
    values, doubt = decode_jpeg(odd, "RGB")
    assert doubt == LEFT_OVER
    assert np.array_equal(values, imagecodecs.jpeg8_decode(data))
    assert decode_jpeg(plain, "RGB")[1] == ""
    assert decode_jpeg(odd + packed("L"), "RGB")[1] == doubt


@pytest.mark.parametrize("slip", ["scan header", "JFIF version", "zeros between segments"])
def test_a_slip_in_a_header_that_loses_nothing_is_no_damage(slip):
    """Its decoder complains, and the pixels are all there."""
    data = bytearray(packed())
    if slip == "scan header":
        at = scan(bytes(data))
        data[at - 3 : at] = bytes(3)
    elif slip == "JFIF version":
        data[11] = 2
    else:
        at = data.index(b"\xff\xdb")
        data[at:at] = bytes(2)
    values, doubt = decode_jpeg(bytes(data), "RGB")
    assert doubt == ""
    assert np.array_equal(values, imagecodecs.jpeg8_decode(packed()))


def test_a_part_taken_out_between_restart_markers(tmp_path):
    """Restart markers are all there, so that only the decoder notices."""
    data = packed(restart_marker_rows=2)
    third = data.index(b"\xff\xd2") + 2
    path = tmp_path / "boat.jpg"
    path.write_bytes(data[: third + 40] + data[third + 400 :])
    imagecodecs.jpeg8_decode(path.read_bytes())  # which says nothing
    with pytest.raises(LabError) as refused:
        decode(read_picture(path))
    assert refused.value.code == "damaged"
    assert str(refused.value) == (
        "“boat.jpg” is damaged or cut short (data in the middle of it make no sense): copy or export it "
        "again."
    )


def test_zeros_in_a_scan_of_a_progressive_picture(tmp_path):
    data = bytearray(packed(progressive=True))
    second = data.index(b"\xff\xda", scan(bytes(data)))
    data[second - 300 : second - 40] = bytes(260)
    with pytest.raises(Broken):
        decode_jpeg(bytes(data), "RGB")


def test_changed_bits_are_mostly_heard():
    """Of single bits changed where that can be seen, on a picture without restart markers."""
    data, random = packed(), np.random.default_rng(5)
    whole = imagecodecs.jpeg8_decode(data).astype(int)
    heard = seen = 0
    for at in random.integers(scan(data), len(data) - 2, 120).tolist():
        changed = bytearray(data)
        changed[at] ^= 1 << int(random.integers(8))
        try:
            values, doubt = decode_jpeg(bytes(changed), "RGB")
            is_seen = (np.abs(values - whole) > 16).any(axis=2).mean() > 0.02
        except ValueError:
            doubt, is_seen = "refused", True
        heard += is_seen and doubt != ""
        seen += is_seen
    assert seen > 30
    assert heard / seen > 0.6


def test_a_cmyk_jpeg_is_listened_to_as_well(tmp_path):
    path = tmp_path / "inks.jpg"
    data = packed("CMYK")
    path.write_bytes(data[:-2] + bytes(range(1, 31)) + b"\xff\xd9")
    assert decode(read_picture(path)).doubt
    path.write_bytes(data)
    assert not decode(read_picture(path)).doubt
