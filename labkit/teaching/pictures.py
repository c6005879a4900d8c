"""The project's own pictures, as the lessons use them."""

import tomllib
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path

from labkit.errors import LabError
from labkit.geometry.proportion import Part

FOLDER = Path(__file__).resolve().parents[2] / "images"
"""Where the pictures lie in a clone."""


@dataclass(frozen=True, slots=True)
class DemoPicture:
    """One of our pictures: its file, what it is called, who made it, what is seen in it.

    ``keep`` must not be cropped; ``round`` is a circle that gives away stretching.
    """

    file: Path
    title: str
    by: str
    about: str
    keep: Part
    round: Part


@cache
def demo_pictures() -> tuple[DemoPicture, ...]:
    """Our pictures in the order of ``images/pictures.toml``; LabError outside a clone."""
    listed = FOLDER / "pictures.toml"
    if not listed.exists():
        raise LabError(f"the pictures are not at {FOLDER}: run this inside a clone of the project.")
    told = tomllib.loads(listed.read_text(encoding="utf-8"))
    return tuple(
        DemoPicture(
            FOLDER / one["file"],
            one["title"],
            one["by"],
            one["about"],
            _part(one["keep"]),
            _part(one["round"]),
        )
        for one in told["picture"]
    )


def _part(told: dict) -> Part:
    return Part(told["name"], tuple(Fraction(str(side)) for side in told["box"]))
