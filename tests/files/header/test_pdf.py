"""What a PDF says of its size: boxes, turns and units against ISO 32000-1, and the wording of refusals.

ISO 32000-1 (8.3.2.3, 14.11.2) is quoted second-hand; the PDFs are written by pypdf, some boxes by hand.
"""

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st
from pypdf import PdfWriter
from pypdf.generic import ArrayObject, FloatObject, NameObject, NumberObject, RectangleObject

from labkit.errors import LabError
from labkit.files.checks.document import advice
from labkit.files.header.pdf import Document, read_document
from labkit.geometry.box import Edges
from labkit.geometry.length import ZERO, inches, length
from tests.files.sheets import shipped
from tests.geometry.refused import refusal
from tests.properties import examples

ROOM = shipped()
INCH = 72
"""Units of the page in an inch (ISO 32000-1, 8.3.2.3)."""


def pdf(path, size=(8.5 * INCH, 11 * INCH), *, pages=1, turned=0, unit=None, **boxes):
    """A PDF of blank pages; ``boxes`` (trim, bleed, crop, media) are left, bottom, right, top in units."""
    writer = PdfWriter()
    for _ in range(pages):
        page = writer.add_blank_page(*size)
        for name, box in boxes.items():
            page[NameObject(f"/{name.title()}Box")] = ArrayObject(map(FloatObject, box))
        if turned:
            page[NameObject("/Rotate")] = NumberObject(turned)
        if unit:
            page[NameObject("/UserUnit")] = FloatObject(unit)
    writer.write(path)
    return path


def sizes(*texts):
    return tuple(map(length, texts))


def test_72_units_are_an_inch(tmp_path):
    found = read_document(pdf(tmp_path / "a.pdf"))
    assert found == Document(1, sizes("8 1/2in", "11in"))
    assert found.pixels(300) == (2550, 3300)


def test_a4_as_programs_write_it_comes_out_at_the_usual_pixels(tmp_path):
    """ISO 216: 210 × 297 mm, which is 2480 × 3508 pixels at 300 ppi."""
    found = read_document(pdf(tmp_path / "a.pdf", (595.276, 841.89)))
    assert found.pixels(300) == (2480, 3508)
    assert [round(float(side.mm), 1) for side in found.page] == [210.0, 297.0]


def test_pages_are_counted_and_the_first_is_measured(tmp_path):
    assert read_document(pdf(tmp_path / "a.pdf", pages=3)).pages == 3


BLED = {"trim": (18, 20, 18 + 720, 20 + 576), "bleed": (9, 11, 18 + 729, 20 + 576)}
"""Trim 10 × 8 in; bleed 9 units on the left, on the right and below, none above."""


def test_trim_and_bleed(tmp_path):
    found = read_document(pdf(tmp_path / "a.pdf", (800, 700), **BLED))
    eighth = length("1/8in")
    assert found.trim == sizes("10in", "8in")
    assert found.bleed == Edges(left=eighth, top=ZERO, right=eighth, bottom=eighth)
    assert found.wanted == sizes("10 1/4in", "8 1/8in")
    assert found.pixels(300) == (3075, 2438)  # 2437.5 goes up


@pytest.mark.parametrize(
    ("turned", "none_on"), [(0, "top"), (90, "right"), (180, "bottom"), (270, "left"), (-90, "left")]
)  # fmt: skip
def test_a_turned_page_is_measured_as_it_is_shown(tmp_path, turned, none_on):
    """Rotate turns the page clockwise (ISO 32000-1, table 30), so what was above comes to the right."""
    found = read_document(pdf(tmp_path / "a.pdf", (800, 700), turned=turned, **BLED))
    on_its_side = turned % 180 != 0
    assert found.trim == (sizes("8in", "10in") if on_its_side else sizes("10in", "8in"))
    assert [side for side, size in found.bleed.items() if not size] == [none_on]
    width, height = inches("800") / INCH, inches("700") / INCH
    assert found.page == ((height, width) if on_its_side else (width, height))


def test_a_unit_of_its_own_makes_everything_larger(tmp_path):
    found = read_document(pdf(tmp_path / "a.pdf", (800, 700), unit=2, **BLED))
    assert found.trim == sizes("20in", "16in")
    assert found.bleed.left == length("1/4in")


def test_a_page_is_shown_as_far_as_its_crop_box_goes(tmp_path):
    found = read_document(pdf(tmp_path / "a.pdf", crop=(72, 72, 360, 9999)))
    assert found.page == sizes("4in", "10in")


def test_the_corners_of_a_box_may_be_stated_in_any_order(tmp_path):
    found = read_document(pdf(tmp_path / "a.pdf", media=(720, 0, 0, 360)))
    assert found.page == sizes("10in", "5in")


def test_bleed_without_trim_or_no_larger_than_it_is_none(tmp_path):
    only = read_document(pdf(tmp_path / "a.pdf", bleed=(9, 9, 603, 783)))
    assert (only.trim, only.bleed, only.wanted) == (None, None, only.page)
    same = read_document(pdf(tmp_path / "b.pdf", trim=(9, 9, 603, 783), bleed=(9, 9, 603, 783)))
    assert same.trim == sizes("8 1/4in", "10 3/4in")
    assert (same.bleed, same.wanted) == (None, same.page)


def on_page(box) -> bool:
    """Whether some of a box lies on a page of 800 × 700 units."""
    (left, right), (bottom, top) = sorted(box[::2]), sorted(box[1::2])
    return min(right, 800) > max(left, 0) and min(top, 700) > max(bottom, 0)


