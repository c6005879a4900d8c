"""The print room's rules: the shipped ones, every kind of mistake in a room file, and prices."""

import re
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labkit.errors import LabError
from labkit.files.writing.name import file_name, read_name
from labkit.geometry.box import Edges
from labkit.geometry.length import length
from labkit.geometry.paper import find_sheet, sheet_of
from labkit.geometry.resolution import floor_for, ppi_for_eye
from labkit.room.rules import SHIPPED, Mistake, check_room, load_room, new_room
from labkit.room.schema import Place, find_lines, read_file, table, whole
from labkit.room.values import name_pattern

TEXT = SHIPPED.read_text(encoding="utf-8")
LINES = TEXT.splitlines(keepends=True)


@pytest.fixture(scope="module")
def room():
    return load_room()


@pytest.fixture
def write(tmp_path):
    """Writes a room file and gives its path."""

    def write(text: str, name: str = "room.toml") -> Path:
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return path

    return write


def changed(old: str, new: str, text: str = TEXT) -> str:
    """The text with the first ``old`` changed; it must be there."""
    assert old in text
    return text.replace(old, new, 1)


def line_of(part: str, text: str = TEXT) -> int:
    """The line, from 1, on which ``part`` first stands."""
    return text[: text.index(part)].count("\n") + 1


# The room that is shipped


def test_shipped_room_has_no_mistake():
    assert check_room(SHIPPED) == []


def test_shipped_room_holds_what_its_file_says(room):
    assert room.name == "Quillmarsh College Print Room"
    assert (room.units, room.currency, room.working_ppi) == ("in", "£", 300)
    assert (room.border, room.bleed) == (length("1/2in"), length("1/8in"))
    assert room.papers[0].sheet_prices["A3"] == Decimal("4.80")
    assert room.papers[0].profile is None
    assert room.printers[0].roll is None
    assert room.printers[0].sheet.offset == (length("0.3mm"), -length("0.2mm"))
    assert room.printers[1].roll.scale == (Fraction(1), Fraction(998, 1000))
    assert room.colour.untagged_cmyk is None
    assert room.floor[-1].up_to is None
    assert hash(room) == hash(load_room())


def test_shipped_sheets_are_those_a_small_print_room_keeps(room):
    # 8.5 × 11, A3, 11 × 17 and 13 × 19 in: common practice, no source
    for name in ("8.5x11in", "A3", "11x17in", "13x19in"):
        assert room.find_stock(find_sheet(name)), name


def test_shipped_rolls_have_widths_that_are_sold(room):
    # 17, 24 and 44 in are 431.8, 609.6 and 1117.6 mm: common practice, no standard
    assert [roll.width.mm for roll in room.rolls] == [
        Fraction(width) for width in ("431.8", "609.6", "1117.6")
    ]
    assert {roll.length.mm for roll in room.rolls} == {30_000}


def test_shipped_floor_is_at_or_above_what_an_eye_resolves(room):
    # one arc-minute, the gap of the ring for acuity 1.0: ISO 8596, clauses 3 and 4
    for row in room.floor:
        need = ppi_for_eye(row.distance)
        assert need <= row.ppi <= need * 1.2


@pytest.mark.parametrize(
    ("long_side", "ppi"),
    [("20in", 300), ("20.001in", 200), ("36in", 200), ("60in", 150), ("96in", 100)],
)
def test_shipped_floor_by_long_side(room, long_side, ppi):
    assert floor_for(length(long_side), room.floor).ppi == ppi


def test_shipped_border_can_be_printed_on_every_sheet(room):
    for printer in room.printers:
        for sheet in room.sheets:
            edges = room.unprintable(sheet, printer.name)
            assert all(size <= room.border for _, size in edges.items())


def test_shipped_limit_on_pixels_admits_the_largest_sheet(room):
    # 44 × 96 in at 300 ppi
    assert room.limits.pixels >= 13_200 * 28_800


def test_shipped_tolerances_in_pixels_at_300_ppi(room):
    assert room.tolerance.size * 300 == length("2in")
    assert 4 < room.tolerance.place.inches * 300 < 5


def test_shipped_room_tells_apart_a_mistyped_inch_size_only_when_it_matters(room):
    # A4 is 210 × 297 mm (ISO 216): 8.27 × 11.69 in is that, 8.5 × 11 in is not
    a4 = find_sheet("A4")
    assert find_sheet("8.27x11.69in").same_size(a4, room.tolerance.size)
    assert not find_sheet("letter").same_size(a4, room.tolerance.size)


