"""Small pictures and a coarse room, so that a hand-in is made and judged in a moment."""

from fractions import Fraction

import pytest

from labkit.files.checks import check
from labkit.files.header.reading import read_picture
from labkit.teaching.margins import margins_brief
from labkit.teaching.pictures import DemoPicture, Part
from tests.files import children, make, sheets

PART = Part("the bright corner", (Fraction(1, 8), Fraction(1, 8), Fraction(3, 8), Fraction(3, 8)))


@pytest.fixture(scope="session")
def coarse():
    """The shipped room working at 60 ppi: sheets of half a million pixels."""
    return sheets.room_with("", working_ppi=60)


@pytest.fixture(scope="session")
def pictures(tmp_path_factory):
    """One that lies and one that stands, with their sizes in pixels."""
    folder = tmp_path_factory.mktemp("pictures")
    made = []
    for name, size in (("Low tide", (1000, 700)), ("Ladder", (700, 1000))):
        file = make.picture(folder / f"{name}.png", size=size)
        made.append((DemoPicture(file, name, "nobody", "slopes", PART, PART), size))
    return tuple(made)


@pytest.fixture
def brief(pictures, coarse):
    """One reader's task."""
    return margins_brief("Ada Brook", pictures, coarse)


@pytest.fixture
def quick(monkeypatch):
    """What belongs in the guarded child runs in this process."""
    monkeypatch.setattr(check, "resident_child", children.Here)


@pytest.fixture
def facts(brief):
    return read_picture(brief.picture)
