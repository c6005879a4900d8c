"""What files say of themselves, against second readers; and the wording of every refusal."""

import os
import struct
import subprocess
import sys
from fractions import Fraction
from pathlib import Path

import imagecodecs
import numpy as np
import pytest
import tifffile
from hypothesis import HealthCheck, given
from hypothesis import strategies as st
from PIL import Image, ImageOps

from labkit.errors import LabError
from labkit.files.header.picture import Picture
from labkit.files.header.reading import read_picture
from labkit.files.pixels.decode import decode
from labkit.geometry.length import inches, length
from tests.files import make
from tests.geometry.refused import refusal
from tests.peers import vips_field
from tests.properties import examples

HERE = Path(__file__).parents[1]
ROOT = HERE.parents[1]
PHONE, PHONE_10_BIT = HERE / "phone.heic", HERE / "phone-10-bit.heic"


# Kind, mode, depth, alpha, pages


def bits_16(name, **facts):
    return name, lambda path: make.tiff(path, bits=16, **facts)


def saved(name, **facts):
    return name, lambda path: make.picture(path, **facts)


CORNER = make.drawing(mode="P").getpixel((0, 0))

KINDS = [
    # a file, what writes it, and its kind, mode, depth, alpha
    (*saved("rgb.jpg"), "JPEG", "RGB", 8, False),
    (*saved("progressive.jpg", progressive=True), "JPEG", "RGB", 8, False),
    (*saved("grey.jpg", mode="L"), "JPEG", "L", 8, False),
    (*saved("cmyk.jpg", mode="CMYK"), "JPEG", "CMYK", 8, False),
    (*saved("rgb.png"), "PNG", "RGB", 8, False),
    (*saved("rgba.png", mode="RGBA"), "PNG", "RGBA", 8, True),
    (*saved("grey.png", mode="L"), "PNG", "L", 8, False),
    (*saved("grey-alpha.png", mode="LA"), "PNG", "LA", 8, True),
    (*saved("line.png", mode="1"), "PNG", "1", 1, False),
    (*saved("table.png", mode="P"), "PNG", "P", 8, False),
    (*saved("few.png", mode="P", bits=4), "PNG", "P", 8, False),
    (*saved("clear-entry.png", mode="P", transparency=0), "PNG", "P", 8, True),
    (*saved("clear-colour.png", transparency=(255, 230, 20)), "PNG", "RGB", 8, True),
    ("16.png", make.png_16, "PNG", "RGB", 16, False),
    ("16-grey.png", lambda path: make.png_16(path, 1), "PNG", "I;16", 16, False),
    ("16-grey-alpha.png", lambda path: make.png_16(path, 2), "PNG", "LA", 16, True),
    ("16-alpha.png", lambda path: make.png_16(path, 4), "PNG", "RGBA", 16, True),
    (*saved("rgb.tif"), "TIFF", "RGB", 8, False),
    (*saved("lzw.tif", compression="tiff_lzw"), "TIFF", "RGB", 8, False),
    (*saved("jpeg-inside.tif", compression="jpeg"), "TIFF", "RGB", 8, False),
    ("ycc-jpeg.tif", lambda path: ycc_jpeg(path), "TIFF", "RGB", 8, False),
    (*saved("ycc.tif", mode="YCbCr"), "TIFF", "YCbCr", 8, False),
    (*saved("grey.tif", mode="L"), "TIFF", "L", 8, False),
    (*saved("line.tif", mode="1"), "TIFF", "1", 1, False),
    (*saved("fax.tif", mode="1", compression="group4"), "TIFF", "1", 1, False),
    (*saved("table.tif", mode="P"), "TIFF", "P", 8, False),
    (*saved("cmyk.tif", mode="CMYK"), "TIFF", "CMYK", 8, False),
    (*saved("lab.tif", mode="LAB"), "TIFF", "LAB", 8, False),
    (*saved("float.tif", mode="F"), "TIFF", "F", 32, False),
    ("big.tif", lambda path: make.tiff(path, big=True), "TIFF", "RGB", 8, False),
    ("mm.tif", lambda path: make.tiff(path, byteorder=">"), "TIFF", "RGB", 8, False),
    ("mm-big.tif", lambda path: make.tiff(path, byteorder=">", big=True), "TIFF", "RGB", 8, False),
    ("planes.tif", lambda path: planes(path), "TIFF", "RGB", 8, False),
    ("tiles.tif", lambda path: make.tiff(path, tile=(16, 16)), "TIFF", "RGB", 8, False),
    (*bits_16("16.tif"), "TIFF", "RGB", 16, False),
    (*bits_16("16-mm.tif", byteorder=">"), "TIFF", "RGB", 16, False),
    (*bits_16("16-grey.tif", channels=1), "TIFF", "I;16", 16, False),
    (*bits_16("16-grey-mm.tif", channels=1, byteorder=">"), "TIFF", "I;16", 16, False),
    (*bits_16("16-alpha.tif", channels=4), "TIFF", "RGBA", 16, True),
    ("rgba.tif", lambda path: make.tiff(path, channels=4), "TIFF", "RGBA", 8, True),
    # one more channel that is not for transparency
    ("spare.tif", lambda path: make.tiff(path, channels=4, extrasamples=[0]), "TIFF", "RGB", 8, True),
    ("la.tif", lambda path: make.tiff(path, channels=2, extrasamples=[2]), "TIFF", "LA", 8, True),
    (*saved("rgb.webp"), "WebP", "RGB", 8, False),
    (*saved("rgba.webp", mode="RGBA"), "WebP", "RGBA", 8, True),
    (*saved("lossless.webp", lossless=True), "WebP", "RGB", 8, False),
    (*saved("lossless-alpha.webp", lossless=True, mode="RGBA"), "WebP", "RGBA", 8, True),
    (*saved("extended.webp", profile=make.srgb()), "WebP", "RGB", 8, False),
    (*saved("table.gif", mode="P"), "GIF", "P", 8, False),
    (*saved("clear.gif", mode="P", transparency=CORNER), "GIF", "P", 8, True),
    (*saved("rgb.bmp"), "BMP", "RGB", 8, False),
    (*saved("line.bmp", mode="1"), "BMP", "1", 1, False),
    (*saved("rgb.avif"), "AVIF", "RGB", 8, False),
    (*saved("rgba.avif", mode="RGBA"), "AVIF", "RGBA", 8, True),
    (*saved("rgb.jp2"), "JPEG 2000", "RGB", 8, False),
    (*saved("bare.j2k"), "JPEG 2000", "RGB", 8, False),
    (*saved("16-grey.jp2", mode="I;16"), "JPEG 2000", "I;16", 16, False),
    (*saved("rgb.ppm"), "PPM", "RGB", 8, False),
    (*saved("line.pbm", mode="1"), "PPM", "1", 1, False),
]  # fmt: skip


