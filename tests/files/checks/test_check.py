"""The one checker: right files of any writer pass, and each wrong one is told what is wrong with it."""

import struct
import sys
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import imagecodecs
import numpy as np
import pytest
import tifffile
from hypothesis import HealthCheck, assume, example, given
from hypothesis import strategies as st
from PIL import Image
from pypdf import PdfWriter

from labkit.errors import LabError
from labkit.files.checks import check as module
from labkit.files.checks import offer
from labkit.files.checks.against import border_findings
from labkit.files.checks.catalogue import catalogue
from labkit.files.checks.check import check, compare, read_back
from labkit.files.checks.findings import Findings
from labkit.files.child.guarded import Guarded
from labkit.files.header.reading import read_picture
from labkit.files.writing.tiff import Written, write_strips
from labkit.geometry.layout import Layout, lay_out
from labkit.geometry.length import inches, length
from labkit.geometry.paper import find_sheet
from labkit.geometry.pixelbox import PixelBox
from labkit.geometry.proportion import Part
from labkit.geometry.raster import Raster, rasterize
from labkit.room.rules import Room, load_room
from tests.files import children, make, sheets
from tests.peers import vips_save
from tests.properties import examples

ROOM = load_room()
NAMED = "Ada-Brook_Boat_4x5in"
COLOURS = [code for code, entry in catalogue().items() if entry.family == "colour"]
SIZE = 150, 100
"""The picture in pixels: 3 by 2 in at 50 ppi, on a sheet of 200 × 250."""
PPI = 50


@pytest.fixture
def in_a_child():
    """For the tests of the guarded child itself; the others run all in this process, which is quicker."""


@pytest.fixture(autouse=True)
def in_this_process(request, monkeypatch):
    if "in_a_child" not in request.fixturenames:
        monkeypatch.setattr(module, "resident_child", children.Here)


@pytest.fixture
def picture(tmp_path) -> Path:
    return make.picture(tmp_path / "boat.png", size=SIZE)


@pytest.fixture
def wanted() -> Layout:
    return lay_out(SIZE, find_sheet("4x5in"), width=inches(3), at="optical")


@pytest.fixture
def raster(wanted) -> Raster:
    return rasterize(wanted, SIZE, working_ppi=300)


@pytest.fixture
def right(picture, raster) -> Image.Image:
    """The sheet as it should be, made by hand."""
    assert raster.sheet == (200, 250)
    assert raster.picture == PixelBox(25, 60, 150, 100)
    return sheets.by_hand(Image.open(picture), raster)


@pytest.fixture
def judged(tmp_path, picture, wanted):
    """Save a sheet and check it."""

    def judge(image: Image.Image, name=f"{NAMED}.tif", ppi=PPI, **options) -> Findings:
        path = sheets.save(image, tmp_path / name, ppi, **options)
        return look_at(path)

    def look_at(path: Path) -> Findings:
        return compare(path, wanted, room=ROOM, named=NAMED, picture=picture)

    judge.file = look_at
    return judge


def found(findings: Findings) -> list[tuple[str, str]]:
    return [(item.code, item.side) for item in findings.faults]


def moved(raster: Raster, picture: Path, **change) -> Image.Image:
    """The sheet with the picture in another place or of another size."""
    box = replace(raster.picture, **change)
    return sheets.by_hand(Image.open(picture), replace(raster, picture=box))


# Right files, whoever wrote them


def test_a_right_file_has_nothing_to_mend_and_says_where_the_picture_sits(judged, right, wanted):
    findings = judged(right)
    assert (findings.verdict, findings.items) == ("fine", ())
    assert findings.layout.picture == wanted.picture
    assert findings.layout.borders == wanted.borders
    assert findings.layout.sheet == wanted.sheet
    assert "Nothing to mend. Picture 3 in (76.2 mm) wide" in str(findings)


@pytest.mark.parametrize(
    "options",
    [
        {},
        {"compression": None, "predictor": False},
        {"compression": "zlib"},
        {"compression": "packbits", "predictor": False},
        {"byteorder": ">"},
        {"tile": (32, 32)},
        {"planarconfig": "separate"},
        {"resolutionunit": "centimeter", "ppi": (50 / 2.54, 50 / 2.54)},
    ],
    ids=str,
)
def test_a_right_file_passes_however_it_is_packed(judged, tmp_path, right, options):
    values = np.asarray(right)
    if options.get("planarconfig"):
        values = np.moveaxis(values, -1, 0)
    ppi = options.get("ppi", (PPI, PPI))
    packed = {key: value for key, value in options.items() if key != "ppi"}
    path = sheets.save_by_tifffile(values, tmp_path / f"{NAMED}.tif", ppi, **packed)
    assert found(judged.file(path)) == []