# What the room answers


def test_unprintable_edges_turn_with_the_sheet(room):
    upright = Edges(length("4mm"), length("3mm"), length("4mm"), length("7mm"))
    sheet = find_sheet("13x19in")
    assert room.unprintable(sheet) == upright
    # the edge that goes in first, 3 mm, lies on the left
    assert room.unprintable(sheet.turned()) == Edges(
        length("3mm"), length("4mm"), length("7mm"), length("4mm")
    )


def test_a_size_in_stock_takes_the_sheet_feed_and_any_other_the_roll(room):
    bittern = room.printer("bittern")
    assert room.feed(find_sheet("A4"), "Bittern") == bittern.sheet
    assert room.feed(find_sheet("44x96in"), "Bittern") == bittern.roll
    assert room.feed(find_sheet("44x96in")) == bittern.roll
    assert room.feed(find_sheet("44x96in"), "Heron") == room.printer("Heron").sheet


@pytest.mark.parametrize(
    ("asked", "stock"),
    [
        ("13x19in", "13x19in"),
        ("19x13in", "13x19in"),
        ("tabloid", "11x17in"),
        ("11.7x16.5in", "A3"),  # as the counter calls it: common practice, no source
        ("329x483mm", "13x19in"),
        ("12x18in", None),
        ("A2", None),
    ],
)
def test_find_stock_either_way_round_and_by_size(room, asked, stock):
    found = room.find_stock(find_sheet(asked))
    assert (found and found.name) == stock


def test_the_nearer_of_two_like_sheets_is_found(write):
    both = changed('"13x19in"]', '"329x483mm", "13x19in"]')
    room = load_room(write(both))
    assert room.find_stock(find_sheet("13x19in")).name == "13x19in"
    assert room.find_stock(find_sheet("483x329mm")).name == "329x483mm"


def test_paper_by_name_or_the_first(room):
    assert room.paper().name == "cotton matt 300"
    assert room.paper(" Pearl 260 ").weight_gsm == 260
    assert room.paper(room.papers[2]) is room.papers[2]
    with pytest.raises(LabError, match="no paper here is called “gloss”: use one of cotton matt"):
        room.paper("gloss")
    with pytest.raises(LabError, match="no printer here is called “Crane”: use one of Heron, Bit"):
        room.printer("Crane")


@pytest.mark.parametrize(
    ("paper", "sheet", "copies", "price"),
    [
        ("cotton matt 300", "13x19in", 1, "6.20"),
        ("cotton matt 300", "19x13in", 3, "18.60"),
        ("cotton matt 300", "330.2x482.6mm", 1, "6.20"),
        ("cotton matt 300", "tabloid", 2, "9.60"),
        # by area: 0.3302 m × 0.4826 m × 5.50 = 0.8764…
        ("plain 120", "13x19in", 1, "0.88"),
        # 1 m × 2 m
        ("pearl 260", "1000x2000mm", 1, "48.00"),
    ],
)
def test_price(room, paper, sheet, copies, price):
    assert str(room.price(paper, find_sheet(sheet), copies)) == price


def test_price_off_a_roll_halves_upwards(room):
    # 100 mm × 300 mm is 0.03 m²; at 5.50 that is 0.165
    assert room.roll_price("plain 120", length("100mm"), length("300mm")) == Decimal("0.17")


@pytest.mark.parametrize(
    ("size", "width"),
    [
        ("17x22in", "17in"),
        ("22x17in", "17in"),
        ("24x36in", "24in"),
        ("44x44in", "44in"),
        ("45x45in", None),
        ("44x1200in", None),
    ],
)
def test_the_narrowest_roll_that_holds_a_sheet(room, size, width):
    # a new roll is 30 m long, 1181 in
    found = room.roll_for(find_sheet(size))
    assert (found and found.width) == (width and length(width))


def test_minutes_at_the_printer_go_by_area(room):
    # 297 mm × 420 mm is 0.12474 m²: 24 minutes a square metre make 2.99376
    assert room.minutes(find_sheet("A3")) == pytest.approx(2.99376)
    # no sheet of this size is kept, and only the second printer has a roll feed
    assert room.minutes(find_sheet("1000x1000mm")) == pytest.approx(11)


