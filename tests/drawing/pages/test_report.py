import hashlib
import re
from base64 import b64encode
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from types import SimpleNamespace

import pytest

from labkit.drawing.pages import report as module
from labkit.drawing.pages.report import report, report_chunks
from labkit.drawing.pages.template import plain
from labkit.files.checks.findings import Findings, tell
from labkit.files.folder.tally import TallyRow, Totals, tally
from labkit.files.header.picture import Picture
from labkit.files.look.look import Seen
from labkit.geometry.length import length
from labkit.geometry.paper import find_sheet
from labkit.room.rules import load_room
from tests.browser.lab import FLAGS
from tests.drawing.layouts import LAYOUTS, ratio
from tests.drawing.pages.test_ticket import Page
from tests.peers import find_browser

ROOM = load_room()
THUMBNAIL = "data:image/gif;base64,R0lGODlhAQABAIAAAP///wAAACH5BAAAAAAALAAAAAABAAEAAAICRAEAOw=="
COMMAND = "labkit prepare hand-in/Ivy-Marsh_Tide_13x19in.jpg --sheet 13x19in --whole"
NASTY = "<script>alert(1)</script>\"'&"
BIDI = "boat\u202egpj.tif"
"""Shown as it stands, it would seem to end in .jpg: Unicode Annex 9, right-to-left override."""


def handed_in(name, *items, layout=None, thumbnail=THUMBNAIL, **facts) -> Findings:
    """A file as a check leaves it; ``facts=None`` for one that could not be opened."""
    file = Path("hand-in", name)
    known = {
        "kind": "TIFF", "pixels": (3900, 5700), "mode": "RGB", "depth": 8, "packing": "LZW",
        "profile_name": "sRGB", "ppi": (Fraction(300), Fraction(300)),
    }  # fmt: skip
    picture = Picture(file, **{**known, **facts})
    return Findings(file, items, layout, picture, Seen(None, (255, 255, 255), thumbnail=thumbnail))


FINE = handed_in(
    "Wren-Alder_Low-tide_13x19in.tif",
    tell("place", variant="optical"),
    layout=LAYOUTS["optical"],
)
LOOK = handed_in(
    "Ivy-Marsh_Tide_13x19in.jpg",
    tell("format", kind="a JPEG", command=COMMAND),
    tell("profile-missing", command=COMMAND),
    tell("surround", colour="(250, 250, 248)"),
    layout=LAYOUTS["even"],
    kind="JPEG",
    packing="",
    profile_name="",
)
STOP = handed_in("Kit-Fenn_Mole_A4.tif", tell("bigtiff"), tell("layers"), pixels=(2000, 3000))
LOST = Findings(Path("hand-in/empty.tif"), (tell("empty", refusal="the file is empty"),))
ALL = [FINE, LOOK, STOP, LOST]


def page(checked=ALL, room=ROOM, totals=None) -> str:
    return report(checked, room, totals or tally(checked, room), "25 November 2024")


def text(*args, **options) -> str:
    html = page(*args, **options)
    return Page(html[: html.rindex("<script>")]).text.replace("\xa0", " ")


def block(html: str, name: str) -> str:
    """The part of the page that is about one file."""
    (found,) = [part for part in html.split("<tbody class=")[1:] if f">{name}</bdi>" in part]
    return found


def test_the_heading_says_whose_when_and_how_many():
    told = text()
    assert told.startswith("Hand-ins checked, 25 November 2024: Quillmarsh College Print Room")
    assert "Quillmarsh College Print Room Hand-ins checked 25 November 20244 files" in told
    assert "stop2 cannot be printed as handed in" in told
    assert "look1 a person must decide" in told
    assert "fine1 print it" in told


def test_the_gravest_stand_first_and_so_do_their_findings():
    html = page()
    names = re.findall(r'<h3><bdi dir="ltr">(.*?)</bdi>', html)
    assert names == [found.file.name for found in (STOP, LOST, LOOK, FINE)]
    stop = block(html, STOP.file.name)
    assert stop.index("The file still has layers") < stop.index("The file is a BigTIFF")


