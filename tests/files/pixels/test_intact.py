"""Damage that decoders pass over: what is told, what the decoder alone makes of it, and no false alarm."""

import struct
import zlib
from io import BytesIO
from itertools import product
from pathlib import Path

import imagecodecs
import numpy as np
import pytest
import tifffile
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from labkit.errors import LabError
from labkit.files.header.reading import read_picture
from labkit.files.pixels.decode import decode
from labkit.files.pixels.intact import refuse_broken_jpeg, refuse_zero_end
from tests.files import make
from tests.properties import examples

PHONE = Path(__file__).parents[1] / "phone.heic"
END = b"\xff\xd9"


def photo(size=(160, 120)) -> Image.Image:
    """Slopes with a little noise, so that no two blocks are alike."""
    values = np.asarray(make.drawing(size)).astype(int)
    noise = np.random.default_rng(1).normal(0, 6, values.shape)
    return Image.fromarray(np.clip(values + noise, 0, 255).astype(np.uint8))


def jpeg(image=None, **options) -> bytes:
    made = BytesIO()
    (image or photo()).save(made, "JPEG", quality=88, **options)
    return made.getvalue()


def pixels_of(data: bytes) -> int:
    """Where the pixels of the first scan begin (ITU-T T.81, B.2.3)."""
    at = data.index(b"\xff\xda")
    return at + 2 + int.from_bytes(data[at + 2 : at + 4], "big")


def share(data: bytes, part: float) -> int:
    """A place so far along the pixels."""
    start = pixels_of(data)
    return start + int((len(data) - start) * part)


def told(data: bytes) -> str:
    with pytest.raises(ValueError, match=r".") as caught:
        refuse_broken_jpeg(data)
    return str(caught.value)


# JPEG


@pytest.mark.parametrize("progressive", [False, True])
def test_a_jpeg_without_its_end(progressive):
    data = jpeg(progressive=progressive)
    assert told(data[:-2]) == "the end of the picture is missing"
    assert told(data[: share(data, 0.5)]) == "the end of the picture is missing"


def test_a_jpeg_that_ends_in_its_header():
    data = jpeg()
    assert told(data[: data.index(b"\xff\xda")]) == "the file ends before the picture"
    assert told(data[: data.index(b"\xff\xda")] + END) == "the file ends before the picture"
    assert told(b"\xff\xd8\xff\xc0\x00\x03\x08" + END) == "its header is damaged"


def test_zeros_in_the_middle_of_the_pixels():
    """The decoder makes patches of them and says nothing."""
    data = bytearray(jpeg())
    at = share(data, 0.5)
    data[at : at + 300] = bytes(300)
    imagecodecs.jpeg8_decode(bytes(data))
    assert told(bytes(data)) == "a run of zeros stands in the middle of it"


def test_zeros_that_stand_for_a_flat_picture_are_none():
    """Of tables made to measure, zeros alone stand for one colour."""
    data = jpeg(Image.new("RGB", (900, 900), "white"), optimize=True)
    assert bytes(64) in data[pixels_of(data) :]
    refuse_broken_jpeg(data)


def test_something_else_in_the_middle_of_the_pixels():
    data = bytearray(jpeg())
    at = share(data, 0.5)
    data[at : at + 2] = b"\xff\x67"
    assert told(bytes(data)) == "something else stands in the middle of it"


def test_a_restart_marker_where_none_is_announced():
    data = bytearray(jpeg())
    at = share(data, 0.5)
    data[at : at + 2] = b"\xff\xd0"
    assert told(bytes(data)) == "a part in the middle of it is missing"


@pytest.mark.parametrize("part", [0.3, 0.6, 0.9])
def test_a_jpeg_with_restart_markers_that_was_cut_and_ended(part):
    """ITU-T T.81, E.1.4: with 120 rows in blocks of 16, a marker a row makes 7 of them; the decoder fills
    the rest with grey."""
    whole = jpeg(restart_marker_rows=1)
    assert sum(whole.count(bytes([0xFF, code])) for code in range(0xD0, 0xD8)) == 7
    data = whole[: share(whole, part)].rstrip(b"\xff") + END
    assert (imagecodecs.jpeg8_decode(data)[-1] == 128).all()
    assert told(data) == "parts of it are missing"


def test_a_jpeg_that_lost_a_part_between_two_restart_markers():
    data = jpeg(restart_marker_rows=1)
    third, fifth = data.index(b"\xff\xd3"), data.index(b"\xff\xd5")
    imagecodecs.jpeg8_decode(data[:third] + data[fifth:])
    assert told(data[:third] + data[fifth:]) == "a part in the middle of it is missing"