def test_no_price_where_the_room_has_none(write):
    unpriced = changed("price_per_square_metre = 5.50\n", "")
    room = load_room(write(unpriced))
    assert room.price("plain 120", find_sheet("13x19in")) is None
    assert room.roll_price("plain 120", length("17in"), length("10in")) is None
    assert room.price("plain 120", find_sheet("A4")) == Decimal("0.30")


@pytest.mark.parametrize("copies", [0, -1, 1.5])
def test_price_of_no_copies_is_refused(room, copies):
    with pytest.raises(LabError, match=f"{copies} copies have no price: give a whole number from"):
        room.price(None, find_sheet("A4"), copies)


@settings(deadline=None)
@given(width=st.integers(10, 2000), height=st.integers(10, 2000), copies=st.integers(1, 500))
def test_price_is_the_same_turned_and_grows_by_copies(width, height, copies):
    room = load_room()
    sheet = sheet_of(length(f"{width}mm"), length(f"{height}mm"), unit="mm")
    one = room.price("plain 120", sheet)
    assert room.price("plain 120", sheet.turned()) == one
    assert room.price("plain 120", sheet, copies) == one * copies


# Mistakes, each with its line and its sentence


MISTAKES = [
    # one value of the wrong kind
    (
        'name = "Quill',
        'name = 5 # "Quill',
        "“name” is 5, but must be text between quotation marks.",
    ),
    ('currency = "£"', 'currency = " "', "“currency” is “ ”, but must be text between quotation"),
    ('units = "in"', 'units = "pt"', "“units” is “pt”, but must be “in” or “mm”."),
    (
        "depth = 8",
        "depth = true",
        "“colour.depth” is true, but must be 8 or 16 or “as the picture”.",
    ),
    (
        'packing_16 = "Deflate"',
        'packing_16 = "JPEG"',
        "“colour.packing_16” is “JPEG”, but must be “Deflate” or “LZW”.",
    ),
    ("depth = 8", "depth = 8.0", "“colour.depth” is 8.0, but must be 8 or 16 or “as the picture”."),
    ('space = "sRGB"', 'space = "CMYK"', "“colour.space” is “CMYK”, but must be “sRGB”."),
    (
        "working_ppi = 300",
        'working_ppi = "300"',
        "“working_ppi” is “300”, but must be a whole number",
    ),
    (
        "seconds = 120",
        "seconds = 0",
        "“limits.seconds” is 0, but must be a whole number above zero",
    ),
    ("weight_gsm = 300", "weight_gsm = 299.5", "“papers.weight_gsm” is 299.5, but must be a whole"),
    (
        "scale = { across = 1.0",
        "scale = { across = 99.8",
        (
            "“printers.sheet.scale.across” is 99.8, but must be the measured length divided by "
            "the asked length, a number from 0.9 to 1.1"
        ),
    ),
    ("down = 0.999 }", "down = nan }", "“printers.sheet.scale.down” is NaN, but must be"),
    # lengths
    (
        'border = "1/2in"',
        "border = 12",
        (
            "“border” is 12, but must be a length: write it between quotation marks and with its "
            'unit, "12in" or "12mm".'
        ),
    ),
    ('border = "1/2in"', 'border = "12"', "“border” of “12” has no unit: write 12in or 12mm."),
    ('border = "1/2in"', 'border = "wide"', "“border” of “wide” is not a length: write it like"),
    ('bleed = "1/8in"', 'bleed = "-3mm"', "“bleed” of “-3mm” is not a length"),
    ('width = "24in"', 'width = "0in"', "“rolls.width” is “0in”, but must be above zero."),
    (
        'down = "-0.2mm"',
        'down = "-0.2"',
        (
            "“printers.sheet.offset.down” is “-0.2”, but must be a length with its unit, such as "
            "-0.3mm."
        ),
    ),
    (
        'top = "3mm"',
        "top = true",
        "“printers.sheet.unprintable.top” is true, but must be a length: ",
    ),
    # sheets
    (
        '"11x17in", "13x19in"]',
        '"11x17in", "great"]',
        "no sheet is called “great”: give a standard name",
    ),
    ('"11x17in", "13x19in"]', '"11x17in", "A3+"]', "“A3+” is sold as 329 × 483 mm"),
    ('["letter"', "[13", "“sheets” is 13, but must be text between quotation marks."),
    # prices
    (
        "letter = 2.40",
        "letter = -2.40",
        "“papers.sheet_prices.letter” is -2.40, but must be a price of zero or more",
    ),
    (
        "letter = 2.40",
        'letter = "£2.40"',
        "“papers.sheet_prices.letter” is “£2.40”, but must be a price",
    ),
    (
        "letter = 2.40",
        "A2 = 2.40",
        (
            "“cotton matt 300” has a price for A2, which is not in “sheets” (letter, A4, A3, "
            "11x17in, 13x19in): add it there, or take the price out."
        ),
    ),
    ("letter = 2.40", "leter = 2.40", "no sheet is called “leter”"),
    (
        "letter = 2.40",
        "tabloid = 2.40",
        "“11 in (279.4 mm) by 17 in (431.8 mm)” is here for the second time",
    ),
    (
        "metre = 34.00",
        "metre = inf",
        "“papers.price_per_square_metre” is Infinity, but must be a price",
    ),
    # settings that nobody knows
    (
        'border = "1/2in"',
        'border = "1/2in"\nboarder = "1in"',
        "no setting here is called “boarder”: did you mean “border”?",
        1,
    ),
    (
        "[limits]\n",
        "[limits]\nbleed = 3\n",
        "no setting here is called “bleed”: it belongs above the first heading.",
        1,
    ),
    (
        "[limits]\n",
        "[limits]\ndepth = 8\n",
        "no setting here is called “depth”: it belongs under colour.",
        1,
    ),
    (
        "[limits]\n",
        "[limits]\nzzz = 8\n",
        "no setting here is called “zzz”: take it out, or use one of seconds, memory_mb, pixels.",
        1,
    ),
    (
        "[limits]\n",
        "[limts]\na = 1\n[limits]\n",
        "no setting here is called “limts”: did you mean “limits”?",
    ),
    # two alike
    (
        'name = "pearl 260"',
        'name = "Cotton Matt 300"',
        "“Cotton Matt 300” is here for the second time: change one, or take it out.",
    ),
    ('name = "Bittern"', 'name = "Heron"', "“Heron” is here for the second time"),
    (
        "minutes_per_square_metre = 24",
        "minutes_per_square_metre = 0",
        "“printers.minutes_per_square_metre” is 0, but must be a number of minutes above zero",
    ),
    (
        '"11x17in", "13x19in"]',
        '"11x17in", "19x13in", "13x19in"]',
        "“13 in (330.2 mm) by 19 in (482.6 mm)” is here for the second time",
    ),
    (
        'width = "24in"',
        'width = "17in"',
        "“a roll of 17 in (431.8 mm) by 30 m (98 ft)” is here for the second time",
    ),
    # the floor
    (
        'up_to = "36in"',
        'up_to = "20in"',
        (
            "the rows of “floor” go from short prints to long ones, but 20 in (508 mm) comes "
            "after 20 in (508 mm): put them in rising order."
        ),
    ),
    # what contradicts the rest
    (
        "working_ppi = 300",
        "working_ppi = 240",
        (
            "“working_ppi” is 240, below the 300 ppi that “floor” asks for: raise it, or lower "
            "the floor."
        ),
    ),
    (
        'border = "1/2in"',
        'border = "10mm"',
        (
            "“border” is 10 mm (0.39 in), but Bittern cannot print nearer than 12 mm (0.47 in) "
            "to the bottom edge: make the border at least that."
        ),
    ),
    # profiles
    (
        'profile = ""',
        'profile = "none.icc"',
        "“papers.profile” is “none.icc”, but there is no such file: give its place from ",
    ),
    ('profile = ""', "profile = 3", "“papers.profile” is 3, but must be text"),
    (
        'cmyk = ""',
        'cmyk = "room.toml"',
        "“colour.untagged_cmyk” is “room.toml”, but that file is no ICC profile for CMYK.",
    ),
    # names of files
    (
        "{owner}_{title}",
        "{owner_{title}",
        "“name_pattern” has a brace without its partner: write it like {owner}_{title}_{sheet}.",
    ),
    (
        "{owner}_",
        "{student}_",
        "“name_pattern” has {student}, which nobody can fill in: use {owner}, {title} and {sheet}",
    ),
    ("{owner}_", "{}_", "“name_pattern” has {}, which nobody can fill in"),
    ("{owner}_", "{owner:>9}_", "“name_pattern” has {owner}, which nobody can fill in"),
    (
        "{owner}_",
        "",
        "“name_pattern” must have {owner} once: write it like {owner}_{title}_{sheet}.",
    ),
    ("{owner}_", "{owner}_{owner}_", "“name_pattern” must have {owner} once"),
    ("{owner}_", "{owner}", "“name_pattern” needs an underscore between its parts, and no"),
    ("{owner}_", "{owner}/", "“name_pattern” has '/', which does not belong in a file's name"),
    ("_{sheet}", "_{sheet}.tif", "“name_pattern” has '.', which does not belong in a file's name"),
    ("{owner}_", "{owner}-", "“name_pattern” needs an underscore between its parts, and no"),
    ("_{sheet}", "_{sheet}-", "“name_pattern” needs an underscore between its parts, and no"),
    ("_{sheet}", "_{sheet}\\u200b", "“name_pattern” has '\\u200b', which does not belong"),
    # not TOML
    ('border = "1/2in"', "border = 1/2in", "this cannot be read ("),
    ('border = "1/2in"', 'border = "1/2in', "this cannot be read ("),
    (
        'border = "1/2in"',
        'bleed = "1in"\nborder = "1/2in"',
        "this cannot be read (Cannot overwrite a value): ",
        4,
    ),
]


