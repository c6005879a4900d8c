"""A print on every sheet and on every roll: to one scale, and as the figures say."""

import pytest

from labkit.drawing.stock import Laid, called, draw_rolls, draw_stock, short
from labkit.drawing.style import WIDTH
from labkit.geometry.box import Edges
from labkit.geometry.holding import RollCut, excess
from labkit.geometry.length import ZERO, inches, length, millimetres
from labkit.geometry.paper import find_sheet
from tests.drawing.drawn import Drawn

EDGES = Edges(left=length("4mm"), top=length("3mm"), right=length("4mm"), bottom=length("7mm"))
NAMES = ("letter", "A4", "A3", "11x17in", "13x19in")
PRINT = inches(12), inches(8)


def stock(*, turned=False, names=NAMES, size=PRINT, border=ZERO, smallest="11x17in"):
    found = []
    for sheet in map(find_sheet, names):
        lying = sheet.turned() if turned else sheet
        edges = EDGES.turned() if turned else EDGES
        lacking = excess(size, lying, edges, border)
        found.append(Laid(lying, edges, lacking, turned and sheet.name == smallest))
    return found


def drawn(laid=None, size=PRINT, border=ZERO, units="in", words="Five sheets."):
    made = draw_stock(
        size, laid or stock(), border=border, units=units, prefix="stock", words=words
    )
    return Drawn(made, "stock")


def inside(made):
    wide, high = made.size
    assert wide == WIDTH
    for ident in [each for each in made.by_id if each.isdigit()]:
        left, top, across, down = made.box(ident)
        assert left >= 16 - 0.1
        assert left + across <= WIDTH - 16 + 0.1
        assert top >= 40
        assert top + down <= high - 50


@pytest.mark.parametrize("turned", [False, True])
def test_every_sheet_is_to_one_scale_and_stays_inside(turned):
    laid = stock(turned=turned)
    made = drawn(laid)
    scale = float(made.root.get("data-unit-scale"))
    for number, each in enumerate(laid):
        _, _, wide, high = made.box(str(number))
        assert wide == pytest.approx(float(each.sheet.width) * scale, abs=0.01)
        assert high == pytest.approx(float(each.sheet.height) * scale, abs=0.01)
    inside(made)


def test_turning_the_sheets_leaves_the_scale():
    upright, turned = drawn(), drawn(stock(turned=True))
    assert upright.root.get("data-unit-scale") == turned.root.get("data-unit-scale")


def test_no_two_sheets_overlap():
    for laid in (stock(), stock(turned=True)):
        made = drawn(laid)
        boxes = [made.box(str(number)) for number in range(5)]
        for number, one in enumerate(boxes):
            for other in boxes[number + 1 :]:
                beside = one[0] + one[2] < other[0] or other[0] + other[2] < one[0]
                assert beside or one[1] + one[3] < other[1] or other[1] + other[3] < one[1]


def test_the_print_lies_in_the_middle_of_a_sheet_that_holds_it():
    made = drawn(stock(turned=True))
    scale = float(made.root.get("data-unit-scale"))
    sheet, photo = made.box("3"), made.box("3-frame")
    assert photo[2:] == pytest.approx((12 * scale, 8 * scale), abs=0.01)
    assert photo[0] - sheet[0] == pytest.approx(2.5 * scale, abs=0.02)  # 17 less 12, halved
    assert photo[1] - sheet[1] == pytest.approx(1.5 * scale, abs=0.02)


def test_only_sheets_that_hold_it_wait_for_the_photo():
    made = drawn(stock(turned=True))
    assert {each for each in made.by_id if each.endswith("photo")} == {
        "2-photo",
        "3-photo",
        "4-photo",
    }
    assert {each for each in made.by_id if each.endswith("off")} == {"0-off", "1-off"}
    assert "stroke-dasharray" in made.by_id["0-off"].attrib


def test_what_comes_of_it_stands_below():
    """Letter upright: 12 in and twice 4 mm on 8.5 in; A3 on its side: 96 of 193.35 in²."""
    texts = drawn().texts
    assert texts[texts.index("letter") :][:3] == ["letter", "8.5 × 11 in", "3.815 in too wide"]
    texts = drawn(stock(turned=True)).texts
    assert texts[texts.index("A3") :][:3] == ["A3", "420 × 297 mm", "holds it, 50% left"]
    assert texts[texts.index("11 × 17 in") :][2:4] == [
        "holds it, 49% left",
        "the smallest that does",
    ]
    assert texts.count("the smallest that does") == 1


