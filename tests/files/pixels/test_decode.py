"""Pixels as a second reader sees them: every turn, every packing, every kind; and damaged files."""

import shutil
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import imagecodecs
import numpy as np
import pytest
import simplejpeg
import tifffile
from hypothesis import HealthCheck, given
from hypothesis import strategies as st
from PIL import Image, ImageOps

from labkit.errors import LabError
from labkit.files.header.reading import read_picture
from labkit.files.pixels.decode import decode
from labkit.files.pixels.deep import to_8_bits
from labkit.geometry.length import nearest
from tests.files import make, sheets
from tests.geometry.refused import refusal
from tests.peers import by_vips
from tests.properties import examples

PHONE = Path(__file__).parents[1] / "phone.heic"
few = examples(40, suppress_health_check=[HealthCheck.function_scoped_fixture])


def whole(path: Path) -> Image.Image:
    """All of a picture as it comes out upright."""
    pixels = decode(read_picture(path))
    return pixels.region((0, 0, *pixels.shape))


def noise(size=(60, 40), channels: int = 3) -> np.ndarray:
    values = np.random.default_rng(1).integers(0, 256, (size[1], size[0], channels), np.uint8)
    return values[..., 0] if channels == 1 else values


# Orientation: Exif 2.3 and TIFF 6.0, section 8


def by_pillow(ending, mode, **options):
    def write(path: Path, orientation: int) -> Path:
        path = path.with_suffix(f".{ending}")
        return make.picture(path, mode=mode, orientation=orientation, **options)

    return write


def by_tifffile(**options):
    def write(path: Path, orientation: int) -> Path:
        return make.tiff(path.with_suffix(".tif"), orientation=orientation, **options)

    return write


def planes(path: Path, orientation: int) -> Path:
    path = path.with_suffix(".tif")
    tags = [(274, 3, 1, orientation, True)]
    values = np.moveaxis(np.asarray(make.drawing()), -1, 0)
    tifffile.imwrite(
        path, values, photometric="rgb", planarconfig="separate", metadata=None, extratags=tags
    )
    return path


def telephone(path: Path, orientation: int) -> Path:
    return make.telephone_jpeg(path.with_suffix(".jpg"), exif=make.orientation_exif(orientation))


def black_and_white(path: Path, orientation: int) -> Path:
    path = path.with_suffix(".tif")
    make.drawing(mode="1").save(path, compression="group4", tiffinfo={274: orientation})
    return path


TURNED = {
    "JPEG": by_pillow("jpg", "RGB"),
    "JPEG, grey": by_pillow("jpg", "L"),
    "JPEG, CMYK": by_pillow("jpg", "CMYK"),
    "JPEG of a telephone": telephone,
    "PNG": by_pillow("png", "RGB"),
    "PNG, grey": by_pillow("png", "L"),
    "PNG, alpha": by_pillow("png", "RGBA"),
    "PNG, grey and alpha": by_pillow("png", "LA"),
    "PNG, palette": by_pillow("png", "P"),
    "PNG, 1 bit": by_pillow("png", "1"),
    "WebP": by_pillow("webp", "RGB", lossless=True),
    "TIFF, strips": by_tifffile(rowsperstrip=7),
    "TIFF, LZW": by_tifffile(rowsperstrip=7, compression="lzw", predictor=True),
    "TIFF, tiles": by_tifffile(tile=(16, 16)),
    "TIFF, tiles, LZW": by_tifffile(tile=(16, 16), compression="lzw"),
    "TIFF, planes": planes,
    "TIFF, big-endian": by_tifffile(byteorder=">"),
    "TIFF, BigTIFF": by_tifffile(big=True),
    "TIFF, grey": by_tifffile(channels=1),
    "TIFF, alpha": by_tifffile(channels=4, extrasamples=["unassalpha"]),
    "TIFF, CMYK": by_pillow("tif", "CMYK"),
    "TIFF, CMYK, LZW": by_pillow("tif", "CMYK", compression="tiff_lzw"),
    "TIFF, LAB": by_pillow("tif", "LAB"),
    "TIFF, palette": by_pillow("tif", "P"),
    "TIFF, 1 bit": black_and_white,
}