def test_every_fact_is_told_in_both_units():
    told = Page(block(page(), LOOK.file.name)).text
    for fact in (
        "Pixels 3900 × 5700", "Resolution 300 ppi", "Sheet 13 × 19 in (330.2 × 482.6 mm)",
        "Picture 12 × 12 in (304.8 × 304.8 mm)", "Profile none", "Colour RGB, 8 bits a channel",
        "Form JPEG", "Borders left 1/2 in (12.7 mm), top 1/2 in (12.7 mm), right 1/2 in (12.7 mm), "
        "bottom 6 1/2 in (165.1 mm)",
    ):  # fmt: skip
        assert fact.replace(" ", "") in told.replace(" ", ""), fact
    metric = block(page(room=replace(ROOM, units="mm")), LOOK.file.name)
    assert "left 12.7 mm (1/2 in)" in metric


@pytest.mark.parametrize(
    ("facts", "told"),
    [
        ({"ppi": None}, "not stated"),
        ({"ppi": (Fraction(300), Fraction(200))}, "300 ppi across, 200 ppi down"),
        ({"profile_name": "", "profile_fault": "it is cut short"}, "damaged"),
        ({"depth": 16, "mode": "L"}, "grey, 16 bits a channel"),
    ],
)
def test_what_a_file_does_not_say_is_said_to_be_so(facts, told):
    assert f"<dd>{told}</dd>" in page([handed_in("a.tif", **facts)])


def test_a_file_that_could_not_be_opened_still_has_its_place():
    lost = block(page(), LOST.file.name)
    assert "Nothing else could be read from this file." in lost
    assert "no picture to show" in lost
    assert "The file is empty." in lost
    assert "<svg xmlns" not in lost


def test_a_finding_says_what_was_found_expected_why_and_what_to_do():
    told = Page(block(page(), LOOK.file.name)).text
    finding = LOOK.items[2]
    at = [
        told.index(part)
        for part in (
            "The paper round the picture is not pure white but (250, 250, 248). look: surround",
            f"Expected{finding.expected}",
            f"Why{finding.why}",
            f"To do{finding.remedy}",
        )
    ]
    assert at == sorted(at)


def test_a_command_stands_once_for_all_that_it_mends():
    look = block(page(), LOOK.file.name)
    assert re.findall(r"mends: (.*?)<code>(.*?)</code>", look) == [
        ("format, profile-missing", COMMAND)
    ]
    assert "<code>" not in block(page(), STOP.file.name)


def test_the_message_to_the_student_is_plain_text():
    html = page()
    (message,) = re.findall(r"<pre>\n(.*?)</pre>", block(html, STOP.file.name), re.S)
    assert message.splitlines() == [
        "Your file “Kit-Fenn_Mole_A4.tif” cannot be printed as it was handed in:",
        "",
        f"1. {STOP.faults[0].sentence()}",
        "",
        f"2. {STOP.faults[1].sentence()}",
        "",
        "Please mend it and hand it in again.",
        "",
        "Quillmarsh College Print Room",
    ]
    assert "can be printed once this is settled:" in block(html, LOOK.file.name)
    assert "can be printed as it is. Nothing needs to be mended." in block(html, FINE.file.name)


def test_what_is_for_information_is_folded_away():
    fine = block(page(), FINE.file.name)
    folded = re.search(
        r"<details><summary>For information \(1\)</summary>(.*?)</details>", fine, re.S
    )
    assert FINE.items[0].sentence() in folded[1]
    assert fine.count(FINE.items[0].sentence()) == 1
    assert "For information" not in block(page(), STOP.file.name)
    assert '<details class="drawn"><summary>' in fine
    assert '<details class="drawn" open><summary>' in block(page(), LOOK.file.name)


def test_verdicts_are_a_word_and_a_shape():
    html = page()
    shapes = dict(re.findall(r'<symbol id="mark-(\w+)".*?>(<.*?)</symbol>', html))
    assert set(shapes) == {"stop", "look", "fine"}
    assert len({re.sub(r'fill="#\w+"', "", shape) for shape in shapes.values()}) == 3
    for found in ALL:
        mark = rf'<use href="#mark-{found.verdict}"/></svg> {found.verdict}</span>'
        assert re.search(mark, block(html, found.file.name))