@pytest.mark.parametrize("mistake", MISTAKES, ids=lambda mistake: f"{mistake[1]!r:.40}")
def test_each_kind_of_mistake_is_told_with_its_line(write, mistake):
    old, new, sentence, *below = mistake
    text = changed(old, new)
    found = check_room(write(text))
    assert [each.line for each in found] == [line_of(old) + sum(below)], found
    assert found[0].sentence.startswith(sentence)
    assert found[0].sentence.endswith((".", "?"))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('border = "1/2in"', 'border = "12mm"'),  # exactly the widest edge of any feed
        ('bleed = "1/8in"', 'bleed = "0mm"'),
        ("across = 1.0, down = 0.999", "across = 0.9, down = 1.1"),
        ("across = 1.0, down = 0.999", "across = 1, down = 1"),
        ("letter = 2.40", "letter = 0"),
        ("sheet_prices = { letter = 0.30, A4 = 0.30, A3 = 0.60 }", "sheet_prices = {}"),
        ('down = "-0.2mm"', 'down = "−1/64 in"'),
        ('"{owner}_{title}_{sheet}"', '"print of_{sheet} _ {owner}_{title}!"'),
        ('"A3", "11x17in"', '"297x420mm", "17x11in"'),
    ],
)
def test_what_just_holds_is_no_mistake(write, old, new):
    path = write(changed(old, new))
    assert check_room(path) == []
    load_room(path)


