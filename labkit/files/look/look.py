"""What the pixels of a hand-in show: looked at once, in a guarded child, told in plain values."""

from dataclasses import asdict, dataclass, fields
from fractions import Fraction
from typing import TYPE_CHECKING

from labkit.files.gang.owned import Owned
from labkit.files.header.picture import Picture
from labkit.files.look.address import address_of
from labkit.files.writing.tonesaid import said_steps, say_steps
from labkit.geometry.length import length
from labkit.geometry.parts import whole_of
from labkit.geometry.pixelbox import PixelBox, around
from labkit.geometry.proportion import WHOLE, Crop
from labkit.geometry.size import Size

if TYPE_CHECKING:
    import numpy as np

    from labkit.files.look.locate import Located
    from labkit.files.pixels.decode import Pixels

RULER = "ruler"
"""The kind of a ruler sheet."""
THUMBNAIL = 480
"""The longest side of the small picture in a report, in pixels."""
CLOSER = (480, 320)
"""Width and height of the part of a picture that is shown as it is, in pixels."""
_SAMPLE = 800
"""The longest side of the sample of pixels that thumbnail and clipped tones are taken from."""
PAPER_WHITE = 244
_PAPER_SCANNED = 200
"""A surround this light in every channel is paper that was meant white, and so where it has the noise of a
scan."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What should be on the sheet: corner marks to leave out, and the picture, cropped as in ``crop``
    or (None) anywhere; made lighter or darker by none or any of ``steps``, in stops."""

    marks: tuple[PixelBox, ...] = ()
    picture: Picture | None = None
    crop: Crop | None = WHOLE
    steps: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Seen:
    """What was seen; boxes are in pixels.

    ``box`` is the picture's place on the sheet, None where the sheet is empty; ``surround`` the colour
    round it, exactly one where ``is_flat``; ``light_edges`` the sides on which the picture's own edge is
    as light as the surround; ``askew`` by how many degrees it is turned clockwise; ``strays`` the ink
    outside it; ``cut`` the trim lines that corner marks tell (left, top, right, bottom). ``lost_rows`` at
    the lower end hold nothing, as when the end of a file is lost; a ``hole`` are rows inside it that hold
    nothing, the first of them and how many; ``doubts`` are signs that part of it may be damaged, each with
    its ``variant`` of the finding ``damage-signs`` and the figures of that.
    ``has_clear`` tells that some of it is transparent. ``shadows`` and ``lights`` are the shares of the
    picture that are pure black and pure white. ``enlarged`` is the factor by which the picture seems to
    have been enlarged (0 where nothing tells) and ``how_sure`` a word for that. ``soft`` is how many of
    its pixels its finest detail is wide (0 where it is sharp). ``has_blocks`` tells that it shows the
    blocks of a JPEG packed hard. ``fingerprint`` tells the same picture again, ``thumbnail``, and
    ``closer``, a part of the picture as it is, are ``data:`` addresses, or "". ``unlike`` is
    how the picture differs from the one wanted ("mirrored", "upside-down", "flipped", "stretched" or
    "other"; "" if it does not), ``crop`` which part of that it is. A sheet of ours that several prints
    share is of a ``kind`` ("prints" or "contact") and has so many ``prints``, round all of which ``box`` is,
    and ``changed`` lines of type that are not as they were written. A ruler sheet of ours is of the kind
    :data:`RULER`, with so many eighths ``changed``. ``toned`` are sentences on the tone steps that the file
    states of its picture, ``whole`` is the size of the picture of which it states to be a part. ``owned`` is
    whose each print is, where it says so.
    """

    box: PixelBox | None
    surround: tuple[int, int, int]
    is_flat: bool = True
    light_edges: tuple[str, ...] = ()
    askew: float = 0
    strays: tuple[PixelBox, ...] = ()
    cut: tuple[float, float, float, float] | None = None
    lost_rows: int = 0
    hole: tuple[int, int] | None = None
    doubts: tuple[dict[str, str], ...] = ()
    has_clear: bool = False
    shadows: float = 0
    lights: float = 0
    enlarged: float = 0
    how_sure: str = ""
    soft: float = 0
    has_blocks: bool = False
    fingerprint: str = ""
    thumbnail: str = ""
    closer: str = ""
    unlike: str = ""
    is_stretched: bool = False
    crop: Crop = WHOLE
    kind: str = ""
    prints: int = 0
    changed: int = 0
    toned: tuple[str, ...] = ()
    whole: Size | None = None
    owned: tuple[Owned, ...] = ()

    @property
    def is_on_white(self) -> bool:
        """Whether the paper round the picture is meant to be white, as it is or as it was scanned."""
        return min(self.surround) >= (PAPER_WHITE if self.is_flat else _PAPER_SCANNED)


