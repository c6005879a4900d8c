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
_MODES = {"Lab": "lab", "colour table": "palette", "black and white": "one-bit"}
"""Colours of a file that are told by one finding each."""


def colour_findings(picture: Picture, seen: Seen | None, room: Room) -> Iterator[Finding]:
    """Mode, profile, depth, and tones without detail as information."""
    yield from _mode(picture, room)
    yield from _profile(picture)
    if picture.depth > 8 and room.colour.depth == 8:
        yield tell("depth", depth=picture.depth, room=room.colour.depth)
    if seen and max(seen.shadows, seen.lights) > _TELLING:
        yield tell("clipped", shadows=f"{seen.shadows:.0%}", lights=f"{seen.lights:.0%}")


def has_known_colours(picture: Picture, room: Room) -> bool:
    """Whether its colours can be converted: of CMYK only through its own profile or one that the room
    assumes."""
    return picture.colours != "CMYK" or _has_own_profile(picture) or bool(room.colour.untagged_cmyk)


def _has_own_profile(picture: Picture) -> bool:
    """Whether it carries a sound profile of its own kind of colours."""
    return not picture.profile_fault and picture.profile_space == _wanted_space(picture)


def _mode(picture: Picture, room: Room) -> Iterator[Finding]:
    if picture.colours in _MODES:
        yield tell(_MODES[picture.colours])
    elif picture.colours == "grey":
        variant = "profiled" if _has_own_profile(picture) else ""
        yield tell("grey", variant=variant, name=picture.profile_name)
    elif picture.colours == "CMYK":
        if _has_own_profile(picture):
            yield tell("cmyk", name=picture.profile_name)
        elif room.colour.untagged_cmyk:
            yield tell("cmyk-assumed", assumed=room.colour.untagged_cmyk.stem)
        else:
            yield tell("cmyk-unknown")


def _profile(picture: Picture) -> Iterator[Finding]:
    if picture.profile_fault:
        yield tell("profile-damaged", fault=picture.profile_fault)
    elif picture.profile is None:
        if picture.colours in ("RGB", "colour table", "grey"):
            yield tell("profile-missing", variant="grey" if picture.colours == "grey" else "")
    elif not _has_own_profile(picture):
        space = _SPACES.get(picture.profile_space, "other colours")
        yield tell("profile-space", name=picture.profile_name, space=space, mode=picture.colours)
    elif picture.profile_class == "prtr" and picture.colours == "RGB":
        yield tell("profile-class", name=picture.profile_name)
    elif picture.colours == "RGB" and "srgb" not in picture.profile_name.casefold():
        yield tell("profile-other", name=picture.profile_name)


def _wanted_space(picture: Picture) -> str:
    return {"grey": "GRAY", "black and white": "GRAY", "CMYK": "CMYK", "Lab": "Lab "}.get(
        picture.colours, "RGB "
    )
