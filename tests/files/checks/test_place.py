"""What the place of a picture is called, and what is told where it has no name."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labkit.errors import LabError
from labkit.files.checks.place import layout_of, place_findings
from labkit.files.look.look import Seen
from labkit.geometry.layout import PLACES, place
from labkit.geometry.length import inches
from labkit.geometry.paper import find_sheet
from labkit.geometry.pixelbox import PixelBox
from tests.files.sheets import shipped

ROOM = shipped()
PPI = Fraction(300)
SHEET = find_sheet("13x19in")
WHITE = 255, 255, 255


def told(box=None, sheet=SHEET, *, is_ours=False, surround=WHITE, **seen):
    """What is found of a picture in ``box`` (left, top, width, height in pixels at 300 ppi)."""
    looked = Seen(box and PixelBox(*box), surround, **seen)
    layout = layout_of(looked, sheet, PPI, ROOM)
    return list(place_findings(layout, looked, PPI, ROOM, is_ours=is_ours))


def codes(findings) -> list[tuple[str, str]]:
    return [(item.code, item.grade) for item in findings]


@pytest.mark.parametrize(
    ("box", "words"),
    [
        # 12 × 8 in on 13 × 19 in: centred with 5 1/2 in above and below
        ((150, 1650, 3600, 2400), "centred"),
        # the spare 11 in divided 2 : 3, 4.4 in above: Gage, Applied Design for Printers (1920), Fig. 9–10
        ((150, 1320, 3600, 2400), "at the optical centre: the white above and below is as 2 to 3"),
        # a 12 in square 1/2 in from the left and the top: one cut 13 in from the top (common practice)
        (
            (150, 150, 3600, 3600),
            "even on three sides; one cut 13 in (330.2 mm) from the top leaves equal borders all round",
        ),
        ((150, 150, 3600, 5400), "centred, with equal borders all round"),
        ((151, 1650, 3600, 2400), "centred"),
    ],
)
def test_a_place_is_called_by_its_name(box, words):
    [found] = told(box)
    assert (found.code, found.grade) == ("place", "fine")
    assert found.found == f"the picture is {words}"


def test_a_few_pixels_off_within_the_tolerance_is_told_but_fine():
    """1/64 in is 4.7 px at 300 ppi."""
    [found] = told((153, 1650, 3600, 2400))
    assert (found.code, found.grade) == ("off-centre", "fine")
    assert "3 px, 0.01 in (0.3 mm), off the centre" in found.found


def test_some_pixels_off_was_probably_meant_to_be_centred():
    [found] = told((170, 1650, 3600, 2400))
    assert (found.code, found.grade) == ("off-centre", "look")
    assert found.found.startswith("the picture is 20 px, 0.067 in (1.7 mm), off")
    assert found.expected.startswith("left 1/2 in (12.7 mm), top 5 1/2 in")


def test_no_rule_is_a_question_unless_prepare_was_asked_for_it():
    box = 400, 300, 2400, 2400
    assert codes(told(box)) == [("unusual-place", "look")]
    assert codes(told(box, is_ours=True)) == [("place", "fine")]


@pytest.mark.parametrize(
    ("box", "sides"),
    [
        ((0, 1650, 3900, 2400), "left and right"),
        ((0, 0, 3900, 5700), "left, top, right and bottom"),
        ((150, 30, 3600, 5400), "top"),
    ],
)
def test_nearer_to_the_edge_than_the_printer_prints(box, sides):
    """The first printer cannot reach 4 mm left and right, 3 above, 7 below: 47, 35 and 83 px."""
    found = next(item for item in told(box) if item.code == "unprintable")
    assert found.grade == "stop"
    assert f"of the {sides} edge" in found.found


def test_a_picture_a_fraction_of_a_pixel_over_the_edge_comes_to_the_edge():
    """A3 is 3507.87 px wide at 300 ppi: a file of 3508 px has its last pixel partly beyond."""
    [found] = [i for i in told((0, 0, 3508, 4961), find_sheet("A3")) if i.code == "unprintable"]
    assert "within 0 in (0 mm) of" in found.found
    assert "-" not in found.found


def test_a_sheet_that_would_print_turned_half_round():
    """The printer keeps 7 mm below, 83 px, and 3 above, 35 px: with 40 below and 90 above it fits turned."""
    [found] = [item for item in told((150, 90, 3600, 5570)) if item.code == "unprintable"]
    assert "bottom edge" in found.found
    assert found.remedy.startswith("Turn the whole sheet half round")
    [found] = [item for item in told((150, 40, 3600, 5620)) if item.code == "unprintable"]
    assert found.remedy.startswith("Leave a wider border")


def test_one_pixel_over_the_unprintable_edge_is_a_rounding():
    assert "unprintable" not in dict(codes(told((47, 1650, 3806, 2400))))
    assert "unprintable" in dict(codes(told((45, 1650, 3810, 2400))))


def test_trim_and_bleed_are_read_off_the_corner_marks():
    """11 × 17 in centred on 13 × 19 in with 1/8 in of bleed: 37.5 px."""
    cut = 300.0, 300.0, 3600.0, 5400.0
    found = told((262, 262, 3376, 5176), cut=cut)
    assert codes(found) == [("trim", "fine")]
    assert "11 × 17 in (279.4 × 431.8 mm)" in found[0].found


def test_a_picture_that_stops_short_of_the_bleed():
    cut = 300.0, 300.0, 3600.0, 5400.0
    found = told((290, 262, 3348, 5176), cut=cut)
    short = [item for item in found if item.code == "bleed-short"]
    assert [(item.side, item.grade) for item in short] == [("left", "stop")]
    assert "0.092 in (2.3 mm) short of the bleed on the left" in short[0].found


@pytest.mark.parametrize(
    ("surround", "code"),
    [
        ((250, 250, 250), "surround"),
        ((255, 255, 252), "surround"),
        ((20, 20, 20), "surround-colour"),
        ((250, 240, 250), "surround-colour"),
    ],
)
def test_paper_that_is_not_white(surround, code):
    found = told((150, 1650, 3600, 2400), surround=surround)
    assert (code, "look") in codes(found)
    assert str(surround) in next(item.found for item in found if item.code == code)


def test_white_paper_is_not_told():
    assert codes(told((150, 1650, 3600, 2400))) == [("place", "fine")]


def test_stray_marks_are_counted_and_the_largest_told():
    strays = tuple(PixelBox(100, 5000 + 60 * at, 300 - at, 30) for at in range(7))
    found = next(
        item for item in told((150, 1650, 3600, 2400), strays=strays) if item.code == "stray-marks"
    )
    assert found.grade == "look"
    assert found.found.startswith(
        "7 marks outside the picture: 1 × 0.1 in (25.4 × 2.5 mm) at 0.333 in (8.5 mm) from the left and "
    )
    assert found.found.endswith("; and 2 more")


def test_a_light_edge_is_told_as_a_guess():
    found = told((150, 1650, 3600, 2400), light_edges=("top", "left"))
    assert codes(found) == [("edge-unclear", "look"), ("place", "fine")]
    askew = told((170, 700, 3600, 2400), light_edges=("top",))  # no place to judge by such an edge
    assert codes(askew) == [("edge-unclear", "look"), ("place", "fine")]


@settings(deadline=None)
@given(
    at=st.sampled_from(PLACES),
    wide=st.integers(2, 48),
    high=st.integers(2, 70),
    turned=st.booleans(),
)
def test_whatever_is_put_at_a_named_place_is_found_there(at, wide, high, turned):
    sheet = SHEET.turned() if turned else SHEET
    size = inches(Fraction(wide, 4)), inches(Fraction(high, 4))
    try:
        left, top = place(size, sheet, at, least_top=ROOM.unprintable(sheet).top)
    except LabError:
        return
    box = tuple(each.pixels(PPI) for each in (left, top, *size))
    found = [item for item in told(box, sheet) if item.code != "unprintable"]
    assert codes(found) == [("place", "fine")]


@pytest.mark.parametrize("edge", [20, 40, 355])
def test_a_picture_whose_own_edge_is_white_may_go_on_unseen_and_the_words_say_so(edge):
    """Its upper rows are as white as the paper, so that nobody can tell where it begins: all that is seen
    of a picture in the centre is lower by that much."""
    [found] = told((150, 1650 + edge, 3600, 2400 - edge))
    assert found.grade == "look"
    assert "If the picture itself is white along an edge, it may go on there" in found.why


def test_of_a_picture_over_the_whole_sheet_no_paper_is_told():
    found = told((0, 0, 3900, 5700), surround=(90, 60, 30))
    assert {code for code, _ in codes(found)} == {"unprintable", "place"}


def test_nobody_is_asked_whether_a_whole_sheet_lies_where_it_should():
    """A3 at 300 ppi is 3507.9 × 4960.6 pixels: the last of 3508 × 4961 reaches beyond the sheet."""
    found = told((0, 0, 3508, 4961), sheet=find_sheet("A3"), surround=(90, 60, 30))
    assert {code for code, _ in codes(found)} == {"unprintable", "place"}
    assert "-" not in found[0].found


def test_a_picture_that_stands_askew_is_told_by_its_turn_alone():
    found = told((170, 700, 3600, 2400), askew=-1.254, light_edges=("top",))
    assert codes(found) == [("askew", "look"), ("place", "fine")]
    assert found[0].found == ("the picture is not straight: it is turned about 1.25° anticlockwise")
    assert found[0].remedy.startswith("Turn it 1.25° clockwise")


def test_the_letters_of_a_caption_are_told_as_a_line():
    letters = [PixelBox(1000 + 40 * at, 4300 + at % 3, 30, 40 - at % 3) for at in range(12)]
    word = PixelBox(1000 + 40 * 12 + 60, 4300, 200, 42)
    dust = PixelBox(3000, 200, 9, 9)
    found = told((150, 1650, 3600, 2400), strays=(word, *letters, dust))
    [strays] = [item.found for item in found if item.code == "stray-marks"]
    assert strays.startswith(
        "14 marks outside the picture: 13 in a line, like letters, 2.467 × 0.14 in"
    )
    assert strays.count(" from the top") == 2


def test_a_line_along_the_edge_of_the_sheet_is_called_so():
    found = told((150, 1650, 3600, 2400), strays=(PixelBox(0, 0, 3900, 5700),))
    assert "one mark outside the picture: a line along the edge of the sheet, " in found[-1].found


def test_white_of_other_colours_may_be_rounded():
    looked = Seen(PixelBox(150, 1650, 3600, 2400), (254, 255, 253))
    layout = layout_of(looked, SHEET, PPI, ROOM)
    for white, told_ in ((255, ["place", "surround"]), (252, ["place"])):
        found = place_findings(layout, looked, PPI, ROOM, is_ours=False, white=white)
        assert [item.code for item in found] == told_


def test_marks_that_differ_in_height_are_no_line_of_letters():
    hair, specks = PixelBox(300, 4300, 4, 1000), [PixelBox(x, 4700, 8, 8) for x in (2000, 3600)]
    found = told((150, 1650, 3600, 2400), strays=(hair, *specks))
    assert "in a line" not in found[-1].found
    rim = PixelBox(0, 0, 3900, 5700)
    found = told((150, 1650, 3600, 2400), strays=(rim, PixelBox(3000, 200, 40, 40)))
    assert found[-1].found.count(" from the top") == 2


def test_a_line_along_the_edge_of_a_sheet_in_millimetres():
    sheet = find_sheet("A4")  # 2480.3 × 3507.9 px
    found = told((400, 1000, 1680, 1500), sheet=sheet, strays=(PixelBox(0, 0, 2480, 3508),))
    assert "a line along the edge of the sheet, " in found[-1].found