@pytest.mark.parametrize("scans", [1, 2, 5, 9])
def test_a_progressive_jpeg_that_lost_its_last_scans(scans):
    """The decoder shows what came, soft or in squares."""
    whole = jpeg(progressive=True)
    starts = [at for at in range(len(whole)) if whole[at : at + 2] == b"\xff\xda"]
    assert len(starts) == 10
    cut = whole.rindex(b"\xff\xc4", 0, starts[scans]) if scans < 9 else starts[9]
    data = whole[:cut] + END
    assert imagecodecs.jpeg8_decode(data).shape == (120, 160, 3)
    assert told(data) == "the last passes of the picture are missing"


sizes = [(160, 120), (33, 17), (1, 1), (16, 16)]
ways = {
    "mode": ["RGB", "L", "CMYK"],
    "subsampling": [0, 1, 2],
    "progressive": [False, True],
    "optimize": [False, True],
    "restart_marker_blocks": [0, 3],
}


@pytest.mark.parametrize("size", sizes)
def test_no_whole_jpeg_is_called_damaged(size):
    image = photo(size)
    for mode, *values in product(*ways.values()):
        options = dict(zip(list(ways)[1:], values, strict=True))
        refuse_broken_jpeg(jpeg(image.convert(mode), **options))


def test_a_second_picture_or_anything_else_behind_the_end_does_no_harm(tmp_path):
    refuse_broken_jpeg(make.telephone_jpeg(tmp_path / "a.jpg").read_bytes())
    refuse_broken_jpeg(jpeg() + b"\0" * 5000 + b"\xff\xd3 more")


def test_fill_bytes_in_front_of_markers_are_allowed():
    """ITU-T T.81, B.1.1.2: any marker may be preceded by any number of fill bytes FF."""
    data = jpeg(restart_marker_rows=1)
    for mark in (b"\xff\xd0", b"\xff\xda", END):
        data = data.replace(mark, b"\xff\xff" + mark)
    refuse_broken_jpeg(data)


changes = st.lists(st.tuples(st.integers(0, 20_000), st.integers(0, 255)), max_size=5)


@examples(200)
@given(progressive=st.booleans(), changes=changes, end=st.integers(0, 20_000))
def test_whatever_a_jpeg_holds_the_answer_is_nothing_or_words(progressive, changes, end):
    data = bytearray(jpeg(progressive=progressive))
    for at, value in changes:
        data[at % len(data)] = value
    try:
        refuse_broken_jpeg(bytes(data[:end]))
    except ValueError as fault:
        words = str(fault)
    else:
        words = ""
    assert words in {
        "", "the file ends before the picture", "the end of the picture is missing",
        "its header is damaged", "a run of zeros stands in the middle of it",
        "a part in the middle of it is missing", "something else stands in the middle of it",
        "parts of it are missing", "the last passes of the picture are missing",
    }  # fmt: skip


# TIFF: TIFF 6.0, section 8, StripOffsets (273) and StripByteCounts (279)


def strips(path: Path, packing=None, **options) -> Path:
    values = np.asarray(photo())
    options.setdefault("rowsperstrip", 16)
    if "tile" in options:
        options.pop("rowsperstrip")
    tifffile.imwrite(path, values, photometric="rgb", compression=packing, metadata=None, **options)
    return path


def overwrite(path: Path, code: int, index: int, value: int) -> None:
    """Change one number in a table of a TIFF."""
    with tifffile.TiffFile(path, mode="r+") as tiff:
        tag = tiff.pages[0].tags[code]
        tag.overwrite([*tag.value[:index], value, *tag.value[index + 1 :]], dtype=4)


def refused(path: Path) -> str:
    with pytest.raises(LabError) as caught:
        decode(read_picture(path))
    assert caught.value.code == "damaged"
    return str(caught.value)


@pytest.mark.parametrize("packing", [None, "lzw", "zlib", "jpeg"])
@pytest.mark.parametrize(("code", "value"), [(273, 0), (279, 0), (273, 5_000_000)])
def test_a_strip_that_is_not_in_the_file(tmp_path, packing, code, value):
    path = strips(tmp_path / "a.tif", packing)
    decode(read_picture(path))
    overwrite(path, code, 3, value)
    assert refused(path).startswith("“a.tif” is damaged or cut short (")
    if packing != "lzw" or code == 273:
        assert "1 of its 8 strips cannot be found" in refused(path)


def test_the_library_alone_shows_a_hole_as_black(tmp_path):
    path = strips(tmp_path / "a.tif", "lzw")
    overwrite(path, 273, 3, 0)
    assert not tifffile.imread(path)[48:64].any()