def test_totals_by_stock():
    """13 × 19 in is 247 square inches of 645.16 mm², or 1.715 square feet."""
    told = text()
    row = f"{2 * 247 * 0.00064516:.2f} m² {2 * 247 / 144:.1f} sq ft"
    assert row == "0.32 m² 3.4 sq ft"
    way = f"{ROOM.papers[0].name}, 13x19in Heron, sheet feed"
    assert f"{way} 2 2 sheets {row} £12.40".replace(" ", "") in told.replace(" ", "")
    assert "2 files left out: what is stop is not printed" in told
    assert "All together" not in told


def test_totals_without_a_price_say_so_and_are_not_added_up():
    a4, roll = (ROOM.route(find_sheet(size)) for size in ("A4", "24x36in"))
    rows = (
        TallyRow(a4, 1, None, 0.5, Decimal("2.4"), 0.3),
        TallyRow(roll, 2, length("1500mm"), 1, None, 125.2),
    )
    told = text(totals=Totals(rows, 3, None, 125.5, 1), room=replace(ROOM, currency="EUR"))
    assert "24 in roll Bittern, roll2" in told
    assert "1.50 m1.00 m²" in told
    assert "EUR 2.40" in told
    assert "under 1 min" in told
    assert "2 h 05 min" in told
    assert told.count("not priced") == 2
    assert re.search(r"All together ?3 ?1.50 m²", told)
    assert "1 file left out" in told
    assert "so the prices are not added up" in told


def test_nothing_to_print_and_nothing_to_check():
    assert "None of these files can be printed as it is." in text([LOST])
    empty = text([])
    assert "0 files" in empty
    assert "left out" not in empty


def nasty_row() -> TallyRow:
    route = ROOM.route(find_sheet("A4"))
    nasty = replace(route, paper=replace(route.paper, name=NASTY))
    return TallyRow(nasty, 1, None, 1, Decimal(1), 1)


def test_whatever_comes_from_a_file_or_a_person_is_escaped():
    item = replace(
        tell("layers"), found=NASTY, expected=NASTY, why=NASTY, remedy=NASTY, command=NASTY
    )
    note = replace(tell("trim", size="", bleed=""), found=NASTY)
    facts = {"profile_name": NASTY, "kind": NASTY, "packing": NASTY}
    name = NASTY.replace("/", "")
    html = page(
        [handed_in(name, item, note, thumbnail=NASTY, **facts), LOST],
        room=replace(ROOM, name=NASTY, currency=NASTY),
        totals=Totals((nasty_row(),), 1, Decimal(1), 1, 0),
    )
    assert html.count("<script>") == 1
    assert Page(html).text.count("alert(1)") >= 15
    assert "no picture to show" in block(
        html, "&lt;script&gt;alert(1)&lt;script&gt;&#34;&#39;&amp;"
    )


def test_signs_that_turn_or_break_a_line_are_shown_as_a_mark():
    lost = Findings(
        Path("hand-in/two\nlines\udcff"), (tell("damaged", refusal=f"{BIDI}\u2066\x1b[2J"),)
    )
    html = page([handed_in(BIDI, tell("layers")), lost])
    assert not re.search("[\u200e\u200f\u202a-\u202e\u2066-\u2069\x1b\udcff]", html)
    assert html.encode("utf-8")
    assert '<bdi dir="ltr">boat\ufffdgpj.tif</bdi>' in html
    assert "Your file “two\ufffdlines\ufffd” cannot" in html
    assert plain("نامه\u200cها × A4") == "نامه\u200cها × A4"


def test_nothing_is_fetched_and_only_the_pages_own_script_runs():
    """The policy's hash is of the script's text: CSP Level 3, §6.7.3."""
    html = page([*ALL, handed_in("a.tif", thumbnail="https://example.org/a.jpg")])
    assert "://" not in html.replace('xmlns="http://www.w3.org/2000/svg"', "")
    read = Page(html)
    assert not {"link", "iframe", "object", "form"} & {tag for tag, _ in read.tags}
    (policy,) = [
        each["content"] for each in read.all("meta") if "content-security" in str(each).lower()
    ]
    (script,) = re.findall("<script>(.*?)</script>", html, re.S)
    digest = b64encode(hashlib.sha256(script.encode()).digest()).decode()
    assert "default-src 'none'; img-src data:;" in policy
    assert f"script-src 'sha256-{digest}';" in policy
    assert '<meta name="generator" content="labkit">' in html[:1024]


