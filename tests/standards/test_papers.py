"""The sheet sizes of ``papers.csv`` against the standards' rules and three independent tables.

Of ISO 216, ISO 217, JIS P 0138 and ASME Y14.1 the primary tables were not seen; their figures agree in
independent libraries, which are read here: papersizes and papersizes-guide (and papersize, which has
known slips).
"""

from fractions import Fraction

import papersize
import papersizes
import papersizes_guide
import pytest

from labkit.geometry.length import inches, length, millimetres
from labkit.geometry.paper import catalogue, find_sheet
from tests.geometry.refused import refusal

NAMES = [sheet.name for sheet in catalogue()]


def mm(name: str) -> tuple[Fraction, Fraction]:
    sheet = find_sheet(name)
    return sheet.width.mm, sheet.height.mm


def inch(name: str) -> tuple[Fraction, Fraction]:
    sheet = find_sheet(name)
    return sheet.width.inches, sheet.height.inches


# The standards' own rules


@pytest.mark.parametrize(
    ("series", "first"),
    [("A", (841, 1189)), ("B", (1000, 1414)), ("JIS B", (1030, 1456))],
)
def test_each_size_is_half_the_one_before(series, first):
    """ISO 216, principle of halving, down to whole millimetres; JIS P 0138 likewise."""
    wide, high = first
    for number in range(11):
        assert mm(f"{series}{number}") == (wide, high)
        wide, high = high // 2, wide


def test_b4_as_css_has_it():
    """CSS Paged Media 3, page-size: B4 250 × 353 mm, JIS-B4 257 × 364 mm; B5, JIS-B5 likewise."""
    assert mm("B4") == (250, 353)
    assert mm("JIS B4") == (257, 364)
    assert mm("B5") == (176, 250)
    assert mm("JIS B5") == (182, 257)


@pytest.mark.parametrize("number", range(11))
def test_jis_b_is_not_iso_b(number):
    """A JIS side is √(1.5/√2) = 1.0299 of the ISO side (CIP4, JDF issue 435), to a millimetre."""
    for iso, jis in zip(mm(f"B{number}"), mm(f"JIS B{number}"), strict=True):
        assert float(jis) == pytest.approx(float(iso) * 1.0299, abs=1.2)
        assert jis > iso


@pytest.mark.parametrize(
    ("name", "size"),
    [
        ("RA0", (860, 1220)), ("RA1", (610, 860)), ("RA2", (430, 610)), ("RA3", (305, 430)),
        ("RA4", (215, 305)), ("SRA0", (900, 1280)), ("SRA1", (640, 900)), ("SRA2", (450, 640)),
        ("SRA3", (320, 450)), ("SRA4", (225, 320)),
    ],
)  # fmt: skip
def test_untrimmed_sizes(name, size):
    """ISO 217:2013, clauses 5.1 and 5.2."""
    assert mm(name) == size


@pytest.mark.parametrize("number", range(5))
def test_untrimmed_sheets_hold_their_a_size(number):
    finished, raw, larger = mm(f"A{number}"), mm(f"RA{number}"), mm(f"SRA{number}")
    assert finished[0] < raw[0] < larger[0]
    assert finished[1] < raw[1] < larger[1]


def test_ansi_sizes_double():
    """ASME Y14.1: A 8.5 × 11 in, and each twice the one before, up to E 34 × 44 in."""
    wide, high = Fraction(17, 2), Fraction(11)
    for letter in "ABCDE":
        assert inch(f"ANSI {letter}") == (wide, high)
        wide, high = high, wide * 2
    assert inch("ANSI E") == (34, 44)


@pytest.mark.parametrize(
    ("name", "pwg"),
    [
        ("letter", "na_letter_8.5x11in"),
        ("legal", "na_legal_8.5x14in"),
        ("tabloid", "na_ledger_11x17in"),
        ("ARCH D", "na_arch-d_24x36in"),
        ("13x19in", "na_super-b_13x19in"),
        ("JIS B4", "jis_b4_257x364mm"),
        ("A4", "iso_a4_210x297mm"),
    ],
)
def test_sizes_as_their_pwg_names_say(name, pwg):
    """PWG 5101.1-2013 names carry the size (values seen in other works that quote them)."""
    told = find_sheet(pwg.rsplit("_", 1)[1])
    assert (told.width, told.height) == (find_sheet(name).width, find_sheet(name).height)
    assert told.unit == find_sheet(name).unit