MISSING = [
    (
        'bleed = "1/8in"\n',
        1,
        '“bleed” is missing: write it like bleed = "1/8in" above the first heading.',
    ),
    ("seconds = 120\n", "[limits]", "“limits.seconds” is missing: write it like seconds = 120."),
    (
        'surface = "pearl, a soft shine"\n',
        '[[papers]]\nname = "pearl',
        '“papers.surface” is missing: write it like surface = "matt, slightly rough".',
    ),
    (
        ', down = "-0.2mm"',
        'offset = { across = "0.3mm"',
        "“printers.sheet.offset.down” is missing: write it like offset = { across =",
    ),
    (
        '[tolerance]\nplace = "1/64in"\nsize = "1/150in"\nfloor = 0.05\n',
        1,
        "“tolerance” is missing: write it like [tolerance].",
    ),
]


@pytest.mark.parametrize(("gone", "at", "sentence"), MISSING)
def test_what_is_missing_is_told_where_it_belongs(write, gone, at, sentence):
    text = changed(gone, "")
    line = at if isinstance(at, int) else line_of(at, text)
    [found] = check_room(write(text))
    assert found.line == line
    assert found.sentence.startswith(sentence)


GROUPS = [
    ("[[rolls]]", "rolls = []\n[[rolls]]", "this cannot be read ("),
    (
        'sheets = ["letter", "A4", "A3", "11x17in", "13x19in"]',
        'sheets = "A4"',
        '“sheets” is not a list of one or more: write it like sheets = ["letter"',
    ),
    (
        'sheets = ["letter", "A4", "A3", "11x17in", "13x19in"]',
        "sheets = []",
        "“sheets” is not a list of one or more: ",
    ),
    (
        "sheet_prices = { letter = 0.30, A4 = 0.30, A3 = 0.60 }",
        "sheet_prices = 3",
        "“papers.sheet_prices” is not a group of settings: write it like sheet_prices =",
    ),
    ("[limits]", "[[limits]]", "“limits” is not a group of settings: write it like [limits]."),
]


