"""The two invented papers of the lessons, and middle grey on them under a lamp, step by step."""

from functools import cache

import numpy as np

from labkit.files.pixels.conversion import srgb_profile
from labkit.files.pixels.lab import xyz_of_lab
from labkit.files.pixels.paperprofile import PaperProfile, paper_profile
from labkit.files.pixels.tone import MIDDLE_LIGHT, tone
from labkit.files.pixels.transform import lab_of, transform
from labkit.geometry.light import luminance, stops
from labkit.room.rules import Paper, Room
from labkit.teaching.profiles import GLOSS, MATT

PAPERS = {"gloss": GLOSS, "matt": MATT}
"""By the names the lessons have for them."""
STEPS = (-0.3, 0.0, 0.3, 0.6, 0.9)
"""The steps of the lessons' test strip, in stops at middle grey."""
SCREEN = 100
"""The white of the screen a print is held against, in cd/m²: above the least that is asked of one that
stands alone, 80 cd/m² (Green, ed., "Color Management", Wiley 2010, p. 197)."""


_SURFACES = {"gloss": ("gloss", "pearl", "shin", "satin"), "matt": ("matt",)}
"""Words by which a room tells what its papers are like (common practice, no source)."""


def room_paper(name: str, room: Room) -> Paper:
    """The room's paper nearest to one of :data:`PAPERS`: the first kept in sheets whose surface says so, else
    the first kept in sheets."""
    kept = [each for each in room.papers if each.sheets] or [room.paper()]
    words = _SURFACES[name]
    alike = [each for each in kept if any(word in each.surface.casefold() for word in words)]
    return (alike or kept)[0]


@cache
def paper(name: str) -> PaperProfile:
    """One of :data:`PAPERS`, read."""
    return paper_profile(PAPERS[name])


@cache
def white(name: str) -> float:
    """What share of the light bare paper reflects."""
    return float(xyz_of_lab(paper(name).white)[1])


@cache
def middle_grey(name: str, step: float) -> float:
    """What share of the light a print of middle grey reflects, made lighter by ``step`` and printed by the
    relative intent with black point compensation."""
    levels = np.arange(65536, dtype=np.uint16)
    greys = np.repeat(levels[None, :, None], 3, 2)[:, ::16]
    light = xyz_of_lab(lab_of(greys, srgb_profile())[0])[:, 1]
    middle = greys[:, [int(np.argmin(np.abs(light - MIDDLE_LIGHT)))]]
    sent = transform(tone(step)(middle), srgb_profile(), paper(name).data, black_point=True)
    return float(xyz_of_lab(lab_of(sent, paper(name).data, intent="absolute"))[0, 0, 1])


def off(name: str, lux: float, step: float, screen: float = SCREEN) -> float:
    """By how many stops middle grey on the print is lighter than on the screen; below 0 where darker."""
    return stops(luminance(lux, middle_grey(name, step)), screen * MIDDLE_LIGHT)


def best_step(name: str, lux: float, screen: float = SCREEN) -> float:
    """The step of the strip that comes nearest to the screen at middle grey."""
    return min(STEPS, key=lambda step: abs(off(name, lux, step, screen)))
