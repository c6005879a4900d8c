"""The four words of a job, as a notebook says them: open, place, write, check."""

import os
import time
from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
import tifffile
from PIL import Image

import labkit
from labkit import check, open_picture, place, write
from labkit.errors import LabError
from labkit.files.child.guarded import Guarded
from labkit.files.child.worker import send
from labkit.geometry.length import inches, length
from labkit.job import planned
from labkit.job import words as job
from labkit.job.making import PREVIEW
from labkit.room.rules import load_room, new_room
from tests.files import children, make, sheets
from tests.geometry.refused import refusal

pytestmark = pytest.mark.usefixtures("warm")

ROOM = load_room()
WHO = {"owner": "Ada Brook", "title": "Boat"}


@pytest.fixture
def boat(tmp_path) -> Path:
    """60 × 40 pixels at 30 ppi: 2 by 1 1/3 in."""
    return make.picture(tmp_path / "boat.png", ppi=30, profile=make.srgb())


@pytest.fixture
def picture(boat):
    return open_picture(boat)


@pytest.fixture
def out(tmp_path) -> Path:
    folder = tmp_path / "out"
    folder.mkdir()
    return folder


def left_in(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


# All four


def test_the_job_of_the_first_page(boat, own_folder):
    picture = open_picture(str(boat))
    layout = place(picture, on="4x3in", width="2in", at="optical")
    made = write(picture, layout, **WHO)
    assert made.file == own_folder / "exports" / "Ada-Brook_Boat_4x3in.tif"
    assert made.ticket == own_folder / "exports" / "Ada-Brook_Boat_4x3in_ticket.html"
    assert left_in(own_folder / "exports") == [made.file.name, made.ticket.name]
    findings = check(made.file, against=layout, named="Ada-Brook_Boat_4x3in")
    assert (findings.verdict, findings.items) == ("fine", ())
    box = made.printed.raster.picture
    got = sheets.pixels(made.file)[box.top : box.bottom, box.left : box.right]
    assert np.array_equal(got, Image.open(boat))


def test_what_is_told_of_it(picture, out):
    layout = place(picture, on="4x3in", width="2in")
    made = write(picture, layout, out=out, **WHO)
    assert str(made).startswith("Ada-Brook_Boat_4x3in.tif: 120 × 90 pixels at 30 ppi, sRGB. ")
    assert str(made).endswith(layout.sentence())
    assert "50.8 mm (2 in) wide" in made.sentence("mm")
    assert made.layout is layout
    printed = made.printed
    assert (printed.owner, printed.title, printed.depth) == ("Ada Brook", "Boat", 8)
    assert printed.bytes == made.file.stat().st_size
    assert printed.converted == ()


def test_the_words_are_those_of_the_package():
    assert labkit.check is job.check
    assert labkit.place is job.place
    assert "write" in dir(labkit)
    with pytest.raises(AttributeError, match="no attribute 'print'"):
        labkit.print  # noqa: B018


# Opening


def test_more_pixels_than_the_room_allows(boat):
    room = sheets.room_with("limits", pixels=2399)
    assert "boat.png" in refusal(open_picture, boat, room=room)
    assert open_picture(boat, room=sheets.room_with("limits", pixels=2400)).pixels == (60, 40)


# Placing


def test_without_a_size_it_is_as_large_as_the_file_states(picture):
    layout = place(picture, on="4x3in")
    assert layout.picture.size == (inches(2), inches(Fraction(4, 3)))


@pytest.mark.parametrize(
    "how", [{"fit": True}, {"fill": True}, {"trim": "2x1in"}, {"width": "2in"}]
)
def test_two_stated_resolutions_matter_only_where_they_are_used(tmp_path, how):
    path = make.jfif(tmp_path / "odd.jpg", 1, 30, 60)
    odd = open_picture(path)
    assert place(odd, on="4x3in", **how)
    told = refusal(place, odd, on="4x3in")
    assert "30 ppi across and 60 ppi down" in told
    assert "give a width or a height, or use fit or fill" in told


def test_a_border_is_the_rooms_own_where_none_is_given(picture):
    assert place(picture, on="4x3in", fit=True).borders.left == ROOM.border
    wider = place(picture, on="4x3in", fit=True, border="3/4in")
    assert min(border for _, border in wider.borders.items()) == length("3/4in")


def test_bleed_is_the_rooms_own_where_none_is_given(picture):
    assert place(picture, on="4x3in", trim="2x1in").trim.bleed == ROOM.bleed
    assert place(picture, on="4x3in", trim="2x1in", bleed="2mm").trim.bleed == length("2mm")


def test_the_printers_edges_are_those_of_the_room_and_turn_with_the_sheet(picture):
    feed = ROOM.printers[0].sheet.unprintable
    assert place(picture, on="A4").unprintable == feed
    assert place(picture, on="A4", turn=True).unprintable == feed.turned()
    assert place(picture, on="A4", turn=True).sheet.is_turned


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ({"width": "12"}, "the width of “12” has no unit: write 12in or 12mm."),
        ({"left": "1in"}, "left and top go together: give both, or a place such as centre."),
        (
            {"bleed": "3mm"},
            "bleed is what is cut off a trimmed print: give the trim size as well.",
        ),
        (
            {"border": "1in", "width": "1in"},
            "a border is kept by fit and by fill: ask for one of them, or leave it out.",
        ),
        (
            {"border": "1in", "fill": True, "width": "1in", "height": "1in"},
            "width and height give the box that is filled, and so does a border: leave one of the two "
            "out.",
        ),
        (
            {"crop_at": "0.5,0.5"},
            "the point to keep counts where a picture is cropped, by fill or by trim.",
        ),
        (
            {"fill": True, "crop_at": "0.5"},
            "the point to keep, “0.5”, is two fractions from 0 to 1: 0.5,0.3.",
        ),
        (
            {"fill": True, "crop_at": "left,top"},
            "the point to keep, “left,top”, is two fractions from 0 to 1: 0.5,0.3.",
        ),
        (
            {"fill": True, "crop_at": "0.5,3"},
            "the point to keep, 0.5,3, lies outside the picture: give two numbers from 0 to 1, such as "
            "0.5,0.3.",
        ),
    ],
)
def test_what_cannot_be_placed_is_refused_in_one_sentence(picture, asked, told):
    assert refusal(place, picture, on="4x3in", **asked) == told