def test_the_drawing_shows_the_picture_where_it_is_on_the_sheet():
    """12 × 8 in on 13 × 19 in, 1/2 in from the left and 4.4 in from the top, in thousandths."""
    fine = block(page(), FINE.file.name)
    window = f"{500 / 13:.3f} {4400 / 19:.3f} {12000 / 13:.3f} {8000 / 19:.3f}"
    assert f'viewBox="{window}" preserveAspectRatio="none"><image' in fine
    assert "Picture cropped" not in page([replace(FINE, layout=LAYOUTS["tight"])])
    bare = block(page([replace(FINE, seen=None)]), FINE.file.name)
    assert "href" not in re.search("<image[^>]*>", bare)[0]


def test_a_small_picture_is_kept_once():
    html = page()
    assert html.count(THUMBNAIL) == 3
    assert 'href="#f4-photo" transform="scale(0.082 0.12)"' in block(html, FINE.file.name)
    assert f'width="80" height="120" src="{THUMBNAIL}"' in block(html, STOP.file.name)


def test_ids_are_unique_and_what_is_pointed_at_is_there():
    html = page([FINE, FINE, LOOK, STOP])
    ids = [attrs["id"] for _, attrs in Page(html).tags if "id" in attrs]
    assert len(ids) == len(set(ids))
    assert set(re.findall(r'href="#([^"]+)"', html)) <= set(ids)
    assert set(re.findall(r'aria-labelledby="([^"]+)"', html)[0].split()) <= set(ids)


def test_colours_have_contrast_on_paper():
    """WCAG 2.2, SC 1.4.3: 4.5 to 1 for text."""
    style = page().split("<style>")[1].split("</style>")[0]
    named = dict(re.findall(r"--(\w+): (#[0-9a-f]{6})", style))
    used = set(re.findall(r"[{;\s]color: ([^;}]+)", style))
    assert used == {"var(--ink)", "var(--soft)", "#ffffff"}
    assert (
        style.count("; color: #ffffff")
        == style.count("background: var(--ink); color: #ffffff")
        == 1
    )
    assert all(ratio(named[name], "#ffffff") >= 4.5 for name in ("ink", "soft"))


def test_the_page_comes_in_pieces_and_each_file_in_its_turn(monkeypatch):
    drawn = []
    build = module._block
    monkeypatch.setattr(
        module, "_block", lambda *args, **more: drawn.append(args[1]) or build(*args, **more)
    )
    many = ALL * 5
    chunks = report_chunks(many, ROOM, tally(many, ROOM), "25 November 2024")
    pieces = [next(chunks)]
    assert len(drawn) < 2
    pieces += chunks
    assert drawn == list(range(1, 21))
    assert "".join(pieces) == page(many)


# In a browser


@pytest.fixture(scope="module")
def browser():
    from playwright.sync_api import sync_playwright

    program = find_browser()
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=program, args=FLAGS)
        yield opened
        opened.close()


@pytest.fixture
def opened(browser, tmp_path):
    """The page, at a size, with or without its script; ``said`` is what the browser complained of."""
    contexts, said = [], []

    def open_at(width=1280, height=720, *, script=True, checked=ALL):
        file = tmp_path / "report.html"
        file.write_text(page(checked), encoding="utf-8")
        context = browser.new_context(
            viewport={"width": width, "height": height}, java_script_enabled=script
        )
        contexts.append(context)
        tab = context.new_page()
        tab.on("console", lambda message: said.append(message.text))
        tab.on("pageerror", lambda error: said.append(str(error)))
        tab.goto(file.as_uri())
        return tab

    yield open_at
    for context in contexts:
        context.close()
    assert not said


def names(tab) -> list[str]:
    return [name for name in tab.locator(".files h3").all_inner_texts() if name]


def shown(tab) -> list[str]:
    return [each.inner_text() for each in tab.locator(".files h3").all() if each.is_visible()]