@pytest.mark.parametrize(("old", "new", "sentence"), GROUPS)
def test_groups_of_the_wrong_kind(write, old, new, sentence):
    found = check_room(write(changed(old, new)))
    assert [each.sentence[: len(sentence)] for each in found] == [sentence]
    assert found[0].line in (line_of(old), line_of(old) + new.count("\n"))


def test_one_heading_where_two_brackets_are_wanted(write):
    start, end = TEXT.index("[[printers]]"), TEXT.rindex("[[printers]]")
    one = TEXT[:start] + TEXT[end:].replace("[[printers]]", "[printers]")
    [found] = check_room(write(one))
    assert found == Mistake(
        line_of("[printers]\n", one),
        "“printers” is not a list of one or more: write it like [[printers]].",
    )


def test_floor_without_its_last_row_and_with_a_gap(write):
    closed = changed(
        'ppi = 100\ndistance = "100cm"', 'up_to = "90in"\nppi = 100\ndistance = "100cm"'
    )
    [found] = check_room(write(closed))
    assert found.line == line_of('[[floor]]\nup_to = "90in"', closed)
    assert found.sentence == (
        "“floor” says nothing of prints over 90 in (2286 mm): add a last row without up_to."
    )
    gap = changed('up_to = "36in"\n', "")
    [found] = check_room(write(gap))
    assert found.line == line_of("[[floor]]\nppi = 200", gap)
    assert found.sentence.startswith("only the last row of “floor” takes every longer print")


def test_every_mistake_is_told_in_the_order_of_the_file(write):
    text = changed('units = "in"', 'units = "feet"')
    text = changed("seconds = 120", "seconds = -1", text)
    text = changed('bleed = "1/8in"', "bleed = 3", text)
    text = changed('name = "Heron"', 'name = "Bittern"', text)
    assert [each.line for each in check_room(write(text))] == [
        line_of(part, text)
        for part in (
            'units = "feet"',
            "bleed = 3",
            'name = "Bittern"\nminutes_per_square_metre = 11\n',
            "seconds = -1",
        )
    ]


def test_a_missing_file_a_folder_and_bytes_that_are_no_text(tmp_path):
    [missing] = check_room(tmp_path / "none.toml")
    assert missing.line == 0
    assert re.fullmatch(
        r".*none\.toml cannot be read \(no such file or directory\): check its name and folder\.",
        str(missing),
    )
    [folder] = check_room(tmp_path)
    assert "cannot be read (" in folder.sentence
    latin = tmp_path / "latin.toml"
    latin.write_bytes(TEXT.encode().replace("£".encode(), "£".encode("latin-1")))
    assert check_room(latin) == [
        Mistake(line_of('currency = "£"'), "this line is not UTF-8 text: save the file as UTF-8.")
    ]


@pytest.mark.parametrize(
    "change", [lambda raw: b"\xef\xbb\xbf" + raw, lambda raw: raw.replace(b"\n", b"\r\n")]
)
def test_a_byte_order_mark_and_other_line_ends_do_no_harm(tmp_path, change, room):
    path = tmp_path / "room.toml"
    path.write_bytes(change(TEXT.encode()))
    assert load_room(path) == room
    path.write_bytes(change(changed("seconds = 120", "seconds = 0").encode()))
    assert [each.line for each in check_room(path)] == [line_of("seconds = 120")]


@pytest.mark.parametrize("text", ["", "x = " + "[" * 5000, "x = " + "9" * 5000, "\x00", 'x = """'])
def test_text_that_is_no_room_at_all(write, text):
    found = check_room(write(text))
    assert found
    assert {each.line for each in found} == {1}


