"""Broken and foreign profiles: each has its sentence, and none reaches a print file."""

import pytest
from PIL import Image

from labkit import check, open_picture, place, write
from labkit.files.checks.colour import colour_findings
from labkit.files.header.profile import sound_profile
from labkit.files.pixels.conversion import conversion, srgb_profile
from labkit.teaching.profiles import GLOSS
from tests.files import make, sheets

ROOM = sheets.shipped()
SRGB = make.srgb()
NAMED = "the embedded profile, sRGB,"


def sized(size: int) -> bytes:
    """A profile that states so many bytes of itself (ICC.1 §7.2.2)."""
    return size.to_bytes(4) + SRGB[4:]


def of_class(word: bytes) -> bytes:
    """ICC.1 §7.2.5."""
    return SRGB[:12] + word + SRGB[16:]


BROKEN = {
    "garbage": (b"not a profile at all", "the embedded profile is damaged (20 bytes)"),
    "half of it": (SRGB[:300], f"the embedded profile is damaged (300 of {len(SRGB)} bytes)"),
    "states too few bytes": (
        sized(300),
        f"the embedded profile is damaged (300 of {len(SRGB)} bytes)",
    ),
    "no class there is": (
        of_class(b"zzzz"),
        f"the embedded profile is damaged ({len(SRGB)} bytes)",
    ),
    "a chain of devices": (of_class(b"link"), f"{NAMED} is not of the kind that a picture has"),
    "an effect": (of_class(b"abst"), f"{NAMED} is not of the kind that a picture has"),
    "a list of colours": (of_class(b"nmcl"), f"{NAMED} is not of the kind that a picture has"),
    "without a curve": (
        SRGB.replace(b"rTRC", b"none"),
        f"{NAMED} lacks the tables that tell its colours",
    ),
    "without tables": (
        GLOSS.read_bytes().replace(b"A2B", b"non"),
        "the embedded profile, Quillmarsh gloss (invented for teaching), lacks the tables that tell its "
        "colours",
    ),
}
"""By what is wrong: the profile, and how it is told."""


@pytest.mark.parametrize("case", BROKEN)
def test_what_is_wrong_is_told(case):
    profile, told = BROKEN[case]
    assert sound_profile(profile) == (None, "", told)


@pytest.mark.parametrize("case", BROKEN)
@pytest.mark.parametrize("ending", ["tif", "jpg", "png"])
def test_a_broken_profile_is_a_finding_and_srgb_takes_its_place(tmp_path, case, ending):
    profile, told = BROKEN[case]
    picture = open_picture(make.picture(tmp_path / f"boat.{ending}", profile=profile))
    (finding,) = colour_findings(picture, None, ROOM)
    assert (finding.code, finding.grade, finding.found) == ("profile-damaged", "look", told)
    to_rgb = conversion(picture, ROOM.colour)
    left_out = f"{told[0].upper()}{told[1:]} and was left out."
    assert to_rgb.notes == (left_out, "sRGB was assumed and embedded.")
    assert to_rgb.profile == srgb_profile()


def test_a_cmyk_profile_in_an_rgb_file_is_a_finding_and_srgb_takes_its_place(tmp_path):
    path = make.picture(tmp_path / "boat.tif", profile=sheets.cmyk_profile())
    picture = open_picture(path)
    (finding,) = colour_findings(picture, None, ROOM)
    assert (finding.code, finding.grade) == ("profile-space", "look")
    assert "is for CMYK and the pixels are RGB" in finding.found
    to_rgb = conversion(picture, ROOM.colour)
    left_out = "The embedded profile does not belong to such pixels and was left out."
    assert to_rgb.notes == (left_out, "sRGB was assumed and embedded.")
    assert to_rgb.profile == srgb_profile()


def test_the_print_file_of_a_picture_with_a_broken_profile_is_sound(tmp_path):
    profile, told = BROKEN["without tables"]
    path = make.picture(tmp_path / "boat.tif", profile=profile, ppi=30)
    picture = open_picture(path)
    layout = place(picture, on="4x3in")
    made = write(picture, layout, owner="Ada Brook", title="Boat", out=tmp_path / "out")
    assert told[1:] in made.ticket.read_text(encoding="utf-8")
    with Image.open(made.file) as image:
        assert image.info["icc_profile"] == srgb_profile()
    assert check(made.file, against=layout).items == ()


@pytest.mark.parametrize(
    "profile",
    [
        SRGB,
        SRGB + bytes(3),
        sized(len(SRGB) + 40),
        make.grey_profile(),
        make.rgb_profile(),
        sheets.cmyk_profile(),
        GLOSS.read_bytes(),
        of_class(b"spac"),
        of_class(b"scnr"),
        of_class(b"prtr"),
    ],
    ids=lambda profile: f"{len(profile)} bytes {profile[12:20]}",
)
def test_a_profile_that_works_is_kept_as_it_is(profile):
    kept, name, fault = sound_profile(profile)
    assert (kept, fault) == (profile, "")
    assert name


def test_no_profile_has_no_fault():
    assert sound_profile(None) == (None, "", "")
