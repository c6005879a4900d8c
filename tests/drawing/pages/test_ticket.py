import re
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from html.parser import HTMLParser
from pathlib import Path

import pytest

from labkit.drawing.pages.ticket import SQUARE_FEET, Order, goes_in, ticket
from labkit.drawing.sheet import describe_sheet
from labkit.errors import LabError
from labkit.files.writing.printfile import PrintFile
from labkit.geometry.layout import Layout
from labkit.geometry.paper import find_sheet
from labkit.geometry.raster import rasterize
from labkit.room.rules import load_room
from tests.drawing.layouts import LAYOUTS, chromium, ratio
from tests.files.sheets import keeping

ROOM = load_room()
PREVIEW = "data:image/gif;base64,R0lGODlhAQABAIAAAP///wAAACH5BAAAAAAALAAAAAABAAEAAAICRAEAOw=="
CONVERTED = (
    "The picture was converted from a wide RGB space to sRGB with relative intent.",
    "16 bits a channel were reduced to 8.",
    "More pixels than 300 ppi asks for were reduced to it.",
)
WARNINGS = (
    "The picture has 212 ppi at this size, below the floor of 300 ppi for prints up to 20 in: make "
    "it smaller, or hang it where it is seen from further away.",
    "57% of the picture is cropped, more than half: look at the drawing before it is printed.",
)


def made(layout: Layout, shape=(3600, 2400), **changes) -> PrintFile:
    facts = PrintFile(
        file=Path("hand-in/Alder_Low-tide_13x19in.tif"),
        layout=layout,
        raster=rasterize(layout, shape, working_ppi=300),
        owner="Wren Alder",
        title="Low tide",
        profile="sRGB",
        depth=8,
        bytes=41_234_567,
        converted=CONVERTED[:1],
        warnings=(),
    )
    return replace(facts, **changes)


OPTICAL = made(LAYOUTS["optical"])


class Page(HTMLParser):
    """A page read back: its tags with their attributes, and its text without styles."""

    def __init__(self, html: str):
        super().__init__()
        self.tags, self._open, words = [], [], []
        self._words = words
        self.feed(html)
        self.text = " ".join("".join(words).split())

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        self._open.append(tag)

    def handle_endtag(self, tag):
        while self._open and self._open.pop() != tag:
            pass

    def handle_data(self, data):
        if "style" not in self._open:
            self._words.append(data)

    def all(self, tag):
        return [attrs for name, attrs in self.tags if name == tag]


def said(*args, **options) -> str:
    return Page(ticket(*args, **options)).text


def test_the_ticket_tells_every_fact():
    order = Order(copies=2, course="Photography 1", due="14 November")
    text = said(replace(OPTICAL, warnings=WARNINGS, converted=CONVERTED), ROOM, order)
    for fact in (
        "Low tide", "Wren Alder", ROOM.name, "Alder_Low-tide_13x19in.tif", "41.2 MB",
        "13 × 19 in (330.2 × 482.6 mm), upright", "Picture12 × 8 in (304.8 × 203.2 mm)",
        "Resolution300 ppi", "sheet 3900 × 5700", "picture 3600 × 2400",
        "left 1/2 in12.7 mm", "top 4.4 in111.8 mm", "right 1/2 in12.7 mm", "bottom 6.6 in167.6 mm",
        "sRGB, 8 bits a channel", *CONVERTED, *WARNINGS,
        "cotton matt 300", "300 g/m²", "Photography 1", "14 November", "Copies printed: 2.",
    ):  # fmt: skip
        assert fact.replace(" ", "") in text.replace("\xa0", " ").replace(" ", ""), fact


@pytest.mark.parametrize("layout", LAYOUTS.values(), ids=LAYOUTS)
def test_the_page_says_in_words_what_is_drawn(layout):
    html = ticket(made(layout, (3600, 3600)), ROOM, Order())
    words = describe_sheet(layout)
    assert html.count(words) == 2  # once to read, once as the drawing's own description
    assert f'<p class="words">{words}</p>' in html


def test_price_and_paper_used():
    """13 × 19 in is 247 square inches, 1.715 square feet of 0.09290304 m²."""
    text = said(OPTICAL, ROOM, Order(copies=3))
    assert ROOM.price(None, OPTICAL.layout.sheet, 3) == Decimal("18.60")
    assert "£18.60" in text
    assert Fraction("0.3048") ** 2 * SQUARE_FEET == 1
    assert f"{3 * 247 * 0.00064516:.3f} m²" in text  # 1 in² is exactly 645.16 mm²
    assert f"{3 * 247 / 144:.2f} sq ft" in text
    words = said(OPTICAL, replace(ROOM, currency="EUR"), Order())
    assert "EUR 6.20" in words


