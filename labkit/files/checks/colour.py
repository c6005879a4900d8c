"""Whether the printer is told which colours are meant."""

from collections.abc import Iterator

from labkit.files.checks.findings import Finding, tell
from labkit.files.header.picture import Picture
from labkit.files.look.look import Seen
from labkit.room.rules import Room

_TELLING = 0.01
"""Clipped tones are told where they take more than this share of the picture (our own judgement)."""
_SPACES = {"RGB ": "RGB", "GRAY": "grey", "CMYK": "CMYK", "Lab ": "Lab"}
"""Words for the colour spaces of ICC.1 §7.2, bytes 16–19."""


def colour_findings(picture: Picture, seen: Seen | None, room: Room) -> Iterator[Finding]:
    """Mode, profile, depth, and tones without detail as information."""
    if picture.colours == "grey":
        yield tell("grey")
    elif picture.colours != "RGB":
        yield tell("colour-mode", mode=_MODES.get(picture.colours, picture.colours))
    yield from _profile(picture)
    if picture.depth > 8 and room.colour.depth == 8:
        yield tell("depth", depth=picture.depth, room=room.colour.depth)
    if seen and max(seen.shadows, seen.lights) > _TELLING:
        yield tell("clipped", shadows=f"{seen.shadows:.0%}", lights=f"{seen.lights:.0%}")


_MODES = {"black and white": "pure black and white", "colour table": "a palette of colours"}


def _profile(picture: Picture) -> Iterator[Finding]:
    if picture.profile_fault:
        fault = picture.profile_fault
        yield tell("profile-damaged", fault=fault)
    elif picture.profile is None:
        if picture.colours == "RGB":
            yield tell("profile", carried="no profile")
    elif picture.profile_space != _wanted_space(picture):
        space = _SPACES.get(picture.profile_space, "other colours")
        mode = picture.colours
        yield tell("profile-space", name=picture.profile_name, space=space, mode=mode)
    elif picture.profile_class == "prtr" and picture.colours == "RGB":
        yield tell("profile-class", name=picture.profile_name)
    elif picture.colours == "RGB" and "srgb" not in picture.profile_name.casefold():
        yield tell("profile-other", name=picture.profile_name)


def _wanted_space(picture: Picture) -> str:
    return {"grey": "GRAY", "black and white": "GRAY", "CMYK": "CMYK", "Lab": "Lab "}.get(
        picture.colours, "RGB "
    )