def test_a_right_file_of_16_bits_passes(judged, tmp_path, right):
    values = np.asarray(right).astype(np.uint16) * 257
    path = sheets.save_by_tifffile(values, tmp_path / f"{NAMED}.tif", (PPI, PPI))
    assert found(judged.file(path)) == []


@pytest.mark.parametrize(
    ("colour", "packing", "told"),
    [
        ({}, "lzw", ["depth"]),
        ({}, "zlib", ["depth"]),
        ({"packing_16": "LZW"}, "zlib", ["packing", "depth"]),
        ({"depth": 16}, "zlib", []),
        ({"depth": "as the picture"}, "zlib", []),
        ({"depth": 16, "packing_16": "LZW"}, "zlib", ["packing"]),
        ({"depth": 16}, "lzw", []),
    ],
)
def test_16_bits_are_remarked_on_only_where_the_room_prints_others(
    tmp_path, right, wanted, colour, packing, told
):
    values = np.asarray(right).astype(np.uint16) * 257
    path = sheets.save_by_tifffile(values, tmp_path / "a.tif", (PPI, PPI), compression=packing)
    room = sheets.room_with("colour", **colour)
    findings = compare(path, wanted, room=room)
    assert [item.code for item in findings.items] == told
    assert findings.verdict == "fine"


def test_a_right_file_by_libvips_passes(judged, tmp_path, right):
    first = sheets.save(right, tmp_path / "first.tif", PPI)
    path = vips_save(first, tmp_path / f"{NAMED}.tif")
    with tifffile.TiffFile(path) as file:
        assert file.pages[0].compression == tifffile.COMPRESSION.NONE
    assert found(judged.file(path)) == []


def test_our_own_file_passes(judged, tmp_path, picture):
    path = tmp_path / f"{NAMED}.tif"
    sheets.print_file(path, picture, on="4x5in", width="3in", at="optical")
    assert found(judged.file(path)) == []


