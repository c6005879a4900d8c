"""Colour on its way to RGB: what keeps its values, what is converted, and what is told of it.

Expected colours come from formulas (tests/files/srgb.py) or from another reader, never from a profile.
"""

import struct
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import tifffile
from PIL import Image

from labkit.files.header.reading import read_picture
from labkit.files.pixels.conversion import conversion, serves, srgb_profile
from labkit.files.pixels.decode import decode
from labkit.files.pixels.lab import D50
from labkit.files.pixels.transform import lab_of
from labkit.room.rules import load_room
from labkit.teaching.profiles import MATT
from labkit.teaching.profiles.wide import GAMMA, PRIMARIES, wide_profile
from tests.files import make, sheets, srgb
from tests.geometry.refused import refusal

COLOUR = sheets.shipped().colour
ON_WHITE = "Transparency was laid on white, because paper is white and a print has no layers."
BY_SRGB = "No profile was embedded, so sRGB was assumed and embedded."
GREY = "Grey was converted to RGB, because the printer takes RGB; sRGB was assumed."


def made(path: Path, colour=COLOUR):
    """The conversion of a picture, and its pixels by it."""
    picture = read_picture(path)
    to_rgb = conversion(picture, colour)
    pixels = decode(picture)
    rgb = to_rgb.rgb(to_rgb.resizable(pixels.region((0, 0, *pixels.shape))))
    assert rgb.mode == "RGB"
    return to_rgb, np.asarray(rgb)


# RGB keeps its values


@pytest.mark.parametrize("name", ["a.png", "a.tif", "a.jpg"])
def test_rgb_keeps_its_own_profile_and_its_values(tmp_path, name):
    profile = make.rgb_profile()
    path = make.picture(tmp_path / name, profile=profile)
    to_rgb, rgb = made(path)
    assert to_rgb.profile == profile != srgb_profile()
    assert to_rgb.profile_name == read_picture(path).profile_name != ""
    assert to_rgb.notes == ()
    assert np.array_equal(rgb, Image.open(path))


def test_rgb_without_a_profile_is_taken_for_srgb(tmp_path):
    path = make.picture(tmp_path / "a.png")
    to_rgb, rgb = made(path)
    assert (to_rgb.profile, to_rgb.profile_name) == (srgb_profile(), "sRGB")
    assert to_rgb.notes == (BY_SRGB,)
    assert np.array_equal(rgb, Image.open(path))


def test_a_profile_of_another_colour_space_is_left_out(tmp_path):
    path = make.picture(tmp_path / "a.png", profile=make.grey_profile())
    to_rgb, rgb = made(path)
    assert to_rgb.profile == srgb_profile()
    assert to_rgb.notes == (
        "The embedded profile does not belong to such pixels and was left out.",
        "sRGB was assumed and embedded.",
    )
    assert np.array_equal(rgb, Image.open(path))


def test_a_damaged_profile_is_left_out(tmp_path):
    path = make.picture(tmp_path / "a.png", profile=make.srgb()[:200])
    to_rgb, _ = made(path)
    assert to_rgb.profile == srgb_profile()
    assert to_rgb.notes == (
        "The embedded profile is damaged (200 of 588 bytes) and was left out.",
        "sRGB was assumed and embedded.",
    )


def test_the_srgb_profile_is_the_same_every_time():
    first = srgb_profile()
    srgb_profile.cache_clear()
    assert srgb_profile() == first
    assert first[24:36] == bytes(12)


@pytest.mark.parametrize(
    ("change", "mode", "answer"),
    [
        ({}, "RGB", True),
        ({}, "L", False),
        ({}, "CMYK", False),
        ({16: b"CMYK"}, "RGB", False),
        ({16: b"CMYK"}, "CMYK", True),
        ({16: b"GRAY"}, "L", True),
        ({36: b"none"}, "RGB", False),
    ],
)
def test_a_profile_serves_the_space_its_header_names(change, mode, answer):
    """ICC.1, clause 7.2: the space stands at 16 to 19, the signature at 36."""
    profile = bytearray(srgb_profile())
    for at, word in change.items():
        profile[at : at + 4] = word
    assert serves(bytes(profile), mode) is answer