@pytest.mark.parametrize(
    ("name", "size"),
    [
        ("A", (9, 12)), ("B", (12, 18)), ("C", (18, 24)), ("D", (24, 36)), ("E1", (30, 42)),
        ("E", (36, 48)), ("E2", (26, 38)), ("E3", (27, 39)),
    ],
)  # fmt: skip
def test_arch_sizes(name, size):
    """PWG 5101.1 names; no primary standard of the name ARCH was found."""
    assert inch(f"ARCH {name}") == size


@pytest.mark.parametrize(
    ("short", "name", "further"),
    [("3.5", "3.5x5in", "1.5"), ("4", "4x6in", 2), ("5", "5x7in", 2), ("6", "6x8in", 2),
     ("8", "8x10in", 2), ("10", "10x12in", 2), ("11", "11x14in", 3), ("12", "12x15in", 3),
     ("16", "16x20in", 4), ("20", "20x24in", 4)],
)  # fmt: skip
def test_photo_sizes_follow_the_nr_rule(short, name, further):
    """nR is 2 in longer than wide up to 10 in, 3 in from 11 in: Wikipedia, “Photo print sizes”.

    3R, 16R and 20R are known to depart from it.
    """
    assert inch(name) == (Fraction(short), Fraction(short) + Fraction(further))


@pytest.mark.parametrize(
    ("name", "rounded"),
    [("3.5x5in", (89, 127)), ("4x6in", (102, 152)), ("5x7in", (127, 178)), ("8x10in", (203, 254))],
)
def test_photo_sizes_in_whole_millimetres(name, rounded):
    """Metric catalogues list 89 × 127, 102 × 152, 127 × 178 and 203 × 254: common practice, no source."""
    assert tuple(round(side) for side in mm(name)) == rounded


@pytest.mark.parametrize(
    ("name", "size"),
    [("letter", ("8.5", "11")), ("legal", ("8.5", "14")), ("tabloid", ("11", "17")),
     ("executive", ("7.25", "10.5")), ("statement", ("5.5", "8.5"))],
)  # fmt: skip
def test_office_sizes(name, size):
    """PWG 5101.1-2013; CSS Paged Media 3 has letter and legal."""
    assert inch(name) == tuple(Fraction(side) for side in size)


def test_the_sheets_a_small_room_keeps():
    """8.5×11, A3 (11.7×16.5 in at the counter), 11×17, 13×19 in: common practice, no source."""
    assert mm("A3") == (297, 420)
    assert mm("13x19in") == (Fraction("330.2"), Fraction("482.6"))
    assert inch("11x17in") == (11, 17)
    counter = find_sheet("11.7x16.5in")
    # Sizes within 5 points, 1.76 mm, are the same: CIP4 JDF, remark quoted in issue 435.
    assert find_sheet("A3").same_size(counter, inches(Fraction(5, 72)))


# Three independent tables

IN_GUIDE = {
    "letter": "letter", "legal": "legal", "tabloid": "tabloid", "executive": "executive",
    "statement": "half-letter", "13x19in": "super-b", "3.5x5in": "3r", "4x6in": "4r", "5x7in": "5r",
    "6x8in": "6r", "8x10in": "8r", "8x12in": "s8r", "10x12in": "10r", "10x15in": "s10r",
    "11x14in": "11r", "12x15in": "12r", "16x20in": "16r", "20x24in": "20r",
}  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_every_size_as_papersizes_guide_has_it(name):
    """papersizes-guide 1.0.3."""
    theirs = papersizes_guide.get(IN_GUIDE.get(name, name.replace("JIS B", "JIS JB")))
    assert theirs is not None
    assert mm(name) == (millimetres(theirs.width_mm).mm, millimetres(theirs.height_mm).mm)


NOT_IN_PAPERSIZES = {"ARCH E2", "ARCH E3"} | {name for name in NAMES if name[0].isdigit()} - {
    "13x19in"
}


@pytest.mark.parametrize("name", [name for name in NAMES if name not in NOT_IN_PAPERSIZES])
def test_sizes_as_papersizes_has_them(name):
    """papersizes 0.6.1, which counts in points of 1/72 in."""
    key = {"13x19in": "SUPER_B", "statement": "STATEMENT"}.get(name, name.upper().replace(" ", "_"))
    theirs = getattr(papersizes, key)
    ours = [float(side.inches) * 72 for side in (find_sheet(name).width, find_sheet(name).height)]
    assert list(theirs) == pytest.approx(ours, abs=1e-6)


