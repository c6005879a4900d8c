"""From whatever a file holds to the RGB of a print file, each conversion told in a sentence."""

from dataclasses import dataclass, field
from functools import cache, lru_cache
from io import BytesIO
from pathlib import Path

import numpy as np
from PIL import Image, ImageCms

from labkit.errors import LabError
from labkit.files.header.picture import Picture
from labkit.files.pixels.transform import INTENTS, transform
from labkit.room.rules import Colour

_FLAGS = ImageCms.Flags.NOCACHE | ImageCms.Flags.BLACKPOINTCOMPENSATION
"""Without its cache one transform may be used by several threads."""

_EXACTLY = _FLAGS | ImageCms.Flags.NOOPTIMIZE
"""Of Lab, whose white comes out a level too dark by the quicker way."""


@dataclass(frozen=True)
class Conversion:
    """How the pixels of one picture become RGB, and the profile the print file carries.

    ``notes`` are whole sentences: what was converted or assumed, and why.
    """

    profile: bytes
    profile_name: str
    notes: tuple[str, ...]
    _transform: "ImageCms.ImageCmsTransform | None" = field(default=None, repr=False)
    _grey: bytes | None = field(default=None, repr=False)
    _intent: str = "relative"
    _rgb: bytes | None = field(default=None, repr=False)

    @property
    def keeps_rgb(self) -> bool:
        """Whether RGB is left as it is."""
        return self._rgb is None

    def resizable(self, region: Image.Image) -> Image.Image:
        """A region as it can be resampled: no palette, no transparency, no signed channels."""
        if region.mode == "LAB":
            return self.rgb(region)
        if region.mode == "1":
            return region.convert("L")
        if region.mode in ("P", "PA") or "transparency" in region.info:
            region = region.convert("RGBA")
        if region.mode in ("LA", "RGBA", "La", "RGBa"):
            return on_white(region)
        if region.mode in ("L", "RGB", "CMYK"):
            return region
        return region.convert("RGB")

    def rgb(self, region: Image.Image) -> Image.Image:
        """A resizable region as RGB of :attr:`profile`."""
        if self._transform is not None and region.mode == self._transform.input_mode:
            return ImageCms.applyTransform(region, self._transform)
        return region if region.mode == "RGB" else region.convert("RGB")

    def rgb_16(self, values: np.ndarray) -> np.ndarray:
        """Grey (rows, columns, 1) or RGB of 16 bits as RGB of :attr:`profile`, at 16 bits."""
        if values.shape[2] == 3:
            if self._rgb is None:
                return values
            rules = {"intent": self._intent, "black_point": True, "dtype": "u2"}
            return transform(values, self._rgb, self.profile, **rules)
        if self._grey is None:
            return values.repeat(3, 2)
        return _of_greys(self._grey, self.profile, self._intent)[values[..., 0]]


def conversion(picture: Picture, colour: Colour) -> Conversion:
    """Decide what is to be done with the colour of ``picture`` by the room's rules.

    An RGB picture keeps its own profile and values where the room allows it, unless that is a printer's.
    Everything else is taken to sRGB: grey and LAB, CMYK through its own profile or the one the room
    assumes. LabError for CMYK with neither, and for a mode that is no picture's.
    """
    notes = []
    if picture.alpha and picture.kind == "TIFF" and not picture.mode.endswith(("A", "a")):
        notes.append(
            "A channel or a mask besides the colours was left out, because a print has no layers."
        )
    elif picture.alpha:
        notes.append(
            "Transparency was laid on white, because paper is white and a print has no layers."
        )
    mode = _colour_mode(picture.mode)
    own = (
        picture.profile if mode in ("RGB", "L", "CMYK") and serves(picture.profile, mode) else None
    )
    left_out = ""
    if picture.profile and own is None and mode != "LAB":
        left_out = "the embedded profile does not belong to such pixels"
    elif picture.profile_fault:
        left_out = picture.profile_fault
    if left_out:
        notes.append(f"{left_out[0].upper()}{left_out[1:]} and was left out.")
    to_srgb = None
    profile, name = srgb_profile(), "sRGB"
    if mode == "RGB":
        if own and (why := _why_not_kept(picture, colour)):
            to_srgb = _to_srgb(own, "RGB", colour.intent)
            notes.append(
                f"RGB was converted to sRGB through its profile ({picture.profile_name}), because {why}."
            )
        elif own:
            profile, name = own, picture.profile_name or "its own profile"
        else:
            none = "" if left_out else "No profile was embedded, so "
            notes.append(f"{none}sRGB was assumed and embedded.")
    elif mode == "L" and not own:
        notes.append("Grey was converted to RGB, because the printer takes RGB; sRGB was assumed.")
    elif mode == "L":
        to_srgb = _to_srgb(own, "L", colour.intent)
        notes.append(f"Grey was converted to sRGB through its profile ({picture.profile_name}).")
    elif mode == "LAB":
        to_srgb = _to_srgb(None, "LAB", colour.intent)
        notes.append("LAB was converted to sRGB, because the printer takes RGB.")
    elif mode == "CMYK":
        source, through = own, f"its own profile ({picture.profile_name})"
        if source is None and colour.untagged_cmyk:
            source = Path(colour.untagged_cmyk).read_bytes()
            through = f"{Path(colour.untagged_cmyk).name}, which this room assumes"
        if source is None:
            raise LabError(
                f"is CMYK and {left_out or 'carries no profile'}, so its colours "
                "are unknown: "
                "export it as RGB, or embed its CMYK profile, or name one in the room's file "
                "(colour.untagged_cmyk).",
                about=picture.path.name,
            )
        to_srgb = _to_srgb(source, "CMYK", colour.intent)
        notes.append(
            f"CMYK was converted to sRGB through {through}, because the printer takes RGB."
        )
    if picture.mode in ("P", "PA"):
        notes.append("A palette of colours was converted to full RGB.")
    if picture.mode == "1":
        notes.append("Pure black and white (1 bit) was converted to 8 bits.")
    grey = own if mode == "L" else None
    rgb = own if mode == "RGB" and to_srgb else None
    return Conversion(profile, name, tuple(notes), to_srgb, grey, colour.intent, rgb)