@pytest.mark.parametrize("packing", TURNED)
def test_a_picture_comes_out_as_a_second_reader_turns_it(tmp_path, packing):
    for orientation in range(1, 9):
        path = TURNED[packing](tmp_path / f"{orientation}", orientation)
        wanted, got = sheets.seen(path), whole(path)
        assert read_picture(path).orientation == orientation
        assert got.size == ((40, 60) if orientation >= 5 else (60, 40))
        assert np.array_equal(got.convert("RGB"), wanted.convert("RGB")), orientation


@pytest.mark.parametrize("bits", [8, 16])
@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_tiff_comes_out_as_libvips_turns_it(tmp_path, bits, orientation):
    """Not Pillow, which garbles some oriented TIFFs and keeps 8 bits of a colour in 16."""
    packed = {"bits": bits, "compression": "lzw", "predictor": True, "orientation": orientation}
    path = make.tiff(tmp_path / "a.tif", **packed)
    wanted = to_8_bits(by_vips(path, "autorot"))
    assert np.array_equal(whole(path), wanted)


@given(
    orientation=st.integers(1, 8),
    corners=st.tuples(*[st.integers(0, 40)] * 4),
    kind=st.sampled_from(["a.png", "a.tif", "p.png"]),
)
@few
def test_a_region_is_cut_from_the_whole(tmp_path, orientation, corners, kind):
    """As arrays are held (PNG, TIFF) and as Pillow's images are (a palette)."""
    mode = "P" if kind[0] == "p" else "RGB"
    path = make.picture(tmp_path / kind, mode=mode, orientation=orientation)
    pixels = decode(read_picture(path))
    left, right = sorted(corners[:2])
    top, bottom = sorted(corners[2:])
    region = left, top, right + 1, bottom + 1
    region = (*region[:2], *map(min, region[2:], pixels.shape))
    region = (min(left, region[2] - 1), min(top, region[3] - 1), *region[2:])
    assert np.array_equal(pixels.region(region), sheets.seen(path).crop(region))
    assert np.array_equal(pixels.levels(region), sheets.seen(path).convert("RGB").crop(region))


# Depth


@pytest.mark.parametrize(
    ("level", "made"), [(0, 0), (128, 0), (129, 1), (65406, 254), (65535, 255)]
)
def test_16_bits_become_8_by_the_nearest_level(level, made):
    """Half of 257, the step between two levels, is 128.5."""
    assert to_8_bits(np.array([level], np.uint16)) == [made]


def test_every_level_of_16_bits_goes_to_the_nearest_of_8_and_there_and_back():
    levels = np.arange(65536, dtype=np.uint16)
    assert to_8_bits(levels).tolist() == [nearest(Fraction(n, 257)) for n in range(65536)]
    assert np.array_equal(to_8_bits(np.arange(256, dtype=np.uint16) * 257), np.arange(256))


def test_8_bits_stay_what_they_are():
    values = noise()
    assert to_8_bits(values) is values


@pytest.mark.parametrize("channels", [1, 2, 3, 4])
def test_a_png_of_16_bits(tmp_path, channels):
    path = make.png_16(tmp_path / "a.png", channels)
    wanted = np.asarray(make.drawing(mode="RGBA"))[..., [0, 3, 1, 2][:channels]]
    assert np.array_equal(whole(path), wanted.squeeze())


@pytest.mark.parametrize("channels", [1, 2, 3, 4])
@pytest.mark.parametrize("bits", [8, 16])
def test_a_tiff_of_so_many_bits_and_channels(tmp_path, channels, bits):
    extra = {} if channels in (1, 3) else {"extrasamples": ["unassalpha"]}
    path = make.tiff(tmp_path / "a.tif", channels=channels, bits=bits, **extra)
    wanted = np.asarray(make.drawing(mode="RGBA"))[..., :channels].squeeze()
    assert np.array_equal(whole(path), wanted)


