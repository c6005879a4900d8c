"""The print room's rules: the shipped ones, every kind of mistake in a room file, and prices."""

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.errors import LabError
from labkit.files.writing.name import file_name, read_name
from labkit.room.rules import SHIPPED, Mistake, check_room, load_room, new_room
from labkit.room.schema import Place, find_lines, read_file, table, whole
from labkit.room.values import name_pattern
from tests.properties import examples

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


def test_shipped_room_has_no_mistake():
    assert check_room(SHIPPED) == []


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
        "across = 1.0",
        "across = 99.8",
        (
            "“settings.measured.across” is 99.8, but must be the measured length divided by "
            "the asked length, a number from 0.9 to 1.1"
        ),
    ),
    ("along = 0.999", "along = nan", "“settings.measured.along” is NaN, but must be"),
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
    ('width = "24in"', 'width = "0in"', "“papers.rolls.width” is “0in”, but must be above zero."),
    (
        'along = "-0.2mm"',
        'along = "-0.2"',
        "“settings.measured.offset_along” is “-0.2”, but must be a length with its unit, such as -0.3mm.",
    ),
    (
        'top = "3mm"',
        "top = true",
        "“printers.sheet.unprintable.top” is true, but must be a length: ",
    ),
    # sheets and their prices
    ('"11x17in", price', '"great", price', "no sheet is called “great”: give a standard name"),
    ('"11x17in", price', '"A3+", price', "“A3+” is sold as 329 × 483 mm"),
    ('size = "letter"', "size = 13", "“papers.sheets.size” is 13, but must be text between"),
    (
        "price = 2.40",
        "price = -2.40",
        "“papers.sheets.price” is -2.40, but must be a price of zero",
    ),
    ("price = 2.40", 'price = "£2.40"', "“papers.sheets.price” is “£2.40”, but must be a price"),
    (
        "metre = 20.00",
        "metre = inf",
        "“papers.rolls.price_per_metre” is Infinity, but must be a price",
    ),
    ("left = 40", "left = 4.5", "“papers.sheets.left” is 4.5, but must be a whole number"),
    ("turn = false", 'turn = "no"', "“papers.turn” is “no”, but must be true or false, without"),
    # dates and figures
    (
        "date = 2026-09-07",
        'date = "September"',
        "“settings.measured.date” is “September”, but must be",
    ),
    (
        "spread = 0.0005",
        "spread = 5",
        "“settings.measured.spread” is 5, but must be a share from 0",
    ),
    (
        "floor = 0.05",
        "floor = 5",
        "“tolerance.floor” is 5, but must be a share from 0 to 0.5 such as 0.05",
    ),
    (
        "hours = 24",
        "hours = -1",
        "“settings.drying_hours” is -1, but must be a number of hours from 0",
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
        "metre = 24\n",
        "metre = 0\n",
        "“settings.minutes_per_square_metre” is 0, but must be a number of minutes above 0",
    ),
    (
        'size = "11x17in"',
        'size = "letter"',
        "“8 1/2 in (215.9 mm) by 11 in (279.4 mm)” is here for the second time",
    ),
    (
        'width = "44in"',
        'width = "24in"',
        "“a roll 24 in (609.6 mm) wide” is here for the second time",
    ),
    (
        'printer = "Bittern"\npaper = "pearl 260"\npath = "sheet"',
        'printer = "Heron"\npaper = "Pearl 260"\npath = "sheet"',
        "“Heron, Pearl 260, path sheet” is here for the second time",
        -1,
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
    (
        'left = "900cm"',
        'left = "1600cm"',
        "16 m (52 ft) cannot be left of a roll of 15 m (49 ft): mend one",
    ),
    # settings that contradict papers and printers
    (
        'paper = "cotton matt 300"',
        'paper = "cotton"',
        "no paper here is called “cotton”: use one of cotton matt 300, pearl 260, plain 120, rag board",
    ),
    (
        'printer = "Heron"',
        'printer = "Crane"',
        "no printer here is called “Crane”: use one of Heron, B",
    ),
    (
        'paper = "pearl 260"\npath = "sheet"\nmedia',
        'paper = "pearl 260"\npath = "hand"\nmedia',
        "Bittern has no path “hand”: use one of sheet, roll, or describe it under [printers.hand].",
        1,
    ),
    (
        'path = "hand"',
        'path = "tray"',
        "“settings.path” is “tray”, but must be “sheet” or “hand” or",
    ),
    ('leader = "3cm"\n', "", "paper off a roll has a leader and a tail: write both", -10),
    (
        "drying_hours = 48",
        'drying_hours = 48\ntail = "5cm"',
        "only paper off a roll has a leader and a tail: take them out.",
        1,
    ),
    (
        'colour_by = "printer"',
        'colour_by = "program"',
        "the program can manage colour only with the paper's profile, and “profile” is “”: name one",
    ),
    # profiles
    (
        'profile = ""',
        'profile = "none.icc"',
        "“settings.profile” is “none.icc”, but there is no such file: give its place from ",
    ),
    ('profile = ""', "profile = 3", "“settings.profile” is 3, but must be text"),
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
        "this cannot be read (Cannot overwrite a value (at line ",
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
        ("across = 1.0\nalong = 0.999", "across = 0.9\nalong = 1.1"),
        ("across = 1.0\nalong = 0.999", "across = 1\nalong = 1"),
        ("price = 2.40", "price = 0"),
        (", price = 2.40 }", " }"),
        (", price_per_metre = 20.00", ""),
        ("left = 40", "left = 0"),
        ("turn = false\n", ""),
        ("minutes_to_load = 0.5", "minutes_to_load = 0"),
        ("depth = 8", 'depth = "as the picture"'),
        ('offset_along = "-0.2mm"', 'offset_along = "−1/64 in"'),
        ('"{owner}_{title}_{sheet}"', '"print of_{sheet} _ {owner}_{title}!"'),
        ('size = "11x17in"', 'size = "17x11in"'),
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
        'size = "letter", price = 2.40',
        "{  },",
        "“papers.sheets.size” is missing: write it like { size = ",
    ),
    (
        'offset_along = "-0.2mm"\n',
        "[settings.measured]\n",
        '“settings.measured.offset_along” is missing: write it like offset_along = "-0.2mm".',
    ),
    (
        '[tolerance]\nplace = "1/64in"\nsize = "1/150in"\nfloor = 0.05\n',
        1,
        "“tolerance” is missing: write it like [tolerance], with the lines that `room new` writes below",
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
    ("[[floor]]", "floor = []\n[[floor]]", "this cannot be read ("),
    (
        'rolls = [\n  { width = "36in", length = "4000cm", price_per_metre = 5.00 },\n]',
        "rolls = []",
        '“papers.rolls” is not a list of one or more: write it like rolls = [ { width = "24in"',
    ),
    (
        '{ width = "36in", length = "4000cm", price_per_metre = 5.00 }',
        '"36in"',
        '“papers.rolls” is not a group of settings: write it like { width = "24in"',
    ),
    (
        "[limits]",
        "[[limits]]",
        "“limits” is not a group of settings: write it like [limits], with the lines that",
    ),
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
        "“printers” is not a list of one or more: write it like [[printers]], with the lines that `room "
        "new` writes below it.",
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
            'name = "Bittern"\n\n[printers.sheet]\nunprintable = { left = "5mm"',
            "seconds = -1",
        )
    ]


