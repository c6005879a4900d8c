"""How a finished file gets its name, and what is said of it."""

import os
from fractions import Fraction

import pytest

from labkit.errors import LabError
from labkit.files.writing.printfile import PrintFile, publish
from labkit.geometry.layout import lay_out
from labkit.geometry.length import inches
from labkit.geometry.paper import find_sheet
from labkit.geometry.raster import rasterize
from tests.geometry.refused import refusal


@pytest.fixture
def part(tmp_path):
    path = tmp_path / "a.tif.1.part"
    path.write_bytes(b"new")
    return path


@pytest.fixture
def target(tmp_path):
    return tmp_path / "a.tif"


def no_links(*_):
    raise OSError("this file system has no hard links")


@pytest.fixture(params=["with hard links", "without"])
def any_disk(request, monkeypatch):
    if request.param == "without":
        monkeypatch.setattr(os, "link", no_links)


def test_a_finished_part_gets_its_name(part, target, any_disk):
    publish(part, target, replace=False)
    assert target.read_bytes() == b"new"
    assert not part.exists()


def test_an_existing_file_is_left_alone(part, target, any_disk):
    target.write_bytes(b"old")
    told = refusal(publish, part, target, replace=False)
    assert told == (
        f"a.tif already exists in {target.parent}: nothing was overwritten. "
        "Give another title, another folder, or ask to replace it."
    )
    assert target.read_bytes() == b"old"
    assert part.read_bytes() == b"new"


def test_one_to_be_replaced_is(part, target, any_disk):
    target.write_bytes(b"old")
    publish(part, target, replace=True)
    assert target.read_bytes() == b"new"
    assert not part.exists()


def test_of_two_at_once_one_is_refused(part, target, tmp_path, any_disk):
    other = tmp_path / "a.tif.2.part"
    other.write_bytes(b"other")
    publish(part, target, replace=False)
    with pytest.raises(LabError):
        publish(other, target, replace=False)
    assert target.read_bytes() == b"new"


def test_the_sentence(target):
    layout = lay_out((3600, 2400), find_sheet("13x19in"), width=inches(12))
    raster = rasterize(layout, (3600, 2400), working_ppi=300)
    made = PrintFile(target, layout, raster, "Ada", "Boat", "sRGB", 8, 1000)
    assert raster.ppi == Fraction(300)
    assert str(made) == (
        "a.tif: 3900 × 5700 pixels at 300 ppi, sRGB. Picture 12 in (304.8 mm) wide and 8 in (203.2 mm) "
        "high on 13 × 19 in (330.2 × 482.6 mm). Borders: left 1/2 in (12.7 mm), top 5 1/2 in (139.7 mm), "
        "right 1/2 in (12.7 mm), bottom 5 1/2 in (139.7 mm)."
    )
    assert "304.8 mm (12 in) wide" in made.sentence("mm")
