"""Whether a handed-in test strip is the one its task asks for: what it says of itself, and what it shows."""

from dataclasses import dataclass
from pathlib import Path
from statistics import median

import numpy as np

from labkit.errors import LabError
from labkit.files.child.guarded import resident_child
from labkit.files.gang.known import known
from labkit.files.gang.statement import read_statement
from labkit.files.gang.stripsaid import StripSaid, read_strips, sum_of_strip
from labkit.files.gang.teststrip import bands, part_shown
from labkit.files.header.picture import Picture
from labkit.files.header.reading import read_picture
from labkit.files.header.tiff_reader import description_of
from labkit.files.look.locate import patches
from labkit.files.pixels.decode import Pixels, decode
from labkit.geometry.light import step_text
from labkit.geometry.pixelbox import PixelBox
from labkit.room.rules import Room
from labkit.teaching.brief import Brief
from labkit.teaching.toned import MOVED, WITHIN, off_by, profile_of, step_made

ENDINGS = frozenset((".tif", ".tiff", ".jpg", ".jpeg", ".png"))
"""Of files among which hand-ins are looked for."""
_WORD = "strip"
_PATCH = 8
"""Pixels each way that are averaged before a step is compared with the picture."""
_WIDTH = 0.01
"""The share by which the print may be wider or narrower than the one that a strip was made for."""
_UNLIKE = 100.0


@dataclass(frozen=True)
class StripJudged:
    """A test strip that was looked at, and a hint for each thing to mend."""

    file: Path
    hints: tuple[str, ...]


def find_strip(folder: Path, brief: Brief, room: Room) -> StripJudged | None:
    """The strip in ``folder``, whatever its file is called: of several the one with the least to mend; None
    where there is none."""
    files = sorted(each for each in folder.glob("*") if each.suffix.lower() in ENDINGS)
    judged = [judge_strip(file, brief, room) for file in files if file.stem != brief.stem]
    return min(filter(None, judged), key=lambda each: len(each.hints), default=None)


def judge_strip(file: Path, brief: Brief, room: Room) -> StripJudged | None:
    """Hold a strip against its task; None for a file that neither says nor is named to be one.

    What cannot be opened is a hint, never an error.
    """
    limits = {"seconds": room.limits.seconds, "memory_mb": room.limits.memory_mb}
    try:
        asked = file, brief.picture, brief.reader
        seen = resident_child().run(seen_strip, *asked, **limits, about=file.name)
    except LabError as refusal:
        return StripJudged(file, (str(refusal),)) if _is_called_one(file, brief) else None
    if not seen:
        return StripJudged(file, (_SAYS_NOTHING,)) if _is_called_one(file, brief) else None
    (said,) = read_strips(seen["said"])
    hints = (
        *_whole_hints(said, seen, brief),
        *_width_hints(said, brief, room),
        *_paper_hints(said, brief),
        *_step_hints(said, brief),
        *_owner_hints(said, brief),
    )
    return StripJudged(file, hints)


_SAYS_NOTHING = (
    "It does not say what it shows. A strip that was saved anew, as a JPEG or out of an editor, is no longer "
    "the one that was made, and its tones may have moved. Hand in the file as it was written."
)


def _is_called_one(file: Path, brief: Brief) -> bool:
    return _WORD in file.stem.casefold() and file.stem != brief.stem


# In the child


def seen_strip(file: Path, original: Path, owner: str) -> dict:
    """In a guarded child: the strip in a file, the one of ``owner`` where there are several; {} where it
    says nothing of any.

    ``said`` is what it says. ``as_written`` tells whether every pixel of its sheet is as it was written.
    Of each step ``made`` is what was measured, in stops, and ``moved`` by how much its colours are off what
    the step should have made of the ``original``, as the mean CIEDE2000.
    """
    sheet = read_picture(file)
    described = description_of(sheet)
    strips = read_strips(described)
    if not strips:
        return {}
    said = next((each for each in strips if _same(each.owner, owner)), strips[0])
    told = {"said": said.text(), "as_written": False, "made": [], "moved": []}
    place = _place(said, described, sheet)
    if place is None:
        return told
    pixels = decode(sheet)
    strip = _upright(pixels, place, said)
    told["as_written"] = sum_of_strip(strip) == said.total and _is_all_ours(sheet, pixels)
    return told | _steps_seen(Pixels(strip, 1), said, sheet, read_picture(original))


def _place(said: StripSaid, described: str, sheet: Picture) -> PixelBox | None:
    """Where the strip lies on its sheet; None where it cannot lie there."""
    statement = read_statement(described)
    if statement is None or sheet.ppi is None or said.number > len(statement.places):
        return None
    place, size = statement.places[said.number - 1], said.size
    wide, high = size[::-1] if said.is_turned else size
    lies = place.right <= sheet.pixels[0] and place.bottom <= sheet.pixels[1]
    return place if lies and (place.width, place.height) == (wide, high) else None


