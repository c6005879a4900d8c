"""What the lesson on colour asks: each solvable, and each wrong answer told apart."""

import numpy as np
import pytest
from PIL import Image

from labkit.files.header.reading import read_picture
from labkit.files.pixels.conversion import srgb_profile
from labkit.files.pixels.transform import transform
from labkit.job import words as job
from labkit.room.rules import load_room
from labkit.teaching import toned
from labkit.teaching.colour import colour_brief, curve_levels
from labkit.teaching.judge import judge
from labkit.teaching.papers import PAPERS, STEPS, best_step, off, paper
from labkit.teaching.pictures import demo_pictures
from labkit.teaching.profiles.wide import wide_profile
from tests.files import children, sheets
from tests.files.srgb import encoded, linear
from tests.geometry.refused import refusal
from tests.properties import a_few

pytestmark = pytest.mark.usefixtures("warm")

NAMES = ("Ada Brook", "Nia Oak", "Ivo", "柳 水")
MIDDLE = 0.18418651851244416
"""Light of CIE L* 50: CIE 15."""


@pytest.fixture
def here(quick, monkeypatch):
    monkeypatch.setattr(toned, "resident_child", children.Here)


@pytest.fixture
def task(here, pictures, coarse, tmp_path):
    """A brief, and the answer to it with any tone step."""
    brief = colour_brief("Ada Brook", pictures, coarse)
    picture = read_picture(brief.picture)

    def answer(lighter=brief.lighter):
        made = job.write(
            picture, brief.layout, owner=brief.reader, title=brief.title, out=tmp_path,
            lighter=lighter, replace=True, room=coarse,
        )  # fmt: skip
        return made.file

    return brief, answer


@pytest.mark.parametrize("name", a_few(NAMES))
def test_what_it_asks_can_be_made_and_passes(here, tmp_path, pictures, coarse, name):
    brief = colour_brief(name, pictures, coarse)
    made = job.write(
        read_picture(brief.picture), brief.layout, owner=name, title=brief.title, out=tmp_path,
        lighter=brief.lighter, room=coarse,
    )  # fmt: skip
    assert judge(made.file, brief, coarse).hints == ()


@pytest.mark.parametrize("name", [f"Reader {number}" for number in range(25)])
def test_with_our_own_pictures_and_room_the_step_is_plain(name):
    """The one asked for is the nearest on the strip by far, and never none."""
    room = load_room()
    pictures = tuple((demo, read_picture(demo.file).pixels) for demo in demo_pictures())
    brief = colour_brief(name, pictures, room)
    told = brief.sentence()
    (paper_,) = (each for each in PAPERS if f"{each} paper" in told)
    lux = int(told.split("light of ")[1].split(" lx")[0])
    assert brief.lighter == best_step(paper_, lux) != 0
    far = sorted(abs(off(paper_, lux, step)) for step in STEPS)
    assert far[0] <= 0.12
    assert far[1] - far[0] >= 0.1
    assert brief.raster.ppi == room.working_ppi <= brief.raster.own_ppi


def test_tasks_differ_in_paper_light_step_and_picture(pictures, coarse):
    briefs = [colour_brief(f"Reader {number}", pictures, coarse) for number in range(40)]
    assert {brief.lighter for brief in briefs} == set(STEPS) - {0}
    assert len({brief.picture for brief in briefs}) == 2
    assert len({brief.sentence() for brief in briefs}) > 35
    assert colour_brief(" reader  3", pictures, coarse).sentence() == briefs[3].sentence()


@pytest.mark.parametrize("name", ["", "  "])
def test_without_a_name_there_is_no_task(pictures, coarse, name):
    assert refusal(colour_brief, name, pictures, coarse).startswith("give your name first")


def test_the_card_names_the_levels_of_each_step():
    """Level 119 made so many stops lighter, by IEC 61966-2-1 and the curve's own formula."""
    light = linear(119 / 255)
    for step, level in curve_levels().items():
        times = 2**step
        slope = times * (1 - MIDDLE) / (1 - times * MIDDLE)
        made = encoded(slope * light / (1 + (slope - 1) * light)) * 255
        assert level == pytest.approx(float(made), abs=0.6)


# Wrong answers


def test_without_a_step_it_is_told(task, coarse):
    brief, answer = task
    (hint,) = judge(answer(0), brief, coarse).hints
    assert hint.startswith("Your file is as light as the picture: no tone step was made.")


def test_the_right_step_the_wrong_way(task, coarse):
    brief, answer = task
    (hint,) = judge(answer(-brief.lighter), brief, coarse).hints
    assert "as large a step as it should be, the wrong way" in hint


