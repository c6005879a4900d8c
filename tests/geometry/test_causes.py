"""Causes by name: each from figures worked by hand, and none where nothing is seen."""

from fractions import Fraction

import pytest

from labkit.geometry.box import Edges
from labkit.geometry.causes import likely_causes
from labkit.geometry.length import inches, length, millimetres
from labkit.geometry.measured import (
    Errors,
    Reading,
    offset_across,
    offset_along,
    scale_error,
    skew,
)

SIZE = inches(13), inches(19)
FEED = Edges(millimetres(4), millimetres(3), millimetres(4), millimetres(7))
PAPERS = {"A3": (millimetres(297), millimetres(420)), "11x17in": (inches(11), inches(17))}


def scales(across, along) -> Errors:
    """A bar of 12 in and one of 18 in that came out so long."""
    return Errors(
        scale_error([Reading(inches(12), length(across))] * 3),
        scale_error([Reading(inches(18), length(along))] * 3),
    )


def moved(across_mm, along_mm, slope_mm=None, sound=None) -> Errors:
    """A print of the right scale that lies so far to the right and down, and leans over 17 in."""
    inset, sound = inches(1), sound or scales("12in", "18in")
    right, down = millimetres(across_mm), millimetres(along_mm)
    across = offset_across([inset + right] * 3, [inset - right] * 3, sound.across, SIZE[0])
    along = offset_along([inset * (1 + sound.along.mean) + down] * 3, inset, sound.along)
    leans = skew([inset] * 3, [inset + millimetres(slope_mm)] * 3, inches(17)) if slope_mm else None
    return Errors(sound.across, sound.along, across, along, leans)


def names(errors, **more) -> list[str]:
    return [each.name for each in likely_causes(errors, SIZE, FEED, papers=PAPERS, ppi=254, **more)]


def test_a_sheet_scaled_to_the_printable_area():
    """(330.2 - 8) / 330.2 = 0.97577: 12 in come out as 11.709 in, 18 in as 17.564 in."""
    assert float(inches(12) * (Fraction("322.2") / Fraction("330.2"))) == pytest.approx(
        11.709, abs=5e-4
    )
    (cause,) = likely_causes(scales("11.71in", "17.56in"), SIZE, FEED, papers=PAPERS, ppi=254)
    assert cause.name == "scaled to the printable area"
    assert "97.6 %" in cause.told
    assert "fitting to the page off" in cause.mend


@pytest.mark.parametrize(
    ("across", "along", "cause"),
    [
        # fitting 13 × 19 in into A3: 420 / 482.6 = 0.8703: 10.443 and 15.665 in
        ("10.44in", "15.67in", "scaled to A3"),
        # into 11 × 17 in: 11 / 13 = 0.8462; nearer than 254 / 300 = 0.8467 by how it was measured
        ("10.154in", "15.231in", "scaled to 11x17in"),
        ("12.7in", "19.05in", "the file's resolution was not read"),  # 254 / 240 = 1.0583
        ("12.24in", "18.36in", "enlarged to print without borders"),  # 2 % both ways
        ("11.4in", "17.1in", "a scale is set"),  # 95 %
        ("12in", "17.9in", "the feed"),
        ("11.9in", "18in", "the paper has moved"),
    ],
)
def test_scales_by_their_causes(across, along, cause):
    assert names(scales(across, along))[0] == cause


def test_two_causes_that_cannot_be_told_apart_are_both_named():
    """11 / 13 = 0.8462 and 254 / 300 = 0.8467 differ by less than a ruler sees on 12 in."""
    told = names(scales("10.157in", "15.236in"))
    assert set(told) == {"scaled to 11x17in", "the file's resolution was not read"}


def test_what_the_ruler_cannot_see_has_no_cause():
    assert names(scales("12.01in", "17.99in")) == []
    assert names(moved(0.2, -0.2)) == []


@pytest.mark.parametrize(
    ("right", "down", "cause"),
    [
        # the printer reaches to 3 mm above and to 7 mm below: the middle of that is 2 mm higher
        (0, -2, "centred on what can be printed"),
        (4, 3, "begun where printing begins"),
        (1, 1, "loaded to one side"),
    ],
)
def test_places_by_their_causes(right, down, cause):
    assert names(moved(right, down)) == [cause]


def test_a_feed_error_and_an_offset_are_told_apart():
    short = scales("12in", "17.91in")
    assert names(moved(0, 0, sound=short)) == ["the feed"]
    assert names(moved(0, 1, sound=short)) == ["the feed", "loaded to one side"]
    assert names(moved(0, -2, sound=short)) == ["the feed", "centred on what can be printed"]


def test_a_scale_that_is_set_comes_before_the_place():
    """About which point a program scales is not known: 95 % about the sheet's middle begins
    0.05 × 9.5 in = 12 mm too low, and that is no offset of the printer."""
    assert names(moved(0, 12, sound=scales("11.4in", "17.1in"))) == ["a scale is set"]


def test_askew():
    assert names(moved(0, 0, slope_mm=2)) == ["gone in askew"]
    assert names(moved(0, 0, slope_mm="0.3")) == []


def test_edges_alike_on_all_sides_explain_no_offset():
    told = likely_causes(moved(1, 0), SIZE, Edges(), ppi=254)
    assert [each.name for each in told] == ["loaded to one side"]