def test_a_table_of_strips_that_stops_early(tmp_path):
    path = strips(tmp_path / "a.tif", "lzw")
    with tifffile.TiffFile(path) as tiff:
        starts = [tiff.pages[0].tags[code].offset for code in (273, 279)]
    with path.open("r+b") as file:
        for at in starts:
            file.seek(at + 4)
            file.write(struct.pack("<I", 5))
    assert "3 of its 8 strips cannot be found" in refused(path)


def test_a_tile_that_is_not_in_the_file(tmp_path):
    path = strips(tmp_path / "a.tif", tile=(32, 32))
    overwrite(path, 324, 6, 0)
    assert "1 of its 20 tiles cannot be found" in refused(path)


def test_planes_have_strips_each(tmp_path):
    path = tmp_path / "a.tif"
    values = np.moveaxis(np.asarray(photo()), -1, 0)
    options = {"planarconfig": "separate", "rowsperstrip": 16, "metadata": None}
    tifffile.imwrite(path, values, photometric="rgb", **options)
    decode(read_picture(path))
    overwrite(path, 273, 20, 0)
    assert "1 of its 24 strips cannot be found" in refused(path)


def test_a_strip_of_jpeg_that_was_cut(tmp_path):
    """TIFF 6.0, supplement 2: each strip is a whole JPEG of its own; the library fills it with grey."""
    path = strips(tmp_path / "a.tif", "jpeg")
    with tifffile.TiffFile(path) as tiff:
        size = tiff.pages[0].databytecounts[3]
    overwrite(path, 279, 3, size // 2)
    assert tifffile.imread(path).shape == (120, 160, 3)
    assert "the end of the picture is missing" in refused(path)


# PNG: what libpng is strict about, Pillow is not


def fewer_rows(path: Path, mode: str) -> Path:
    """A sound PNG in all but that its pixels stop half-way."""
    made = BytesIO()
    photo().convert(mode).save(made, "PNG")
    data = made.getvalue()
    at = data.index(b"IDAT")
    packed = data[at + 4 : at + 4 + int.from_bytes(data[at - 4 : at], "big")]
    rows = zlib.decompress(packed)
    half = make.chunk(b"IDAT", zlib.compress(rows[: len(rows) // 2]))
    path.write_bytes(data[: at - 4] + half + make.chunk(b"IEND", b""))
    return path


@pytest.mark.parametrize("mode", ["RGB", "P", "1", "L"])
def test_a_png_with_too_few_rows(tmp_path, mode):
    path = fewer_rows(tmp_path / "a.png", mode)
    assert "its data make no sense to a decoder" in refused(path)
    decode(read_picture(make.picture(tmp_path / "b.png", mode=mode)))


def test_pillow_alone_shows_them_as_black(tmp_path):
    with Image.open(fewer_rows(tmp_path / "a.png", "P")) as image:
        assert not np.asarray(image)[60:].any()


def test_a_png_with_a_wrong_check_sum(tmp_path):
    for mode in ("RGB", "P"):
        path = make.picture(tmp_path / f"{mode}.png", mode=mode)
        data = bytearray(path.read_bytes())
        at = data.index(b"IDAT")
        data[at + 4 + int.from_bytes(data[at - 4 : at], "big")] ^= 1
        path.write_bytes(data)
        assert "its data make no sense to a decoder" in refused(path)


# WebP, HEIC, AVIF: half of the file is zeros, as when a copy broke off


@pytest.mark.parametrize(
    ("name", "options"),
    [("a.webp", {"quality": 95}), ("b.webp", {"lossless": True}), ("c.avif", {"quality": 95})],
)
def test_a_file_whose_end_is_zeros(tmp_path, name, options):
    path = tmp_path / name
    photo().save(path, **options)
    data = path.read_bytes()
    refuse_zero_end(data, "WebP" if name.endswith("webp") else "AVIF")
    path.write_bytes(data[: len(data) // 2] + bytes(len(data) - len(data) // 2))
    assert refused(path) == (
        f"“{name}” is damaged or cut short (its end is nothing but zeros): copy or export it again."
    )


def test_a_heic_whose_end_is_zeros():
    data = PHONE.read_bytes()
    refuse_zero_end(data, "HEIC")
    at = data.index(b"mdat")
    size = 5000
    longer = data[: at - 4] + struct.pack(">I", size) + b"mdat" + data[at + 4 :]
    with pytest.raises(ValueError, match="its end is nothing but zeros"):
        refuse_zero_end(longer.ljust(at + size, b"\0"), "HEIC")


def test_zeros_behind_the_end_do_no_harm(tmp_path):
    path = tmp_path / "a.webp"
    photo().save(path, lossless=True)
    refuse_zero_end(path.read_bytes() + bytes(4096), "WebP")
    photo().save(tmp_path / "a.avif")
    refuse_zero_end((tmp_path / "a.avif").read_bytes() + bytes(4096), "AVIF")