@pytest.mark.browser
def test_sorting_by_keyboard(opened):
    tab = opened()
    gravest = names(tab)
    heads = SimpleNamespace(
        **{
            name: tab.get_by_role("columnheader", name=name)
            for name in ("Verdict", "Name", "Owner", "Sheet")
        }
    )
    assert heads.Verdict.get_attribute("aria-sort") == "ascending"
    heads.Name.get_by_role("button").focus()
    tab.keyboard.press("Enter")
    assert names(tab) == sorted(gravest, key=str.casefold)
    assert heads.Name.get_attribute("aria-sort") == "ascending"
    assert heads.Verdict.get_attribute("aria-sort") is None
    assert tab.get_by_role("status").inner_text() == "Sorted by name, ascending."
    tab.keyboard.press("Space")
    assert names(tab) == sorted(gravest, key=str.casefold, reverse=True)
    assert heads.Name.get_attribute("aria-sort") == "descending"
    heads.Owner.get_by_role("button").click()
    assert [name.split("_")[0] for name in names(tab)] == [
        "Ivy-Marsh", "Kit-Fenn", "Wren-Alder", "empty.tif",
    ]  # fmt: skip
    heads.Owner.get_by_role("button").click()
    assert names(tab)[-1] == "empty.tif"  # no owner: last both ways
    heads.Verdict.get_by_role("button").click()
    assert names(tab) == gravest


@pytest.mark.browser
def test_sheets_are_sorted_by_their_area(opened):
    small = handed_in("Ann_Small_4x6in.tif", layout=LAYOUTS["tiny"])
    large = handed_in("Ann_Large_44x96in.tif", layout=LAYOUTS["huge"])
    tab = opened(checked=[large, FINE, small])
    tab.get_by_role("button", name="Sheet").click()
    assert names(tab) == [found.file.name for found in (small, FINE, large)]


@pytest.mark.browser
@pytest.mark.parametrize("script", [True, False])
def test_the_filter_needs_no_script(opened, script):
    tab = opened(script=script)
    tab.get_by_label("stop").uncheck()
    assert shown(tab) == [LOOK.file.name, FINE.file.name]
    tab.get_by_label("fine").uncheck()
    assert shown(tab) == [LOOK.file.name]
    assert tab.get_by_role("button", name="Name").is_disabled() is not script


@pytest.mark.browser
def test_the_message_is_copied_whole(opened):
    tab = opened()
    tab.locator("summary", has_text="Message to the student").first.click()
    tab.get_by_role("button", name="Copy").first.click()
    copied = tab.evaluate("getSelection().toString()")
    assert copied.startswith("Your file “Kit-Fenn_Mole_A4.tif” cannot")
    assert copied.rstrip().endswith("Quillmarsh College Print Room")


@pytest.mark.browser
@pytest.mark.parametrize(("width", "height"), [(360, 740), (1280, 720), (1920, 1080)])
def test_nothing_sticks_out_and_the_heading_stays(opened, width, height):
    long = handed_in("long-" * 48 + "W" * 15 + ".tif", tell("layers"), layout=LAYOUTS["huge"])
    tab = opened(width, height, checked=[*ALL, long, replace(long, file=Path("W" * 255))])
    assert tab.evaluate("document.documentElement.scrollWidth") == width
    tab.evaluate("window.scrollTo(0, 1800)")
    head = tab.locator(".files thead").bounding_box()
    assert head["y"] == pytest.approx(0, abs=1)
    assert head["height"] < height / 6


@pytest.mark.browser
def test_what_is_printed(opened):
    """What is folded on screen is not printed, nor is the message, which says the same again."""
    tab = opened(
        script=True, checked=[replace(FINE, file=Path(f"{n}.tif")) for n in range(9)] + ALL
    )
    tab.locator("summary", has_text="Message to the student").first.click()
    tab.emulate_media(media="print")
    assert tab.locator(".drawn svg[role=img]").filter(visible=True).count() == 1
    assert tab.locator("pre, .copy, summary").filter(visible=True).count() == 0
    style = "getComputedStyle(document.querySelector('{}')).{}"
    assert tab.evaluate(style.format(".files tbody", "breakInside")) == "avoid"
    assert tab.evaluate(style.format(".file", "contentVisibility")) == "visible"
    assert tab.evaluate(style.format(".files thead", "position")) == "static"
    for size, box in (("A4", (595, 842)), ("Letter", (612, 792))):
        pdf = tab.pdf(format=size)
        wide, high = map(float, re.search(rb"/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]", pdf).groups())
        assert (wide, high) == pytest.approx(box, abs=1)
        assert len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf)) <= 4
