import pytest

from labkit.drawing.beside import CARD, LETTER, Thing, by_text, draw_beside
from labkit.drawing.style import WIDTH
from labkit.geometry.length import inches, length
from tests.drawing.drawn import Drawn

PRINT = Thing("your print", inches(15), inches(10))
MOST = (Thing("your print", inches(45), inches(30)), LETTER, CARD)


def drawn(thing=PRINT, most=MOST, **options):
    given = {"units": "in", "prefix": "size", "title": "A print"} | options
    return Drawn(draw_beside((thing, LETTER, CARD), most, **given), given["prefix"])


def test_all_things_are_to_one_scale():
    made = drawn()
    scale = float(made.root.get("data-unit-scale"))
    for number, thing in enumerate((PRINT, LETTER, CARD)):
        _, _, wide, high = made.box(str(number))
        assert wide == pytest.approx(float(thing.width) * scale, abs=0.01)
        assert high == pytest.approx(float(thing.height) * scale, abs=0.01)


def test_a_bank_card_and_a_letter_sheet_have_their_true_ratio():
    """85.60 mm (from memory, ISO/IEC 7810) and 279.4 mm: a ratio of 0.306."""
    made = drawn()
    assert made.box("2")[2] / made.box("1")[3] == pytest.approx(0.3064, abs=0.001)


def test_they_stand_on_one_line():
    made = drawn()
    feet = [made.box(str(number))[1] + made.box(str(number))[3] for number in range(3)]
    assert feet == pytest.approx([feet[0]] * 3, abs=0.02)


def test_the_scale_stays_while_the_print_grows():
    small, large = drawn(Thing("your print", inches(2), inches(1))), drawn(MOST[0])
    assert small.root.get("data-unit-scale") == large.root.get("data-unit-scale")
    assert small.box("1") == large.box("1")
    assert small.size == large.size


@pytest.mark.parametrize("most", [(45, 30), (5, 40), (2, 1), (100, 4)])
def test_the_largest_stays_inside_and_nothing_overlaps(most):
    largest = Thing("your print", *map(inches, most))
    made = drawn(largest, (largest, LETTER, CARD))
    boxes = [made.box(str(number)) for number in range(3)]
    assert all(left >= 16 and top >= 40 for left, top, _, _ in boxes)
    assert boxes[0][0] + boxes[0][2] <= boxes[1][0]
    assert boxes[1][0] + boxes[1][2] <= boxes[2][0]
    assert boxes[2][0] + boxes[2][2] <= WIDTH - 16 + 0.1


@pytest.mark.parametrize(
    ("units", "told"),
    [
        ("in", "your print 15 × 10 in (381 × 254 mm)"),
        ("mm", "your print 381 × 254 mm (15 × 10 in)"),
    ],
)
def test_sizes_in_both_units(units, told):
    assert PRINT.words(units) == told
    assert told in drawn(units=units).words
    first, second = ("381 × 254 mm", "15 × 10 in")[:: 1 if units == "mm" else -1]
    texts = drawn(units=units).texts
    assert texts.index(first) == texts.index(second) - 1


def test_only_a_picture_waits_for_its_photo():
    made = drawn()
    assert {"0-photo"} == {ident for ident in made.by_id if ident.endswith("photo")}
    assert made.by_id["0-photo"].get("href") is None
    assert made.box("0-photo") == made.box("0")


def test_the_cards_size_is_the_standards():
    assert (CARD.width, CARD.height) == (length("85.6mm"), length("53.98mm"))
    assert by_text(LETTER, "in") == "8 1/2 × 11 in (215.9 × 279.4 mm)"


def test_the_same_drawing_every_time():
    assert drawn().svg == drawn().svg