def test_profiles_are_found_from_the_folder_of_the_room_file(write, tmp_path, monkeypatch):
    # “acsp” at byte 36, the colour space at byte 16: ICC.1 §7.2
    head = bytearray(128)
    head[16:20], head[36:40] = b"CMYK", b"acsp"
    (tmp_path / "press.icc").write_bytes(head)
    text = changed('profile = ""', 'profile = "press.icc"')
    text = changed('untagged_cmyk = ""', 'untagged_cmyk = "press.icc"', text)
    write(text)
    monkeypatch.chdir(tmp_path.parent)
    room = load_room(Path(tmp_path.name) / "room.toml")
    assert room.papers[0].profile == room.colour.untagged_cmyk == tmp_path / "press.icc"
    head[16:20] = b"RGB "
    (tmp_path / "press.icc").write_bytes(head)
    [found] = check_room(tmp_path / "room.toml")
    assert found.line == line_of("untagged_cmyk =", text)


def test_load_room_quotes_the_first_mistake_and_says_how_to_see_all(write):
    path = write(changed("seconds = 120", "seconds = 0"), "ours.toml")
    with pytest.raises(LabError) as refused:
        load_room(path)
    assert str(refused.value) == (
        f"ours.toml, line {line_of('seconds = 120')}: “limits.seconds” is 0, but must be a whole number "
        "above zero, with neither quotation marks nor a unit. "
        f"`labkit room check {path}` lists every mistake in it."
    )
    with pytest.raises(LabError, match=r"none\.toml cannot be read \(no such file"):
        load_room(path.with_name("none.toml"))


def test_any_line_taken_out_leaves_a_sound_room_or_a_mistake_within_the_file(write):
    for gone, line in enumerate(LINES):
        path = write("".join(LINES[:gone] + LINES[gone + 1 :]))
        mistakes = check_room(path)
        if mistakes:
            assert all(1 <= each.line < len(LINES) for each in mistakes), line
            with pytest.raises(LabError, match=re.escape(mistakes[0].sentence)):
                load_room(path)
        else:
            load_room(path)
        is_needed = re.match(r"\w+ =|\[", line) and "price_per_square_metre" not in line
        assert bool(mistakes) == bool(is_needed) or line.startswith("[printers.roll]"), line


@settings(deadline=None)
@given(
    st.integers(0, len(TEXT) - 1),
    st.sampled_from(["", '"', "[", "]", "{", "=", "#", "\n", "9", "-"]),
)
def test_any_character_changed_is_read_or_told(tmp_path_factory, at, new):
    path = tmp_path_factory.getbasetemp() / "changed.toml"
    path.write_text(TEXT[:at] + new + TEXT[at + 1 :], encoding="utf-8")
    lines = path.read_text(encoding="utf-8").count("\n") + 1
    assert all(1 <= each.line <= lines for each in check_room(path))


def test_without_a_complete_file_to_quote_a_missing_setting_is_told_all_the_same(write):
    path = write("[ink]\nblak = 1\n")
    schema = table(dict, ink=table(dict, black=whole))
    assert read_file(path, schema, model="")[1] == [
        Mistake(1, "“ink.black” is missing: add it."),
        Mistake(2, "no setting here is called “blak”: did you mean “black”?"),
    ]


SIGNS = st.lists(
    st.sampled_from(["_", "_", "-", " ", "x", "é", "\u0301", "!", ".", "{{"]), max_size=2
)
FIELDS = st.permutations(["{owner}", "{title}", "{sheet}"])


@settings(deadline=None)
@given(FIELDS, st.tuples(SIGNS, SIGNS, SIGNS, SIGNS))
def test_a_name_pattern_found_sound_makes_names_that_are_read_back(fields, signs):
    place = Place(Path(), "")
    before, one, two, behind = ("".join(each) for each in signs)
    pattern = name_pattern(before + one.join(fields[:2]) + two + fields[2] + behind, place)
    assert (pattern is None) == bool(place.told)
    if pattern:
        stem = file_name(pattern, owner="Nia Oak", title="Tide 3", sheet_label="13x19in")
        parts = {"owner": "Nia Oak", "title": "Tide 3", "sheet": "13x19in"}
        assert read_name(pattern, stem) == parts


# Where things stand