def test_a_sheet_that_nothing_here_gives_is_refused(picture):
    """The widest roll is 44 in, and its printer leaves 5 mm white on both sides: 43.606 in."""
    for call in (place, job.place_whole):
        assert refusal(call, picture, on="60x50in") == (
            "no sheet or roll here is as large as 60 × 50 in (1524 × 1270 mm): the widest roll is 44 in "
            "(1117.6 mm), of which 43.606 in (1107.6 mm) can be printed. Make the print smaller, or print "
            "it in parts."
        )
    assert place(picture, on="44x60in", width="30in").sheet.width == length("44in")


def test_the_point_to_keep_may_be_two_numbers(picture):
    as_text = place(picture, on="3x3in", fill=True, crop_at="0,0.5")
    assert as_text == place(picture, on="3x3in", fill=True, crop_at=(0, Fraction(1, 2)))
    assert as_text.crop.left == 0


# Writing


def test_a_room_file_may_be_named(boat, tmp_path, out):
    own = new_room(tmp_path / "own.toml")
    text = own.read_text(encoding="utf-8").replace(
        "{owner}_{title}_{sheet}", "{sheet}_{owner}_{title}"
    )
    own.write_text(text, encoding="utf-8")
    picture = open_picture(boat, room=own)
    made = write(picture, place(picture, on="4x3in", room=str(own)), out=out, room=own, **WHO)
    assert made.file.name == "4x3in_Ada-Brook_Boat.tif"


@pytest.mark.parametrize("due", ["2031-05-12", date(2031, 5, 12)])
def test_a_date_stands_on_the_ticket(picture, out, due):
    made = write(picture, place(picture, on="4x3in"), out=out, due=due, **WHO)
    assert "2031-05-12" in made.ticket.read_text(encoding="utf-8")


@pytest.mark.parametrize(("pixels", "is_below"), [((3523, 2349), False), ((3400, 2267), True)])
def test_the_floor_has_the_rooms_tolerance(tmp_path, out, pixels, is_below):
    """12 in wide: 293.6 ppi is 2 % below the 300 asked for, 283.3 ppi is 6 % below."""
    picture = open_picture(make.picture(tmp_path / "boat.png", size=pixels, profile=make.srgb()))
    made = write(picture, place(picture, on="13x19in", width="12in"), out=out, **WHO)
    assert made.below_floor == is_below
    assert ("ppi-floor" in {item.code for item in check(made.file).faults}) == is_below