corners = st.tuples(*[st.integers(-200, 1000)] * 4)


@examples(60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(trim=corners, bleed=corners, turned=st.sampled_from([0, 90, 180, 270]))
def test_trim_lies_in_bleed_and_bleed_on_the_page(tmp_path, trim, bleed, turned):
    """ISO 32000-1, 14.11.2: what is stated otherwise is clipped, or no bleed, or no sound document."""
    path = pdf(tmp_path / "a.pdf", (800, 700), trim=trim, bleed=bleed, turned=turned)
    try:
        found = read_document(path)
    except LabError:
        assert not on_page(trim)
        return
    pairs = zip(found.trim, found.wanted, found.page, strict=True)
    assert all(ZERO < inner <= outer <= page for inner, outer, page in pairs)


def test_the_sentences(tmp_path):
    plain = read_document(pdf(tmp_path / "a.pdf", pages=2))
    assert plain.sentence() == (
        "a PDF document of 2 pages, the first 8 1/2 × 11 in (215.9 × 279.4 mm), "
        "with neither trim nor bleed stated"
    )
    assert advice(plain, ROOM) == (
        "Export the page that is meant as a TIFF of exactly 2550 × 3300 pixels: 8 1/2 × 11 in "
        "(215.9 × 279.4 mm) at 300 ppi. It is the size of a sheet in stock, letter."
    )
    boxes = {"trim": (9, 9, 729, 585), "bleed": (0, 0, 738, 594)}
    bled = read_document(pdf(tmp_path / "b.pdf", (738, 594), **boxes))
    assert bled.sentence("mm") == (
        "a PDF document of one page, 260.4 × 209.6 mm (10 1/4 × 8 1/4 in), trimmed to "
        "254 × 203.2 mm (10 × 8 in), with bleed: left 3.2 mm (1/8 in), top 3.2 mm (1/8 in), right "
        "3.2 mm (1/8 in), bottom 3.2 mm (1/8 in)"
    )
    marked = read_document(pdf(tmp_path / "c.pdf", (800, 700), **BLED))
    assert advice(marked, ROOM) == (
        "Export the trim size and bleed as a TIFF of exactly 3075 × 2438 pixels: 10 1/4 × 8 1/8 in "
        "(260.4 × 206.4 mm) at 300 ppi. It is no sheet in stock: place it on one, letter, 11 × 8.5 in "
        "(279.4 × 215.9 mm) or larger."
    )


@pytest.mark.parametrize(
    ("size", "told"),
    [
        ((595, 842), "It is the size of a sheet in stock, A4."),  # 210 × 297 mm in whole units
        ((842, 595), "It is the size of a sheet in stock, A4."),
        ((36 * INCH, 24 * INCH), "it comes off the 24 in (609.6 mm) roll."),
        ((70 * INCH, 80 * INCH), "Nothing here can hold it: ask what size is meant."),
    ],
)
def test_what_stock_a_page_goes_on(tmp_path, size, told):
    assert advice(read_document(pdf(tmp_path / "a.pdf", size)), ROOM).endswith(told)


def test_a_page_of_more_pixels_than_are_taken(tmp_path):
    told = advice(read_document(pdf(tmp_path / "a.pdf", (70 * INCH, 80 * INCH))), ROOM)
    assert told.startswith(
        "At 300 ppi it has 21000 × 24000 pixels, more than are taken here: ask before you export it."
    )


def test_a_locked_document(tmp_path):
    path = tmp_path / "a.pdf"
    writer = PdfWriter()
    writer.add_blank_page(612, 792)
    writer.encrypt("secret", algorithm="RC4-128")
    writer.write(path)
    assert refusal(read_document, path) == (
        "“a.pdf” is a PDF document that is locked, so nobody can see here how large it is: save it "
        "without a password, or export the picture from it as TIFF."
    )


def test_a_document_that_anybody_may_open_is_read(tmp_path):
    path = tmp_path / "a.pdf"
    writer = PdfWriter()
    writer.add_blank_page(612, 792)
    writer.encrypt("", "owner", algorithm="RC4-128")
    writer.write(path)
    assert read_document(path).page == sizes("8 1/2in", "11in")


def test_a_document_without_a_page(tmp_path):
    assert refusal(read_document, pdf(tmp_path / "a.pdf", pages=0)) == (
        "“a.pdf” is a PDF document without a page: export it again, and the picture as TIFF."
    )


@pytest.mark.filterwarnings("ignore")
@pytest.mark.parametrize("data", [b"", b"%PDF-1.7", b"%PDF-1.7\n%%EOF", b"\0" * 2000])
def test_a_broken_document(tmp_path, data):
    path = tmp_path / "a.pdf"
    path.write_bytes(data)
    with pytest.raises(LabError) as caught:
        read_document(path)
    assert caught.value.code == "damaged"
    assert str(caught.value) in (
        "“a.pdf” is a PDF document, but damaged or cut short: export it again, and the picture as TIFF.",
        "“a.pdf” is a PDF document without a page: export it again, and the picture as TIFF.",
    )


def test_pypdf_reads_the_same_boxes(tmp_path):
    """Left, bottom, right, top as a second reader gives them, of a plain page."""
    from pypdf import PdfReader

    path = pdf(tmp_path / "a.pdf", (800, 700), **BLED)
    page = PdfReader(path).pages[0]
    found = read_document(path)
    assert page.trimbox == RectangleObject(BLED["trim"])
    for box, size in ((page.trimbox, found.trim), (page.mediabox, found.page)):
        units = tuple(float(side) * INCH for side in size)
        assert (float(box.width), float(box.height)) == units
