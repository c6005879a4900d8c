"""Colours: each kind of file is told its own truth, with its own grade."""

from dataclasses import replace
from pathlib import Path

import pytest

from labkit.files.checks.colour import colour_findings
from labkit.files.header.picture import Picture
from labkit.room.rules import load_room
from tests.files import make

ROOM = load_room()


def profile(space: bytes) -> bytes:
    """Of a profile only what tells its colours (ICC.1:2010, clause 7.2: bytes 16 to 19)."""
    return bytes(16) + space + bytes(16) + b"acsp"


def facts(mode: str, **more) -> Picture:
    return Picture(Path("a.tif"), "TIFF", (100, 100), mode=mode, **more)


@pytest.mark.parametrize(
    ("picture", "told"),
    [
        (facts("RGB", profile=make.srgb(), profile_name="sRGB"), []),
        (facts("RGB"), [("profile-missing", "look")]),
        (facts("L", profile=profile(b"GRAY"), profile_name="Grey 2.2"), [("grey", "look")]),
        (facts("L"), [("grey", "look"), ("profile-missing", "look")]),
        (facts("P"), [("palette", "look"), ("profile-missing", "look")]),
        (facts("P", profile=make.srgb(), profile_name="sRGB"), [("palette", "look")]),
        (facts("1"), [("one-bit", "look")]),
        (facts("LAB"), [("lab", "look")]),
        (facts("CMYK"), [("cmyk-unknown", "stop")]),
        (facts("CMYK", profile=profile(b"CMYK"), profile_name="Coated"), [("cmyk", "look")]),
        (
            facts("CMYK", profile=make.srgb(), profile_name="sRGB"),
            [("cmyk-unknown", "stop"), ("profile-space", "look")],
        ),
        (
            facts("CMYK", profile_fault="the profile is damaged"),
            [("cmyk-unknown", "stop"), ("profile-damaged", "look")],
        ),
    ],
    ids=lambda value: value.mode if isinstance(value, Picture) else None,
)
def test_each_kind_of_colours_is_told_as_what_it_is(picture, told):
    assert [(item.code, item.grade) for item in colour_findings(picture, None, ROOM)] == told


def test_cmyk_that_the_room_knows_how_to_take_is_for_a_person_to_decide():
    assumed = replace(ROOM, colour=replace(ROOM.colour, untagged_cmyk=Path("coated.icc")))
    [told] = colour_findings(facts("CMYK"), None, assumed)
    assert (told.code, told.grade) == ("cmyk-assumed", "look")
    assert "This room takes them to be coated" in told.why


def test_grey_is_told_with_its_profile_or_without():
    told = [
        next(iter(colour_findings(facts("L", **more), None, ROOM))).found
        for more in ({}, {"profile": profile(b"GRAY"), "profile_name": "Grey 2.2"})
    ]
    assert told[0] == "the file is grey, with one channel"
    assert told[1] == "the file is grey, with one channel and the profile Grey 2.2"
