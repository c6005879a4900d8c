"""Whether an embedded profile is sound and can be used; what is wrong with it, and its name."""

from functools import cache
from io import BytesIO

from PIL import ImageCms

_OF_PICTURES = {b"mntr", b"scnr", b"prtr", b"spac"}
"""The classes whose profiles say what numbers in a picture mean (ICC.1 §7.2.5): a screen's, an input's, a
printer's, and that of a colour space."""
_LAB = b"abstLab "
"""Class and space of the abstract profile that a Lab picture may carry instead."""
_MODES = {b"RGB ": "RGB", b"GRAY": "L", b"CMYK": "CMYK", b"Lab ": "LAB"}
"""Pillow's words for the colour spaces that pictures here have (ICC.1 §7.2.6)."""


def sound_profile(icc: bytes | None) -> tuple[bytes | None, str, str]:
    """The profile if it is sound, its name, and else what is wrong with it.

    A profile may open and still lack what its colours need: such a one is often left out without a
    word, by this library or that, so it is tried before it is believed.
    """
    if icc is None:
        return None, "", ""
    if short := _cut_short(icc):
        return None, "", f"the embedded profile is damaged ({short})"
    try:
        opened = ImageCms.ImageCmsProfile(BytesIO(icc))
        name = name_of(opened)
    except (OSError, ImageCms.PyCMSError):
        return None, "", f"the embedded profile is damaged ({len(icc)} bytes)"
    if icc[12:16] not in _OF_PICTURES and icc[12:20] != _LAB:
        return None, "", f"the embedded profile, {name}, is not of the kind that a picture has"
    if not _works(opened, _MODES.get(icc[16:20])):
        return None, "", f"the embedded profile, {name}, lacks the tables that tell its colours"
    return icc, name, ""


def name_of(profile: ImageCms.ImageCmsProfile) -> str:
    """What a profile calls itself; "sRGB" of the one that the colour library makes, which adds a word for
    itself."""
    described = (profile.profile.profile_description or "").strip()
    return {"sRGB built-in": "sRGB", "": "unnamed profile"}.get(described, described)


def _cut_short(icc: bytes) -> str:
    """How much of a profile is there, if not all that its table of tags tells of (ICC.1 §7.3), but for the
    padding of the last one; "" for one that is whole, or is none.

    What lies beyond the size it states (§7.2.2) does not count: nobody reads that.
    """
    if icc[36:40] != b"acsp":
        return ""
    count = int.from_bytes(icc[128:132])
    starts = range(132, min(132 + 12 * count, len(icc)), 12)
    ends = [
        int.from_bytes(icc[at + 4 : at + 8]) + int.from_bytes(icc[at + 8 : at + 12])
        for at in starts
    ]
    needed, stated = max([132 + 12 * count, *ends]), int.from_bytes(icc[:4])
    there = min(len(icc), stated)
    return f"{there} of {max(needed, stated)} bytes" if needed > there else ""


def _works(profile: ImageCms.ImageCmsProfile, mode: str | None) -> bool:
    """Whether colours can be taken out of it; of spaces that no picture here has nothing is asked."""
    flags = ImageCms.Flags.NOOPTIMIZE  # nothing is worked out beforehand
    try:
        if mode:
            ImageCms.buildTransform(profile, _srgb(), mode, "RGB", flags=flags)
    except ImageCms.PyCMSError:
        return False
    return True


@cache
def _srgb() -> ImageCms.ImageCmsProfile:
    return ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))