def _upright(pixels: Pixels, place: PixelBox, said: StripSaid) -> np.ndarray:
    region = place.left, place.top, place.right, place.bottom
    held = pixels.held(region)
    values = pixels.levels(region) if held is None or held.shape[2] != 3 else held
    return np.ascontiguousarray(np.rot90(values) if said.is_turned else values)


def _is_all_ours(sheet: Picture, pixels: Pixels) -> bool:
    """Whether nothing else on the sheet was changed or added."""
    found = known(sheet, pixels)
    return found is not None and not found.changed and not found.strays


def _steps_seen(strip: Pixels, said: StripSaid, sheet: Picture, original: Picture) -> dict:
    """Each step against the part of the original that it should show."""
    ppi = sheet.ppi[0]
    scale = original.pixels[0] / said.width.inches / ppi
    try:
        laid = bands(said.size, len(said.steps), ppi)
        part = part_shown(original.pixels, said.at, laid.picture, scale)
    except LabError:
        return {"moved": [_UNLIKE]}
    wide, high = laid.picture
    count = max(1, wide // _PATCH), max(1, high // _PATCH)
    was = patches(decode(original), tuple(map(round, part)), count)
    by, made, moved = (profile_of(original), profile_of(sheet)), [], []
    for step, (left, top) in zip(said.steps, laid.corners, strict=True):
        now = patches(strip, (left, top, left + wide, top + high), count)
        made.append(step_made(was, now, by))
        moved.append(off_by(was, now, by, step))
    return {"made": made, "moved": moved}


# What is to be mended


def _whole_hints(said: StripSaid, seen: dict, brief: Brief) -> list[str]:
    if not seen["as_written"]:
        return [
            f"It was changed after it was written{_how(said, seen)}. A strip is read by its tones: print it "
            "as it was made, correct nothing on it, save nothing anew. Make it again."
        ]
    if max(seen["moved"]) > MOVED:
        return [
            f"It does not show “{brief.title}” as large as it says. Make it of {brief.picture.name} itself, "
            "not of another picture and not of a finished sheet."
        ]
    return []


def _how(said: StripSaid, seen: dict) -> str:
    """By how much all steps are off their labels; "" where they are not, or not alike."""
    if not seen["made"] or any(step.by != "stops" for step in said.steps):
        return ""
    off = [made - step.amount for made, step in zip(seen["made"], said.steps, strict=True)]
    middle = median(off)
    if abs(middle) <= WITHIN or max(off) - min(off) > 4 * WITHIN:
        return ""
    return f": its steps are about {step_text(round(middle, 1))} than their labels say"


def _width_hints(said: StripSaid, brief: Brief, room: Room) -> list[str]:
    asked = brief.layout.picture.width
    if abs(said.width / asked - 1) <= _WIDTH:
        return []
    return [
        f"It was made for a print {said.width.both(room.units)} wide, and yours will be "
        f"{asked.both(room.units)} wide. Detail and tone are judged at the size they will have: say how wide "
        "the final print will be."
    ]


def _paper_hints(said: StripSaid, brief: Brief) -> list[str]:
    if _same(said.paper, brief.paper):
        return []
    return [
        f"It was made for {said.paper}, and your print will be on {brief.paper}. Another paper has another "
        "white, another black and other tones, so a step chosen on one is not the step for the other."
    ]


def _step_hints(said: StripSaid, brief: Brief) -> list[str]:
    wanted = ", ".join(f"{step:+g}" if step else "0" for step in brief.steps)
    if said.steps[0].by != "stops":
        return [
            f"Its steps are told in CIE lightness, and those of your task in stops: {wanted}. A figure "
            "without its unit makes another print."
        ]
    there = {step.amount for step in said.steps}
    if there.issuperset(brief.steps):
        return []
    has = ", ".join(f"{step:+g}" if step else "0" for step in sorted(there))
    return [
        f"It has the steps {has}, and your task asks for {wanted}. Where one is missing, nobody can see "
        "whether it would have been the best."
    ]


def _owner_hints(said: StripSaid, brief: Brief) -> list[str]:
    if _same(said.owner, brief.reader):
        return []
    return [
        f"It is labelled with the name {said.owner}. Yours has your own name on it, or nobody knows at the "
        "printer whose it is."
    ]


def _same(one: str, other: str) -> bool:
    first, second = (" ".join(each.casefold().split()) for each in (one, other))
    return first == second


def strip_hints(judged: StripJudged | None) -> list[str]:
    """The hints of a strip among those of other files: each says whose it is; one where there is none."""
    if judged is None:
        return [
            "Its test strip is missing. “Write my test strip” makes it in your folder, and so does the "
            "command among the ways to do it."
        ]
    return [f"Test strip {judged.file.name}: {hint}" for hint in judged.hints]
