"""The labelled set: no clean file is stopped, in a part of it; every fault of a file's form is found, in
all of it."""

from dataclasses import replace

import pytest

from labkit.files.child.guarded import Guarded
from labkit.teaching.faults.table import FAULTS, GOOD, ODDITIES
from tests.files import labelled


@pytest.fixture(scope="module")
def room():
    return labelled.small_room()


@pytest.fixture(scope="module")
def shown(tmp_path_factory):
    """Parts of our own two pictures."""
    return labelled.pictures(tmp_path_factory.mktemp("shown"), bundled=False)


@pytest.fixture(scope="module")
def child():
    with Guarded("labkit.files.look.look") as running:
        yield running


@pytest.fixture(scope="module")
def faulty(shown, room, child, tmp_path_factory):
    """Every fault and oddity once, with what a check tells of it."""
    made = labelled.faults(tmp_path_factory.mktemp("faults"), shown, room, strengths=1)
    return [(one, labelled.look_over(one, room, child)) for one in made]


@pytest.mark.slow
def test_every_fault_of_form_is_found(faulty):
    checked = [(one, labelled.told(found)) for one, found in faulty if one.is_structural]
    assert {one.name for one, _ in checked} >= {
        "layers", "CMYK", "two pages", "cut short", "wrong resolution on the label", "an empty file",
    }  # fmt: skip
    missed = {one.name: one.codes - told for one, told in checked if one.codes - told}
    assert missed == {}


@pytest.mark.slow
def test_nothing_else_is_told_of_a_fault_of_form(faulty):
    more = {
        one.name: labelled.told(found) - one.codes - labelled.EXPECTED_TOO.get(one.name, set())
        for one, found in faulty
        if one.is_structural
    }
    assert {name: codes for name, codes in more.items() if codes} == {}


@pytest.mark.slow
def test_only_what_a_person_must_decide_is_asked(faulty):
    """What the check stops, no worker prints; what it only wants looked at, none sends back unasked."""
    answers = {each.name: each.answer for each in (*FAULTS, *ODDITIES)}
    stopped = {one.name for one, found in faulty if found.verdict == "stop"} & answers.keys()
    assert {answers[name] for name in stopped} == {"send back"}
    named = {one.name for one, found in faulty if found.verdict == "fine"} & answers.keys()
    assert {answers[name] for name in named} <= {"ask"}


@pytest.mark.parametrize("every", [5, pytest.param(1, marks=pytest.mark.slow)])
def test_no_clean_file_is_stopped_or_questioned(shown, room, child, tmp_path, every):
    made = labelled.clean(tmp_path, shown, room, every=every)
    found = {one.name: labelled.look_over(one, room, child) for one in made}
    assert {name.split(", ", 1)[1] for name in found} == labelled.writers()
    assert {name.split(", ")[0] for name in found} == {good.name for good in GOOD}
    assert {name: each.sentence() for name, each in found.items() if each.verdict != "fine"} == {}


def test_borders_are_read_to_the_pixel(shown, room, child, tmp_path):
    for one in labelled.clean(tmp_path, shown, room, seed=1, every=19):
        assert labelled.look_over(one, room, child).seen.box == one.box, one.name


@pytest.mark.parametrize("every", [40, pytest.param(1, marks=pytest.mark.slow)])
def test_pairs_hide_nothing_of_each_other(shown, room, child, tmp_path, every):
    pairs = list(labelled.pairs(tmp_path, shown, room, every=every))
    assert len(pairs) >= 170 // every
    missed = {}
    for one in pairs:
        told = labelled.told(labelled.look_over(one, room, child))
        if "no-picture" in told:  # a flat part of a picture, alone, is none
            told.add("picture-without-sheet")
        missed[one.name] = one.codes & labelled.STRUCTURAL - told
    assert {name: codes for name, codes in missed.items() if codes} == {}


def test_two_faults_of_the_same_thing_are_no_pair(shown, room):
    faults = {each.name: each for each in FAULTS}
    good = labelled.good_hand_in(labelled.random.Random(1), "centre", shown, room)

    def paired(one: str, other: str) -> bool:
        both = faults[one], faults[other]
        return labelled.can_be_paired(*both, tuple(each.ways[0] for each in both), good)

    assert paired("layers", "a little off its place")
    assert not paired("wrong resolution on the label", "two resolutions")
    assert not paired("JPEG instead of TIFF", "layers")
    assert not paired("no sheet round it", "marks on the paper")
    assert not paired("cut short", "layers")


def test_the_same_seed_makes_the_same_set(shown, room, tmp_path):
    made = []
    for folder in (tmp_path / "one", tmp_path / "other"):
        first = next(labelled.pairs(folder, shown, room, seed=5))
        made.append((first.name, first.file.read_bytes()))
    assert made[0] == made[1]
    other = next(labelled.pairs(tmp_path / "third", shown, room, seed=6))
    assert other.file.read_bytes() != made[0][1]


def test_a_file_without_its_fault_is_no_find(shown, room, child, tmp_path):
    """The counting itself: a label that is not true is seen as a miss."""
    one = next(labelled.clean(tmp_path, shown, room))
    wrong = replace(one, codes=frozenset({"layers"}))
    assert wrong.is_structural
    assert wrong.codes - labelled.told(labelled.look_over(wrong, room, child)) == {"layers"}