def seen_from(told: dict) -> Seen:
    """What a child told, as it was before it became JSON."""
    told = {field.name: told[field.name] for field in fields(Seen) if field.name in told}
    box, crop = told["box"], told["crop"]
    return Seen(
        **told
        | {
            "box": box and PixelBox(**box),
            "surround": tuple(told["surround"]),
            "light_edges": tuple(told["light_edges"]),
            "strays": tuple(PixelBox(**stray) for stray in told["strays"]),
            "cut": told["cut"] and tuple(told["cut"]),
            "hole": tuple(told.get("hole") or ()) or None,
            "doubts": tuple(told.get("doubts", ())),
            "toned": tuple(told.get("toned", ())),
            "whole": tuple(map(length, told.get("whole") or ())) or None,
            "owned": tuple(Owned(**each) for each in told.get("owned", ())),
            "crop": Crop(*map(Fraction, crop)),
        }
    )


def look(
    picture: Picture, wanted: Wanted | None = None, thumbnail: bool = False, closer: bool = False
) -> dict:
    """In the child: decode the file once and look. Without ``wanted`` all is looked at that a check of a
    hand-in tells; with it only the place, and whether it is the picture wanted."""
    from labkit.files.look.locate import locate
    from labkit.files.pixels.decode import decode

    pixels = decode(picture)
    if wanted is None and (shared := _shared(picture, pixels)):
        return shared | ({"thumbnail": _thumbnail(pixels)} if thumbnail else {})
    marks = wanted.marks if wanted else ()
    found = locate(pixels, marks, is_lossy=picture.lossy)
    told = asdict(found) | {"crop": (0.0, 0.0, 1.0, 1.0)}
    if found.box is not None and wanted and wanted.picture:
        told |= _compared(pixels, found, wanted)
    if wanted is None:
        told |= _all_else(picture, pixels, found)
    if thumbnail:
        told["thumbnail"] = _thumbnail(pixels)
    if closer:
        told["closer"] = _closer(pixels, found.box)
    return told


def look_by_rows(picture: Picture, thumbnail: bool = False) -> dict | None:
    """In the child: the same of a sheet of ours that is too large to be decoded; None for any other file."""
    from labkit.files.pixels.byrows import StripPixels

    pixels = StripPixels.of(picture)
    shared = _shared(picture, pixels) if pixels else None
    return shared and shared | ({"thumbnail": _thumbnail(pixels)} if thumbnail else {})


def _shared(picture: Picture, pixels: "Pixels") -> dict | None:
    """What is told of a sheet of ours that is no single print; None for any other."""
    from labkit.files.gang.known import known

    found = known(picture, pixels)
    if found is None:
        return _ruler(picture, pixels)
    return _ours(around(found.places), pixels) | {
        "strays": [asdict(stray) for stray in found.strays],
        "kind": found.kind,
        "prints": len(found.places),
        "owned": [asdict(each) for each in found.owned],
        "changed": found.changed,
    }


def _ruler(picture: Picture, pixels: "Pixels") -> dict | None:
    """What is told of a ruler sheet of ours; None for any other."""
    from labkit.files.look.rulersheet import known_ruler

    found = known_ruler(picture, pixels)
    return found and _ours(found.box, pixels) | {"kind": RULER, "changed": found.changed}


