"""What the lesson on colour asks: a file for one paper, one tone step lighter or darker, with its strip."""

from collections.abc import Sequence
from dataclasses import replace

from labkit.errors import LabError
from labkit.files.pixels.tone import tone
from labkit.geometry.layout import lay_out
from labkit.geometry.length import length
from labkit.geometry.resolution import ppi_at
from labkit.room.rules import Room
from labkit.teaching.brief import Brief, Candidate, brief_of, chance_for
from labkit.teaching.papers import PAPERS, STEPS, off, room_paper

LIGHTS = range(160, 430, 10)
"""Illuminances of halls, in lux: from a dim corridor to a well lit room (common practice, no source)."""
BEGIN_WIDTH = length("4in")
"""Where the exercise's figure begins, on the first sheet in stock, upright, without a step."""
MIDDLE_LEVEL = 119
"""The level of sRGB nearest to middle grey, CIE L* 50 (IEC 61966-2-1: 118.9)."""
_STEP = length("1/2in")
_LEAST_BORDER = length("1/2in")
_NEAR, _APART = 0.12, 0.1
"""The right step is no further off than this, in stops, and the next best by so much further."""
_TRIES = 1000
_HINTS = {
    "profile-missing": "Without one your numbers are not colours: at the printer somebody has to guess. The "
    "picture is in sRGB, so sRGB is what belongs to them.",
    "profile-class": "The paper's profile is used at printing, in one place only. The file handed in stays "
    "in sRGB.",
    "cmyk": "The printer mixes its inks itself, from RGB. Translated to CMYK here, colours are lost "
    "that this printer can show.",
    "picture-size": "Only the width is asked for; the height follows from the pixels.",
    "border": "The picture lies in the centre: the white is shared equally, left and right, above and below.",
    "picture-other": "If it is the right picture, its tone is too far from any step of the strip.",
}


def colour_brief(reader: str, pictures: Sequence[Candidate], room: Room) -> Brief:
    """The task for ``reader``: one of ``pictures`` on a sheet in stock, for a paper and a light.

    LabError without a name, or where no sheet in stock takes a print of 4 in with borders.
    """
    chance = chance_for("colour", reader)
    name = chance.choice(list(PAPERS))
    paper = room_paper(name, room)
    sheets = [each for each in room.sheets if paper.sheet(each)] or list(room.sheets)
    lux, lighter = chance.choice(_lights(name))
    for _ in range(_TRIES):
        candidate = chance.choice(pictures)
        pixels, sheet = candidate[1], chance.choice(sheets)
        sheet = sheet.turned() if pixels[0] > pixels[1] else sheet
        most = max(int(BEGIN_WIDTH / _STEP), int(sheet.width / _STEP))
        width = _STEP * chance.randint(int(BEGIN_WIDTH / _STEP), most)
        if ppi_at(pixels[0], width) < room.working_ppi:
            continue
        try:
            layout = lay_out(pixels, sheet, unprintable=room.unprintable(sheet), width=width)
        except LabError:
            continue
        if min(border for _, border in layout.borders.items()) >= _LEAST_BORDER:
            break
    else:
        raise LabError(
            f"no sheet in stock at {room.name} takes a print of {BEGIN_WIDTH} with borders of "
            f"{_LEAST_BORDER}: add a larger one to the room's file."
        )
    lies = "lying on its side" if sheet.is_turned else "upright"
    asked = (
        f"Print “{candidate[0].title}” ",
        width,
        f" wide in the centre of a sheet of {sheet}, {lies}, for {name} paper (in this room {paper.name}) in "
        f"a light of {lux} lx, with the tone step that the strip above shows for them. It stays in sRGB. "
        f"Hand in its test strip too: for {paper.name}, of a print as wide, with the steps from "
        f"{STEPS[0]:+g} to {STEPS[-1]:+g}.",
    )
    brief = brief_of(reader, candidate, asked, layout, room, _HINTS)
    return replace(brief, lighter=lighter, steps=STEPS, paper=paper.name, by_hand=curve_text())


def curve_text() -> str:
    """How to make each step of the strip in an editor."""
    levels = ", ".join(f"{step:+.1f} stops {made}" for step, made in curve_levels().items())
    return (
        "Make the picture lighter or darker with one curve of three points: 0 stays 0, 255 stays 255, and "
        f"level {MIDDLE_LEVEL} becomes, by the step you chose: {levels}."
    )


def curve_levels() -> dict[float, int]:
    """What becomes of the level of middle grey, by the step."""
    return {step: int(tone(step).table(256)[MIDDLE_LEVEL]) for step in STEPS if step}


def _lights(name: str) -> list[tuple[int, float]]:
    """The lights under which one step other than none is plainly the best, with that step."""
    found = []
    for lux in LIGHTS:
        best, second, *_ = sorted(STEPS, key=lambda step: abs(off(name, lux, step)))
        apart = abs(off(name, lux, second)) - abs(off(name, lux, best))
        if best and abs(off(name, lux, best)) <= _NEAR and apart >= _APART:
            found.append((lux, best))
    return found
