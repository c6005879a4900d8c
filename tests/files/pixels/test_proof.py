"""Soft proofs on the invented papers, whose colours are known without any profile."""

from dataclasses import replace

import numpy as np
import pytest

from labkit.errors import LabError
from labkit.files.pixels.conversion import srgb_profile
from labkit.files.pixels.difference import delta_e
from labkit.files.pixels.lab import D50, xyz_of_lab
from labkit.files.pixels.paperprofile import paper_profile
from labkit.files.pixels.proof import FAR, MOST_PIXELS, proof, told
from labkit.files.pixels.transform import lab_of
from labkit.teaching.profiles import GLOSS, MATT
from labkit.teaching.profiles.make import PAPERS
from tests.files import make, srgb

PAPER = {"gloss": paper_profile(GLOSS), "matt": paper_profile(MATT)}
SRGB = srgb_profile()
RAMP = np.tile(np.linspace(0, 1, 40)[None, :, None], (4, 1, 3)).astype(np.float32)

each_paper = pytest.mark.parametrize("name", PAPER)


def patch(*colours) -> np.ndarray:
    """One row of colours, 8 bits."""
    return np.array([colours], np.uint8)


@each_paper
def test_the_nearest_a_paper_shows_by_the_model_that_made_it(name):
    """Its own equations tell what cannot be shown, but for colours near the limit of what counts."""
    rgb = np.random.default_rng(4).random((40, 40, 3)).astype(np.float32)
    made = proof(rgb, SRGB, PAPER[name])
    inkjet = PAPERS[f"{name}.icc"].inkjet
    lab = lab_of(rgb, SRGB).reshape(-1, 3)
    off = delta_e(inkjet.lab(inkjet.device(lab)), lab).reshape(40, 40)
    assert np.mean(made.lost[off > 6]) > 0.99
    assert np.mean(made.lost[off < 1]) < 0.01
    assert 0.1 < made.share < 0.9
    assert made.share == np.mean(made.lost)


@each_paper
def test_white_is_white_unless_the_papers_own_is_asked_for(name):
    white = patch((255, 255, 255))
    assert proof(white, SRGB, PAPER[name]).printed[0, 0] == pytest.approx([255] * 3, abs=1)
    made = proof(white, SRGB, PAPER[name], paper_white=True)
    assert made.printed[0, 0] == pytest.approx(srgb.of_lab(PAPER[name].white), abs=1)
    assert made.original[0, 0].tolist() == [255, 255, 255]


@each_paper
def test_black_shows_as_weak_as_the_paper_has_it(name):
    """Relative to the paper: X, Y, Z of its black over those of its white (ICC.1, annex D)."""
    made = proof(patch((0, 0, 0)), SRGB, PAPER[name], black_point=False)
    paper = PAPER[name]
    light = (
        xyz_of_lab(paper.black) / xyz_of_lab(paper.white) * D50 @ np.linalg.inv(srgb.xyz_of_rgb()).T
    )
    assert made.printed[0, 0] == pytest.approx(srgb.encoded(light) * 255, abs=1)


def test_what_is_darker_than_the_paper_is_told_apart_from_what_is_too_strong():
    made = proof(patch((0, 0, 0), (0, 255, 0), (128, 128, 128)), SRGB, PAPER["matt"])
    assert made.lost[0].tolist() == [True, True, False]
    assert made.too_dark[0].tolist() == [True, False, False]
    assert made.share == pytest.approx(2 / 3)
    assert made.share_too_dark == pytest.approx(1 / 3)


def test_what_cannot_be_shown_does_not_depend_on_the_intent():
    rgb = np.random.default_rng(4).random((20, 20, 3)).astype(np.float32)
    one, other = (proof(rgb, SRGB, PAPER["matt"], intent=i) for i in ("relative", "perceptual"))
    assert np.array_equal(one.lost, other.lost)
    assert not np.array_equal(one.printed, other.printed)