def test_what_a_print_really_takes_of_a_roll():
    """44 in less 10 mm by 96 in with 30 mm of leader and 50 mm of tail; 38.00 a metre, 95.70 each."""
    text = said(made(LAYOUTS["huge"]), ROOM, Order(copies=2))
    assert "5.04 m of the 44 in roll" in text  # 2 × 2.5184
    assert f"{2 * 1.1076 * 2.5184:.3f} m²" in text
    assert "£191.40" in text


@pytest.mark.parametrize(
    ("sheet", "paper", "told"),
    [
        ("13x19in", None, "Portrait: a short side goes in first, the top edge"),
        ("19x13in", None, "Landscape: a short side goes in first, the left edge"),
        # across the 36 in roll 20 in of it are used, and not 36
        ("36x20in", "pearl 260", "Landscape: a long side goes in first, the top edge"),
        ("20x36in", "pearl 260", "Portrait: a long side goes in first, the left edge"),
        ("20x20in", "pearl 260", "Square: goes in with the top edge"),
    ],
)
def test_which_side_goes_in_first(sheet, paper, told):
    assert goes_in(ROOM.route(find_sheet(sheet), paper)).startswith(told)


def test_the_finished_size():
    for name, size in (
        ("trimmed", "11 × 17 in"),
        ("even", "13 × 13 in"),
        ("optical", "13 × 19 in"),
    ):
        text = said(made(LAYOUTS[name], (3600, 3600)), ROOM, Order())
        assert f"Finished size{size} (" in text


def test_measuring_comes_before_the_cut_and_a_job_has_its_number():
    text = said(made(LAYOUTS["even"], (3600, 3600)), ROOM, Order(number="310512-7KQ2M"))
    assert text.index("Measure before any cut") < text.index("One cut 13 in")
    for blank in ("ruler bar", "across the feed", "along the feed", "measured by", "left", "top"):
        assert blank in text
    assert text.count("310512-7KQ2M") == 2


def test_a_paper_without_a_price_says_where_to_ask():
    assert "ask at the counter" in said(OPTICAL, keeping(ROOM, "13x19in"), Order())


def test_what_was_not_stated_is_said_to_be_so():
    assert said(OPTICAL, ROOM, Order()).count("not stated") == 2


def test_the_operators_card():
    text = said(OPTICAL, ROOM, Order(paper="pearl 260"))
    for step in (
        "Heron, sheet feed; media setting “Pearl”.",
        "Paper: pearl 260, 13x19in; print on the shiny side.",
        "Portrait: a short side goes in first, the top edge of the drawing in front.",
        "Nothing is centred or turned round by the program.",
        "Scale 100 %: no fitting, no enlarging.",
        "Dries for 12 hours before it is stacked or framed.",
        "Colour managed in one place only: by the printer; the program",
    ):
        assert step in text
    assert "Landscape: a short side goes in first, the left edge of the drawing in front." in said(
        made(LAYOUTS["on its side"]), ROOM, Order()
    )
    assert "Paper: cotton matt 300, 44 in roll;" in said(made(LAYOUTS["huge"]), ROOM, Order())
    board = said(OPTICAL, ROOM, Order(paper="rag board 450", printer="Heron"))
    assert "Heron, hand feed; media setting “Art, thick”." in board
    assert "not known here: ask trained staff" in said(
        OPTICAL, ROOM, Order(paper="rag board 450", printer="Bittern")
    )
    assert "print on either side" in said(
        made(LAYOUTS["millimetres"]), ROOM, Order(paper="plain 120")
    )
    setting = replace(
        ROOM.settings[0], colour_by="program", profile=Path("profiles/Heron-cotton.icc")
    )
    text = said(OPTICAL, replace(ROOM, settings=(setting, *ROOM.settings[1:])), Order())
    assert "one place only: in the program, to Heron-cotton, relative intent" in text


def test_where_to_cut():
    trimmed = said(made(LAYOUTS["trimmed"]), ROOM, Order())
    assert "corner marks: 1 in (25.4 mm) and 12 in (304.8 mm) from the left edge," in trimmed
    assert "edge, 1 in (25.4 mm) and 18 in (457.2 mm) from the top edge." in trimmed
    assert "Finished size11 × 17 in (279.4 × 431.8 mm), trimmed" in trimmed
    # A 12 in square, 1/2 in from three edges: one cut at 13 in (common practice, no source).
    square = said(made(LAYOUTS["even"], (3600, 3600)), ROOM, Order())
    assert "One cut 13 in (330.2 mm) from the top edge leaves equal borders" in square
    assert "Nothing to cut: the borders stay." in said(OPTICAL, ROOM, Order())
    for text in (trimmed, square):
        for caution in ("Keep fingers away", "guard down", "rules of this room", "trained staff"):
            assert caution in text


