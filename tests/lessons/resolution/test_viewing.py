"""Eye, true scale and blind sheet: hand-worked figures, and what every control changes."""

import numpy as np
import pytest
from PIL import Image

from labkit.geometry.length import length
from labkit.home import home
from labkit.lessons.parts.settings import settings
from labkit.lessons.resolution import viewing
from labkit.lessons.resolution.viewing import TrueScale, View
from labkit.room.rules import load_room
from labkit.teaching.blind import LETTERS, PPIS, blind_order
from tests.files import make
from tests.lessons.hands import choose, is_right, said, slide, words
from tests.lessons.resolution.test_devices import put
from tests.lessons.resolution.test_sizes import shown


@pytest.mark.parametrize(
    ("distance", "ppi"),
    [("200mm", "436.6 ppi"), ("300mm", "291.1 ppi"), ("500mm", "174.6 ppi"), ("1000mm", "87.3 ppi"),
     ("2000mm", "43.7 ppi"), ("3000mm", "29.1 ppi")],
)  # fmt: skip
def test_ppi_by_distance(distance, ppi):
    """1 / (d · tan 1′); the published table is in tests/standards/test_resolution.py."""
    app = viewing.eye()
    choose(app, "units", "mm")
    slide(app, "distance", length(distance))
    assert app.readings["enough from here"] == ppi
    assert ppi in app.sentence


@pytest.mark.parametrize(("acuity", "ppi"), [(2.0, 174.6), (1.0, 87.3), (0.5, 43.7)])
def test_ppi_by_eyesight(acuity, ppi):
    """ISO 8596, clause 4: twice the acuity sees twice as fine."""
    assert View(length("100cm"), acuity).ppi == pytest.approx(ppi, abs=0.05)


def test_what_is_read_off_at_30_cm():
    told = dict(viewing.view_readings(View(length("30cm")), 4500, load_room(), "mm"))
    assert told == {
        "enough from here": "291.1 ppi",
        "one pixel is then": "0.087 mm",
        "300 ppi is enough from": "291.1 mm (11.46 in)",
        "the room's floor from 300 mm (11.81 in)": "300 ppi",
        "your picture may be this wide": "392.7 mm (15.46 in)",  # 4500 / 291.06
    }


def test_the_rooms_floor_lies_above_what_an_eye_sees():
    for row in load_room().floor:
        assert row.ppi > View(row.distance).ppi


@pytest.mark.parametrize(("control", "value"), [("distance", length("40in")), ("acuity", 0.5)])
def test_every_control_of_the_eye_changes_everything(control, value):
    app = viewing.eye()
    before = shown(app)
    (slide if control == "distance" else choose)(app, control, value)
    assert all(now != then for now, then in zip(shown(app), before, strict=True))


def test_lines_and_where_they_turn_grey():
    """96 / 2 = 48 lines to the inch; 3437.75 / 48 = 71.62 in."""
    assert viewing.true_scale().readings == {
        "lines to the inch": "48.0",
        "grey from here on, 20/10": "143.2 in (3.64 m)",
        "grey from here on, 20/20": "71.62 in (1819.1 mm)",
        "grey from here on, 20/40": "35.81 in (909.6 mm)",
    }
    assert TrueScale(100, 4).lines == 25


@pytest.mark.parametrize(("control", "value"), [("dots_an_inch", 110), ("thick", 5)])
def test_every_control_of_the_true_scale_changes_everything(control, value):
    app = viewing.true_scale()
    before = shown(app)
    put(app, control, value)
    assert all(now != then for now, then in zip(shown(app), before, strict=True))


# The blind sheet


@pytest.fixture(scope="module")
def picture(tmp_path_factory):
    values = np.random.default_rng(1).integers(0, 256, (900, 1100, 3), np.uint8)
    file = tmp_path_factory.mktemp("own") / "noise.png"
    Image.fromarray(values).save(file)
    return file