def test_no_profile_serves_nothing():
    assert serves(None, "RGB") is False
    assert serves(b"", "RGB") is False


# Grey, 1 bit, palette


def test_grey_without_a_profile_stays_the_same_grey(tmp_path):
    path = make.picture(tmp_path / "a.png", mode="L")
    to_rgb, rgb = made(path)
    assert to_rgb.notes == (GREY,)
    assert to_rgb.profile == srgb_profile()
    assert np.array_equal(rgb, np.asarray(Image.open(path))[..., None].repeat(3, -1))


@pytest.mark.parametrize("ending", ["png", "tif"])
def test_grey_with_a_profile_is_converted_through_it(tmp_path, ending):
    """A grey v of gamma 2.2 has the light v^2.2, which sRGB encodes by its own curve."""
    profile = make.grey_profile()
    path = make.picture(tmp_path / f"a.{ending}", mode="L", profile=profile)
    to_rgb, rgb = made(path)
    values = np.asarray(Image.open(path))
    wanted = srgb.encoded((values / 255) ** 2.2) * 255
    assert np.abs(rgb - wanted[..., None]).max() <= 1
    assert not np.array_equal(rgb[..., 0], values)
    name = read_picture(path).profile_name
    assert to_rgb.notes == (f"Grey was converted to sRGB through its profile ({name}).",)


def test_black_and_white_of_1_bit(tmp_path):
    path = make.picture(tmp_path / "a.png", mode="1")
    to_rgb, rgb = made(path)
    assert to_rgb.notes == (GREY, "Pure black and white (1 bit) was converted to 8 bits.")
    assert np.array_equal(rgb, Image.open(path).convert("RGB"))
    assert set(np.unique(rgb)) == {0, 255}


@pytest.mark.parametrize("name", ["a.png", "a.gif", "a.tif"])
def test_a_palette_becomes_full_rgb(tmp_path, name):
    path = make.picture(tmp_path / name, mode="P")
    to_rgb, rgb = made(path)
    assert to_rgb.notes[-1] == "A palette of colours was converted to full RGB."
    assert np.array_equal(rgb, Image.open(path).convert("RGB"))


def test_a_palette_keeps_its_profile(tmp_path):
    path = make.picture(tmp_path / "a.png", mode="P", profile=make.rgb_profile())
    assert made(path)[0].profile == make.rgb_profile()


# 16 bits