def test_the_price_is_the_rooms_for_all_copies(picture, out):
    layout = place(picture, on="A4")
    made = write(picture, layout, out=out, copies=3, paper="pearl 260", **WHO)
    assert made.price == Decimal("4.80")


def test_a_child_started_early_does_all_the_work(boat, out):
    with Guarded("labkit.job.making") as child:
        before = child.run(children.double, 1, seconds=60, memory_mb=4096)["child"]
        picture = open_picture(boat, child=child)
        made = write(picture, place(picture, on="4x3in"), out=out, child=child, **WHO)
        assert made.file.exists()
        assert child.run(children.double, 1, seconds=60, memory_mb=4096)["child"] == before


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ({"owner": ""}, "the owner is missing"),
        ({"owner": " "}, "the owner is missing"),
        ({"title": "../"}, "nothing is left of the title “../” in a file name"),
        ({"paper": "velvet"}, "no paper here is called “velvet”: use one of cotton matt 300, "),
        ({"copies": 0}, "0 copies have no price"),
        *(
            (
                {"due": due},
                f"the day it is due, “{due}”, is no date: write year, month and day like 2031-",
            )
            for due in ("Friday", "4 May", "2031-13-01", "20310512", "12/05/2031")
        ),
        ({"resample": 0}, "no picture can be resampled to 0 ppi"),
        ({"resample": 60, "keep_pixels": True}, "choose one of the two"),
    ],
)
def test_what_cannot_be_written_is_refused_before_a_folder_is_made(picture, tmp_path, asked, told):
    out = tmp_path / "new"
    layout = place(picture, on="4x3in")
    assert told in refusal(write, picture, layout, out=out, **WHO | asked)
    assert not out.exists()


def test_nothing_is_written_over_unless_asked(picture, out):
    layout = place(picture, on="4x3in")
    first = write(picture, layout, out=out, **WHO)
    before = first.file.read_bytes(), first.ticket.read_bytes()
    told = refusal(write, picture, place(picture, on="4x3in", at="optical"), out=out, **WHO)
    assert told.startswith(f"{first.file.name} already exists in {out}: nothing was overwritten.")
    assert (first.file.read_bytes(), first.ticket.read_bytes()) == before
    moved = place(picture, on="4x3in", at="optical")
    write(picture, moved, out=out, replace=True, **WHO)
    assert check(first.file, against=moved).verdict == "fine"
    assert left_in(out) == [first.file.name, first.ticket.name]


def test_a_ticket_of_that_name_is_kept_too(picture, out):
    (out / "Ada-Brook_Boat_4x3in_ticket.html").write_text("kept")
    told = refusal(write, picture, place(picture, on="4x3in"), out=out, **WHO)
    assert told.startswith("Ada-Brook_Boat_4x3in_ticket.html already exists")
    assert left_in(out) == ["Ada-Brook_Boat_4x3in_ticket.html"]


def test_a_file_that_appears_meanwhile_is_kept(picture, out, monkeypatch):
    """Between the first look and the last step another program may have taken the name."""
    ticket = out / "Ada-Brook_Boat_4x3in_ticket.html"
    published = planned.publish

    def publish(pairs, *, replace):
        ticket.write_text("another's")
        published(pairs, replace=replace)

    monkeypatch.setattr(planned, "publish", publish)
    assert "already exists" in refusal(write, picture, place(picture, on="4x3in"), out=out, **WHO)
    assert left_in(out) == [ticket.name]
    assert ticket.read_text() == "another's"


def test_the_picture_itself_is_never_replaced(tmp_path):
    path = make.picture(tmp_path / "Ada-Brook_Boat_4x3in.tif", ppi=30)
    before = path.read_bytes(), path.stat().st_mtime_ns
    picture = open_picture(path)
    layout = place(picture, on="4x3in")
    told = refusal(write, picture, layout, out=tmp_path, replace=True, **WHO)
    assert told == (
        f"{path} is the picture itself, which is only read: give another title or folder."
    )
    assert (path.read_bytes(), path.stat().st_mtime_ns) == before