def _ours(box: PixelBox, pixels: "Pixels") -> dict:
    """What is told of every sheet that says it is ours, and is."""
    return {
        "box": asdict(box),
        "surround": (255, 255, 255),
        "light_edges": (),
        "strays": [],
        "cut": None,
        "crop": (0.0, 0.0, 1.0, 1.0),
        "doubts": [{"variant": pixels.doubt}] if pixels.doubt else [],
    }


def _compared(pixels: "Pixels", found: "Located", wanted: Wanted) -> dict:
    from labkit.files.look.cropped import STRETCHED, find_crop
    from labkit.files.look.locate import unlike
    from labkit.files.pixels.decode import decode

    if wanted.crop is not None:
        return {
            "unlike": unlike(pixels, found.box, decode(wanted.picture), wanted.crop, wanted.steps)
        }
    part, other = find_crop(pixels, found.box, decode(wanted.picture))
    sides = part.left, part.top, part.width, part.height
    return {
        "unlike": other,
        "is_stretched": other == STRETCHED,
        "crop": tuple(float(side) for side in sides),
    }


def _all_else(picture: Picture, pixels: "Pixels", found: "Located") -> dict:
    from labkit.files.header.tiff_reader import description_of
    from labkit.files.look.blocks import shows_blocks
    from labkit.files.look.damage import hole, lost_rows, sign_of_damage, steps_in_paper
    from labkit.files.look.enlarged import find_enlarged
    from labkit.files.look.fingerprint import fingerprint
    from labkit.files.look.softness import find_soft
    from labkit.files.look.tiles import detailed_tiles

    described = description_of(picture)
    whole = whole_of(described)
    told = {
        "lost_rows": lost_rows(pixels),
        "hole": hole(pixels) if picture.packing == "none" else None,
        "doubts": [{"variant": pixels.doubt}] if pixels.doubt else [],
        "has_clear": picture.alpha and pixels.has_clear(),
        "toned": say_steps(said_steps(described), None),
        "whole": whole and [side.inch_text() for side in whole],
    }
    box = found.box
    if box is None:
        return told
    tiles = detailed_tiles(pixels, box)
    enlarged = find_enlarged(tiles)
    if enlarged:
        told |= {"enlarged": enlarged.factor, "how_sure": enlarged.sure}
    else:
        told |= {"has_blocks": shows_blocks(tiles), "soft": find_soft(tiles)}
    sample = _sample(pixels, box)
    if not pixels.doubt:
        is_turned = picture.lossy and steps_in_paper(pixels)
        sign = {"variant": "paper-turns"} if is_turned else sign_of_damage(sample)
        told["doubts"] = [sign] if sign else []
    red, green, blue = sample[..., 0], sample[..., 1], sample[..., 2]
    black, white = (
        ((red == level) & (green == level) & (blue == level)).mean() for level in (0, 255)
    )
    return told | {
        "fingerprint": fingerprint(pixels, box),
        "shadows": float(black),
        "lights": float(white),
    }


def _sample(pixels: "Pixels", box: PixelBox) -> "np.ndarray":
    """A box in few pixels: every nth of them each way."""
    step = max(1, max(box.width, box.height) // _SAMPLE)
    return pixels.sample((box.left, box.top, box.right, box.bottom), step)


def _thumbnail(pixels: "Pixels") -> str:
    from PIL import Image

    width, height = pixels.shape
    small = Image.fromarray(_sample(pixels, PixelBox(0, 0, width, height)))
    small.thumbnail((THUMBNAIL, THUMBNAIL), Image.Resampling.BOX)
    return address_of(small, 80)


def _closer(pixels: "Pixels", box: PixelBox | None) -> str:
    """A part of the picture as it is, one pixel for one."""
    from PIL import Image

    from labkit.files.look.tiles import most_detailed

    if box is None:
        return ""
    return address_of(Image.fromarray(most_detailed(pixels, box, CLOSER)), 95)