def test_no_mistake_hides_another(write):
    """A wrong name, a doubled size, a paper without a default, and a weight that is none."""
    text = changed("weight_gsm = 300", "weight_gsm = -1")
    text = changed('printer = "Bittern"', 'printer = "Crane"', text)
    text = changed('paper = "pearl 260"', 'paper = "pearl 620"', text)
    told = [each.sentence for each in check_room(write(text))]
    assert len(told) == 3
    assert "“papers.weight_gsm” is -1" in told[0]
    assert {each.split(":")[0] for each in told[1:]} == {
        "no printer here is called “Crane”",
        "no paper here is called “pearl 620”",
    }
    text = changed("default = true", "default = false")
    text = changed('printer = "Bittern"', 'printer = "Crane"', text)
    text = changed('size = "A4"', 'size = "210x297mm"', text)
    twice = changed('size = "letter"', 'size = "A4"', text)
    assert [each.sentence[:29] for each in check_room(write(twice))] == [
        "of the settings of “cotton ma",
        "“210 mm (8.27 in) by 297 mm (",
        "no printer here is called “Cr",
    ]


@pytest.mark.parametrize(
    ("name", "old", "new"), [("border", "1/2in", "15m"), ("bleed", "1/8in", "3m")]
)
def test_a_border_that_leaves_no_paper_is_a_wrong_unit(write, name, old, new):
    [found] = check_room(write(changed(f'{name} = "{old}"', f'{name} = "{new}"')))
    assert found.line == line_of(f'{name} = "{old}"')
    assert "which leaves nothing of the widest paper here, 44 in (1117.6 mm)" in found.sentence