def _why_not_kept(picture: Picture, colour: Colour) -> str:
    """Why an RGB picture does not keep its profile; "" where it does."""
    if picture.profile[12:16] == b"prtr":  # ICC.1:2010, clause 7.2.5
        return "that is a printer's, and a paper's profile is used at printing only"
    if not colour.keeps_own_rgb and "srgb" not in picture.profile_name.casefold():
        return "this room's files are in sRGB"
    return ""


@cache
def srgb_profile() -> bytes:
    """The bytes of an sRGB profile (IEC 61966-2-1), the same every time: its date is set to zero."""
    made = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    made[24:36] = bytes(12)  # ICC.1 §7.2: the creation date
    return bytes(made)


def _colour_mode(mode: str) -> str:
    """The colour model behind one of Pillow's mode words."""
    if mode in ("1", "L", "LA", "La") or mode.startswith("I;16"):
        return "L"
    return mode if mode in ("CMYK", "LAB") else "RGB"


def serves(profile: bytes | None, mode: str) -> bool:
    """Whether an embedded profile is one, and of the colour space of ``mode`` (ICC.1 §7.2, 16–19, 36)."""
    wanted = {"RGB": b"RGB ", "L": b"GRAY", "CMYK": b"CMYK"}[mode]
    return profile is not None and profile[16:20] == wanted and profile[36:40] == b"acsp"


@lru_cache(maxsize=2)
def _of_greys(source: bytes, target: bytes, intent: str) -> np.ndarray:
    """What becomes of each grey of 16 bits: uint16, (65536, 3)."""
    greys = np.arange(65536, dtype=np.uint16).reshape(256, 256)
    rules = {"intent": intent, "black_point": True, "dtype": "u2"}
    return transform(greys, source, target, **rules).reshape(-1, 3)


def _to_srgb(source: bytes | None, mode: str, intent: str) -> "ImageCms.ImageCmsTransform":
    try:
        start = (
            ImageCms.createProfile("LAB")
            if source is None
            else ImageCms.ImageCmsProfile(BytesIO(source))
        )
        target = ImageCms.ImageCmsProfile(BytesIO(srgb_profile()))
        flags = _EXACTLY if mode == "LAB" else _FLAGS
        return ImageCms.buildTransform(start, target, mode, "RGB", INTENTS[intent], flags)
    except (ImageCms.PyCMSError, OSError) as fault:
        raise LabError(
            f"the {mode} profile cannot be used ({fault}): embed another, or export the picture as RGB."
        ) from None


def on_white(region: Image.Image) -> Image.Image:
    """A region with alpha as it looks on white paper."""
    if region.mode in ("La", "RGBa"):
        region = region.convert({"La": "LA", "RGBa": "RGBA"}[region.mode])
    plain = region.mode.removesuffix("A")
    under = Image.new(plain, region.size, "white")
    under.paste(region.convert(plain), mask=region.getchannel("A"))
    return under