def test_the_original_stays_as_it_was(boat, picture, out):
    before = boat.read_bytes(), boat.stat().st_mtime_ns
    write(picture, place(picture, on="4x3in"), out=out, **WHO)
    assert (boat.read_bytes(), boat.stat().st_mtime_ns) == before


# When it goes wrong, nothing is left behind


@pytest.fixture
def own_child(monkeypatch):
    """One that is started for the job, and held to its limits."""
    monkeypatch.setattr(planned, "Guarded", Guarded)


def test_running_out_of_time_leaves_nothing(picture, out, monkeypatch):
    monkeypatch.setattr(planned, "Guarded", children.Slow)
    room = sheets.room_with("limits", seconds=0)
    told = refusal(write, picture, place(picture, on="4x3in"), out=out, room=room, **WHO)
    assert told.startswith("“boat.png” took longer than the 0 seconds this room allows")
    assert left_in(out) == []


def test_running_out_of_memory_leaves_nothing(picture, out, own_child):
    room = sheets.room_with("limits", memory_mb=10)
    told = refusal(write, picture, place(picture, on="4x3in"), out=out, room=room, **WHO)
    assert told.startswith("“boat.png” needs more than the 10 MB of memory this room allows")
    assert left_in(out) == []


class Interrupting(Guarded):
    """A child that is left while it has written half a file."""

    def run(self, function, job, part, *_, **limits):
        send(self._child.stdin, _call(part))
        while not part.exists():
            time.sleep(0.01)
        raise self.reason


def _call(part: Path) -> bytes:
    import pickle

    call = (children.__name__, "write_then_wait", (str(part),), 4096)
    return pickle.dumps(call)


@pytest.mark.parametrize(
    "reason", [KeyboardInterrupt(), LabError("the child was ended."), OSError(5)]
)
def test_half_a_file_is_taken_away(picture, out, reason):
    with Interrupting() as child:
        child.reason = reason
        with pytest.raises((KeyboardInterrupt, LabError)):
            write(picture, place(picture, on="4x3in"), out=out, child=child, **WHO)
    assert left_in(out) == []


def test_a_picture_cut_short_leaves_nothing(boat, picture, out):
    boat.write_bytes(boat.read_bytes()[:-200])
    told = refusal(write, picture, place(picture, on="4x3in"), out=out, **WHO)
    assert told.startswith("“boat.png” is damaged or cut short (")
    assert left_in(out) == []


# Depth


READ_AT_8 = "16 bits a channel were reduced to 8 on reading: a TIFF or PNG in RGB would keep them."
REDUCED = "16 bits a channel were reduced to 8, the depth of the print file."
WIDENED = (
    "8 bits a channel were written as 16, the depth of this room's print files: no tone is gained."
)


@pytest.mark.parametrize(
    ("rule", "bits", "made", "packing", "told"),
    [
        (8, 8, 8, "LZW", []),
        (8, 16, 8, "LZW", [REDUCED]),
        (16, 8, 16, "Deflate", [WIDENED]),
        (16, 16, 16, "Deflate", []),
        ("as the picture", 8, 8, "LZW", []),
        ("as the picture", 16, 16, "Deflate", []),
    ],
)
def test_the_print_file_has_the_depth_the_room_names(
    tmp_path, out, rule, bits, made, packing, told
):
    picture = open_picture(
        make.tiff(tmp_path / "a.tif", bits=bits, ppi=((30, 1), (30, 1)), profile=make.srgb())
    )
    room = sheets.room_with("colour", depth=rule)
    layout = place(picture, on="4x3in")
    done = write(picture, layout, out=out, room=room, **WHO)
    assert (done.printed.depth, list(done.printed.converted)) == (made, told)
    facts = open_picture(done.file)
    assert (facts.depth, facts.packing) == (made, packing)
    assert check(done.file, against=layout, room=room).items == ()
    assert f"{made} bits a channel" in done.ticket.read_text(encoding="utf-8")