def ycc_jpeg(path):
    """JPEG inside TIFF, stored as luminance and colour difference; its decoder gives RGB."""
    return make.tiff(path, compression="jpeg", photometric="ycbcr")


def planes(path):
    values = np.moveaxis(np.asarray(make.drawing()), -1, 0)
    tifffile.imwrite(path, values, photometric="rgb", planarconfig="separate", metadata=None)
    return path


each_kind = pytest.mark.parametrize(
    ("name", "write", "kind", "mode", "depth", "alpha"), KINDS, ids=[name for name, *_ in KINDS]
)


@each_kind
def test_the_facts_of_each_kind(tmp_path, name, write, kind, mode, depth, alpha):
    found = read_picture(write(tmp_path / name))
    assert (found.kind, found.mode, found.depth, found.alpha) == (kind, mode, depth, alpha)
    assert found.pixels == found.stored == make.SIZE
    assert (found.pages, found.orientation, found.layers) == (1, 1, False)


NOT_AS_PILLOW_SAYS = {
    "16-grey-alpha.png": "it widens grey with alpha to RGBA",
    "16-grey-mm.tif": "it says I;16B, as the bytes lie",
}


@each_kind
def test_mode_and_size_are_those_of_pillow(tmp_path, name, write, kind, mode, depth, alpha):
    if name == "mm-big.tif":
        pytest.skip("this Pillow opens no BigTIFF of that byte order")
    with Image.open(write(tmp_path / name)) as image:
        assert image.size == make.SIZE
        assert (image.mode == mode) == (name not in NOT_AS_PILLOW_SAYS)


@each_kind
def test_size_and_depth_are_those_libvips_reads(tmp_path, name, write, kind, mode, depth, alpha):
    path = write(tmp_path / name)
    assert (vips_field(path, "width"), vips_field(path, "height")) == make.SIZE
    bits = {"uchar": 8, "ushort": 16, "float": 32}[vips_field(path, "format")]
    assert bits == depth or (bits, depth) == (8, 1)


def test_a_png_of_16_bits_is_read_as_such_by_another_decoder(tmp_path):
    path = make.png_16(tmp_path / "deep.png")
    assert imagecodecs.png_decode(path.read_bytes()).dtype == np.uint16
    assert read_picture(path).depth == 16


@pytest.mark.parametrize("bits", [8, 10, 12])
def test_the_depth_of_avif_is_the_encoders(tmp_path, bits):
    values = np.asarray(make.drawing()).astype(np.uint16) << (bits - 8)
    values = values.astype(np.uint8) if bits == 8 else values
    path = tmp_path / "deep.avif"
    path.write_bytes(imagecodecs.avif_encode(values, bitspersample=bits))
    assert read_picture(path).depth == bits


def test_jpeg_2000_and_ppm_of_16_bits(tmp_path):
    values = np.asarray(make.drawing()).astype(np.uint16) * 257
    deep = tmp_path / "deep.jp2"
    deep.write_bytes(imagecodecs.jpeg2k_encode(values))
    assert (read_picture(deep).mode, read_picture(deep).depth) == ("RGB", 16)
    wide = tmp_path / "deep.ppm"
    wide.write_bytes(b"P6 60 40 65535\n" + values.astype(">u2").tobytes())
    assert (read_picture(wide).mode, read_picture(wide).depth) == ("RGB", 16)


def test_the_ending_does_not_decide_the_kind(tmp_path):
    path = make.picture(tmp_path / "really.png").rename(tmp_path / "said.jpg")
    assert read_picture(path).kind == "PNG"
    assert read_picture(str(path.rename(tmp_path / "no-ending"))).kind == "PNG"


# Pages


@pytest.mark.parametrize("ending", ["gif", "png", "webp", "tif", "avif"])
def test_frames_and_pages_are_counted(tmp_path, ending):
    path = make.frames(tmp_path / f"three.{ending}", 3)
    with Image.open(path) as image:
        assert image.n_frames == 3
    assert read_picture(path).pages == 3


@pytest.mark.parametrize("write", [make.tiff_with_thumbnail, make.tiff_with_mask])
def test_a_thumbnail_or_a_mask_behind_a_tiff_is_no_page(tmp_path, write):
    path = write(tmp_path / "two.tif")
    with tifffile.TiffFile(path) as tiff:
        assert len(tiff.pages) == 2
    found = read_picture(path)
    assert (found.pages, found.alpha) == (1, write is make.tiff_with_mask)


def test_the_second_picture_in_a_telephones_jpeg_is_no_page(tmp_path):
    path = make.telephone_jpeg(tmp_path / "phone.jpg")
    with Image.open(path) as image:
        assert (image.format, image.n_frames) == ("MPO", 2)
    found = read_picture(path)
    assert (found.kind, found.pages, found.pixels) == ("JPEG", 1, make.SIZE)


def test_a_tiff_that_points_round_in_a_circle_is_still_read(tmp_path):
    path = make.frames(tmp_path / "round.tif", 2)
    data = bytearray(path.read_bytes())
    first = int.from_bytes(data[4:8], "little")
    with tifffile.TiffFile(path) as tiff:
        second = tiff.pages[1].offset
    entries = int.from_bytes(data[second : second + 2], "little")
    data[second + 2 + 12 * entries :][:4] = b""
    at = second + 2 + 12 * entries
    data[at : at + 4] = first.to_bytes(4, "little")
    path.write_bytes(data)
    assert read_picture(path).pages >= 2


# Turned pictures: Exif 2.3 and TIFF 6.0, section 8: from 5 on, width and height change places


def turned(folder: Path, ending: str, orientation: int) -> Path:
    path = folder / f"turned-{orientation}.{ending}"
    if ending == "tif":
        return make.tiff(path, ppi=((300, 1), (150, 1)), orientation=orientation)
    block = make.exif(
        (274, 3, (orientation,)), (282, 5, (300, 1)), (283, 5, (150, 1)), (296, 3, (2,))
    )
    if ending == "jpg":
        return make.bare_jpeg(path, block)
    make.drawing().save(path, exif=block)
    return path


