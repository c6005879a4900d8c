"""The blind test: an order nobody knows, rankings as people type them, and what came of luck."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.teaching.blind import LETTERS, PPIS, Pair, blind_order, read_rankings, tell_apart
from tests.geometry.refused import refusal

ORDER = (100, 300, 72, 240, 150, 200)  # A to F
BEST = "BDFEAC"


def test_the_order_is_the_words_own():
    assert blind_order("tuesday") == blind_order(" Tuesday")
    assert sorted(blind_order("tuesday")) == sorted(PPIS)
    assert len({blind_order(f"word {number}") for number in range(50)}) > 40


def test_every_sample_can_be_any_letter():
    orders = [blind_order(f"word {number}") for number in range(200)]
    assert all({order[place] for order in orders} == set(PPIS) for place in range(6))


def test_without_a_word_there_is_no_order():
    assert "give" in refusal(blind_order, "  ")


@pytest.mark.parametrize("typed", ["B D F E A C", "bdfeac", "b, d; f-e a.c", "\n BDFEAC \n\n"])
def test_rankings_are_read_however_they_are_typed(typed):
    assert read_rankings(typed) == [BEST]


def test_one_ranking_a_line():
    assert read_rankings("ABCDEF\nFEDCBA\n") == ["ABCDEF", "FEDCBA"]
    assert read_rankings("") == []


@pytest.mark.parametrize("typed", ["ABCDE", "ABCDEE", "ABCDEFG", "123", "ABCDEF FEDCBA"])
def test_what_is_no_ranking_is_told(typed):
    assert refusal(read_rankings, typed) == (
        f"“{typed}” is no ranking: give each letter from A to F once, sharpest first, such as "
        "C A F B E D."
    )


def test_a_perfect_ranking_has_every_pair_right():
    assert [(p.finer, p.coarser, p.right, p.of) for p in tell_apart([BEST], ORDER)] == [
        (300, 240, 1, 1), (240, 200, 1, 1), (200, 150, 1, 1), (150, 100, 1, 1), (100, 72, 1, 1),
    ]  # fmt: skip


def test_one_swap_is_one_pair_wrong():
    swapped = "DBFEAC"  # 240 before 300
    assert [pair.right for pair in tell_apart([swapped, BEST, BEST], ORDER)] == [2, 3, 3, 3, 3]


@given(st.lists(st.permutations(LETTERS), max_size=6), st.permutations(PPIS))
def test_a_ranking_and_its_reverse_share_every_pair(rankings, order):
    there = tell_apart(["".join(each) for each in rankings], order)
    back = tell_apart(["".join(reversed(each)) for each in rankings], order)
    assert all(
        one.right + other.right == len(rankings) for one, other in zip(there, back, strict=True)
    )


@pytest.mark.parametrize(
    ("right", "of", "luck"),
    [
        (1, 1, 1 / 2),
        (0, 3, 1),
        (5, 5, 1 / 32),
        (4, 5, 6 / 32),
        (9, 10, 11 / 1024),
        (8, 10, 56 / 1024),
    ],
)
def test_how_likely_it_is_by_tossing_a_coin(right, of, luck):
    """The binomial distribution, counted by hand."""
    assert Pair(300, 240, right, of).by_luck == pytest.approx(luck)


@pytest.mark.parametrize(
    ("right", "of", "seen"), [(4, 4, False), (5, 5, True), (8, 10, False), (9, 10, True)]
)
def test_told_apart_is_what_luck_does_not_bring(right, of, seen):
    assert Pair(300, 240, right, of).told_apart == seen


def test_what_came_out_in_words():
    assert Pair(300, 240, 9, 10).sentence() == (
        "9 of 10 right, told apart (guessing does as well 1% of the time)"
    )
    assert Pair(300, 240, 1, 1).sentence() == (
        "1 of 1 right, may be luck (guessing does as well 50% of the time)"
    )