def test_what_a_decoder_reads_at_8_bits_is_told(tmp_path, out):
    """CMYK of 16 bits: Pillow keeps 8 of them."""
    path = tmp_path / "a.tif"
    inks = np.zeros((40, 60, 4), np.uint16)
    tifffile.imwrite(
        path,
        inks,
        photometric="separated",
        metadata=None,
        resolution=(30, 30),
        resolutionunit="inch",
        iccprofile=sheets.cmyk_profile(),
    )
    picture = open_picture(path)
    room = sheets.room_with("colour", depth=16)
    made = write(picture, place(picture, on="4x3in"), out=out, room=room, **WHO)
    assert made.printed.converted[-2:] == (READ_AT_8, WIDENED)


def test_a_folder_below_a_file(picture, boat):
    told = refusal(write, picture, place(picture, on="4x3in"), out=boat / "prints", **WHO)
    assert told == (
        f"the folder {boat / 'prints'} cannot be made (not a directory): choose another."
    )


@pytest.mark.skipif(not os.path.isdir("/proc/self"), reason="this system has no /proc")
def test_a_folder_that_cannot_be_written_to(picture):
    told = refusal(write, picture, place(picture, on="4x3in"), out="/proc/self", **WHO)
    assert told.startswith("/proc/self cannot be written to (")
    assert told.endswith("): choose another folder.")


def test_a_disk_that_turns_a_strip_into_another_is_noticed(picture, out, monkeypatch):
    """What is on the disk is read back before anything is said to be done."""
    from labkit.files.writing import tiff

    written = tiff.write_strips

    def spoiled(path, *given):
        known = written(path, *given)
        data = bytearray(path.read_bytes())
        data[-40] ^= 1
        path.write_bytes(data)
        return known

    monkeypatch.setattr(tiff, "write_strips", spoiled)

    class Here:
        def __enter__(self):
            return self

        def __exit__(self, *_):
            pass

        def run(self, function, *given, **_):
            return function(*given)

    told = refusal(write, picture, place(picture, on="4x3in"), out=out, child=Here(), **WHO)
    assert told.startswith("the file did not read back as it was asked: ")
    assert "the pixels on the disk are not the ones that were written" in told.lower()
    assert left_in(out) == []


# Checking


def test_a_check_by_the_rooms_rules(picture, out):
    made = write(picture, place(picture, on="4x3in"), out=out, **WHO)
    strict = sheets.room_with("limits", pixels=100)
    assert [item.code for item in check(made.file).faults] == ["ppi-floor"]  # it has 30 ppi
    assert check(made.file, room=strict).verdict == "stop"


# The small picture


def test_a_preview_is_upright_and_kept(tmp_path, own_folder):
    path = make.picture(tmp_path / "a.jpg", size=(1200, 800), orientation=6)
    picture = open_picture(path)
    address = job.preview(picture)
    assert address.startswith("data:image/jpeg;base64,")
    (kept,) = (own_folder / "previews").iterdir()
    with Image.open(kept) as small:
        assert small.size == (400, 600)
        assert max(small.size) <= PREVIEW
        # 255, 230, 20 is the corner of make.drawing, upper right once turned
        assert np.abs(np.subtract(small.getpixel((380, 20)), (255, 230, 20))).max() < 25
    before = kept.stat().st_mtime_ns
    assert job.preview(picture) == address
    assert kept.stat().st_mtime_ns == before


def test_another_picture_of_that_name_has_another_preview(tmp_path, own_folder):
    path = make.picture(tmp_path / "a.png")
    first = job.preview(open_picture(path))
    Image.new("RGB", (60, 40), "red").save(path)
    assert job.preview(open_picture(path)) != first
    assert len(left_in(own_folder / "previews")) == 2


def test_a_preview_of_a_damaged_picture_leaves_nothing(tmp_path, own_folder):
    path = make.picture(tmp_path / "a.jpg")
    picture = open_picture(path)
    path.write_bytes(path.read_bytes()[:-100])
    assert "damaged or cut short" in refusal(job.preview, picture)
    assert left_in(own_folder / "previews") == []


def test_a_changed_rule_changes_what_is_made(picture, out):
    """The room is an argument: nothing of it is kept from call to call."""
    finer = replace(ROOM, working_ppi=20)
    layout = place(picture, on="4x3in", room=finer)
    made = write(picture, layout, out=out, room=finer, **WHO)
    assert made.printed.raster.ppi == 20
    assert write(picture, layout, out=out, replace=True, **WHO).printed.raster.ppi == 30
