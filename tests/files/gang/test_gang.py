"""Prints read, grouped and laid out: what each takes, and what it costs."""

from dataclasses import replace
from decimal import Decimal

import pytest

from labkit.errors import LabError
from labkit.files.gang.gang import gap_for, lay_out_prints
from labkit.files.gang.prints import read_prints
from labkit.files.gang.slug import LEAST_GAP, SLUG_ROOM
from labkit.files.gang.told import paper_sentence
from labkit.geometry.length import ZERO, inches, length
from labkit.room.laying import medium_on_roll, medium_on_sheet
from labkit.room.rules import load_room
from tests.files import make
from tests.files.gang.prints import finished

ROOM = load_room()
GAP = length("1/4in")


@pytest.fixture
def files(tmp_path):
    return [
        finished(tmp_path, "Ada-Brook_Boat_8x10in", (8, 10)),
        finished(tmp_path, "Nia-Oak_Tide-1_5x7in", (5, 7), seed=1),
        finished(tmp_path, "Nia-Oak_Tide-2_5x7in", (5, 7), seed=2),
    ]


def laid(files, *, on="24in", **options):
    prints, refused = read_prints(files, ROOM, copies=options.pop("copies", {}))
    assert not refused
    medium = medium_on_roll(ROOM, length(on))
    return lay_out_prints(prints, medium, ROOM, gap=GAP, **options)


def test_a_print_has_its_size_owner_and_title(files):
    prints, _ = read_prints(files, ROOM)
    assert prints[0].size == (inches(8), inches(10))
    assert [(each.owner, each.title) for each in prints] == [
        ("Ada Brook", "Boat"), ("Nia Oak", "Tide 1"), ("Nia Oak", "Tide 2")
    ]  # fmt: skip


def test_two_prints_of_one_title_are_told_apart_by_owner(tmp_path):
    files = [
        finished(tmp_path, name, (3, 4)) for name in ("Ada-Brook_Boat_3x4in", "Nia-Oak_Boat_3x4in")
    ]
    prints, _ = read_prints(files, ROOM)
    assert [each.name for each in prints] == ["Boat by Ada Brook", "Boat by Nia Oak"]


def test_a_file_given_twice_is_refused(files):
    with pytest.raises(LabError, match="given twice"):
        read_prints([files[0], files[0]], ROOM)


def test_what_is_no_finished_print_is_named_with_the_reason(tmp_path, files):
    grey = make.picture(tmp_path / "grey.tif", mode="L", ppi=100)
    untold = make.picture(tmp_path / "untold.png")
    prints, refused = read_prints([*files, grey, untold], ROOM)
    assert len(prints) == 3
    assert "grey.tif” has grey" in refused[0]
    assert "untold.png” states no resolution" in refused[1]


def test_copies_of_a_name_nobody_knows(files):
    with pytest.raises(
        LabError, match="no print is called “Goat”: use one of Boat, Tide 1, Tide 2"
    ):
        read_prints(files, ROOM, copies={"Goat": 2})


def test_a_set_stays_together_in_order(files):
    prints, _ = read_prints(files[::-1], ROOM, sets=["Tide"])
    assert [each.group for each in prints] == ["Tide", "Tide", None]
    with pytest.raises(LabError, match="two prints or more, and 1 begin"):
        read_prints(files, ROOM, sets=["Boat"])


def test_rows_in_one_file_hand_worked(files):
    """The boat turned is 10 in wide and 8 high; beside it stand both tides, 5 in wide and 7 high: one row of
    20 1/2 in with the gaps. Upright, the boat alone would make it 10 in long."""
    (gang,) = laid(files, one_file=True)
    assert gang.packing.used == inches(8)
    edges, medium = gang.medium.edges, gang.medium
    ends = edges.top + edges.bottom + medium.leader + medium.tail + SLUG_ROOM
    assert gang.taken == gang.packing.used + ends


def test_rows_by_themselves_take_leader_and_tail_each(files):
    one = laid(files, copies={"Boat": 4}, one_file=True)[0]
    several = laid(files, copies={"Boat": 4})[0]
    extra = len(several.runs) - 1
    ends = several.medium.leader + several.medium.tail + several.medium.edges.top
    each = ends + several.medium.edges.bottom + SLUG_ROOM
    gaps = GAP * extra
    assert extra >= 1
    assert several.taken == one.taken + each * extra - gaps
    assert "In one print file it would take" in paper_sentence(several, ROOM)


def test_every_piece_is_on_one_print_file_and_inside_it(files):
    (gang,) = laid(files, copies={"Boat": 5, "Tide 1": 3})
    numbers = []
    for run in gang.runs:
        sheet = gang.sheet(run)
        for number, _, box in gang.pieces_of(run):
            numbers.append(number)
            assert gang.medium.edges.left <= box.left
            assert box.right <= sheet.width - gang.medium.edges.right
            assert gang.medium.edges.top <= box.top
            assert box.bottom + SLUG_ROOM <= sheet.height - gang.medium.edges.bottom
    assert sorted(numbers) == list(range(1, 10))


def test_cuts_of_rows_by_themselves_free_each_first(files):
    (gang,) = laid(files, copies={"Boat": 4})
    across = [cut for cut in gang.cuts if cut.hand.startswith("print ")]
    assert [cut.number for cut in gang.cuts] == list(range(1, len(gang.cuts) + 1))
    assert len(across) == 2 * len(gang.runs)
    for cut, run in zip(across[1::2], gang.runs, strict=True):
        assert cut.distance == run.bottom - run.top
        assert cut.kept == run.name