def test_find_lines_knows_every_way_to_write_a_setting():
    text = (
        "# [no.heading]\n"
        '"a b" = "# [not] a = note"\n'
        "list = [\n"
        "  1, # one\n"
        "  2,\n"
        "]\n"
        'long = """\n'
        "[[none]]\n"
        '"""\n'
        "dotted.key = 3\n"
        "[[papers]] # note\n"
        "size = { wide = 1, high = { most = 2 } }\n"
        "[papers.inner]\n"
        "x = 1\n"
        "[[papers]]\n"
        "x = 2\n"
        "[papers.inner]\n"
        "x = 3\n"
        '["q.t".deep]\n'
        "y = 4\n"
    )
    found = {way: line for way, (line, _) in find_lines(text).items()}
    assert found == {
        ("a b",): 2,
        ("list",): 3, ("list", 0): 3, ("list", 1): 3,
        ("long",): 7,
        ("dotted",): 10, ("dotted", "key"): 10,
        ("papers",): 11, ("papers", 0): 11,
        ("papers", 0, "size"): 12, ("papers", 0, "size", "wide"): 12,
        ("papers", 0, "size", "high"): 12, ("papers", 0, "size", "high", "most"): 12,
        ("papers", 0, "inner"): 13, ("papers", 0, "inner", "x"): 14,
        ("papers", 1): 15, ("papers", 1, "x"): 16,
        ("papers", 1, "inner"): 17, ("papers", 1, "inner", "x"): 18,
        ("q.t",): 19, ("q.t", "deep"): 19, ("q.t", "deep", "y"): 20,
    }  # fmt: skip


# A room of one's own


def test_new_room_is_the_shipped_text_and_loads(tmp_path, room):
    path = new_room(tmp_path / "ours.toml")
    assert path.read_bytes() == SHIPPED.read_bytes()
    assert load_room(path) == room


def test_new_room_never_overwrites(tmp_path):
    path = tmp_path / "ours.toml"
    path.write_text("mine")
    with pytest.raises(
        LabError, match=r"ours\.toml is there already and is left as it is: give an"
    ):
        new_room(path)
    assert path.read_text() == "mine"


def test_new_room_in_a_folder_that_is_not_there(tmp_path):
    with pytest.raises(LabError, match=r"there is no folder .*none to put ours\.toml in: make it"):
        new_room(tmp_path / "none" / "ours.toml")
    (tmp_path / "file").write_text("")
    with pytest.raises(LabError, match=r"cannot be written \(not a directory\): choose a folder"):
        new_room(tmp_path / "file" / "ours.toml")


def test_shipped_notes_explain_every_setting():
    """An instructor meets no setting whose word is not in the notes or plain beside them."""
    notes = " ".join(line for line in LINES if line.startswith("#"))
    for group in ("papers", "printers", "colour", "tolerance", "limits"):
        names = {
            way[-1] for way in find_lines(TEXT) if way[0] == group and isinstance(way[-1], str)
        }
        for name in {each for each in names if "_" in each} | {"unprintable", "offset", "scale"}:
            assert name in notes, name


def test_the_smallest_sheet_on_which_the_printer_reaches_all_of_a_picture():
    """The first printer's edges are 4, 3, 4 and 7 mm: a print in the centre of letter has 8.185 by 10.449 in,
    since 7 mm are needed on both sides of it."""
    room = load_room()
    for size, name, turned in (
        ("5x4in", "letter", True),
        ("10x5in", "letter", True),
        ("5x10.5in", "A4", False),  # letter would do if a print were not centred
        ("8.4x10in", "11x17in", False),  # 187 square inches; A3 has 193
        ("12x18in", "13x19in", False),
    ):
        sheet = room.sheet_for(find_sheet(size).sides)
        wanted = find_sheet(name).turned() if turned else find_sheet(name)
        assert (sheet.width, sheet.height) == (wanted.width, wanted.height), size
    assert room.sheet_for(find_sheet("30x40in").sides) is None


# Depth and packing


@pytest.mark.parametrize(
    ("written", "of_8", "of_16"),
    [("8", 8, 8), ("16", 16, 16), ('"as the picture"', 8, 16)],
)
def test_the_depth_of_a_print_file(write, written, of_8, of_16):
    colour = load_room(write(changed("depth = 8", f"depth = {written}"))).colour
    assert (colour.depth_for(8), colour.depth_for(16)) == (of_8, of_16)


@pytest.mark.parametrize("packing", ["Deflate", "LZW"])
def test_8_bits_are_packed_by_lzw_and_16_as_the_room_says(write, packing):
    colour = load_room(write(changed('packing_16 = "Deflate"', f'packing_16 = "{packing}"'))).colour
    assert (colour.packing_for(1), colour.packing_for(8), colour.packing_for(16)) == (
        "LZW",
        "LZW",
        packing,
    )