@pytest.mark.parametrize("ending", ["jpg", "tif", "png", "webp"])
@pytest.mark.parametrize("orientation", range(1, 9))
def test_size_and_resolution_are_given_as_shown(tmp_path, ending, orientation):
    path = turned(tmp_path, ending, orientation)
    found = read_picture(path)
    on_its_side = orientation >= 5
    assert found.orientation == orientation
    assert found.stored == (60, 40)
    assert found.pixels == ((40, 60) if on_its_side else (60, 40))
    assert found.ppi == ((150, 300) if on_its_side else (300, 150))
    with Image.open(path) as image:
        assert found.pixels == ImageOps.exif_transpose(image).size
    stored = inches(Fraction(60, 300)), inches(Fraction(40, 150))
    assert found.size == (stored[::-1] if on_its_side else stored)


def test_an_orientation_that_does_not_exist_is_none(tmp_path):
    for orientation in (0, 9, 65535):
        assert (
            read_picture(make.picture(tmp_path / "odd.jpg", orientation=orientation)).orientation
            == 1
        )


def test_exif_behind_the_pixels_of_a_png_is_found_without_decoding_them(tmp_path):
    block = make.orientation_exif(6).removeprefix(b"Exif\0\0")
    path = make.png_with(tmp_path / "late.png", make.chunk(b"eXIf", block), late=True)
    assert read_picture(path).pixels == (40, 60)


def test_damaged_exif_says_nothing_and_does_no_harm(tmp_path):
    for block in (b"Exif\0\0nonsense", b"Exif\0\0II*\0\xff\xff\xff\x7f", b"Exif\0\0"):
        found = read_picture(make.bare_jpeg(tmp_path / "odd.jpg", block))
        assert (found.pixels, found.orientation, found.ppi) == (make.SIZE, 1, None)


# HEIC: both files were written once, with an encoder that the package does not need


def test_a_telephones_heic_arrives_upright():
    # written as 96 × 64 pixels with orientation 6, 72 ppi and an sRGB profile
    found = read_picture(PHONE)
    assert (found.kind, found.pixels, found.stored, found.orientation) == (
        "HEIC", (64, 96), (64, 96), 1,
    )  # fmt: skip
    assert (found.mode, found.depth, found.alpha, found.pages) == ("RGB", 8, False, 1)
    assert found.ppi == (72, 72)
    assert found.profile_name == "sRGB"
    assert found.profile in PHONE.read_bytes()


def test_a_heic_of_10_bits():
    found = read_picture(PHONE_10_BIT)
    assert (found.kind, found.pixels, found.depth, found.profile) == ("HEIC", (64, 48), 10, None)


def test_heic_is_read_without_being_made_known_to_all_of_pillow():
    code = (
        "import sys; from labkit.files.header.reading import read_picture; from PIL import Image;"
        f"assert 'pi_heif' not in sys.modules; read_picture({str(PHONE)!r});"
        "assert 'pi_heif' in sys.modules and 'HEIF' not in Image.OPEN"
    )
    subprocess.run([sys.executable, "-c", code], check=True, cwd=ROOT)


def test_importing_brings_in_neither_numpy_nor_tifffile():
    code = (
        "import sys, labkit.files.header.picture;"
        "assert not {'numpy', 'tifffile', 'pi_heif', 'matplotlib'} & set(sys.modules)"
    )
    subprocess.run([sys.executable, "-c", code], check=True, cwd=ROOT)


# Profiles


@pytest.mark.parametrize("ending", ["jpg", "png", "tif", "webp", "avif"])
def test_an_embedded_profile_comes_out_byte_for_byte(tmp_path, ending):
    profile = make.srgb()
    path = make.picture(tmp_path / f"tagged.{ending}", profile=profile)
    found = read_picture(path)
    assert found.profile == profile
    assert (found.profile_name, found.profile_fault) == ("sRGB", "")
    if ending != "avif":
        assert vips_field(path, "icc-profile-data") == profile


@pytest.mark.parametrize("ending", ["jpg", "png", "tif", "webp", "gif", "bmp"])
def test_without_a_profile_nothing_is_made_up(tmp_path, ending):
    mode = "P" if ending == "gif" else "RGB"
    found = read_picture(make.picture(tmp_path / f"plain.{ending}", mode=mode))
    assert (found.profile, found.profile_name, found.profile_fault) == (None, "", "")