def test_a_room_in_millimetres_puts_them_first():
    html = ticket(OPTICAL, replace(ROOM, units="mm"), Order())
    text = Page(html).text
    assert "304.8 × 203.2 mm (12 × 8 in)" in text
    assert text.index("millimetres") < text.index("inches")


def test_what_people_typed_is_escaped():
    nasty = "<script>alert(1)</script>\"'&"
    page = Page(
        ticket(
            made(LAYOUTS["optical"], owner=nasty, title=nasty, file=Path(nasty.replace("/", "")),
                 profile=nasty, converted=(nasty,), warnings=(nasty,)),
            ROOM,
            Order(course=nasty, due=nasty),
        )
    )  # fmt: skip
    assert not page.all("script")
    assert page.text.count(nasty) >= 7


def test_the_preview_is_in_the_page_and_nothing_is_fetched():
    html = ticket(OPTICAL, ROOM, Order(), PREVIEW)
    page = Page(html)
    assert [image["href"] for image in page.all("image")] == [PREVIEW]
    assert "://" not in html.replace('xmlns="http://www.w3.org/2000/svg"', "")
    assert not {"link", "script", "img", "iframe", "object"} & {tag for tag, _ in page.tags}
    with pytest.raises(LabError) as refused:
        ticket(OPTICAL, ROOM, Order(), "https://example.org/a.jpg")
    assert str(refused.value) == (
        "the preview must be in the ticket itself: give it as a data:image/… address, or leave it out."
    )


def test_orders_that_cannot_be_filled_are_refused():
    with pytest.raises(LabError) as refused:
        ticket(OPTICAL, ROOM, Order(copies=0))
    assert str(refused.value) == "0 copies cannot be printed: ask for 1 or more."
    with pytest.raises(LabError, match="no paper here is called “vellum”"):
        ticket(OPTICAL, ROOM, Order(paper="vellum"))


def test_a_reader_of_any_kind_finds_the_way():
    page = Page(ticket(made(LAYOUTS["trimmed"]), ROOM, Order()))
    assert page.all("html") == [{"lang": "en-GB"}]
    headings = [int(tag[1]) for tag, _ in page.tags if re.fullmatch("h[1-6]", tag)]
    assert headings == [1, 2, 2, 2, 2, 2, 2]
    assert {cell["scope"] for cell in page.all("th")} == {"row", "col"}
    drawing = page.all("svg")[0]
    ids = [attrs["id"] for _, attrs in page.tags if "id" in attrs]
    assert drawing["role"] == "img"
    assert set(drawing["aria-labelledby"].split()) <= set(ids)
    assert len(ids) == len(set(ids))


def test_colours_have_contrast_on_paper():
    """WCAG 2.2, SC 1.4.3: 4.5 to 1 for text."""
    html = ticket(OPTICAL, ROOM, Order())
    named = dict(re.findall(r"--(\w+): (#[0-9a-f]{6})", html))
    used = re.findall(r"[{;\s]color: var\(--(\w+)\)", html)
    assert {"ink", "soft"} == set(used)
    assert all(ratio(named[name], "#ffffff") >= 4.5 for name in used)
    assert not re.search(r"[{;\s]color: #", html)


def test_the_same_job_gives_the_same_ticket():
    assert ticket(OPTICAL, ROOM, Order()) == ticket(OPTICAL, ROOM, Order())


@pytest.mark.browser
@pytest.mark.parametrize("size", ["letter", "A4"])
@pytest.mark.parametrize("name", ["trimmed", "on its side", "huge", "even", "tight"])
def test_it_prints_on_one_page(name, size, tmp_path):
    busy = made(
        LAYOUTS[name],
        (3600, 3600),
        title="The harbour at Quillmarsh at low tide, seen from the mole on a morning in November",
        converted=CONVERTED,
        warnings=WARNINGS,
    )
    html = ticket(busy, ROOM, Order(course="Photography 1", due="14 November"), PREVIEW)
    sized = html.replace("@page {", f"@page {{ size: {size};")
    assert sized != html
    page, pdf = tmp_path / "ticket.html", tmp_path / "ticket.pdf"
    page.write_text(sized, encoding="utf-8")
    chromium("--no-pdf-header-footer", f"--print-to-pdf={pdf}", page=page)
    pages = re.findall(rb"/Type\s*/Page\b(?!s)", pdf.read_bytes())
    box = re.search(rb"/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]", pdf.read_bytes())
    wide, high = (float(side) for side in box.groups())
    assert (wide, high) == pytest.approx((612, 792) if size == "letter" else (595, 842), abs=1)
    assert len(pages) == 1
