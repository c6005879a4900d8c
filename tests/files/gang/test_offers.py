"""All stock compared for one job: the cheapest named, what is left, what the roll weighs."""

from dataclasses import replace
from decimal import Decimal

import pytest

from labkit.errors import LabError
from labkit.files.gang.offers import cheapest, compare_stock
from labkit.files.gang.prints import read_prints
from labkit.files.gang.told import metres, paper_sentence, stock_sentence
from labkit.geometry.length import inches, length, millimetres
from labkit.room.laying import roll_kg
from labkit.room.rules import load_room
from tests.files.gang.prints import finished

ROOM = load_room()
RULES = {"gap": length("1/4in"), "seconds": 0.02}

pytestmark = pytest.mark.usefixtures("warm")


@pytest.fixture
def prints(tmp_path):
    files = [
        finished(tmp_path, "Ada-Brook_Boat_8x10in", (8, 10), ppi=10),
        finished(tmp_path, "Nia-Oak_Tide_5x7in", (5, 7), seed=1, ppi=10),
    ]
    return read_prints(files, ROOM)[0]


def test_the_cheapest_comes_first_and_every_stock_is_named(prints):
    offers = compare_stock(prints, ROOM, "pearl 260", **RULES)
    assert len(offers) == 4 + 5
    taking = [each for each in offers if not each.reason]
    assert [each.price for each in taking] == sorted(each.price for each in taking)
    assert {each.medium.paper.name for each in offers} == {"pearl 260"}
    for each in taking:
        assert sum(len(gang.packing.placed) for gang in each.gangs) == 2
        assert each.price == sum(gang.price(ROOM) for gang in each.gangs)
    assert "Boat does not fit" in next(each.reason for each in offers if each.reason)


def test_what_is_no_print_is_one_figure_hand_worked(prints):
    """80 and 35 of the square inches that a 24 in roll gives with its leaders and tails, row by row."""
    offers = compare_stock(prints, ROOM, "pearl 260", **RULES)
    roll = next(each for each in offers if each.medium.width == inches(24))
    [gang] = roll.gangs
    waste = 1 - 115 / (24 * float(gang.taken.inches))
    assert roll.waste == pytest.approx(waste)
    assert f"{waste:.0%} of it is no print" in paper_sentence(gang, ROOM)
    assert "waste" not in gang.sentence("in")


def test_without_a_paper_none_is_chosen_for_its_price(prints):
    """Plain paper is cheapest of all, and nobody asked for proofs: the first paper is taken."""
    offers = compare_stock(prints, ROOM, **RULES)
    assert offers[0].medium.paper.name == "plain 120"
    best = cheapest(offers, ROOM)
    own = [each for each in offers if each.medium.paper == ROOM.papers[0] and not each.reason]
    assert best.price == min(each.price for each in own)


def test_what_is_left_after_and_the_weight_hand_worked(prints):
    """24 in × 15 m of 300 g/m²: 0.6096 m × 15 m × 0.3 kg = 2.743 kg, and 0.5 kg a metre of core 0.305."""
    offers = compare_stock(prints, ROOM, "cotton matt 300", **RULES)
    roll = next(each for each in offers if each.medium.width == inches(24))
    assert roll_kg(ROOM, roll.medium) == pytest.approx(3.048, abs=0.001)
    left = metres(roll.medium.left - roll.taken, "in")
    told = stock_sentence(roll.gangs, ROOM)
    assert f"Of 49.2 ft (15 m) on the roll {left} are left" in told
    assert "3.0 kg with its core" in told
    assert "alone" not in told


def test_a_heavy_roll_is_not_lifted_alone(prints):
    """44 in × 30 m of 260 g/m²: 1.1176 m × 30 m × 0.26 kg + 0.559 kg of core = 9.28 kg."""
    offers = compare_stock(prints, ROOM, "pearl 260", **RULES)
    wide = next(each for each in offers if each.medium.width == inches(44))
    assert "9.3 kg with its core, above 9 kg: do not lift it alone" in stock_sentence(
        wide.gangs, ROOM
    )


def test_a_roll_with_too_little_left_is_no_offer(prints):
    own = ROOM.papers[0]
    rolls = tuple(replace(roll, left=millimetres(340)) for roll in own.rolls)
    room = replace(ROOM, papers=(replace(own, rolls=rolls, sheets=()), *ROOM.papers[1:]))
    many = [replace(prints[0], copies=6)]
    offers = compare_stock(many, room, **RULES)
    short = [each for each in offers if each.medium.paper.name == own.name]
    assert len(short) == 2
    assert all(each.reason for each in short)
    assert cheapest(offers, room).medium.paper.name == "pearl 260"


def test_too_few_sheets_are_no_offer(prints):
    """Of the thick board 25 sheets 13 × 19 in are left, and 40 of A3; one boat lies on each."""
    offers = compare_stock([replace(prints[0], copies=30)], ROOM, "rag board 450", **RULES)
    wanted = [each for each in offers if each.medium.width == inches(13)]
    assert "and 25 are left" in wanted[0].reason


def test_a_job_that_nothing_takes_is_refused(tmp_path):
    wall = finished(tmp_path, "Leo-Fenn_Wall_50x60in", (50, 60), ppi=2)
    prints, _ = read_prints([wall], ROOM)
    with pytest.raises(LabError, match="no stock here takes all of this job"):
        compare_stock(prints, ROOM, **RULES)


@pytest.mark.parametrize(
    ("size", "units", "told"),
    [("1500cm", "in", "49.2 ft (15 m)"), ("30m", "mm", "30 m (98.4 ft)")],
)
def test_lengths_of_roll_are_told_in_metres_and_feet(size, units, told):
    assert metres(length(size), units) == told


def test_prices_are_sums_of_hundredths(prints):
    offers = compare_stock(prints, ROOM, "plain 120", **RULES)
    assert {each.price.as_tuple().exponent for each in offers if not each.reason} == {-2}
    assert isinstance(offers[0].price, Decimal)