@pytest.mark.parametrize("bits", [8, 16])
def test_a_tiff_in_which_zero_is_white(tmp_path, bits):
    """TIFF 6.0, PhotometricInterpretation 0: WhiteIsZero."""
    values = noise(channels=1)
    stored = ~values if bits == 8 else ~(values.astype(np.uint16) * 257)
    path = tmp_path / "a.tif"
    tifffile.imwrite(path, stored, photometric="miniswhite", metadata=None)
    assert np.array_equal(whole(path), values)


@pytest.mark.parametrize(("kind", "depth"), [(np.float32, 32), (np.int32, 32)])
def test_numbers_that_no_print_is_made_of_are_refused(tmp_path, kind, depth):
    path = tmp_path / "heights.tif"
    tifffile.imwrite(path, noise(channels=1).astype(kind), photometric="minisblack", metadata=None)
    assert refusal(decode, read_picture(path)) == (
        f"“heights.tif” holds {depth}-bit numbers, not 8 or 16 bits a channel: export it again at 8 bits."
    )


# Kinds


def test_a_jpeg_is_decoded_to_the_same_pixels_as_by_pillow(tmp_path):
    path = make.picture(tmp_path / "a.jpg", quality=70)
    assert np.array_equal(whole(path), Image.open(path))


def test_the_first_picture_of_a_telephones_jpeg(tmp_path):
    path = make.telephone_jpeg(tmp_path / "phone.jpg")
    with Image.open(path) as image:
        assert image.n_frames == 2
        assert np.array_equal(whole(path), image)


def test_a_telephones_heic_comes_out_upright(tmp_path):
    path = Path(shutil.copy(PHONE, tmp_path))
    got = np.asarray(whole(path).convert("RGB"), int)
    by_libvips = by_vips(path)[..., :3].astype(int)
    assert got.shape == by_libvips.shape
    assert np.abs(got - by_libvips).mean() < 2


def test_an_inverted_cmyk_jpeg_is_put_right(tmp_path):
    """Its APP14 marker says who wrote it, and that ink is stored as its opposite."""
    inks = np.zeros((8, 8, 4), np.uint8) + np.array((255, 0, 64, 128), np.uint8)
    path = tmp_path / "a.jpg"
    stored = imagecodecs.jpeg8_encode(
        255 - inks, level=100, colorspace="CMYK", outcolorspace="CMYK"
    )
    assert b"\xff\xee\x00\x0eAdobe" in stored
    path.write_bytes(stored)
    assert np.abs(np.asarray(whole(path), int) - inks).max() <= 1
    assert np.abs(by_vips(path).astype(int) - inks).max() <= 1


# Damaged files


def files_to_cut() -> dict:
    image = Image.fromarray(noise((90, 80)))
    values = np.asarray(image)
    by_strips = {"photometric": "rgb", "rowsperstrip": 8, "metadata": None}
    return {
        "a.jpg": lambda path: image.save(path, quality=95),
        "progressive.jpg": lambda path: image.save(path, progressive=True),
        "cmyk.jpg": lambda path: image.convert("CMYK").save(path),
        "a.png": image.save,
        "palette.png": image.convert("P").save,
        "strips.tif": lambda path: tifffile.imwrite(path, values, **by_strips),
        "lzw.tif": lambda path: tifffile.imwrite(path, values, compression="lzw", **by_strips),
        "deflate.tif": lambda path: tifffile.imwrite(path, values, compression="zlib", **by_strips),
        "tiles.tif": lambda path: tifffile.imwrite(path, values, photometric="rgb", tile=(32, 32)),
        "pillow.tif": lambda path: image.save(path, compression="tiff_lzw"),
        "a.webp": lambda path: image.save(path, quality=90),
        "a.bmp": image.save,
    }


