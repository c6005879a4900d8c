"""Whether a handed-in file has the tone step and the colours that its brief asks for, measured."""

from pathlib import Path

import numpy as np

from labkit.files.checks.findings import Findings
from labkit.files.child.guarded import resident_child
from labkit.files.header.picture import Picture
from labkit.files.header.reading import read_picture
from labkit.files.look.locate import patches
from labkit.files.pixels.conversion import serves, srgb_profile
from labkit.files.pixels.decode import decode
from labkit.files.pixels.difference import delta_e
from labkit.files.pixels.lab import xyz_of_lab
from labkit.files.pixels.tone import MIDDLE_LIGHT, tone
from labkit.files.pixels.transform import lab_of
from labkit.geometry.layout import Layout
from labkit.geometry.light import UNITS, ToneStep, step_text
from labkit.geometry.pixelbox import PixelBox
from labkit.room.rules import Room
from labkit.teaching.brief import Brief
from labkit.teaching.curve import curve_between

WITHIN = 0.14
"""How far the step measured may be off, in stops: less than half of what lies between two steps of the
strip (our own judgement)."""
MOVED = 2.5
"""The mean CIEDE2000 by which colours may be off besides the curve (our own judgement). A file of ours is off
by less than 0.8, one whose label was changed to a wide space by 4.5 and more, as we measured."""
BENT = 9.5
"""By how much lightness a curve may be off the step's own, which no two programs draw alike (our own
judgement). A gamma through the same three points is off by up to 8.7, as we measured, and more contrast by
a third by 10 and more."""
_PATCHES = 320
"""Patches along the longer side that picture and file are averaged to."""
_NEAR, _FEWEST = 1.0, 50
"""Tones that tell the step lie so many stops round middle grey; if there are fewer patches, any do."""
_ENDS = 0.01, 0.99
_MOST = UNITS["stops"].most


def tone_hints(findings: Findings, brief: Brief, room: Room) -> list[str]:
    """What is to be mended of tone and colours in a file whose picture lies where it should."""
    if findings.layout is None or any(each.code in _OTHERS for each in findings.faults):
        return []
    limits = {"seconds": room.limits.seconds, "memory_mb": room.limits.memory_mb}
    box = _box(findings.layout, findings.facts)
    seen = resident_child().run(
        measured, findings.file, brief.picture, box, **limits, about=findings.file.name
    )
    hints = _step_hints(seen["step"], brief)
    bent = [] if hints else _bent_hints(seen["bent"])
    return [*hints, *bent, *_colour_hints(seen["moved"], findings.facts)]


_OTHERS = {
    "no-picture", "picture-other", "picture-stretched", "picture-shape", "sheet-size", "sheet-turned",
    "cmyk", "cmyk-unknown", "cmyk-assumed", "lab", "palette", "one-bit", "grey", "profile-class",
    "profile-damaged", "profile-space",
}  # fmt: skip
"""Findings after whose mending the pixels are others."""


def measured(file: Path, original: Path, box: PixelBox) -> dict:
    """In a guarded child: the tone ``step`` in stops by which the file is lighter than the original at middle
    grey, how far its curve is ``bent`` off that step's own, in lightness, and by how much the colours
    ``moved`` besides, as the mean CIEDE2000. ``box`` is where in the file the picture lies."""
    handed_in, picture = read_picture(file), read_picture(original)
    wide, high = picture.pixels
    scale = _PATCHES / max(wide, high)
    count = max(1, round(wide * scale)), max(1, round(high * scale))
    was = patches(decode(picture), (0, 0, wide, high), count)
    now = patches(decode(handed_in), (box.left, box.top, box.right, box.bottom), count)
    by = profile_of(picture), profile_of(handed_in)
    lab = [lab_of(levels / 255, own) for levels, own in zip((was, now), by, strict=True)]
    curve = curve_between(*lab)
    moved = delta_e(lab_of(curve.on(was / 255, by[0]), by[0]), lab[1])
    step = float(np.clip(curve.step, -_MOST, _MOST))
    return {"step": step, "bent": curve.bent(by[0]), "moved": float(moved.mean())}


Profiles = tuple[bytes, bytes]
"""That of the original, and that of the file made of it."""


def step_made(was: np.ndarray, now: np.ndarray, by: Profiles) -> float:
    """The step, in stops at middle grey, by which the levels ``now`` are lighter than they ``were``."""
    return step_between(
        *(_light(lab_of(levels / 255, own)) for levels, own in zip((was, now), by, strict=True))
    )