@given(
    ppi=st.integers(20, 90),
    eighths=st.integers(8, 28),
    at=st.sampled_from(["centre", "optical", "even-three"]),
    sheet=st.sampled_from(["4x5in", "A6", "5x4in"]),
)
@examples(30, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_our_own_file_passes_at_any_resolution(tmp_path, picture, ppi, eighths, at, sheet):
    """Whatever is rounded to whole pixels stays within what the check lets pass."""
    path = tmp_path / "made.tif"
    path.unlink(missing_ok=True)
    facts = read_picture(picture)
    try:
        layout = lay_out(SIZE, find_sheet(sheet), width=inches(Fraction(eighths, 8)), at=at)
    except LabError:
        assume(False)
    raster = rasterize(layout, SIZE, working_ppi=300, resample=ppi)
    write_strips(path, sheets.strips_of(facts, layout, raster), raster, sheets.LABELS)
    assert found(compare(path, layout, room=ROOM, picture=picture)) == []


@pytest.mark.usefixtures("in_a_child")
def test_the_file_is_decoded_in_a_child_within_the_rooms_limits(
    judged, right, monkeypatch, tmp_path
):
    seen = []
    run = Guarded.run
    record = lambda child, *given, **limits: seen.append(limits) or run(child, *given, **limits)  # noqa: E731
    monkeypatch.setattr(Guarded, "run", record)
    assert found(judged(right)) == []
    limits = ROOM.limits
    name = f"{NAMED}.tif"
    (limited,) = seen  # one trip
    assert limited.pop("hear")
    assert limited == {"seconds": limits.seconds, "memory_mb": limits.memory_mb, "about": name}


def test_running_out_of_time_is_a_finding(tmp_path, right, wanted, monkeypatch):
    monkeypatch.setattr(module, "resident_child", children.Slow)
    path = sheets.save(right, tmp_path / f"{NAMED}.tif", PPI)
    hasty = replace(ROOM, limits=replace(ROOM.limits, seconds=0))
    findings = compare(path, wanted, room=hasty)
    assert found(findings) == [("unreadable", "")]
    assert "took longer than the 0 seconds this room allows" in str(findings)


# Without a layout to hold it against


def test_without_a_layout_it_says_what_sheet_it_is(tmp_path, right):
    path = sheets.save(right, tmp_path / "any name.tif", PPI)
    findings = check(path, room=ROOM)
    assert findings.verdict == "look"
    assert [code for code, _ in found(findings)] == ["sheet-unstocked", "ppi-floor", "name"]
    assert findings.layout.sheet.size == "4x5in"


@pytest.mark.parametrize(
    ("size", "label"),
    [
        ((2480, 3508), "A4"),
        ((3508, 2480), "297x210mm"),
        ((2550, 3300), "letter"),
        ((3000, 3000), "10x10in"),
    ],
)
def test_a_sheet_in_stock_is_known_again_and_any_other_by_its_measure(tmp_path, size, label):
    image = Image.new("RGB", size, "white")
    image.paste((90, 60, 30), (300, 300, 900, 900))
    path = sheets.save(image, tmp_path / "a.tif", 300)
    assert check(path, room=ROOM).layout.sheet.label == label


# Place


@pytest.mark.parametrize(("off", "told"), [(0, 0), (1, 0), (2, 2)])
def test_one_pixel_is_never_too_much(judged, raster, picture, off, told):
    """1/64 in is 0.78 pixels at 50 ppi, but nothing can be placed to less than one."""
    findings = judged(moved(raster, picture, left=raster.picture.left - off))
    assert len(findings.faults) == told


@pytest.mark.parametrize(("off", "told"), [(4, []), (5, [("border", "left"), ("border", "right")])])
def test_the_tolerance_is_that_of_the_room(tmp_path, picture, off, told):
    """1/64 in is 4.69 pixels at 300 ppi: four pass, five do not."""
    wanted = lay_out((900, 600), find_sheet("4x5in"), width=inches(3))
    raster = rasterize(wanted, (900, 600), working_ppi=300)
    box = replace(raster.picture, left=raster.picture.left + off)
    image = sheets.by_hand(Image.open(picture), replace(raster, picture=box))
    path = sheets.save(image, tmp_path / "a.tif", 300)
    assert found(compare(path, wanted, room=ROOM)) == told


TWO_PIXELS = "0.04 in (1 mm)"


@pytest.mark.parametrize(
    ("change", "sides", "sits"),
    [
        ({"left": 27}, {"left": "wide", "right": "narrow"}, "to the right"),
        ({"left": 23}, {"left": "narrow", "right": "wide"}, "to the left"),
        ({"top": 62}, {"top": "wide", "bottom": "narrow"}, "down"),
        ({"top": 58}, {"top": "narrow", "bottom": "wide"}, "up"),
    ],
)
def test_a_border_that_is_off_is_told_by_how_much_and_which_way(
    judged, raster, picture, wanted, change, sides, sits
):
    findings = judged(moved(raster, picture, **change))
    assert {item.side: item.code for item in findings.faults} == dict.fromkeys(sides, "border")
    asked = dict(wanted.borders.items())
    for item in findings.faults:
        assert item.grade == "stop"
        assert item.found.endswith(f", {TWO_PIXELS} too {sides[item.side]}")
        assert item.found.startswith(f"the {item.side} border is ")
        assert item.expected == str(asked[item.side])
        assert item.why == f"The picture sits too far {sits}."
        assert item.remedy == (
            f"The picture's {item.side} edge belongs {asked[item.side]} from the {item.side} edge "
            "of the sheet."
        )


def test_a_picture_of_another_size(judged, raster, picture):
    findings = judged(moved(raster, picture, left=10, top=50, width=180, height=120))
    assert found(findings)[0] == ("picture-size", "")
    first, *borders = findings.faults
    assert first.found == "the picture is 3.6 × 2.4 in (91.4 × 61 mm)"
    assert first.expected == "3 × 2 in (76.2 × 50.8 mm)"
    assert {item.side for item in borders} == {"left", "top", "right", "bottom"}
    assert {item.why for item in borders} == {"The size of the picture is off as well."}


def test_a_stretched_picture(judged, raster, picture):
    findings = judged(moved(raster, picture, height=110))
    assert found(findings) == [("picture-shape", ""), ("border", "bottom")]
    assert findings.faults[0].found == (
        "the picture is 3 × 2.2 in (76.2 × 55.9 mm), of another shape"
    )


@pytest.mark.parametrize(
    ("how", "reason"),
    [
        (Image.Transpose.FLIP_LEFT_RIGHT, "mirrored"),
        (Image.Transpose.ROTATE_180, "upside down"),
        (Image.Transpose.FLIP_TOP_BOTTOM, "flipped top to bottom"),
    ],
)
def test_a_picture_the_wrong_way_round(judged, raster, picture, how, reason):
    image = sheets.by_hand(Image.open(picture).transpose(how), raster)
    findings = judged(image)
    assert found(findings) == [("picture-other", "")]
    assert findings.faults[0].found == f"the picture on the sheet is {reason}"


def test_another_picture(judged, raster):
    findings = judged(sheets.by_hand(Image.new("RGB", SIZE, (20, 140, 60)), raster))
    assert found(findings) == [("picture-other", "")]
    assert findings.faults[0].found.startswith("another picture than the one asked for")


def test_an_empty_sheet(judged, raster):
    findings = judged(sheets.blank(raster))
    assert found(findings) == [("no-picture", "")]
    assert findings.layout is None


def test_a_surround_that_is_not_white(judged, right):
    values = np.asarray(right).copy()
    values[(values == 255).all(-1)] = 250, 250, 245
    findings = judged(Image.fromarray(values))
    assert found(findings) == [("surround", "")]
    assert "not pure white but (250, 250, 245)" in findings.faults[0].found


def test_a_light_edge_on_plain_white_is_found_to_the_pixel(judged, raster, right, wanted):
    values = np.asarray(right).copy()
    box = raster.picture
    values[box.top : box.bottom, box.left : box.left + 5] = 252
    findings = judged(Image.fromarray(values))
    assert found(findings) == []
    assert findings.layout.picture == wanted.picture


def test_a_place_that_is_a_guess_is_for_a_person_to_decide(wanted):
    moved_box = replace(wanted.picture, left=inches(1), width=inches(2))
    told = list(
        border_findings(
            replace(wanted, picture=moved_box), wanted, ROOM, Fraction(1, PPI), ("left",)
        )
    )
    assert [(item.code, item.side, item.grade) for item in told] == [
        ("edge-unclear", "", "look"),
        ("picture-shape", "", "look"),
        ("border", "left", "look"),
        ("border", "right", "look"),
    ]
    assert told[0].found.startswith("the left edge of the picture cannot be told from the paper")


# A trimmed print


@pytest.fixture
def trimmed(tmp_path):
    """A trimmed print written by ours, its layout, and its pixels to spoil."""
    source = make.picture(tmp_path / "poster.png", size=(400, 400))
    path = tmp_path / "trimmed.tif"
    layout, raster, _ = sheets.print_file(
        path, source, on="4x5in", trim="2x2in", bleed="1/8in", keep_pixels=True
    )
    return path, layout, raster


def test_corner_marks_are_no_picture(trimmed):
    path, layout, _ = trimmed
    findings = compare(path, layout, room=ROOM)
    assert found(findings) == []
    assert abs(findings.layout.picture.left - layout.picture.left) <= inches(Fraction(1, 100))


def test_bleed_that_is_missing_or_too_much_is_told_in_its_own_words(tmp_path, trimmed):
    path, layout, raster = trimmed
    box, ppi = raster.picture, raster.ppi
    shorter = sheets.pixels(path).copy()
    shorter[box.top : box.bottom, box.left : box.left + 10] = 255
    path = sheets.save(Image.fromarray(shorter), tmp_path / "a.tif", ppi)
    findings = compare(path, layout, room=ROOM)
    reasons = {item.side: item.why for item in findings.faults if item.code == "border"}
    assert reasons == {
        "left": "The picture stops short of the bleed, and a cut a little off would show white."
    }
    longer = sheets.pixels(path).copy()
    longer[box.top : box.bottom, box.left - 10 : box.left] = 60
    path = sheets.save(Image.fromarray(longer), tmp_path / "b.tif", ppi)
    findings = compare(path, layout, room=ROOM)
    reasons = {item.side: item.why for item in findings.faults if item.code == "border"}
    assert reasons == {"left": "The picture runs beyond the bleed, into the corner marks."}


# Size


def test_right_pixels_with_the_wrong_label_need_no_new_pixels(judged, right):
    findings = judged(right.resize((1200, 1500)), ppi=72)
    assert found(findings) == [("resolution-label", "")]
    fault = findings.faults[0]
    assert fault.found == (
        "1200 × 1500 pixels at the stated 72 ppi make 16.667 × 20.833 in (423.3 × 529.2 mm)"
    )
    assert fault.expected == "4 × 5 in (101.6 × 127 mm)"
    assert fault.remedy == (
        "Set the resolution to 300 ppi without resampling: the pixels stay as they are."
    )
    assert findings.layout is None


@pytest.mark.parametrize(("working", "size"), [(300, (1200, 1500)), (240, (960, 1200))])
def test_the_label_that_fits_is_named(tmp_path, wanted, working, size):
    path = sheets.save(Image.new("RGB", size, "white"), tmp_path / "a.tif", 72)
    fault = compare(path, wanted, room=ROOM).faults[0]
    assert fault.code == "resolution-label"
    assert f"Set the resolution to {working} ppi without resampling" in fault.remedy


def test_a_sheet_of_another_size(judged, right):
    findings = judged(right.crop((0, 0, 199, 230)))
    assert found(findings) == [("sheet-size", "")]
    assert findings.faults[0].found == "the file is 3.98 × 4.6 in (101.1 × 116.8 mm)"
    assert findings.faults[0].expected == "4 × 5 in (101.6 × 127 mm)"


def test_a_sheet_that_lies_the_other_way(judged, right):
    findings = judged(right.rotate(90, expand=True))
    assert found(findings) == [("sheet-turned", "")]


@pytest.mark.parametrize(("off", "told"), [(2, []), (3, [("sheet-size", "")])])
def test_the_size_has_the_rooms_tolerance(tmp_path, off, told):
    """1/150 in is two pixels at 300 ppi."""
    layout = lay_out((600, 400), find_sheet("4x5in"), width=inches(2))
    image = Image.new("RGB", (1200 + off, 1500), "white")
    image.paste((90, 60, 30), (300, 550, 900, 950))
    path = sheets.save(image, tmp_path / "a.tif", 300)
    got = found(compare(path, layout, room=ROOM))
    assert [item for item in got if item[0].startswith("sheet")] == told


def test_no_resolution(judged, tmp_path, right):
    path = sheets.save_by_tifffile(np.asarray(right), tmp_path / f"{NAMED}.tif", None)
    findings = judged.file(path)
    assert found(findings) == [("resolution-missing", "")]
    assert findings.faults[0].found == "the file has 200 × 250 pixels but states no resolution"


def test_two_resolutions(judged, tmp_path, right):
    path = sheets.save_by_tifffile(np.asarray(right), tmp_path / f"{NAMED}.tif", (50, 100))
    findings = judged.file(path)
    assert found(findings) == [("resolution-unequal", "")]
    assert findings.faults[0].found == "the file states 50 ppi across and 100 ppi down"


# What may change on the way


def test_png_instead_of_tiff(judged, right):
    findings = judged(right, name=f"{NAMED}.png")
    assert found(findings) == [("format", "")]
    assert findings.faults[0].found == "the file is PNG"
    assert findings.verdict == "look"


def test_jpeg_instead_of_tiff(judged, right):
    """Its blur round the edges makes the place a guess, which is no second reason to turn it away."""
    findings = judged(right, name=f"{NAMED}.jpg", quality=95)
    first, *others = findings.faults
    assert first.code == "format"
    assert first.found == "the file is JPEG, which loses detail each time it is saved"
    assert all(item.grade == "look" for item in others)


def test_a_tiff_that_smears(judged, right):
    findings = judged(right, compression="jpeg", quality=95)
    assert ("compression", "") in found(findings)
    assert "compressed as JPEG" in str(findings)


@pytest.mark.parametrize(
    ("compression", "word"), [("jpegxl", "JPEG XL"), ("webp", "WebP"), ("jpeg2000", "JPEG 2000")]
)
def test_a_packing_that_can_smear_is_told_whatever_it_did(
    judged, tmp_path, right, compression, word
):
    path = tmp_path / f"{NAMED}.tif"
    sheets.save_by_tifffile(
        np.asarray(right), path, (PPI, PPI), compression=compression, predictor=False
    )
    told = [item for item in judged.file(path).faults if item.code == "compression"]
    assert [item.grade for item in told] == ["look"]
    assert f"compressed as {word}, which can lose detail" in told[0].found


def test_a_packing_nobody_knows_is_a_finding_and_no_fault_of_ours(judged, tmp_path, right):
    path = sheets.save_by_tifffile(
        np.asarray(right), tmp_path / f"{NAMED}.tif", (PPI, PPI), compression=None, predictor=False
    )
    data = bytearray(path.read_bytes())
    entry = struct.pack("<HHI", 259, 3, 1)
    struct.pack_into("<H", data, data.index(entry) + 8, 12345)
    path.write_bytes(data)
    findings = judged.file(path)
    assert findings.verdict == "stop"
    assert found(findings) == [("unreadable", "")]


def test_a_bigtiff_that_need_not_be_one(judged, tmp_path, right):
    path = tmp_path / f"{NAMED}.tif"
    sheets.save_by_tifffile(np.asarray(right), path, (PPI, PPI), bigtiff=True)
    findings = judged.file(path)
    assert found(findings) == [("bigtiff", "")]
    assert findings.verdict == "look"


def test_transparency(judged, right):
    findings = judged(right.convert("RGBA"))
    assert found(findings) == [("transparency", "")]


def test_layers(judged, tmp_path, right):
    block = make.layer_block(order="<")
    path = sheets.save_by_tifffile(
        np.asarray(right),
        tmp_path / f"{NAMED}.tif",
        (PPI, PPI),
        extratags=[(37724, 7, len(block), block, True)],
    )
    assert found(judged.file(path)) == [("layers", "")]


def test_pages(judged, right):
    findings = judged(right, save_all=True, append_images=[right, right])
    assert found(findings) == [("several-pages", "")]
    assert findings.faults[0].found == "the file has 3 pages"


def test_a_flag_that_turns_the_picture(judged, tmp_path, right):
    """Stored upside down with a flag that says so: it is seen right, but not everywhere."""
    values = np.ascontiguousarray(np.asarray(right)[::-1, ::-1])
    tags = [(274, 3, 1, 3, True)]
    path = sheets.save_by_tifffile(values, tmp_path / f"{NAMED}.tif", (PPI, PPI), extratags=tags)
    findings = judged.file(path)
    assert found(findings) == [("turned-flag", "")]
    assert findings.verdict == "look"


# Colour and name


@pytest.mark.parametrize(
    ("mode", "codes"),
    [
        ("CMYK", {"cmyk-unknown"}),
        ("1", {"one-bit"}),
        ("P", {"palette", "profile-missing"}),
        ("L", {"grey", "profile-missing"}),
    ],
)
def test_other_colours_than_rgb(judged, right, mode, codes):
    findings = judged(right.convert(mode), icc_profile=b"")
    assert codes == {item.code for item in findings.faults} & set(COLOURS)
    assert {item.expected for item in findings.faults if item.code in codes} >= {"RGB"}


def test_no_profile(judged, right):
    findings = judged(right, icc_profile=b"")
    assert found(findings) == [("profile-missing", "")]
    assert findings.verdict == "look"
    assert findings.faults[0].found == "the file carries no profile"


def test_a_damaged_profile(judged, right):
    findings = judged(right, icc_profile=make.srgb()[:99])
    assert found(findings) == [("profile-damaged", "")]
    assert "The embedded profile is damaged (99 " in str(findings)


@pytest.mark.parametrize(
    ("name", "reason"),
    [
        ("Ada-Brook_Ship_4x5in", "another title"),
        ("Ada-Brook_Boat_5x4in", "another sheet"),
        ("Nia-Oak_Ship_4x5in", "another owner and title"),
        ("scan 0412", ", and not by the pattern"),
    ],
)
def test_another_name(judged, right, name, reason):
    findings = judged(right, name=f"{name}.tif")
    assert found(findings) == [("name", "")]
    assert findings.faults[0].found.startswith(f"the file is named “{name}.tif”")
    assert reason in findings.faults[0].found
    assert findings.faults[0].remedy == f"Rename it to {NAMED}.tif."


def test_upper_and_lower_case_of_a_name_do_not_matter(judged, right):
    assert found(judged(right, name=f"{NAMED.upper()}.tif")) == []


def test_several_faults_are_all_told(judged, raster, picture):
    image = moved(raster, picture, left=40).convert("RGBA")
    findings = judged(image, name="x.tif", icc_profile=b"")
    assert {code for code, _ in found(findings)} == {
        "transparency",
        "profile-missing",
        "name",
        "border",
    }
    assert str(findings).count("Expected: ") == 5


# Files that cannot be read


@pytest.mark.parametrize(
    ("data", "code", "told"),
    [
        (b"", "empty", "the file is empty"),
        (b"hello, printer", "not-a-picture", "the file is not a picture"),
        (None, "unreadable", "there is no file"),
    ],
)
def test_a_file_that_is_no_picture_is_a_finding(tmp_path, wanted, data, code, told):
    path = tmp_path / "a.tif"
    if data is not None:
        path.write_bytes(data)
    findings = compare(path, wanted, room=ROOM)
    assert found(findings) == [(code, "")]
    assert findings.layout is None
    assert ".." not in str(findings)
    assert findings.faults[0].found.startswith(told)


@pytest.mark.parametrize("share", [0.1, 0.5, 0.95])
def test_a_sheet_cut_short_is_a_finding(judged, tmp_path, right, share):
    path = sheets.save_by_tifffile(np.asarray(right), tmp_path / f"{NAMED}.tif", (PPI, PPI))
    path.write_bytes(path.read_bytes()[: int(path.stat().st_size * share)])
    assert found(judged.file(path)) == [("damaged", "")]


def test_more_pixels_than_the_room_allows(tmp_path, right, wanted):
    path = sheets.save(right, tmp_path / "a.tif", PPI)
    small = replace(ROOM, limits=replace(ROOM.limits, pixels=40_000))
    findings = compare(path, wanted, room=small)
    assert found(findings) == [("too-large", "")]


# Reading back what was written


@pytest.fixture(params=[(8, "LZW"), (16, "Deflate")], ids=str)
def written(request, tmp_path, picture, monkeypatch):
    """One of our files with many strips, and all that its writer knows of it."""
    depth, packing = request.param
    monkeypatch.setattr("labkit.files.writing.strips.STRIP_BYTES", 6000 * depth // 8)
    path = tmp_path / "made.tif"
    form = {"depth": depth, "packing": packing}
    layout, _, known = sheets.print_file(
        path, picture, on="4x5in", width="3in", at="optical", **form
    )
    with tifffile.TiffFile(path) as file:
        page = file.pages[0]
        strips = list(zip(page.dataoffsets, page.databytecounts, strict=True))
    return path, layout, known, strips


def reads_back(written) -> list[tuple[str, str]]:
    path, layout, known, _ = written
    return found(read_back(path, layout, known, room_of(known)))


def room_of(known: Written) -> Room:
    """A room that wants files so packed."""
    colour = replace(ROOM.colour, depth="as the picture", packing_16=known.packing)
    return replace(ROOM, colour=colour)


def test_what_was_written_reads_back(written):
    assert len(written[3]) == 25
    assert reads_back(written) == []


def test_what_a_person_decides_of_a_hand_in_is_a_fault_of_the_writers_own_file(written):
    path, layout, known, _ = written
    with tifffile.TiffFile(path, mode="r+") as file:
        file.pages[0].tags[274].overwrite(3)
    told = read_back(path, layout, known, ROOM)
    assert ("turned-flag", "stop") in [(item.code, item.grade) for item in told.faults]


def flip(path: Path, at: int, bits: int = 255) -> None:
    data = bytearray(path.read_bytes())
    data[at] ^= bits
    path.write_bytes(data)


@pytest.mark.parametrize("kind", ["no-picture", "blank"])
@given(which=st.integers(0, 10**6), bit=st.integers(0, 7))
@example(which=949779, bit=0)  # in the code that ends a strip, and changes no pixel
@examples(40, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_bit_that_changed_on_the_disk_is_noticed(written, kind, which, bit):
    path, _, known, strips = written
    whole = path.read_bytes()
    alike = [
        strip
        for strip, held in zip(strips, known.sums, strict=True)
        if (held is None) == (kind == "blank")
    ]
    assert alike
    start, size = alike[which % len(alike)]
    flip(path, start + which // len(alike) % size, 1 << bit)
    try:
        assert reads_back(written) == [("not-as-written", "")]
    finally:
        path.write_bytes(whole)
    assert reads_back(written) == []


def test_two_strips_changed_round_are_noticed(written):
    path, _, known, strips = written
    inked = [strip for strip, held in zip(strips, known.sums, strict=True) if held is not None]
    (one, size_one), (two, size_two) = inked[2:4]
    data = path.read_bytes()
    count = struct.pack("<II", size_one, size_two)
    place = struct.pack("<II", one, two)
    assert data.count(place) == 1
    data = data.replace(place, struct.pack("<II", two, one))
    data = data.replace(count, struct.pack("<II", size_two, size_one))
    path.write_bytes(data)
    assert reads_back(written) == [("not-as-written", "")]


@given(share=st.floats(0.02, 0.999))
@examples(30, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_file_cut_short_is_noticed(written, share):
    path = written[0]
    whole = path.read_bytes()
    path.write_bytes(whole[: int(len(whole) * share)])
    try:
        assert {("not-as-written", ""), ("damaged", "")} & set(reads_back(written))
    finally:
        path.write_bytes(whole)


def test_a_strip_that_was_lost_is_noticed(written):
    path, layout, known, _ = written
    fewer = replace(known, sums=known.sums[:-1])
    findings = read_back(path, layout, fewer, ROOM)
    assert found(findings) == [("not-as-written", "")]


def test_the_writers_own_file_is_not_held_to_the_limit_on_strangers(written):
    path, layout, known, _ = written
    small = replace(room_of(known), limits=replace(ROOM.limits, pixels=10))
    assert found(read_back(path, layout, known, small)) == []


def test_the_shipped_tolerance_is_what_these_tests_take_it_for():
    assert ROOM.tolerance.place == length("1/64in")
    assert ROOM.tolerance.size == length("1/150in")


# Cropped anywhere that leaves a part of it whole


KEEP = Part("the left third", (Fraction(0), Fraction(0), Fraction(1, 3), Fraction(1)))


@pytest.fixture
def kept(tmp_path, picture):
    """Hand in 2 × 2 in of the picture, two thirds of its width, beginning at a column."""
    wanted = lay_out(SIZE, find_sheet("4x5in"), width=inches(2), height=inches(2), fill=True)
    raster = rasterize(wanted, SIZE, working_ppi=300)

    def hand_in(image: Image.Image, keep: Part | None = KEEP) -> Findings:
        path = sheets.save(sheets.by_hand(image, raster), tmp_path / f"{NAMED}.tif", PPI)
        return compare(path, wanted, room=ROOM, named=NAMED, picture=picture, keep=keep)

    return hand_in


def columns(picture: Path, first: int) -> Image.Image:
    return Image.open(picture).crop((first, 0, first + 100, 100))


def test_a_crop_that_keeps_it_is_fine_and_is_told(kept, picture):
    findings = kept(columns(picture, 0))
    assert found(findings) == []
    assert float(findings.layout.crop.left) == pytest.approx(0, abs=0.01)
    assert float(findings.layout.crop.width) == pytest.approx(2 / 3, abs=0.01)


def test_one_that_cuts_into_it_is_told_how_far_and_which_way(kept, picture):
    """Begun at column 25 of 150 it lacks 25, half an inch at 50 ppi."""
    findings = kept(columns(picture, 25))
    assert found(findings) == [("picture-part", "left")]
    assert findings.faults[0].sentence() == (
        "About 1/2 in (12.7 mm) of the left third is lost at the left. Expected: all of the left third. "
        "The task asks for all of it in the print. Crop the picture again, further to the left."
    )


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (lambda picture: Image.open(picture), [("picture-stretched", "")]),
        (lambda picture: Image.new("RGB", (9, 9), (20, 140, 60)), [("picture-other", "")]),
        (
            lambda picture: columns(picture, 0).transpose(Image.Transpose.FLIP_LEFT_RIGHT),
            [("picture-other", "")],
        ),
    ],
)
def test_what_is_no_crop_of_it_is_told_instead(kept, picture, change, told):
    assert found(kept(change(picture))) == told


def test_without_a_part_to_keep_only_the_crop_asked_for_will_do(kept, picture):
    assert found(kept(columns(picture, 25), keep=None)) == []
    assert found(kept(columns(picture, 0), keep=None)) == [("picture-other", "")]


def test_a_command_is_quoted_for_the_terminal_of_the_system(monkeypatch):
    words = ["prepare", "a boat's.tif"]
    assert offer._as_typed(words) == """prepare 'a boat'"'"'s.tif'"""
    monkeypatch.setattr(offer.os, "name", "nt")
    assert offer._as_typed(words) == """prepare "a boat's.tif\""""


# What is no picture, and what nobody can open


def test_a_document_is_told_of_against_a_layout_as_well(tmp_path, wanted):
    """By its content: its name may say that it is a TIFF."""
    for name in ("Ada-Brook_Boat_4x5in.pdf", "Ada-Brook_Boat_4x5in.tif"):
        writer = PdfWriter()
        writer.add_blank_page(288, 360)
        writer.write(tmp_path / name)
        findings = compare(tmp_path / name, wanted, room=ROOM, named=NAMED)
        [item] = findings.items
        assert (item.code, item.grade) == ("document", "stop")
        assert "4 × 5 in" in item.found
        assert item.remedy.startswith("Export the page as a TIFF of exactly 1200 × 1500 pixels")
        assert item == check(tmp_path / name, room=ROOM).items[0]


@pytest.mark.parametrize("compression", [None, "tiff_lzw", "tiff_adobe_deflate"])
@pytest.mark.parametrize(("tag", "count"), [(277, 7), (278, 2), (284, 2), (258, 10**6)])
def test_a_tiff_with_a_wrong_count_is_never_fine(tmp_path, right, compression, tag, count):
    """Of SamplesPerPixel, RowsPerStrip, PlanarConfiguration (one each) and BitsPerSample (one for each
    sample): TIFF 6.0, section 8. Libtiff refuses to open such a file."""
    path = sheets.save(right, tmp_path / f"{NAMED}.tif", PPI, compression=compression)
    data = bytearray(path.read_bytes())
    (start,) = struct.unpack_from("<I", data, 4)
    (entries,) = struct.unpack_from("<H", data, start)
    for at in range(start + 2, start + 2 + 12 * entries, 12):
        if struct.unpack_from("<H", data, at) == (tag,):
            struct.pack_into("<I", data, at + 4, count)
    path.write_bytes(data)
    with pytest.raises(IndexError):
        imagecodecs.tiff_decode(bytes(data))
    assert check(path, room=ROOM).verdict == "stop"


@pytest.mark.usefixtures("in_a_child")
@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("a.ppm", b"P6\n#" + b"x" * 30_000_000 + b"\n2 2\n255\n" + bytes(12)),
        ("a.jpg", b"\xff\xd8" + b"\xff" * 30_000_000 + b"\xd9"),
    ],
)
def test_the_rooms_limit_holds_for_a_header_too(tmp_path, name, data):
    """Minutes of reading it, were it not for the limit."""
    (tmp_path / name).write_bytes(data)
    hasty = replace(ROOM, limits=replace(ROOM.limits, seconds=1))
    [item] = check(tmp_path / name, room=hasty).items
    assert item.code == "unreadable"
    assert item.found == (
        "the file took longer than the 1 seconds this room allows: it may be damaged; save it anew, or "
        "raise limits.seconds in the room's file"
    )


@pytest.mark.usefixtures("in_a_child")
def test_its_facts_are_told_though_its_pixels_cannot_be_had(tmp_path, right):
    path = sheets.save(right, tmp_path / f"{NAMED}.tif", PPI)
    hasty = replace(ROOM, limits=replace(ROOM.limits, memory_mb=10))
    assert [item.code for item in check(path, room=hasty).items] == ["too-large"]
    data = path.read_bytes()
    path.write_bytes(data[:8] + bytes(len(data) // 4) + data[8 + len(data) // 4 :])
    findings = check(path, room=ROOM)
    assert next(item.code for item in findings.items) == "damaged"
    assert findings.facts.pixels == (200, 250)


@pytest.mark.usefixtures("in_a_child")
def test_where_no_child_can_be_started_the_file_is_not_blamed(tmp_path, right, monkeypatch):
    path = sheets.save(right, tmp_path / f"{NAMED}.tif", PPI)
    monkeypatch.setattr(sys, "executable", str(tmp_path / "python"))
    with Guarded() as child:
        [item] = check(path, room=ROOM, child=child).items
    assert item.code == "not-looked-at"
    assert "could not be started (no such file or directory)" in item.found