def papersize_mm(name: str) -> tuple[Fraction, Fraction]:
    sides = papersize.parse_papersize(name.replace(" ", ""), "mm")
    return tuple(Fraction(round(side, 6)) for side in sides)


SLIPS = {"b4", "executive"}
IN_PAPERSIZE = [
    *(f"{letter}{number}" for letter in "ab" for number in range(11)),
    "letter", "legal", "executive", "tabloid", "statement", "arch a", "arch b", "arch c", "arch d",
    "arch e", "arch e1", "arch e2", "arch e3",
]  # fmt: skip


@pytest.mark.parametrize("name", [name for name in IN_PAPERSIZE if name not in SLIPS])
def test_sizes_as_papersize_has_them(name):
    """papersize 1.6.1."""
    assert mm(name) == papersize_mm(name)


def test_known_slips_of_papersize():
    """papersize 1.6.1 has B4 a millimetre short, though its own B3 is 353 wide, and executive 7 × 10 in
    where the PWG name and three libraries have 7.25 × 10.5 in."""
    assert papersize_mm("b4") == (250, 352)
    assert papersize_mm("b3")[0] == 353 == mm("B4")[1]
    assert papersize_mm("executive") == (inches(7).mm, inches(10).mm)
    assert inch("executive") == (Fraction("7.25"), Fraction("10.5"))


# Names that mean several sizes

A3_PLUS = (
    "“{}” is sold as 329 × 483 mm, as 330.2 × 482.6 mm and as 305 × 457 mm: "
    "measure a sheet and give the size, such as 329x483mm or 13x19in."
)


@pytest.mark.parametrize("name", ["A3+", "a3 +", "A3 Plus", "a3-plus", "Super A3", "A3 super"])
def test_refuses_a3_plus_by_name(name):
    assert refusal(find_sheet, f" {name} ") == A3_PLUS.format(name)


def test_a3_plus_is_disputed():
    assert papersizes.A3_PLUS.as_mm_str() == "329x483mm"
    theirs = papersizes_guide.get("A3+")
    assert (theirs.width_mm, theirs.height_mm) == (330.2, 482.6)


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        (
            "Ledger",
            "“Ledger” is 11 × 17 in to some and 17 × 11 in to others: give the size, 11x17in or 17x11in.",
        ),
        (
            "folio",
            "“folio” is 8 × 13, 8.27 × 13 or 8.5 × 13 in, depending on whom you ask: "
            "give the size, such as 8.5x13in.",
        ),
        (
            "government letter",
            "“government letter” is 8 × 10 or 8 × 10.5 in, depending on whom you ask: give the size.",
        ),
        (
            "Government-Legal",
            "“Government-Legal” is 8.5 × 13 or 8 × 10.5 in, depending on whom you ask: give the size.",
        ),
    ],
)
def test_refuses_other_disputed_names(name, sentence):
    assert refusal(find_sheet, name) == sentence


def test_those_names_are_disputed():
    """ledger lies both ways, the others have different sizes, in papersize and the other two tables."""
    inch_mm = {
        key: tuple(float(s) for s in papersize_mm(key))
        for key in ("ledger", "folio", "governmentletter", "governmentlegal")
    }
    assert inch_mm["ledger"] == (431.8, 279.4)  # PWG and CSS Paged Media 3: 11 × 17 in
    assert inch_mm["folio"] == (203.2, 330.2)
    assert papersizes.FOLIO.width == pytest.approx(8.27 * 72, abs=0.5)
    assert inch_mm["governmentletter"] == (203.2, 254)
    assert papersizes_guide.get("Government Letter").height_mm == 266.7
    assert inch_mm["governmentlegal"] == (215.9, 330.2)
    assert tuple(papersizes.GOVERNMENT_LEGAL) == (8 * 72, 10.5 * 72)


def test_the_sizes_offered_instead_are_taken():
    for size in ("329x483mm", "13x19in", "11x17in", "17x11in", "8.5x13in"):
        assert find_sheet(size).size == size
    assert find_sheet("329x483mm").width == length("329mm")