def off_by(was: np.ndarray, now: np.ndarray, by: Profiles, step: ToneStep) -> float:
    """How far colours are off what ``step`` makes of what they were: the mean CIEDE2000."""
    levels = np.round(was * 257).astype(np.uint16)
    expected = lab_of(tone(step.amount, step.by, profile=by[0])(levels), by[0])
    return float(delta_e(expected, lab_of(now / 255, by[1])).mean())


def step_between(was: np.ndarray, now: np.ndarray) -> float:
    """The tone step, in stops at middle grey, that made ``now`` of ``was``, both light from 0 to 1.

    A step adds the same to the logarithm of light over what is lacking to white, everywhere: see
    :class:`labkit.files.pixels.tone.Tone`. The middle of what was added is taken, from tones near middle
    grey where there are enough.
    """
    low, high = _ENDS
    told = (was > low) & (was < high) & (now > low) & (now < high)
    near = told & (np.abs(np.log2(np.maximum(was, low) / MIDDLE_LIGHT)) < _NEAR)
    use = near if near.sum() >= _FEWEST else told
    if not use.any():
        return 0.0
    slope = np.exp(np.median(_odds(now[use]) - _odds(was[use])))
    times = slope / (1 - MIDDLE_LIGHT + slope * MIDDLE_LIGHT)
    return float(np.clip(np.log2(times), -_MOST, _MOST))


def _odds(light: np.ndarray) -> np.ndarray:
    return np.log(light / (1 - light))


def _light(lab: np.ndarray) -> np.ndarray:
    return xyz_of_lab(lab)[..., 1]


def profile_of(picture: Picture) -> bytes:
    """The profile of a picture's RGB; sRGB where it has none that serves."""
    return picture.profile if serves(picture.profile, "RGB") else srgb_profile()


def _box(layout: Layout, file: Picture) -> PixelBox:
    """The picture's place in pixels, measured on the file itself."""
    ppi = file.pixels[0] / float(layout.sheet.width)
    box = layout.picture
    left, top = round(float(box.left) * ppi), round(float(box.top) * ppi)
    return PixelBox(left, top, round(float(box.width) * ppi), round(float(box.height) * ppi))


def _step_hints(step: float, brief: Brief) -> list[str]:
    """The step made is told, the one asked for is not."""
    if abs(step - brief.lighter) <= WITHIN:
        return []
    made = step_text(round(step, 1))
    if abs(step) <= WITHIN:
        return [
            "Your file is as light as the picture: no tone step was made. On the strip, with your paper and "
            "your light, find the step at which middle grey is nearest to the screen's."
        ]
    if abs(step + brief.lighter) <= WITHIN:
        return [
            f"Your file was made {made} at middle grey: as large a step as it should be, the wrong way. "
            "Where the hall is dim the print has to be lighter, where it is bright darker."
        ]
    return [
        f"Your file was made {made} at middle grey, and that is not the step that the strip shows. Set your "
        "paper and your light there, and read how far each step is from the screen. If you made it in an "
        "editor, give the curve three points: black, white, and the one that your card names."
    ]


def _bent_hints(bent: float) -> list[str]:
    if bent <= BENT:
        return []
    return [
        "Middle grey is as light as it should be, but other tones were moved besides: the contrast was "
        "changed, or black or white did not stay where they were. Go back to the picture and make the one "
        "curve: black stays black, white stays white, and only the middle is lifted or lowered."
    ]


def _colour_hints(moved: float, file: Picture) -> list[str]:
    name = file.profile_name
    if moved > MOVED:
        under = f"under {name}" if file.profile else "without a profile, so they are read as sRGB"
        return [
            f"Besides the step the colours are off by {moved:.1f} on average (ΔE2000; up to {MOVED:g} is let "
            f"pass). The numbers in your file stand {under}. Was the label changed (assigned) where the "
            "numbers should have been translated (converted)? Or was something else changed than the tone? "
            "Go back to the picture, convert it to sRGB, and make the one step."
        ]
    if file.profile and file.profile_class != "prtr" and "srgb" not in name.casefold():
        return [
            f"The colours are right, but they stand in {name}, and your task asks for sRGB. Convert the file "
            "to sRGB: the numbers change and the colours stay. To assign sRGB would change the colours."
        ]
    return []