@pytest.mark.parametrize("name", files_to_cut())
@given(share=st.floats(0.3, 0.99))
@few
def test_a_file_cut_short_anywhere_is_refused(tmp_path, name, share):
    whole_file, cut = tmp_path / name, tmp_path / f"cut-{name}"
    if not whole_file.exists():
        files_to_cut()[name](whole_file)
    data = whole_file.read_bytes()
    cut.write_bytes(data[: int(len(data) * share)])
    with pytest.raises(LabError) as caught:
        decode(read_picture(cut))
    assert f"cut-{name}" in str(caught.value)
    assert "copy" in str(caught.value)
    decode(read_picture(whole_file))


def test_the_sentence_of_a_damaged_file(tmp_path):
    path = make.picture(tmp_path / "boat.jpg")
    path.write_bytes(path.read_bytes()[:-2])
    assert refusal(decode, read_picture(path)) == (
        "“boat.jpg” is damaged or cut short (the end of the picture is missing): copy or export it again."
    )
    path.write_bytes(path.read_bytes()[:400])
    told = "“boat.jpg” is damaged or cut short (the file ends before the picture)"
    facts = read_picture(make.picture(tmp_path / "whole.jpg"))
    assert told in refusal(decode, replace(facts, path=path))


def test_a_file_that_holds_another_number_of_pixels_than_it_says(tmp_path):
    facts = read_picture(make.picture(tmp_path / "boat.png"))
    assert refusal(decode, replace(facts, pixels=(61, 40))) == (
        "“boat.png” says it has 61 × 40 pixels but holds 60 × 40: export it again."
    )


def test_a_refusal_knows_the_finding_it_amounts_to(tmp_path):
    cut = make.picture(tmp_path / "cut.jpg")
    cut.write_bytes(cut.read_bytes()[:-2])
    whole = read_picture(make.picture(tmp_path / "boat.png"))
    floats = tmp_path / "heights.tif"
    tifffile.imwrite(floats, noise(channels=1).astype(np.float32), metadata=None)
    for picture, code in (
        (read_picture(cut), "damaged"),
        (replace(whole, pixels=(61, 40)), "damaged"),
        (read_picture(floats), "unreadable"),
    ):
        with pytest.raises(LabError) as caught:
            decode(picture)
        assert caught.value.code == code


def test_as_stored_a_picture_is_not_turned(tmp_path):
    pixels = decode(read_picture(make.picture(tmp_path / "a.png", orientation=6)))
    assert (pixels.shape, pixels.as_stored().shape) == ((40, 60), (60, 40))
    assert np.array_equal(pixels.as_stored().levels((0, 0, 60, 40)), make.drawing())


def test_want_of_memory_is_not_told_as_damage(tmp_path, monkeypatch):
    def no_memory(*_, **__):
        raise MemoryError

    monkeypatch.setattr(simplejpeg, "decode_jpeg", no_memory)
    with pytest.raises(MemoryError):
        decode(read_picture(make.picture(tmp_path / "boat.jpg")))


def test_the_original_is_only_read(tmp_path):
    for name in ("a.jpg", "a.png", "a.tif", "p.png"):
        path = make.picture(tmp_path / name, mode="P" if name[0] == "p" else "RGB")
        before = path.read_bytes(), path.stat().st_mtime_ns
        path.chmod(0o400)
        decode(read_picture(path)).region((0, 0, 10, 10))
        assert (path.read_bytes(), path.stat().st_mtime_ns) == before


def test_exif_transpose_is_no_bystander():
    """The second reader itself: stored 100 × 50 with orientation 6 is shown 50 × 100 (Exif 2.2, p. 18)."""
    image = Image.new("RGB", (100, 50))
    image.getexif()[274] = 6
    assert ImageOps.exif_transpose(image).size == (50, 100)