@pytest.mark.parametrize("which", [0, 1])
def test_one_bracket_where_two_are_wanted_says_what_to_write(write, which):
    start = [TEXT.index("\n[[papers]]") + 1, TEXT.rindex("[[papers]]")][which]
    [found] = check_room(write(TEXT[:start] + "[papers]" + TEXT[start + len("[[papers]]") :]))
    assert found.line == TEXT.count("\n", 0, start) + 1
    assert found.sentence == (
        "[papers] is one of several: write it between two brackets each time, [[papers]]."
    )


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
    assert room.settings[0].profile == room.colour.untagged_cmyk == tmp_path / "press.icc"
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


LEFT_OUT = re.compile(
    r"(turn|default|leader|tail|left|cuts|packing_shared) = |\[settings.measured|\[printers\."
    r"|  [{]|(sheets|rolls) = \[|\]"
)
"""Lines that may be left out, or whose absence is told only where the rest needs them."""


@examples(100)
@given(gone=st.sampled_from([n for n, line in enumerate(LINES) if line.strip()]))
def test_any_line_taken_out_leaves_a_sound_room_or_a_mistake_within_the_file(
    tmp_path_factory, gone
):
    path = tmp_path_factory.getbasetemp() / "gone.toml"
    path.write_text("".join(LINES[:gone] + LINES[gone + 1 :]), encoding="utf-8")
    mistakes = check_room(path)
    if mistakes:
        assert all(1 <= each.line < len(LINES) for each in mistakes)
        with pytest.raises(LabError, match=re.escape(mistakes[0].sentence)):
            load_room(path)
    else:
        load_room(path)
    if not LEFT_OUT.match(LINES[gone]):
        assert bool(mistakes) == (not LINES[gone].startswith("#"))


@examples(100)
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


@examples(100)
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
        ("list",): 3, ("list", 0): 4, ("list", 1): 5,
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
    for group in (
        "papers",
        "printers",
        "settings",
        "cutter",
        "handling",
        "colour",
        "tolerance",
        "limits",
    ):
        names = {
            way[-1]
            for way in find_lines(TEXT)
            if way[0] == group and len(way) > 1 and isinstance(way[-1], str)
        }
        for name in names - {"name", "left", "top", "right", "bottom"}:
            assert re.search(rf"\b{name}\b", notes), name


# A file of an earlier kind

EARLIER = """
sheets = ["A4"]
[[rolls]]
width = "17in"
[[rolls]]
width = "24in"
[[papers]]
profile = ""
sheet_prices = { letter = 2.40, A4 = 3 }
price_per_square_metre = 34.00
[[printers]]
minutes_per_square_metre = 24
[printers.sheet]
offset = { across = "0.3mm", down = "-0.2mm" }
scale = { across = 1.0, down = 0.999 }
"""


def test_an_earlier_file_is_told_line_by_line_what_to_change(write):
    told = {
        each.line: each.sentence
        for each in check_room(write(EARLIER))
        if "missing" not in each.sentence
    }
    roll = 'rolls = [ { width = "24in", length = "3000cm", price_per_metre = 15.00 } ]'
    for line, part in (
        (2, "“sheets” now stands with each paper"),
        (3, f"take this group out, and under [[papers]] write {roll}."),
        (5, f"take this group out, and under [[papers]] write {roll}."),
        (8, "move it to their [[settings]]."),
        (9, 'write sheets = [ { size = "letter", price = 2.40 }, { size = "A4", price = 3 } ].'),
        (10, "this price times the roll's width in metres is its price_per_metre."),
        (12, "“printers.minutes_per_square_metre” now stands with each paper on this printer"),
        (14, "[settings.measured], write offset_across and offset_along."),
        (15, "[settings.measured], write across and along."),
    ):
        assert part in told[line]
    assert len(told) == 9


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


# A printer that cuts


def test_a_printer_cuts_the_roll_only_where_the_file_says_so(write):
    assert not any(feed.cuts for each in load_room().printers for feed in each.feeds.values())
    rules = load_room(write(changed("cuts = false", "cuts = true")))
    assert [each.name for each in rules.printers if each.roll and each.roll.cuts] == ["Bittern"]
    without = load_room(write(changed("cuts = false\n", "")))
    assert not any(each.roll.cuts for each in without.printers if each.roll)


def test_what_is_no_roll_is_not_cut(write):
    text = changed(
        'widest = "24in"\nlongest = "36in"', 'widest = "24in"\nlongest = "36in"\ncuts = true'
    )
    [found] = check_room(write(text))
    assert found.line == line_of("cuts = true", text)
    assert "Bittern can cut only what comes off a roll" in found.sentence