def test_both_ways_too_small_is_told_in_two_lines():
    fate = stock(size=(inches(20), inches(14)))[1].fate((inches(20), inches(14)), "mm")
    # 508 + 8 on 210, 355.6 + 14 on 297
    assert fate == ("306 mm too wide", "72.6 mm too high")


def test_the_least_border_is_drawn_where_there_is_one():
    assert "least border" not in drawn().texts
    made = drawn(border=inches(1))
    assert "least border" in made.texts
    assert (
        made.svg.count('stroke-dasharray="2 3"') == 2
    )  # the one sheet that holds it, and the legend


def test_of_a_print_that_is_too_large_only_what_the_paper_would_take_is_drawn():
    huge = inches(20), inches(20)
    made = drawn(stock(size=huge), size=huge)
    for number in range(5):
        assert made.box(f"{number}-off") == pytest.approx(made.box(f"{number}"), abs=0.02)


def test_a_print_never_leaves_its_own_cell():
    made = drawn(stock(size=(inches(20), inches(20))), size=(inches(20), inches(20)))
    for number in range(5):
        clip = made.by_id[f"{number}-cell"][0]
        left, wide = float(clip.get("x")), float(clip.get("width"))
        sheet = made.box(str(number))
        assert left < sheet[0]
        assert sheet[0] + sheet[2] < left + wide


@pytest.mark.parametrize("names", [("13x19in",), ("A0", "A6"), NAMES * 2])
def test_any_stock_finds_room(names):
    laid = stock(names=names)
    inside(drawn(laid))


def test_words_are_those_given():
    assert drawn(words="a < b").words == "a < b"
    assert drawn().svg == drawn().svg


# Rolls

WIDTHS = (inches(17), inches(24), inches(44))
EVEN = Edges(*[millimetres(5)] * 4)


def rolls(size=(inches(20), inches(30)), is_turned=False, widths=WIDTHS, units="in"):
    cuts = [RollCut(size, width, EVEN) for width in widths]
    made = draw_rolls(
        cuts, inches(60), is_turned=is_turned, units=units, prefix="rolls", words="Three rolls."
    )
    return Drawn(made, "rolls")


def test_rolls_are_to_one_scale_and_cut_where_the_piece_ends():
    made = rolls()
    scale = float(made.root.get("data-unit-scale"))
    for number, width in enumerate(WIDTHS):
        left, top, wide, high = made.box(str(number))
        assert wide == pytest.approx(float(width) * scale, abs=0.01)
        assert high == pytest.approx(60 * scale, abs=0.01)
        if number == 0:
            continue
        cut = float(made.by_id[f"{number}-cut"].get("d").split()[1].split("h")[0])
        assert cut - top == pytest.approx((30 + 10 / 25.4) * scale, abs=0.02)
        frame = made.box(f"{number}-frame")
        assert frame[2:] == pytest.approx((20 * scale, 30 * scale), abs=0.01)
        assert frame[0] - left == pytest.approx((wide - frame[2]) / 2, abs=0.02)
    inside(made)


def test_a_roll_too_narrow_is_told_and_not_cut():
    made = rolls()
    assert "0-cut" not in made.by_id
    assert "stroke-dasharray" in made.by_id["0-off"].attrib
    # 20 in, and 17 in less 10 mm
    assert "3.394 in too wide" in made.texts
    assert "86.2 mm too wide" in rolls(units="mm").texts
    assert "cut off at 772 mm" in made.texts


def test_a_print_on_its_side_turns_the_photo_and_does_not_stretch_it():
    made = rolls(is_turned=True)
    scale = float(made.root.get("data-unit-scale"))
    assert made.box("1-frame") == pytest.approx((0, 0, 30 * scale, 20 * scale), abs=0.01)
    assert "rotate(90)" in made.svg
    assert "rotate(90)" not in rolls().svg


@pytest.mark.parametrize("widths", [(inches(64),), (inches(17),), WIDTHS * 3])
def test_any_rolls_find_room(widths):
    inside(rolls(size=(inches(10), inches(12)), widths=widths))


# Words


def test_sheets_are_called_as_at_the_counter():
    assert [called(find_sheet(name)) for name in ("A4", "13x19in", "19x13in", "letter")] == [
        "A4",
        "13 × 19 in",
        "13 × 19 in",
        "letter",
    ]
    assert short(inches("0.5"), "in") == "1/2 in"
    assert short(inches("0.5"), "mm") == "12.7 mm"
