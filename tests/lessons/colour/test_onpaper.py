"""Soft proofs of two papers, and which colours a paper moves."""

from itertools import permutations

import numpy as np
import pytest

from labkit.files.pixels.conversion import srgb_profile
from labkit.files.pixels.proof import proof
from labkit.lessons.colour import onpaper
from labkit.lessons.colour.onpaper import SWATCHES, Proofed, proof_readings, suits
from labkit.teaching.papers import paper
from tests.lessons.hands import choose, is_right, said

RIGHT = tuple(SWATCHES)


def papers(gloss: float, matt: float) -> dict:
    moved = {"relative": 4.1, "perceptual": 12.0}
    each = {"gloss": gloss, "matt": matt}
    return {
        "shape": [300, 200],
        "papers": {
            name: {"lost": lost, "dark": 0.06, "moved": moved} for name, lost in each.items()
        },
    }


def test_the_readings():
    assert dict(proof_readings(Proofed("matt"), papers(0.001, 0.14))) == {
        "cannot be shown": "14%",
        "because it is too dark": "6%",
        "relative moves by, ΔE2000": "4.1",
        "perceptual moves by, ΔE2000": "far",
        "white, L* (100 reflects all)": "93",
        "deepest black, L*": "17",
        "measured on": "a copy of 300 × 200 pixels",
    }
    assert dict(proof_readings(Proofed("gloss"), papers(0.001, 0.14)))["cannot be shown"] == (
        "less than 1%"
    )


@pytest.mark.parametrize(
    ("gloss", "matt", "better"), [(0.01, 0.2, "gloss"), (0.3, 0.1, "matt"), (0.05, 0.06, "")]
)
def test_which_paper_suits(gloss, matt, better):
    assert suits(papers(gloss, matt)) == better


def test_every_control_changes_the_drawing():
    app = onpaper.proofs()
    for name, value in (("look", "lost"), ("white", ", own white"), ("paper", "gloss")):
        before = app.view.drawing
        choose(app, name, value)
        assert app.view.drawing != before, name
    assert "hatched" in app.sentence
    assert "its own white" in app.sentence


def test_our_harbour_loses_its_darks_on_matt_and_hardly_anything_on_gloss():
    app = onpaper.proofs()
    assert 0.05 < float(app.readings["cannot be shown"].rstrip("%")) / 100 < 0.3
    relative, perceptual = (
        float(app.readings[f"{intent} moves by, ΔE2000"]) for intent in ("relative", "perceptual")
    )
    assert perceptual > relative
    choose(app, "paper", "gloss")
    assert app.readings["cannot be shown"] == "less than 1%"
    assert onpaper.two_papers().readings["shows more of this picture"] == "gloss"


def test_what_a_print_costs_on_the_rooms_papers_of_both_surfaces():
    """The prices are those of the shipped room's file."""
    readings = onpaper.two_papers().readings
    assert readings["gloss: letter on pearl 260"] == "£1.60"
    assert readings["matt: letter on cotton matt 300"] == "£2.40"


def test_both_papers_are_drawn_and_can_be_hatched():
    app = onpaper.two_papers()
    before = app.view.drawing
    choose(app, "look", "lost")
    assert app.view.drawing != before


def test_the_swatches_are_in_the_order_in_which_the_matt_paper_moves_them():
    """The figures that the answer tells."""
    colours = np.array([list(SWATCHES.values())], np.uint8)
    moved = proof(colours, srgb_profile(), paper("matt")).moved[0]
    assert [f"{each:.1f}" for each in moved] == ["0.4", "4.6", "10.5"]


@pytest.mark.parametrize("given", list(permutations(RIGHT)))
def test_which_colours_a_matt_paper_moves(given):
    question = onpaper.which_moves()
    for entry, name in zip(question.entries, given, strict=True):
        entry.value = name
    question.buttons.children[0].click()
    assert is_right(question) == (given == RIGHT)
    assert len(said(question)) > 30
    for word in ("0.4", "4.6", "10.5"):
        assert word not in question.still