def test_black_point_compensation_keeps_the_darks_apart():
    """Relative runs together all that is darker than the paper; compensated, every step is left."""
    steps = patch(*[(v, v, v) for v in range(0, 60, 10)])
    run, kept = (
        proof(steps, SRGB, PAPER["matt"], black_point=b).printed[0, :, 0].astype(int)
        for b in (False, True)
    )
    assert np.diff(run)[0] == 0
    assert np.diff(kept).min() >= 2


def test_how_far_colours_move_is_measured_from_the_picture():
    made = proof(RAMP, SRGB, PAPER["gloss"])
    assert made.moved.shape == (4, 40)
    assert made.moved[:, -1] == pytest.approx(0, abs=0.1)  # paper white
    assert made.moved[:, 0].min() > 1  # black
    far = proof(patch((0, 255, 0)), SRGB, PAPER["matt"])
    assert far.moved.item() > FAR
    assert "move by far on average" in far.sentence()


@pytest.mark.parametrize(
    ("off", "words"), [(0.04, "0.0"), (3.26, "3.3"), (10, "10.0"), (10.01, "far")]
)
def test_above_ten_a_difference_is_far(off, words):
    assert told(off) == words


def test_a_large_picture_is_measured_on_a_smaller_copy_and_says_so():
    """Blocks of the picture are averaged, the last ones smaller."""
    rgb = np.zeros((1001, 2003, 3), np.uint16)
    rgb[::2] = 65535
    made = proof(rgb, SRGB, PAPER["gloss"])
    assert made.reduced == 2
    assert made.lost.shape == (501, 1002)
    assert made.lost.size <= MOST_PIXELS
    assert np.unique(made.original[:-1]).tolist() in ([127], [128])
    assert made.original[-1].min() == 255
    assert made.sentence().endswith("Measured on a copy reduced 2 times each way.")


def test_bands_of_rows_leave_no_seam():
    tall = np.random.default_rng(4).random((130, 3, 3)).astype(np.float32)
    whole = proof(tall, SRGB, PAPER["gloss"])
    end = proof(tall[100:], SRGB, PAPER["gloss"])
    assert np.array_equal(whole.printed[100:], end.printed)


def test_8_and_16_bits_and_floats_are_the_same_picture():
    eight = patch((10, 100, 200), (255, 0, 0))
    makes = [
        proof(v, SRGB, PAPER["matt"]) for v in (eight, eight.astype(np.uint16) * 257, eight / 255)
    ]
    for made in makes[1:]:
        assert np.array_equal(made.printed, makes[0].printed)
        assert made.moved == pytest.approx(makes[0].moved, abs=1e-3)


def test_the_sentence():
    made = proof(patch((0, 0, 0), *[(128, 128, 128)] * 3), SRGB, PAPER["matt"])
    made = replace(made, moved=np.float32([[1.0, 2.0]]))
    assert str(made) == (
        "On Quillmarsh matt (invented for teaching) (relative intent, black point compensation) 25% of the "
        "picture cannot be shown, 25% because it is too dark. Its colours move by 1.5 on average (ΔE2000)."
    )


def test_a_trace_is_less_than_one_in_a_hundred():
    few = np.full((1, 300, 3), 128, np.uint8)
    few[0, 0] = 0, 255, 0
    assert "less than 1% of the picture cannot be shown, 0% because" in str(
        proof(few, SRGB, PAPER["matt"])
    )


def test_a_profile_of_no_printer_is_refused(tmp_path):
    (tmp_path / "screen.icc").write_bytes(SRGB)
    with pytest.raises(LabError, match="is the profile of a screen"):
        proof(RAMP, SRGB, paper_profile(tmp_path / "screen.icc"))


def test_another_screen_gets_other_numbers_for_the_same_look():
    wide = make.rgb_profile(2.2)
    red = patch((200, 60, 40))
    on_wide = proof(red, SRGB, PAPER["gloss"], screen=wide)
    lab = lab_of(on_wide.printed, wide)
    plain = lab_of(proof(red, SRGB, PAPER["gloss"]).printed, SRGB)
    assert delta_e(lab, plain) < 1
    assert not np.array_equal(on_wide.printed, proof(red, SRGB, PAPER["gloss"]).printed)