@pytest.fixture
def sheet(picture):
    made = viewing.blind_sheet(picture)
    settings().keep(name="Nia Oak")
    made.word.value = "tuesday"
    return made


def ranking(*ppis: int) -> str:
    letter = dict(zip(blind_order("tuesday"), LETTERS, strict=True))
    return " ".join(letter[ppi] for ppi in ppis)


def test_the_sheet_is_exported_ready_to_print(sheet):
    sheet.export.click()
    assert is_right(sheet), said(sheet)
    (file,) = home().exports.glob("*.tif")
    assert file.name == "Nia-Oak_Blind-sheet-tuesday_letter.tif"
    with Image.open(file) as made:
        assert made.size == (2550, 3300)  # letter at 300 ppi
        assert made.info["dpi"] == (300, 300)
        values = np.asarray(made.convert("L"), float)
    assert (values[:150] == 255).all()
    assert (values[:, :150] == 255).all()
    spread = [
        values[150 + y : 150 + y + 864, 150 + x : 150 + x + 1080].std()
        for y in (0, 1008, 2016)
        for x in (0, 1170)
    ]
    finest_first = [ppi for _, ppi in sorted(zip(spread, blind_order("tuesday"), strict=True))][
        ::-1
    ]
    assert finest_first == list(PPIS)
    assert not list((home().folder / "previews").glob("blind-sheet*"))


def test_it_is_not_overwritten_unasked(sheet):
    sheet.export.click()
    sheet.export.click()
    assert "already exists" in said(sheet)
    sheet.again.value = True
    sheet.export.click()
    assert is_right(sheet)


def test_what_could_be_told_apart(sheet):
    best = ranking(300, 240, 200, 150, 100, 72)
    near = [best] * 5
    far = [best, ranking(240, 300, 200, 150, 100, 72), *[best] * 3]
    sheet.rankings[0].value, sheet.rankings[1].value = "\n".join(near), "\n".join(far)
    sheet.ask.click()
    told = words(sheet._told.value)
    assert said(sheet) == ""
    assert f"A {blind_order('tuesday')[0]} ppi, B" in told
    at_30_cm, at_1_m = told.split("Seen from 1 m (39 in)")
    assert "Seen from 30 cm (12 in)" in at_30_cm
    assert at_30_cm.count("5 of 5 right, told apart (guessing does as well 3% of the time)") == 5
    assert "300 before 240 ppi 4 of 5 right, may be luck (guessing does as well 19%" in at_1_m


def test_one_distance_will_do(sheet):
    sheet.rankings[1].value = ranking(300, 240, 200, 150, 100, 72)
    sheet.ask.click()
    told = words(sheet._told.value)
    assert "Seen from 1 m" in told
    assert "Seen from 30 cm" not in told


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (lambda sheet: None, "type one ranking at least"),
        (lambda sheet: setattr(sheet.rankings[0], "value", "ABC"), "“ABC” is no ranking"),
        (lambda sheet: setattr(sheet.word, "value", ""), "give"),
    ],
)
def test_what_is_missing_is_told(sheet, change, told):
    change(sheet)
    sheet.ask.click()
    assert told in said(sheet)
    assert sheet._told.value == ""


def test_a_sheet_needs_a_name_and_a_large_enough_picture(sheet, tmp_path):
    settings().keep(name="")
    sheet.export.click()
    assert "the owner is missing" in said(sheet)
    small = viewing.blind_sheet(make.picture(tmp_path / "small.png", size=(500, 500)))
    settings().keep(name="Nia Oak")
    small.word.value = "tuesday"
    small.export.click()
    assert "small.png has 500 × 500 pixels, and this takes 1080 × 864" in said(small)
    assert not list(home().exports.glob("*"))


def test_it_says_what_there_is_to_do(sheet):
    assert "72 to 300 ppi" in sheet.sentence
    assert "30 cm and from 1 m" in sheet.sentence