def test_another_step_is_measured_and_the_right_one_not_given_away(task, coarse):
    brief, answer = task
    wrong = next(step for step in STEPS if step not in (0, brief.lighter, -brief.lighter))
    (hint,) = judge(answer(wrong), brief, coarse).hints
    assert f"{abs(wrong):g} stops" in hint
    assert f"{abs(brief.lighter):g} stops" not in hint
    assert "not the step that the strip shows" in hint


@pytest.fixture
def again(task):
    """The right answer, saved again with other numbers or another label."""
    _, answer = task
    file = answer()
    with Image.open(file) as image:
        values, ppi = np.asarray(image), image.info["dpi"]

    def saved(change=lambda values: values, profile=None):
        return sheets.save(
            Image.fromarray(change(values)), file, float(ppi[0]), icc_profile=profile
        )

    return saved


def to(profile):
    return lambda values: transform(values, srgb_profile(), profile, dtype="u1")


def test_a_label_changed_to_a_wide_space(task, again, coarse):
    brief, _ = task
    hints = judge(again(profile=wide_profile()), brief, coarse).hints
    assert [hint for hint in hints if "the label changed (assigned)" in hint]


def test_a_translation_whose_label_was_lost(task, again, coarse):
    brief, _ = task
    hints = judge(again(to(wide_profile())), brief, coarse).hints
    assert any("carries no profile" in hint for hint in hints)
    assert any("read as sRGB" in hint for hint in hints)


def test_right_colours_in_another_space(task, again, coarse):
    brief, _ = task
    (hint,) = judge(again(to(wide_profile()), wide_profile()), brief, coarse).hints
    assert hint.startswith("The colours are right, but they stand in Quillmarsh wide RGB")


def test_the_papers_own_profile_in_the_file(task, again, coarse):
    brief, _ = task
    matt = paper("matt").data
    hints = judge(again(to(matt), matt), brief, coarse).hints
    assert any("is one of a printer" in hint and "in one place only" in hint for hint in hints)
    assert not any("tone step" in hint for hint in hints)


def test_right_numbers_without_a_profile(task, again, coarse):
    brief, _ = task
    (hint,) = judge(again(), brief, coarse).hints
    assert "carries no profile" in hint
    assert "your numbers are not colours" in hint


def test_more_colour_besides_the_step(task, again, coarse):
    brief, _ = task

    def stronger(values):
        grey = values.mean(2, keepdims=True)
        return np.clip(grey + 1.6 * (values - grey), 0, 255).astype(np.uint8)

    hints = judge(again(stronger, srgb_profile()), brief, coarse).hints
    assert any(hint.startswith("Besides the step the colours are off by") for hint in hints)


def smooth(level):
    from scipy.interpolate import PchipInterpolator

    return PchipInterpolator([0, 119, 255], [0, level, 255])(np.arange(256))


def straight(level):
    return np.interp(np.arange(256), [0, 119, 255], [0, level, 255])


def gamma(level):
    return 255 * (np.arange(256) / 255) ** (np.log(level / 255) / np.log(119 / 255))


def with_contrast(level):
    return level + 1.5 * (smooth(level) - level)


@pytest.fixture
def by_hand(here, pictures, coarse, tmp_path):
    """A file made with a curve through the point on the card of a step, and its brief."""

    def make(curve, step):
        names = (f"Reader {number}" for number in range(99))
        briefs = (colour_brief(name, pictures, coarse) for name in names)
        brief = next(each for each in briefs if each.lighter == step)
        levels = np.clip(curve(curve_levels()[step]), 0, 255).round().astype(np.uint8)
        picture = Image.open(brief.picture).convert("RGB")
        image = sheets.by_hand(Image.fromarray(levels[np.asarray(picture)]), brief.raster)
        return judge(sheets.save(image, tmp_path / f"{brief.stem}.tif", 60), brief, coarse)

    return make


@pytest.mark.parametrize("step", [-0.3, 0.9])
@pytest.mark.parametrize("curve", [smooth, straight, gamma])
def test_any_curve_through_black_white_and_the_point_on_the_card_passes(by_hand, curve, step):
    """As editors draw it: smooth, with straight lines, or as a gamma."""
    assert by_hand(curve, step).hints == ()


def test_more_contrast_besides_the_step(by_hand):
    (hint,) = by_hand(with_contrast, 0.6).hints
    assert hint.startswith("Middle grey is as light as it should be, but other tones")


# Measuring a step


@pytest.mark.parametrize("step", [-1.5, -0.3, 0, 0.3, 0.9, 2])
def test_a_step_is_measured_back(step):
    was = np.linspace(0.02, 0.6, 200)
    times = 2**step
    slope = times * (1 - MIDDLE) / (1 - times * MIDDLE)
    now = slope * was / (1 + (slope - 1) * was)
    assert toned.step_between(was, now) == pytest.approx(step, abs=1e-3)


def test_where_nothing_tells_there_is_no_step():
    assert toned.step_between(np.zeros(9), np.ones(9)) == 0