def padded(profile: bytes, size: int) -> bytes:
    """The same profile with unused bytes behind it, its stated size made to match."""
    return (
        size.to_bytes(4, "big")
        + profile[4:]
        + bytes(range(256)) * (size // 256 - 2)
        + bytes(size - len(profile) - 256 * (size // 256 - 2))
    )


@pytest.mark.parametrize("ending", ["jpg", "png", "tif"])
def test_a_large_profile_is_read_whole(tmp_path, ending):
    # more than one JPEG segment (64 KB) holds, and more than Pillow takes from a PNG (1 MB)
    profile = padded(make.srgb(), 1_400_000)
    found = read_picture(make.picture(tmp_path / f"large.{ending}", profile=profile))
    assert (found.profile == profile, found.profile_name) == (True, "sRGB")


@pytest.mark.parametrize("big", [False, True])
def test_a_profile_beyond_the_end_of_the_file_is_damaged(tmp_path, big):
    """As where the last bytes of a TIFF were lost, and a profile had been put there."""
    path = tmp_path / "a.tif"
    values = np.zeros((40, 60, 3), np.uint8)
    tifffile.imwrite(path, values, photometric="rgb", bigtiff=big, iccprofile=make.srgb())
    assert read_picture(path).profile_fault == ""
    data = path.read_bytes()
    offset = tifffile.TiffFile(path).pages[0].tags[34675].offset + (12 if big else 8)
    beyond = (len(data) - 20).to_bytes(8 if big else 4, "little")
    path.write_bytes(data[:offset] + beyond + data[offset + len(beyond) :])
    found = read_picture(path)
    assert (found.profile, found.profile_fault) == (
        None,
        "the embedded profile is damaged (0 bytes)",
    )
    tifffile.imwrite(path, values, photometric="rgb", bigtiff=big)
    assert read_picture(path).profile_fault == ""


@pytest.mark.parametrize("kept", [140, 300, -1])
def test_a_profile_that_lacks_its_end_is_damaged(tmp_path, kept):
    """ICC.1 §7.2 and §7.3: header and table of tags tell how long it is. littleCMS opens some such."""
    whole = make.srgb()
    path = make.picture(tmp_path / "a.tif", profile=whole[:kept])
    told = f"the embedded profile is damaged ({len(whole[:kept])} of {len(whole)} bytes)"
    assert read_picture(path).profile_fault == told
    padded = make.picture(tmp_path / "b.tif", profile=whole + bytes(4))
    assert read_picture(padded).profile_fault == ""


@pytest.mark.parametrize("ending", ["jpg", "png", "tif", "webp"])
def test_a_damaged_profile_is_told_of_and_not_used(tmp_path, ending):
    path = make.picture(tmp_path / f"bad.{ending}", profile=b"not a profile at all")
    found = read_picture(path)
    assert (found.profile, found.profile_name) == (None, "")
    assert found.profile_fault == "the embedded profile is damaged (20 bytes)"
    assert "damaged profile" in str(found)


def test_a_profile_that_lost_a_segment_or_does_not_inflate_is_damaged(tmp_path):
    path = make.picture(tmp_path / "lost.jpg", profile=padded(make.srgb(), 100_000))
    data = path.read_bytes()
    assert data.count(b"ICC_PROFILE\0") == 2
    path.write_bytes(data.replace(b"ICC_PROFILE\0\x02", b"SOMETHING__\0\x02"))
    assert read_picture(path).profile_fault == "the embedded profile is damaged (0 bytes)"
    chunk = make.chunk(b"iCCP", b"name\0\0no zlib stream")
    path = make.png_with(tmp_path / "bad.png", chunk)
    assert read_picture(path).profile_fault == "the embedded profile is damaged (0 bytes)"


def test_a_grey_profile(tmp_path):
    path = make.picture(tmp_path / "grey.tif", mode="L", profile=make.grey_profile())
    assert read_picture(path).profile == make.grey_profile()


# Layers: that such a block means layers is common practice; its keys are those psdtags names


@pytest.mark.parametrize("key", [b"Layr", b"Lr16", b"Lr32"])
@pytest.mark.parametrize("order", [">", "<"])
def test_an_editors_layers_are_noticed(tmp_path, key, order):
    block = (
        b"some editor's data\0"
        + make.layer_block(b"FMsk", order=order)
        + make.layer_block(key, order=order)
    )
    found = read_picture(make.layered_tiff(tmp_path / "layers.tif", block, byteorder=order))
    assert found.layers
    assert "layers" in str(found)


@pytest.mark.parametrize(
    "block",
    [
        b"some editor's data\0" + make.layer_block(b"FMsk"),
        make.layer_block(b"Layr", b""),
        b"Layr without a signature",
    ],
)
def test_other_private_data_are_no_layers(tmp_path, block):
    path = make.layered_tiff(tmp_path / "flat.tif", block)
    with tifffile.TiffFile(path) as tiff:
        assert 37724 in tiff.pages[0].tags
    assert not read_picture(path).layers


def test_the_key_of_a_layer_elsewhere_in_the_file_is_none(tmp_path):
    tags = [(270, 2, 0, "8BIMLayr and so on, in a caption", True)]
    path = make.tiff(tmp_path / "caption.tif", tags=tags)
    assert b"8BIMLayr" in path.read_bytes()
    assert not read_picture(path).layers


# How it is packed


@pytest.mark.parametrize(
    ("options", "packing", "lossy"),
    [
        ({}, "none", False),
        ({"compression": "lzw"}, "LZW", False),
        ({"compression": "zlib"}, "Deflate", False),
        ({"compression": "packbits"}, "PackBits", False),
        ({"compression": "zstd"}, "Zstandard", False),
        ({"compression": "lzma"}, "LZMA", False),
        ({"compression": "jpeg"}, "JPEG", True),
        ({"compression": ("webp", {"lossless": True})}, "WebP", False),
        ({"compression": ("webp", {"level": 80, "lossless": False})}, "WebP", True),
        ({"compression": ("jpeg2000", {"reversible": True})}, "JPEG 2000", False),
        ({"compression": ("jpeg2000", 40)}, "JPEG 2000", True),
    ],
)
def test_how_a_tiff_is_packed(tmp_path, options, packing, lossy):
    """Lossless is what comes out as it went in."""
    if isinstance(options.get("compression"), tuple):
        name, setting = options["compression"]
        setting = setting if isinstance(setting, dict) else {"level": setting}
        options = {"compression": name, "compressionargs": setting}
    path = make.tiff(tmp_path / "a.tif", rowsperstrip=40, **options)
    found = read_picture(path)
    assert (found.packing, found.lossy) == (packing, lossy)
    stored = np.asarray(make.drawing(mode="RGBA"))[..., :3]
    is_exact = np.array_equal(tifffile.imread(path), stored)
    assert is_exact != lossy


@pytest.mark.parametrize(
    ("name", "options", "lossy"),
    [
        ("a.jpg", {}, True),
        ("a.png", {}, False),
        ("a.webp", {}, True),
        ("a.webp", {"lossless": True}, False),
        ("a.webp", {"profile": make.srgb()}, True),
        ("a.webp", {"mode": "RGBA"}, True),
        ("a.webp", {"mode": "RGBA", "lossless": True}, False),
        ("a.avif", {}, True),
        ("a.bmp", {}, False),
        ("a.jp2", {}, False),
        ("a.jp2", {"irreversible": True}, True),
        ("a.j2k", {"irreversible": True}, True),
    ],
)
def test_what_loses_detail_in_packing(tmp_path, name, options, lossy):
    found = read_picture(make.picture(tmp_path / name, **options))
    assert (found.packing, found.lossy) == ("", lossy)


def test_heic_is_taken_to_lose_detail():
    assert read_picture(PHONE).lossy


@pytest.mark.parametrize("lossless", [True, False])
def test_the_first_frame_tells_of_an_animation(tmp_path, lossless):
    first, second = make.drawing(), make.drawing().rotate(180)
    path = tmp_path / "a.webp"
    first.save(path, save_all=True, append_images=[second], lossless=lossless)
    assert read_picture(path).lossy != lossless


@pytest.mark.parametrize("big", [False, True])
@pytest.mark.parametrize(("order", "word"), [("<", "little"), (">", "big")])
def test_the_order_of_bytes_and_bigtiff(tmp_path, order, word, big):
    """TIFF 6.0, section 2: II is little-endian, MM big-endian; 43 marks BigTIFF."""
    path = make.tiff(tmp_path / "a.tif", byteorder=order, big=big)
    assert path.read_bytes()[:2] == {"<": b"II", ">": b"MM"}[order]
    found = read_picture(path)
    assert (found.byte_order, found.big) == (word, big)
    other = read_picture(make.picture(tmp_path / "a.png"))
    assert (other.byte_order, other.big, other.planar) == ("", False, False)


def test_planes(tmp_path):
    assert read_picture(planes(tmp_path / "a.tif")).planar
    assert not read_picture(make.tiff(tmp_path / "b.tif")).planar


# Frames: in time or not


@pytest.mark.parametrize(
    ("ending", "animated"),
    [("gif", True), ("png", True), ("webp", True), ("avif", True), ("tif", False)],
)
def test_what_moves(tmp_path, ending, animated):
    found = read_picture(make.frames(tmp_path / f"three.{ending}", 3))
    assert (found.pages, found.animated) == (3, animated)
    mode = "P" if ending == "gif" else "RGB"
    assert not read_picture(make.picture(tmp_path / f"one.{ending}", mode=mode)).animated


@pytest.mark.parametrize("quality", [30, 50, 60, 75, 85, 92, 95, 100])
@pytest.mark.parametrize("mode", ["RGB", "L"])
def test_how_hard_a_jpeg_was_packed(tmp_path, mode, quality):
    """libjpeg's scale of quality, on the tables of ITU-T T.81, annex K."""
    path = tmp_path / "a.jpg"
    make.drawing(mode=mode).save(path, quality=quality)
    assert abs(read_picture(path).quality - quality) <= 1
    assert read_picture(make.picture(tmp_path / "a.png")).quality == 0


def test_below_a_tenth_the_scale_is_only_about_right(tmp_path):
    """Steps end at 255 in a byte."""
    path = tmp_path / "a.jpg"
    make.drawing().save(path, quality=5)
    assert 0 < read_picture(path).quality < 20


# Numbers without a unit


def shape(folder: Path, name: str, across: int, down: int) -> Path:
    """A picture that states two numbers without a unit (its standard's unit 0 or 1)."""
    path = folder / name
    if name == "jfif.jpg":
        return make.jfif(path, 0, across, down)
    if name == "phys.png":
        return make.png_with(path, make.chunk(b"pHYs", struct.pack(">IIB", across, down, 0)))
    if name == "tags.tif":
        return make.tiff(path, ppi=((across, 1), (down, 1)), unit=1)
    block = make.exif((282, 5, (across, 1)), (283, 5, (down, 1)), (296, 3, (1,)))
    return make.bare_jpeg(path, block)


@pytest.mark.parametrize("name", ["jfif.jpg", "phys.png", "tags.tif", "exif.jpg"])
@pytest.mark.parametrize(
    ("across", "down", "shape_only"),
    [(300, 300, True), (2, 1, True), (1, 1, False), (0, 0, False)],
)
def test_numbers_without_a_unit_state_a_shape_only(tmp_path, name, across, down, shape_only):
    """JFIF 1.02, p. 5; PNG 1.2, 4.2.4.2; TIFF 6.0, section 8. 1 to 1 stands where nothing is meant."""
    found = read_picture(shape(tmp_path, name, across, down))
    assert (found.ppi, found.shape_only) == (None, shape_only)


def test_a_resolution_in_exif_goes_before_a_shape(tmp_path):
    block = make.exif((282, 5, (240, 1)), (283, 5, (240, 1)), (296, 3, (2,)))
    path = make.jfif(tmp_path / "a.jpg", 0, 2, 1, exif=block)
    found = read_picture(path)
    assert (found.ppi, found.shape_only) == ((240, 240), False)


def test_what_exif_states_besides(tmp_path):
    block = make.exif((282, 5, (72, 1)), (283, 5, (72, 1)), (296, 3, (2,)))
    found = read_picture(make.jfif(tmp_path / "a.jpg", 1, 300, 300, exif=block))
    assert (found.ppi, found.other_ppi) == ((300, 300), (72, 72))
    same = make.exif((282, 5, (300, 1)), (283, 5, (300, 1)), (296, 3, (2,)))
    found = read_picture(make.jfif(tmp_path / "b.jpg", 1, 300, 300, exif=same))
    assert (found.ppi, found.other_ppi) == ((300, 300), None)
    assert read_picture(make.jfif(tmp_path / "c.jpg", 1, 300, 300)).other_ppi is None


def test_a_picture_that_states_nothing_or_all_is_no_shape(tmp_path):
    assert not read_picture(make.picture(tmp_path / "a.png")).shape_only
    assert not read_picture(make.picture(tmp_path / "b.png", ppi=300)).shape_only


# Who made it, and with what


def test_what_the_tags_say_of_maker_and_title(tmp_path):
    """TIFF 6.0, section 8: Software 305, Artist 315; section 12: DocumentName 269."""
    texts = {269: "Boat", 305: "a program 1.0", 315: "N. Okafor"}
    tags = [(code, 2, 0, text, True) for code, text in texts.items()]
    found = read_picture(make.tiff(tmp_path / "a.tif", tags=tags, software=False))
    assert (found.title, found.software, found.artist) == ("Boat", "a program 1.0", "N. Okafor")
    exif = Image.Exif()
    exif.update(texts)
    found = read_picture(make.picture(tmp_path / "a.jpg", exif=exif))
    assert (found.title, found.software, found.artist) == ("Boat", "a program 1.0", "N. Okafor")
    nothing = read_picture(make.picture(tmp_path / "b.jpg"))
    assert (nothing.title, nothing.software, nothing.artist) == ("", "", "")


def test_a_text_that_would_upset_the_screen_is_cut_down(tmp_path):
    tags = [(315, 2, 0, "a\x1b[31m\nb" + "c" * 500, True)]
    found = read_picture(make.tiff(tmp_path / "a.tif", tags=tags)).artist
    assert found.startswith("a[31mbccc")
    assert len(found) == 200


@pytest.mark.parametrize(
    ("profile", "mode", "kind", "space"),
    [(make.srgb(), "RGB", "mntr", "RGB "), (make.grey_profile(), "L", "mntr", "GRAY")],
)
def test_class_and_space_of_a_profile(tmp_path, profile, mode, kind, space):
    """ICC.1 §7.2.5 and 7.2.6: four signs each, at byte 12 and 16."""
    found = read_picture(make.picture(tmp_path / "a.tif", mode=mode, profile=profile))
    assert (found.profile_class, found.profile_space) == (kind, space)
    printer = profile[:12] + b"prtr" + profile[16:]
    found = read_picture(make.picture(tmp_path / "b.tif", mode=mode, profile=printer))
    assert (found.profile_class, found.profile_space) == ("prtr", space)
    bare = read_picture(make.picture(tmp_path / "c.tif", mode=mode))
    assert (bare.profile_class, bare.profile_space) == ("", "")


# In words


def test_the_sentence_of_a_picture(tmp_path):
    found = read_picture(
        make.picture(tmp_path / "harbour.jpg", size=(4500, 3000), ppi=300, profile=make.srgb())
    )
    assert str(found) == (
        "harbour.jpg: JPEG, 4500 × 3000 pixels, 300 ppi, sRGB, "
        "so 15 in (381 mm) by 10 in (254 mm) at 100 %."
    )
    assert found.sentence("mm").endswith("so 381 mm (15 in) by 254 mm (10 in) at 100 %.")
    assert found.size == (length("15in"), length("10in"))
    assert found.megapixels == 13.5


def test_the_sentence_names_what_is_out_of_the_ordinary(tmp_path):
    deep = make.tiff(tmp_path / "a.tif", bits=16, channels=4, ppi=((300, 1), (150, 1)))
    assert str(read_picture(deep)) == (
        "a.tif: TIFF, 60 × 40 pixels, 300 × 150 ppi, 16 bits a channel, no profile, transparency, "
        "so 0.2 in (5.1 mm) by 0.267 in (6.8 mm) at 100 %."
    )
    ink = make.picture(tmp_path / "b.jpg", mode="CMYK")
    assert str(read_picture(ink)) == (
        "b.jpg: JPEG, 60 × 40 pixels, CMYK, no profile; it states no resolution, so it has no size yet."
    )
    assert "3 pages" in str(read_picture(make.frames(tmp_path / "c.tif")))
    assert "black and white" in str(read_picture(make.picture(tmp_path / "d.png", mode="1")))


def test_a_notebook_shows_the_sentence(tmp_path):
    from IPython.lib.pretty import pretty

    found = read_picture(make.picture(tmp_path / "a.jpg", ppi=300))
    assert pretty(found) == str(found)


# Only the header is read, and nothing is written


@pytest.mark.parametrize("name", ["a.jpg", "a.png", "a.tif", "a.webp", "a.bmp"])
def test_no_pixel_is_decoded(tmp_path, name, monkeypatch):
    path = make.picture(tmp_path / name, size=(600, 400))
    monkeypatch.setattr(Image.Image, "load", None)
    monkeypatch.setattr("PIL.ImageFile.ImageFile.load", None)
    if name != "a.tif":  # its tags stand behind its pixels
        os.truncate(path, path.stat().st_size - 60)
    assert read_picture(path).pixels == (600, 400)


@pytest.mark.parametrize(("name", "write"), {row[2]: row[:2] for row in KINDS}.values())
def test_the_original_is_not_touched(tmp_path, name, write):
    """One of each kind of file."""
    path = write(tmp_path / name)
    before = path.read_bytes(), path.stat().st_mtime_ns
    path.chmod(0o400)
    read_picture(path)
    assert (path.read_bytes(), path.stat().st_mtime_ns) == before
    assert list(tmp_path.iterdir()) == [path]


def test_a_huge_picture_is_measured_whatever_pillow_allows(tmp_path, recwarn):
    # 2 gigapixels, told by the header; Pillow warns from 89 and refuses from 179 megapixels
    before = Image.MAX_IMAGE_PIXELS
    assert read_picture(make.png_header(tmp_path / "huge.png", 50_000, 40_000)).megapixels == 2000
    tiff = make.tiff(tmp_path / "huge.tif", tags=[])
    with tifffile.TiffFile(tiff, mode="r+") as opened:
        for code in (256, 257):
            opened.pages[0].tags[code].overwrite(50_000)
    assert read_picture(tiff).megapixels == 2500
    webp = make.picture(tmp_path / "huge.webp", profile=make.srgb())
    data = bytearray(webp.read_bytes())
    data[24:30] = (16_383 - 1).to_bytes(3, "little") * 2
    webp.write_bytes(data)
    assert read_picture(webp).pixels == (16_383, 16_383)
    assert before == Image.MAX_IMAGE_PIXELS
    assert not recwarn.list


# Decoded: TIFFs that few programs write, against tifffile's own reading

GREY_ALPHA = {"channels": 2, "extrasamples": ["unassalpha"]}
RGB_ALPHA = {"channels": 4, "extrasamples": ["unassalpha"]}
BIG_ENDIAN = {"big": True, "byteorder": ">"}


@pytest.mark.parametrize(
    ("mode", "facts"),
    [
        ("LA", {"bits": 16, **GREY_ALPHA}),
        ("LA", {"bits": 16, **GREY_ALPHA, **BIG_ENDIAN}),
        ("LA", {**GREY_ALPHA, **BIG_ENDIAN}),
        ("RGBA", {**RGB_ALPHA, **BIG_ENDIAN}),
        ("RGBA", {"bits": 16, **RGB_ALPHA, **BIG_ENDIAN}),
        ("RGBA", {"channels": 5, "extrasamples": ["unassalpha", "unspecified"]}),
        # one more channel that is not for transparency is left out
        ("L", {"channels": 2, "extrasamples": ["unspecified"]}),
        ("L", {"bits": 16, "channels": 2, "extrasamples": ["unspecified"]}),
        ("RGB", {"channels": 4, "extrasamples": ["unspecified"], **BIG_ENDIAN}),
    ],
)
def test_alpha_and_spare_channels_of_a_tiff(tmp_path, mode, facts):
    path = make.tiff(tmp_path / "a.tif", **facts)
    wanted = tifffile.imread(path)[..., : len(mode)].squeeze() // (257 if "bits" in facts else 1)
    whole = decode(read_picture(path)).region((0, 0, *make.SIZE))
    assert whole.mode == mode
    assert np.array_equal(np.asarray(whole), wanted)


def test_where_zero_is_white_the_alpha_stays_as_it_is(tmp_path):
    """TIFF 6.0, tag 262: 0 is WhiteIsZero."""
    path = make.tiff(tmp_path / "a.tif", photometric="miniswhite", **GREY_ALPHA)
    grey, alpha = np.moveaxis(tifffile.imread(path), -1, 0)
    whole = decode(read_picture(path)).region((0, 0, *make.SIZE))
    assert np.array_equal(np.asarray(whole), np.dstack([255 - grey, alpha]))


@pytest.mark.parametrize("size", [(1, 1), (1, 3), (3, 1)])
@pytest.mark.parametrize("channels", [1, 3])
def test_a_tiff_one_pixel_wide_or_high(tmp_path, size, channels):
    path = make.tiff(tmp_path / "a.tif", size=size, channels=channels)
    assert decode(read_picture(path)).region((0, 0, *size)).size == size


def of_a_rare_packing(path):
    make.tiff(path)
    with tifffile.TiffFile(path, mode="r+") as tiff:
        tiff.pages[0].tags[259].overwrite(60_000)
    return path


def planes_with_alpha(path):
    values = np.moveaxis(np.asarray(make.drawing(mode="RGBA")), -1, 0)
    packed = {"planarconfig": "separate", "extrasamples": ["assocalpha"], "metadata": None}
    tifffile.imwrite(path, values, photometric="rgb", **packed)
    return path


def lab(path, photometric="cielab"):
    return make.tiff(path, bits=16, photometric=photometric)


@pytest.mark.parametrize(
    ("write", "colours"),
    [
        (lab, "Lab, 16 bits a channel"),
        (lambda path: lab(path, "icclab"), "Lab, 16 bits a channel"),
        (of_a_rare_packing, "RGB, 8 bits a channel"),
        (
            lambda path: make.tiff(path, bits=16, channels=2, extrasamples=["assocalpha"]),
            "grey, 16 bits a channel",
        ),
        (planes_with_alpha, "RGB, 8 bits a channel"),
        (
            lambda path: make.tiff(path, channels=4, photometric="separated", **BIG_ENDIAN),
            "CMYK, 8 bits a channel",
        ),
    ],
)
@pytest.mark.filterwarnings("ignore:Corrupt EXIF data")
def test_a_form_that_is_not_read_is_not_called_damage(tmp_path, write, colours):
    found = read_picture(write(tmp_path / "boat.tif"))
    assert refusal(decode, found) == (
        f"“boat.tif” keeps its colours ({colours}) in a form that is not read here: flatten it, convert it "
        "to RGB at 8 bits, and save it again."
    )


# Refusals


def refused(path: Path, data: bytes | None = None, **limits) -> str:
    if data is not None:
        path.write_bytes(data)
    return refusal(read_picture, path, **limits)


def test_a_missing_file(tmp_path):
    path = tmp_path / "boat.jpg"
    sentence = f"there is no file “{path}”: look at the spelling, the ending and the folder."
    assert refused(path) == sentence
    assert "there is no file" in refusal(read_picture, "bo\0at.jpg")
    assert "there is no file" in refusal(read_picture, "x" * 5000)


def test_a_folder(tmp_path):
    assert refused(tmp_path) == f"“{tmp_path}” is a folder: give the name of one picture in it."


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_is_not_waited_for(tmp_path):
    path = tmp_path / "pipe"
    os.mkfifo(path)
    assert refused(path) == f"“{path}” is a device and not a file: give the name of a picture."


def test_a_file_one_may_not_read(tmp_path, monkeypatch):
    path = make.picture(tmp_path / "shut.jpg")

    def shut(*_):
        raise PermissionError

    monkeypatch.setattr(Path, "open", shut)
    assert refused(path) == (
        f"you are not allowed to read “{path}”: ask whoever owns it, or copy it to your own folder."
    )


def test_an_empty_file(tmp_path):
    assert refused(tmp_path / "boat.jpg", b"") == (
        "“boat.jpg” is empty (0 bytes): copy it again from where it came from."
    )


def test_what_is_not_a_picture(tmp_path):
    assert refused(tmp_path / "boat.tif", b"%PDF-1.7") == (
        "“boat.tif” is not a picture that can be printed but a PDF document: export the picture from it "
        "as TIFF, PNG or JPEG."
    )


@pytest.mark.parametrize(
    ("name", "kind", "kept"),
    [
        ("a.jpg", "JPEG", 30), ("a.png", "PNG", 30), ("a.png", "PNG", 35), ("a.tif", "TIFF", 8),
        ("a.tif", "TIFF", 40), ("a.webp", "WebP", 22), ("a.gif", "GIF", 9), ("a.bmp", "BMP", 30),
        ("a.avif", "AVIF", 60), ("a.jp2", "JPEG 2000", 40),
    ],
)  # fmt: skip
def test_a_header_cut_short(tmp_path, name, kind, kept):
    path = make.picture(tmp_path / name, mode="P" if kind == "GIF" else "RGB")
    os.truncate(path, kept)
    assert refused(path) == (
        f"“{name}” begins like a {kind} file, but its header is damaged, cut short or of a rare kind: "
        "copy it again from where it came from, or export it anew as TIFF."
    )


@pytest.mark.parametrize(
    ("call", "told"),
    [
        ("print(picture)", "a.tif: TIFF, 60 × 40 pixels, damaged profile"),
        ("print(check(picture.path, room=load_room()))", "a.tif"),
    ],
)
def test_a_damaged_file_puts_nothing_else_on_the_screen(tmp_path, call, told):
    path = make.tiff(tmp_path / "a.tif", profile=make.srgb())
    os.truncate(path, 300)
    code = (
        "from labkit.files.checks.check import check; from labkit.files.header.reading import read_picture;"
        f"from labkit.room.rules import load_room; picture = read_picture({str(path)!r}); {call}"
    )
    run = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True)
    assert told in run.stdout
    assert run.stderr == ""


def test_a_picture_of_no_width(tmp_path):
    path = make.png_header(tmp_path / "a.png", 0, 40)
    assert refused(path).startswith("“a.png” begins like a PNG file, but its header is damaged")


def test_a_heic_cut_short(tmp_path):
    sentence = refused(tmp_path / "a.heic", PHONE.read_bytes()[:200])
    assert sentence.startswith("“a.heic” begins like a HEIC file, but its header is damaged")


def raw_by_its_tag(path):
    return make.tiff(path, tags=[(50706, 1, 4, (1, 4, 0, 0), True)])


def raw_by_its_colours(path):
    return make.tiff(path, channels=1, photometric=32803)


def raw_by_its_packing(path):
    make.tiff(path)
    with tifffile.TiffFile(path, mode="r+") as tiff:
        tiff.pages[0].tags[259].overwrite(34713)
    return path


def raw_by_its_parts(path):
    """A thumbnail first, and the sensor's picture in a directory below it."""
    with tifffile.TiffWriter(path) as writer:
        writer.write(
            np.asarray(make.drawing((15, 10))), photometric="rgb", subfiletype=1, subifds=1
        )
        writer.write(np.asarray(make.drawing(mode="L")), photometric="minisblack")
    return path


@pytest.mark.parametrize(
    "write", [raw_by_its_tag, raw_by_its_colours, raw_by_its_packing, raw_by_its_parts]
)
def test_a_camera_raw_file_inside_a_tiff(tmp_path, write):
    path = write(tmp_path / "raw.tif")
    assert refused(path) == (
        "“raw.tif” is not a picture that can be printed but a camera raw file: develop it, and save "
        "a TIFF or a JPEG."
    )


def test_a_tiff_that_begins_with_a_thumbnail(tmp_path):
    path = tmp_path / "a.tif"
    with tifffile.TiffWriter(path) as writer:
        writer.write(np.asarray(make.drawing((15, 10))), photometric="rgb", subfiletype=1)
        writer.write(np.asarray(make.drawing()), photometric="rgb")
    assert refused(path) == (
        "“a.tif” begins with a thumbnail of the picture: save it again as a plain TIFF."
    )


def test_a_tiff_of_many_inks(tmp_path):
    path = tmp_path / "inks.tif"
    values = np.zeros((8, 8, 6), np.uint8)
    tifffile.imwrite(path, values, photometric="separated", metadata=None)
    with tifffile.TiffFile(path, mode="r+") as tiff:
        tiff.pages[0].tags[338].overwrite((), dtype=3)
    assert refused(path) == (
        "“inks.tif” keeps its colours in a way that cannot be printed here (6 channels, photometric 5): "
        "convert it to RGB, and save it again as TIFF."
    )


def test_more_pixels_than_allowed(tmp_path):
    path = make.png_header(tmp_path / "huge.png", 30_000, 20_000)
    assert refused(path, max_pixels=500_000_000) == (
        "“huge.png” has 600 megapixels (30000 × 20000), more than the 500 megapixels allowed: "
        "make it smaller, or have the limit raised."
    )
    assert read_picture(path, max_pixels=600_000_000).megapixels == 600


@pytest.mark.parametrize("name", ["a.jpg", "a.png", "a.tif", "a.webp", "a.gif", "a.avif"])
def test_the_limit_holds_for_each_kind(tmp_path, name):
    path = make.picture(tmp_path / name, mode="P" if name == "a.gif" else "RGB")
    assert read_picture(path, max_pixels=2400).pixels == (60, 40)
    assert "0.002 megapixels (60 × 40)" in refused(path, max_pixels=2399)


@pytest.mark.parametrize(
    ("name", "data", "code"),
    [
        ("a.jpg", b"", "empty"),
        ("a.tif", b"a letter", "note"),
        ("a.tif", b"%PDF-1.7", "document"),
        ("a.png", b"\x89PNG\r\n\x1a\n\0\0\0", "damaged"),
        ("a.jpg", bytes(range(256)), "unreadable"),
    ],
)
def test_a_refusal_knows_the_finding_it_amounts_to(tmp_path, name, data, code):
    path = tmp_path / name
    path.write_bytes(data)
    with pytest.raises(LabError) as caught:
        read_picture(path)
    assert caught.value.code == code


def test_so_do_the_refusals_of_what_is_no_file_or_too_large(tmp_path):
    for path, limit, code in (
        (tmp_path / "gone.jpg", None, "unreadable"),
        (tmp_path, None, "unreadable"),
        (make.picture(tmp_path / "a.png"), 10, "too-large"),
    ):
        with pytest.raises(LabError) as caught:
            read_picture(path, max_pixels=limit)
        assert caught.value.code == code


# Whatever a file holds, the answer is a picture or one sentence


@pytest.fixture(scope="module")
def originals(tmp_path_factory) -> dict[str, bytes]:
    folder = tmp_path_factory.mktemp("originals")
    block = make.exif((274, 3, (6,)), (282, 5, (300, 1)), (283, 5, (300, 1)), (296, 3, (2,)))
    paths = [
        make.picture(folder / "a.jpg", profile=make.srgb(), exif=block),
        make.picture(folder / "a.png", profile=make.srgb(), exif=block, ppi=300),
        make.picture(folder / "a.webp", profile=make.srgb(), exif=block),
        make.tiff(folder / "a.tif", profile=make.srgb(), orientation=6, ppi=((300, 1), (300, 1))),
        make.layered_tiff(folder / "l.tif", make.layer_block(), big=True),
        make.frames(folder / "a.gif"),
        make.picture(folder / "a.bmp", ppi=300),
        make.picture(folder / "a.avif"),
        make.picture(folder / "a.jp2"),
        PHONE,
    ]
    return {path.name: path.read_bytes() for path in paths}


changes = st.lists(st.tuples(st.integers(0, 700), st.integers(0, 255)), max_size=6)


@pytest.mark.filterwarnings("ignore")
@examples(300, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data(), changes=changes, end=st.integers(1, 4000))
def test_a_damaged_file_is_read_or_refused(tmp_path, originals, data, changes, end):
    whole = bytearray(originals[data.draw(st.sampled_from(sorted(originals)))])
    for at, value in changes:
        whole[at % len(whole)] = value
    path = tmp_path / "damaged"
    path.write_bytes(whole[:end])
    try:
        found = read_picture(path)
    except LabError as error:
        sentence = str(error)
    else:
        sentence = str(found)
        assert isinstance(found, Picture)
        assert all(type(side) is int and side > 0 for side in found.pixels)
        assert type(found.depth) is int
        assert 1 <= found.orientation <= 8
    assert "damaged" in sentence
    assert sentence.endswith(".")
    assert "\n" not in sentence