def test_rgb_of_16_bits_keeps_its_profile(tmp_path):
    path = make.tiff(tmp_path / "a.tif", bits=16, profile=make.rgb_profile())
    to_rgb, rgb = made(path)
    assert to_rgb.profile == make.rgb_profile()
    assert to_rgb.notes == ()
    assert np.array_equal(rgb, tifffile.imread(path) // 257)


@pytest.mark.parametrize("write", [make.png_16, lambda p, n: make.tiff(p, channels=n, bits=16)])
def test_grey_of_16_bits(tmp_path, write):
    path = write(tmp_path / "a.any", 1)
    to_rgb, rgb = made(path)
    assert to_rgb.notes == (GREY,)
    assert np.array_equal(rgb, np.asarray(make.drawing(mode="RGBA"))[..., :1].repeat(3, -1))


def test_grey_of_16_bits_with_a_profile(tmp_path):
    path = make.tiff(tmp_path / "a.tif", channels=1, bits=16, profile=make.grey_profile())
    wanted = srgb.encoded((tifffile.imread(path) / 65535) ** 2.2) * 255
    assert np.abs(made(path)[1] - wanted[..., None]).max() <= 1


# Lab


def test_lab_is_converted_by_the_formulas(tmp_path):
    """Stored as TIFF 6.0, section 23, says: L in 255 steps, a and b signed."""
    lab = np.array(
        [[(100, 0, 0), (0, 0, 0), (50, 0, 0), (60, 30, 20), (40, -20, 15), (70, -10, -25)]]
    )
    stored = np.stack([np.round(lab[..., 0] * 2.55), lab[..., 1] & 255, lab[..., 2] & 255], -1)
    path = tmp_path / "a.tif"
    tifffile.imwrite(path, stored.astype(np.uint8), photometric="cielab", metadata=None)
    to_rgb, rgb = made(path)
    assert to_rgb.notes == ("LAB was converted to sRGB, because the printer takes RGB.",)
    assert to_rgb.profile == srgb_profile()
    assert np.abs(rgb - srgb.of_lab(lab)).max() <= 2


@pytest.mark.parametrize("intent", ["perceptual", "relative", "saturation", "absolute"])
def test_white_and_greys_of_lab_are_white_and_greys(tmp_path, intent):
    """L of 255 with a and b of 0 is the white of the paper: (255, 255, 255), and nothing tinted."""
    path = tmp_path / "a.tif"
    stored = np.stack([np.array([[255, 254, 200, 128, 3, 0]])] + [np.zeros((1, 6))] * 2, -1)
    tifffile.imwrite(path, stored.astype(np.uint8), photometric="cielab", metadata=None)
    picture = read_picture(path)
    to_rgb = conversion(picture, replace(load_room().colour, intent=intent))
    rgb = np.asarray(to_rgb.rgb(to_rgb.resizable(decode(picture).region((0, 0, 6, 1)))))
    assert rgb[0, 0].tolist() == [255, 255, 255]
    assert np.ptp(rgb, axis=2).max() == 0


# CMYK


INKS = np.array(
    [
        [(0, 0, 0, 0), (255, 0, 0, 0), (0, 255, 0, 0), (0, 0, 255, 0), (0, 0, 0, 255)],
        [(51, 102, 0, 0), (0, 51, 153, 0), (102, 0, 51, 51), (26, 77, 128, 26), (204, 204, 204, 0)],
    ]
)
"""Cyan, magenta, yellow and black, of 255."""


def cmyk(path: Path, profile: bytes | None) -> Path:
    return sheets.save(
        Image.fromarray(INKS.astype(np.uint8), "CMYK"), path, icc_profile=profile or b""
    )


def close(rgb) -> bool:
    return np.abs(rgb - srgb.of_lab(sheets.lab_of_cmyk(INKS / 255))).max() <= 2


def test_cmyk_is_converted_through_its_own_profile(tmp_path):
    path = cmyk(tmp_path / "a.tif", sheets.cmyk_profile())
    to_rgb, rgb = made(path)
    assert close(rgb)
    assert not close(np.asarray(Image.open(path).convert("RGB")))
    assert to_rgb.profile == srgb_profile()
    assert to_rgb.notes == (
        "CMYK was converted to sRGB through its own profile (Quillmarsh test inks), "
        "because the printer takes RGB.",
    )


def test_cmyk_is_converted_through_the_profile_the_room_assumes(tmp_path):
    assumed = tmp_path / "house inks.icc"
    assumed.write_bytes(sheets.cmyk_profile())
    to_rgb, rgb = made(cmyk(tmp_path / "a.tif", None), replace(COLOUR, untagged_cmyk=assumed))
    assert close(rgb)
    assert to_rgb.notes == (
        "CMYK was converted to sRGB through house inks.icc, which this room assumes, "
        "because the printer takes RGB.",
    )


def test_its_own_profile_comes_before_the_one_assumed(tmp_path):
    assumed = replace(COLOUR, untagged_cmyk=tmp_path / "not even there.icc")
    to_rgb, rgb = made(cmyk(tmp_path / "a.tif", sheets.cmyk_profile()), assumed)
    assert close(rgb)
    assert "its own profile" in to_rgb.notes[0]


def test_a_cmyk_jpeg_with_a_profile(tmp_path):
    inks = np.tile(np.array((51, 102, 0, 26), np.uint8), (16, 16, 1))
    path = tmp_path / "a.jpg"
    image = Image.fromarray(inks, "CMYK")
    image.save(path, quality=100, icc_profile=sheets.cmyk_profile())
    wanted = srgb.of_lab(sheets.lab_of_cmyk(inks / 255))
    assert np.abs(made(path)[1] - wanted).max() <= 3


HOW = (
    "so its colours are unknown: export it as RGB, or embed its CMYK profile, or name one in the "
    "room's file (colour.untagged_cmyk)."
)


@pytest.mark.parametrize(
    ("profile", "found"),
    [
        (None, "carries no profile"),
        (srgb_profile(), "the embedded profile does not belong to such pixels"),
        (sheets.cmyk_profile()[:100], "the embedded profile is damaged (100 of 2216 bytes)"),
        (
            sheets.cmyk_profile().replace(b"A2B0", b"none"),
            "the embedded profile, Quillmarsh test inks, lacks the tables that tell its colours",
        ),
    ],
    ids=["none", "of RGB", "damaged", "without tables"],
)
def test_cmyk_of_unknown_colours_is_refused(tmp_path, profile, found):
    picture = read_picture(cmyk(tmp_path / "boat.tif", profile))
    assert refusal(conversion, picture, COLOUR) == f"“boat.tif” is CMYK and {found}, {HOW}"


def test_an_assumed_profile_without_the_tables_it_needs_is_refused(tmp_path):
    assumed = tmp_path / "house.icc"
    assumed.write_bytes(sheets.cmyk_profile().replace(b"A2B0", b"none"))
    picture = read_picture(cmyk(tmp_path / "boat.tif", None))
    told = refusal(conversion, picture, replace(COLOUR, untagged_cmyk=assumed))
    assert told.startswith("the CMYK profile cannot be used (")
    assert told.endswith("): embed another, or export the picture as RGB.")


# Transparency


@pytest.mark.parametrize("name", ["a.png", "a.webp", "a.tif"])
def test_transparency_is_laid_on_white(tmp_path, name):
    values = np.zeros((4, 4, 4), np.uint8) + np.array((200, 100, 0, 0), np.uint8)
    values[..., 3] = np.array((0, 64, 128, 255))
    path = tmp_path / name
    Image.fromarray(values).save(path, **{"lossless": True, "exact": True} if "w" in name else {})
    to_rgb, rgb = made(path)
    share = values[..., 3:] / 255
    assert np.abs(rgb - (values[..., :3] * share + 255 * (1 - share))).max() <= 1
    assert to_rgb.notes == (ON_WHITE, BY_SRGB)


def test_grey_with_transparency(tmp_path):
    path = make.picture(tmp_path / "a.png", mode="LA")
    to_rgb, rgb = made(path)
    assert to_rgb.notes == (ON_WHITE, GREY)
    assert rgb[-1, -1].tolist() == [255, 255, 255]
    assert rgb[0, 0].tolist() == [make.drawing(mode="L").getpixel((0, 0))] * 3


@pytest.mark.parametrize("mode", ["P", "RGB", "L"])
def test_a_colour_that_stands_for_nothing_is_white(tmp_path, mode):
    clear = make.drawing(mode=mode).getpixel((0, 0))
    path = make.picture(tmp_path / "a.png", mode=mode, transparency=clear)
    to_rgb, rgb = made(path)
    assert ON_WHITE in to_rgb.notes
    opaque = np.asarray(make.drawing(mode=mode).convert("RGB"))
    assert rgb[0, 0].tolist() == [255, 255, 255]
    assert np.array_equal(rgb[-1], opaque[-1])


def test_colours_already_multiplied_by_their_alpha_are_divided_again(tmp_path):
    """TIFF 6.0, ExtraSamples 1: associated alpha."""
    path = tmp_path / "a.tif"
    values = np.zeros((4, 4, 4), np.uint8) + np.array((100, 50, 0, 128), np.uint8)
    tifffile.imwrite(path, values, photometric="rgb", extrasamples=["assocalpha"], metadata=None)
    rgb = made(path)[1]
    assert np.abs(rgb - np.array((100 + 127, 50 + 127, 127))).max() <= 2


def test_a_channel_that_is_no_transparency_is_left_out(tmp_path):
    path = make.tiff(tmp_path / "a.tif", channels=4, extrasamples=["unspecified"])
    to_rgb, rgb = made(path)
    assert to_rgb.notes == (
        "A channel or a mask besides the colours was left out, because a print has no layers.",
        BY_SRGB,
    )
    assert np.array_equal(rgb, tifffile.imread(path)[..., :3])


def test_what_can_be_resized_has_no_palette_no_transparency_and_no_signed_numbers(tmp_path):
    for mode in ("1", "L", "P", "LA", "RGB", "RGBA", "CMYK", "YCbCr", "LAB"):
        profile = sheets.cmyk_profile() if mode == "CMYK" else None
        path = make.picture(tmp_path / f"{mode}.tif", mode=mode, profile=profile)
        picture = read_picture(path)
        region = decode(picture).region((0, 0, 5, 5))
        assert conversion(picture, COLOUR).resizable(region).mode in ("L", "RGB", "CMYK"), mode


PAPER = np.array((0.85, 0.9, 0.70))
"""A yellowish paper: X, Y, Z."""


@pytest.mark.parametrize("intent", ["perceptual", "relative", "saturation", "absolute"])
def test_bare_paper_is_white_but_by_the_absolute_intent(tmp_path, intent):
    """ICC.1, annex D: absolute colours are the relative ones times paper over D50."""
    profile = sheets.cmyk_profile(struct.pack(">3i", *(round(part * 65536) for part in PAPER)))
    rgb = made(cmyk(tmp_path / "a.tif", profile), replace(COLOUR, intent=intent))[1]
    light = np.linalg.inv(srgb.xyz_of_rgb()) @ PAPER
    wanted = srgb.encoded(light) * 255 if intent == "absolute" else (255, 255, 255)
    assert np.abs(rgb[0, 0] - wanted).max() <= 2


# RGB that is not kept


def _deep(path: Path, values: np.ndarray, profile: bytes) -> Path:
    tifffile.imwrite(path, values, photometric="rgb", iccprofile=profile, metadata=None)
    return path


@pytest.mark.parametrize("depth", [8, 16])
def test_another_rgb_is_converted_where_the_room_asks_for_it(tmp_path, depth):
    """Against the wide space's own figures: its primaries and its power 2.2, and IEC 61966-2-1 for sRGB."""
    values = np.random.default_rng(4).integers(70, 180, (20, 30, 3)) * (1 if depth == 8 else 257)
    path = _deep(tmp_path / "a.tif", values.astype(f"u{depth // 8}"), wide_profile())
    colour = replace(COLOUR, own_rgb="convert")
    to_rgb = conversion(read_picture(path), colour)
    assert (to_rgb.profile, to_rgb.profile_name) == (srgb_profile(), "sRGB")
    assert "because this room's files are in sRGB" in to_rgb.notes[0]
    eight = made(path, colour)[1] / 255
    got = eight if depth == 8 else to_rgb.rgb_16(values.astype(np.uint16)) / 65535
    full = 2**depth - 1
    assert np.abs(got - _srgb_of_wide(values / full)).max() < (1.6 / 255 if depth == 8 else 0.001)
    assert conversion(read_picture(path), COLOUR).profile == wide_profile()


def _srgb_of_wide(values: np.ndarray) -> np.ndarray:
    """Worked out without littleCMS: both spaces' columns are under D50 (sRGB's as in IEC 61966-2-1, taken to
    D50 by Bradford: ICC's sRGB profile)."""
    columns = np.array([(x / y, 1, (1 - x - y) / y) for x, y in PRIMARIES]).T
    columns = columns * np.linalg.solve(columns, D50)
    to_srgb = np.linalg.inv(
        [[0.4360747, 0.3850649, 0.1430804], [0.2225045, 0.7168786, 0.0606169],
         [0.0139322, 0.0971045, 0.7141733]]
    )  # fmt: skip
    light = values**GAMMA @ columns.T @ to_srgb.T
    return srgb.encoded(np.clip(light, 0, 1))


def test_a_printers_profile_is_never_kept(tmp_path):
    """The numbers are meant for ink: they are taken back to the colours that the print would have."""
    values = np.full((20, 30, 3), 128, np.uint8)
    path = _deep(tmp_path / "a.tif", values, MATT.read_bytes())
    to_rgb, rgb = made(path)
    assert to_rgb.profile == srgb_profile()
    assert "because that is a printer's" in to_rgb.notes[0]
    lab = lab_of(values / 255, MATT.read_bytes())[0, 0]
    assert (
        np.abs(lab_of(rgb / 255, srgb_profile())[0, 0] - lab).max() < 8
    )  # black is taken to black
    assert not np.array_equal(rgb, values)