def test_shares_add_up_to_the_price_and_follow_area(files):
    (gang,) = laid(files, copies={"Boat": 2})
    shares = {each.name: share for each, _, share in gang.shares(ROOM)}
    assert sum(shares.values()) == gang.price(ROOM)
    assert abs(shares["Boat"] / shares["Tide 1"] - Decimal(160) / 35) < Decimal("0.02")


def test_prints_of_other_resolution_or_profile_lie_apart(tmp_path, files):
    other = finished(tmp_path, "Leo-Fenn_Wood_4x6in", (4, 6), ppi=60)
    wide = finished(tmp_path, "Leo-Fenn_Hill_4x6in", (4, 6), profile=make.rgb_profile())
    deep = finished(tmp_path, "Leo-Fenn_Dune_4x6in", (4, 6), depth=16)
    gangs = laid([*files, other, wide, deep])
    assert [len(gang.prints) for gang in gangs] == [3, 1, 1, 1]
    assert [gang.first for gang in gangs] == [1, 2, 3, 4]


def test_profiles_that_differ_in_their_date_alone_are_one(tmp_path):
    profile = make.srgb()
    later = profile[:24] + bytes(12) + profile[36:]
    files = [
        finished(tmp_path, f"Ada-Brook_{title}_3x4in", (3, 4), profile=each)
        for title, each in (("A", profile), ("B", later))
    ]
    assert len(laid(files)) == 1


def test_two_prints_of_12_in_do_not_lie_side_by_side_on_24_in(tmp_path):
    """The roll prints 24 in less twice 5 mm, 23.6 in wide."""
    files = [finished(tmp_path, f"Ada-Brook_{n}_12x20in", (12, 20), ppi=20) for n in "AB"]
    (gang,) = laid(files, one_file=True)
    assert gang.packing.used == inches(24) + GAP


def test_a_print_too_wide_for_the_roll_is_named(tmp_path, files):
    wide = finished(tmp_path, "Leo-Fenn_Wall_30x30in", (30, 30), ppi=10)
    other = finished(tmp_path, "Leo-Fenn_Hut_4x6in", (4, 6), ppi=10)
    (gang,) = laid([wide, other])
    assert [each.piece.name for each in gang.packing.left_out] == ["Wall"]


def test_a_print_too_wide_that_shares_with_none_leaves_the_others_be(tmp_path, files):
    """Of another resolution, so that it would have a print file of its own."""
    wide = finished(tmp_path, "Leo-Fenn_Wall_30x30in", (30, 30), ppi=10)
    (gang,) = laid([*files, wide])
    assert len(gang.packing.placed) == len(files)
    assert [each.piece.name for each in gang.packing.left_out] == ["Wall"]
    assert "Wall" not in {own.name for own, _, _ in gang.shares(ROOM)}
    with pytest.raises(LabError, match="Wall does not fit: it is 30 in"):
        laid([wide])


def test_nothing_to_lay_out_is_told():
    with pytest.raises(LabError, match="there are no prints to lay out: give one or more"):
        lay_out_prints([], medium_on_sheet(ROOM, "13x19in"), ROOM, gap=GAP)


def test_the_gap_holds_slug_and_marks():
    assert LEAST_GAP <= GAP
    assert gap_for(ZERO) == LEAST_GAP
    assert gap_for(inches(1)) == inches(1)


def test_sheets(files):
    prints, _ = read_prints(files, ROOM)
    (gang,) = lay_out_prints(prints, medium_on_sheet(ROOM, "13x19in"), ROOM, gap=GAP)
    assert [run.name for run in gang.runs] == [
        f"sheet {number}" for number in range(1, gang.packing.sheets + 1)
    ]
    assert gang.price(ROOM) == Decimal("6.20") * gang.packing.sheets


def test_a_roll_that_is_not_in_stock():
    with pytest.raises(LabError, match="no roll of 20 in"):
        medium_on_roll(ROOM, inches(20))


def room_that_cuts(cuts: bool):
    """The trimmer cuts 20 in, less than the roll is wide."""
    bittern = next(each for each in ROOM.printers if each.roll)
    others = tuple(each for each in ROOM.printers if each is not bittern)
    printer = replace(bittern, roll=replace(bittern.roll, cuts=cuts))
    cutter = replace(ROOM.cutter, longest_cut=inches(20))
    return replace(ROOM, printers=(*others, printer), cutter=cutter)


def test_a_roll_wider_than_the_trimmer_is_taken_where_the_printer_cuts(files):
    prints, _ = read_prints(files, ROOM)

    def on_24_in(room, **more):
        medium = medium_on_roll(room, inches(24))
        return lay_out_prints(prints, medium, room, gap=GAP, **more)[0]

    with pytest.raises(LabError, match="the longest is 20 in"):
        on_24_in(room_that_cuts(False))
    gang = on_24_in(room_that_cuts(True))
    assert len(gang.packing.placed) == 3
    assert max(cut.line for cut in gang.cuts) <= inches(20)
    assert "The printer cuts each off." in paper_sentence(gang, ROOM)
    first = next(cut for cut in gang.cuts if cut.across)
    assert first.distance == gang.medium.leader + gang.medium.edges.top
    with pytest.raises(LabError, match="the longest is 20 in"):  # within one file it does not cut
        on_24_in(room_that_cuts(True), one_file=True)
