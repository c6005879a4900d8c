import json
import random
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import matplotlib
import pytest
from PIL import ImageFont

from labkit.drawing.sheet import describe_sheet, draw_sheet
from labkit.drawing.style import LINES, OKABE_ITO, PANEL, PAPER
from labkit.errors import LabError
from labkit.geometry.length import length
from tests.drawing.layouts import LAYOUTS, chromium, laid, ratio

SVG = "{http://www.w3.org/2000/svg}"
ALL = pytest.mark.parametrize("layout", LAYOUTS.values(), ids=LAYOUTS)
BOTH = pytest.mark.parametrize("units", ["in", "mm"])
OPTICAL, TRIMMED = LAYOUTS["optical"], LAYOUTS["trimmed"]


class Drawn:
    """A drawing read back: elements by id without the prefix, and places turned into inches."""

    def __init__(self, svg: str, prefix: str = "sheet"):
        self.root = ElementTree.fromstring(svg)
        self.by_id = {
            each.get("id").removeprefix(f"{prefix}-"): each
            for each in self.root.iter()
            if each.get("id")
        }
        self.scale = float(self.root.get("data-unit-scale"))
        self.origin = [float(self.root.get(f"data-origin-{axis}")) for axis in "xy"]

    def inches(self, x, y):
        return (float(x) - self.origin[0]) / self.scale, (float(y) - self.origin[1]) / self.scale

    def box(self, rect):
        """Left, top, width and height in inches."""
        size = (float(rect.get(side)) / self.scale for side in ("width", "height"))
        return *self.inches(rect.get("x"), rect.get("y")), *size

    def figures(self, ident):
        """The two lines of a label."""
        text = self.by_id[ident]
        return text.text, text[0].text

    def near(self, *lengths):
        """The lengths in inches, as near as two decimals of a unit can tell."""
        return pytest.approx([float(each) for each in lengths], abs=0.011 / self.scale)


def sides(box):
    return box.left, box.top, box.width, box.height


def numbers(path):
    return [float(number) for number in re.findall(r"-?\d+\.\d+", path.get("d"))]


# Places


@ALL
def test_boxes_are_drawn_to_scale(layout):
    drawn = Drawn(draw_sheet(layout))
    assert float(drawn.root.get("data-sheet-width-in")) == pytest.approx(float(layout.sheet.width))
    assert float(drawn.root.get("data-sheet-height-in")) == pytest.approx(
        float(layout.sheet.height)
    )
    assert drawn.box(drawn.by_id["sheet"]) == drawn.near(*sides(layout.sheet_box))
    assert drawn.box(drawn.by_id["picture"][0]) == drawn.near(*sides(layout.picture))
    if any(edge for _, edge in layout.unprintable.items()):
        assert drawn.box(drawn.by_id["printable"]) == drawn.near(*sides(layout.printable))
    else:
        assert "printable" not in drawn.by_id
    if layout.trim:
        assert drawn.box(drawn.by_id["trim"]) == drawn.near(*sides(layout.trim.box))
        assert drawn.box(drawn.by_id["bleed"]) == drawn.near(*sides(layout.trim.bleed_box))
        marks = re.findall(r"M(\S+) (\S+)h(\S+)v(\S+)h", drawn.by_id["marks"].get("d"))
        assert len(marks) == 8
        for (x, y, wide, high), mark in zip(marks, layout.trim.marks(), strict=True):
            size = float(wide) / drawn.scale, float(high) / drawn.scale
            assert [*drawn.inches(x, y), *size] == drawn.near(*sides(mark))
    else:
        assert not {"trim", "bleed", "marks"} & drawn.by_id.keys()


def test_what_the_printer_does_not_reach_of_a_picture_is_hatched_over_it():
    layout = LAYOUTS["optical"]
    assert "lost" not in Drawn(draw_sheet(layout)).by_id
    box = replace(layout.picture, left=length("0.1in"))
    over = replace(layout, picture=box)
    drawn = Drawn(draw_sheet(over))
    whole, kept = re.findall(r"M(\S+) (\S+)h(\S+)v(\S+)h", drawn.by_id["lost"].get("d"))
    for (x, y, wide, high), part in ((whole, box), (kept, box.clipped(over.printable))):
        size = float(wide) / drawn.scale, float(high) / drawn.scale
        assert [*drawn.inches(x, y), *size] == drawn.near(*sides(part))


@ALL
def test_guides_run_across_the_sheet_at_the_layouts_guides(layout):
    drawn = Drawn(draw_sheet(layout))
    across, down = layout.guides
    for side, place in zip(("left", "right"), across, strict=True):
        x, low, high = numbers(drawn.by_id[f"guide-{side}"])
        (left, bottom), (_, top) = drawn.inches(x, low), drawn.inches(x, high)
        assert [left, bottom] == drawn.near(place, layout.sheet.height)
        assert top < 0
        assert drawn.figures(f"guide-{side}-at") == (place.inch_text(), place.mm_text())
    for side, place in zip(("top", "bottom"), down, strict=True):
        far, y, near = numbers(drawn.by_id[f"guide-{side}"])
        (right, top), (left, _) = drawn.inches(far, y), drawn.inches(near, y)
        assert [top, right] == drawn.near(place, layout.sheet.width)
        assert left < 0
        assert drawn.figures(f"guide-{side}-at") == (place.inch_text(), place.mm_text())


@ALL
@BOTH
def test_borders_and_picture_are_dimensioned_in_both_units(layout, units):
    drawn = Drawn(draw_sheet(layout, units=units))
    picture = (("width", layout.picture.width), ("height", layout.picture.height))
    for name, size in (*layout.borders.items(), *picture):
        figures = drawn.figures(name)
        assert figures == ((size.mm_text(), size.inch_text())[:: 1 if units == "mm" else -1])
        label = drawn.by_id[name]
        assert float(label.get("font-size")) > float(label[0].get("font-size"))


@ALL
def test_dimension_lines_end_at_the_edges_they_measure(layout):
    drawn = Drawn(draw_sheet(layout))
    box, paper = layout.picture, layout.sheet
    xs = numbers(drawn.by_id["across"])[0:16:4]
    assert [drawn.inches(x, 0)[0] for x in xs] == drawn.near(
        length("0in"), box.left, box.right, paper.width
    )
    ys = numbers(drawn.by_id["down"])[1:16:4]
    assert [drawn.inches(0, y)[1] for y in ys] == drawn.near(
        length("0in"), box.top, box.bottom, paper.height
    )


def test_the_counters_twelve_inch_square():
    """Guides at 1/2 in and 12 1/2 in across, 1/2 in left and right: common practice, no source."""
    drawn = Drawn(draw_sheet(LAYOUTS["even"]))
    assert [drawn.figures(f"guide-{side}-at")[0] for side in ("left", "right")] == [
        "1/2 in",
        "12 1/2 in",
    ]
    assert [drawn.figures(side)[0] for side in ("left", "right")] == ["1/2 in", "1/2 in"]


def test_the_sheet_stays_put_while_the_picture_moves():
    one, other = (
        Drawn(draw_sheet(laid("13x19in", width="6in", left=left, top="2in")))
        for left in ("1/2in", "5 1/4in")
    )
    assert (one.scale, one.origin) == (other.scale, other.origin)
    assert one.root.get("viewBox") == other.root.get("viewBox")
    shift = one.box(other.by_id["picture"][0])[0] - one.box(one.by_id["picture"][0])[0]
    assert shift == pytest.approx(4.75, abs=0.001)


# The picture


def test_the_image_shows_the_cropped_part_of_the_whole_picture():
    layout = LAYOUTS["tight"]
    drawn = Drawn(draw_sheet(layout, href="data:image/jpeg;base64,AAAA"))
    window = drawn.root.find(f".//{SVG}svg")
    assert drawn.box(window) == drawn.near(*sides(layout.picture))
    crop = layout.crop
    assert [float(part) for part in window.get("viewBox").split()] == pytest.approx(
        [1000 * float(part) for part in (crop.left, crop.top, crop.width, crop.height)], abs=0.001
    )
    photo = drawn.by_id["photo"]
    assert photo.get("href") == "data:image/jpeg;base64,AAAA"
    assert (photo.get("width"), photo.get("height")) == ("1000", "1000")
    assert photo in list(window)
    # The part shown has the ratio of the box, so that filling the box does not stretch it.
    box = layout.picture
    assert float(crop.width / crop.height) * 3600 / 2400 == pytest.approx(
        float(box.width / box.height)
    )


def test_without_an_address_the_picture_is_a_crossed_box_a_script_can_fill():
    group = Drawn(draw_sheet(OPTICAL)).by_id["picture"]
    assert [each.tag.removeprefix(SVG) for each in group] == ["rect", "path", "svg", "rect"]
    assert group[2][0].get("id") == "sheet-photo"
    assert group[2][0].get("href") is None
    with_photo = Drawn(draw_sheet(OPTICAL, href="data:image/png;base64,AAAA")).by_id["picture"]
    assert [each.tag.removeprefix(SVG) for each in with_photo] == ["rect", "svg", "rect"]


# Words


@ALL
@BOTH
def test_title_and_description_say_what_is_drawn(layout, units):
    drawn = Drawn(draw_sheet(layout, units=units))
    root, words = drawn.root, drawn.by_id["desc"].text
    assert root.get("role") == "img"
    assert root.get("aria-labelledby").split() == ["sheet-title", "sheet-desc"]
    assert "drawn to scale" in drawn.by_id["title"].text
    assert words == describe_sheet(layout, units=units)
    assert words.startswith(layout.sentence(units))
    for _, border in layout.borders.items():
        assert border.both(units) in words
    for places in layout.guides:
        assert " and ".join(place.both(units) for place in places) in words


def test_description_in_full():
    assert describe_sheet(OPTICAL) == (
        "Picture 12 in (304.8 mm) wide and 8 in (203.2 mm) high on 13 × 19 in (330.2 × 482.6 mm). "
        "Borders: left 1/2 in (12.7 mm), top 4.4 in (111.8 mm), right 1/2 in (12.7 mm), "
        "bottom 6.6 in (167.6 mm). Guides stand at 1/2 in (12.7 mm) and 12 1/2 in (317.5 mm) from "
        "the left and at 4.4 in (111.8 mm) and 12.4 in (315 mm) from the top. The printer does not "
        "reach the edges: left 1/8 in (3.2 mm), top 1/8 in (3.2 mm), right 1/8 in (3.2 mm), "
        "bottom 1/8 in (3.2 mm)."
    )
    trimmed = describe_sheet(TRIMMED, guides=False)
    assert "Corner marks show where to cut" in trimmed
    assert "Guides" not in trimmed


def test_the_heading_names_the_sheet_and_what_happens_to_the_picture():
    def heading(layout, **options):
        lines = Drawn(draw_sheet(layout, **options)).root.findall(f"{SVG}text[@x='16']")
        return [(line.text, line[0].text) for line in lines]

    assert heading(OPTICAL) == [("Sheet 13 × 19 in", "330.2 × 482.6 mm")]
    assert heading(LAYOUTS["millimetres"], units="mm") == [
        ("Sheet A3, 297 × 420 mm", "11.693 × 16.535 in")
    ]
    assert heading(TRIMMED)[1] == ("Trimmed to 11 × 17 in", "279.4 × 431.8 mm")
    # 12.76 : 18.76 out of 3 : 2 keeps 12.76/18.76 ÷ 1.5 = 45.3 % of the width.
    assert heading(LAYOUTS["tight"])[1] == ("Picture cropped", "55% of it is cut off")


def legend(layout, **options):
    group = Drawn(draw_sheet(layout, **options)).by_id["legend"]
    return [each.text for each in group.iter(f"{SVG}text")]


def test_the_legend_names_only_the_lines_present():
    assert legend(LAYOUTS["huge"], guides=False) == ["picture"]
    assert legend(OPTICAL) == ["picture", "guide", "not printable"]
    assert legend(TRIMMED) == ["guide", "cut here", "bleed", "corner mark", "not printable"]
    assert legend(LAYOUTS["roll"], units="mm")[-1] == "not printable"


@ALL
def test_the_legend_is_one_row(layout):
    group = Drawn(draw_sheet(layout)).by_id["legend"]
    assert len({each.get("transform").split()[1] for each in group}) == 1


def test_a_picture_larger_than_the_bleed_has_a_line_of_its_own():
    wider = replace(TRIMMED, picture=TRIMMED.picture.grown(length("1/8in")))
    assert "picture" in legend(wider)


def test_lines_and_figures_can_be_left_out():
    bare = Drawn(draw_sheet(TRIMMED, guides=False, dimensions=False)).by_id.keys()
    assert not any(name.startswith("guide") for name in bare)
    assert not {"left", "top", "right", "bottom", "across", "down"} & bare
    assert {"sheet", "picture", "trim", "bleed", "marks", "legend"} <= bare


# A sound document


@ALL
def test_every_id_is_prefixed_unique_and_found(layout):
    one, two = (draw_sheet(layout, prefix=prefix) for prefix in ("one", "two"))
    found = {name: re.findall(r'\bid="([^"]+)"', svg) for name, svg in (("one", one), ("two", two))}
    for name, ids in found.items():
        assert len(ids) == len(set(ids))
        assert all(each == name or each.startswith(f"{name}-") for each in ids)
    assert {"one", "one-sheet", "one-picture", "one-photo"} <= set(found["one"])
    assert set(re.findall(r"url\(#([^)]+)\)", one)) <= set(found["one"])


def test_nasty_texts_are_escaped():
    name = 'A4" onload="x()"><script>x()</script>&\x00\x0b\ud800'
    layout = replace(OPTICAL, sheet=replace(OPTICAL.sheet, name=name))
    href = 'data:image/svg+xml,<svg onload="x()">&\x08"\'>'
    drawn = Drawn(draw_sheet(layout, href=href))
    assert not list(drawn.root.iter(f"{SVG}script"))
    assert "onload" not in {key for each in drawn.root.iter() for key in each.attrib}
    assert drawn.by_id["photo"].get("href") == href.replace("\x08", "")
    assert 'A4" onload="x()"><script>x()</script>&, 13 × 19 in' in drawn.by_id["title"].text


@ALL
def test_nothing_is_fetched_from_elsewhere(layout):
    svg = draw_sheet(layout).replace('xmlns="http://www.w3.org/2000/svg"', "")
    assert "://" not in svg
    assert not re.search(r"<(style|script|use|foreignObject|a)\b|@import|url\((?!#)", svg)


@ALL
def test_the_same_layout_gives_the_same_text(layout):
    svg = draw_sheet(layout)
    assert svg == draw_sheet(replace(layout))
    geometry = re.findall(r' (?:d|x|y|width|height|viewBox|transform)="([^"]*)"', svg)
    assert not re.search(r"\d\.\d{4,}|\de[-+]?\d|nan|inf", " ".join(geometry))


def test_drawing_loads_nothing_heavy():
    code = "import sys, labkit.drawing.sheet; print(*sys.modules)"
    loaded = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, check=True, encoding="utf-8"
    ).stdout.split()
    assert "labkit.drawing.sheet" in loaded
    assert not {"jinja2", "numpy", "PIL", "matplotlib", "ipywidgets"} & set(loaded)


def test_bad_input_is_refused_in_a_sentence():
    for options, sentence in (
        ({"units": "cm"}, "a drawing cannot be dimensioned in “cm”: choose in or mm."),
        (
            {"prefix": '1"'},
            '“1"” cannot begin an id: start with a letter, then letters, digits, - or _.',
        ),
        (
            {"scale_width": 439},
            "a drawing 439 pixels wide has no room for its labels: make it 440 or more.",
        ),
    ):
        with pytest.raises(LabError) as refused:
            draw_sheet(OPTICAL, **options)
        assert str(refused.value) == sentence


# Seeing it


def test_colours_are_those_published():
    """Okabe and Ito, Color Universal Design (2002, revised 2008), jfly.uni-koeln.de/color."""
    assert OKABE_ITO == {
        "black": "#000000",
        "orange": "#e69f00",
        "sky blue": "#56b4e9",
        "bluish green": "#009e73",
        "yellow": "#f0e442",
        "blue": "#0072b2",
        "vermilion": "#d55e00",
        "reddish purple": "#cc79a7",
    }


def test_contrast_is_reckoned_as_wcag_does():
    """WCAG 2.2, SC 1.4.3; check values from the package wcag-contrast-ratio 0.9."""
    assert ratio("#767676", "#ffffff") == pytest.approx(4.542, abs=0.001)
    assert ratio("#777777", "#ffffff") == pytest.approx(4.478, abs=0.001)
    assert ratio("#000000", "#ffffff") == pytest.approx(21)


@ALL
def test_all_text_has_contrast_on_every_ground(layout):
    """WCAG 2.2, SC 1.4.3: 4.5 to 1. Text stands on the panel or the legend's white."""
    root = Drawn(draw_sheet(layout)).root
    texts = [*root.iter(f"{SVG}text"), *root.iter(f"{SVG}tspan")]
    colours = {each.get("fill", root.get("fill")) for each in texts}
    assert len(texts) > 10
    for colour in colours:
        assert min(ratio(colour, ground) for ground in (PANEL, PAPER)) >= 4.5


def test_lines_have_contrast_and_differ_by_more_than_colour():
    """WCAG 2.2, SC 1.4.11: 3 to 1; all but the guides stand on white, or are cased in it."""
    for kind, line in LINES.items():
        grounds = (PAPER, PANEL) if kind == "guide" else (PAPER,)
        assert min(ratio(line.colour, ground) for ground in grounds) >= 3, kind
    looks = [(line.dash, line.width) for line in LINES.values() if line.dash]
    assert len(set(looks)) == len(looks) == 3
    assert len({line.words for line in LINES.values()}) == len(LINES)


def test_colours_too_weak_for_a_line_stand_inside_an_outline():
    weak = {OKABE_ITO[name] for name in ("orange", "sky blue", "yellow")}
    assert all(ratio(colour, PAPER) < 3 for colour in weak)
    assert not weak & {line.colour for line in LINES.values()}
    hatched = Drawn(draw_sheet(OPTICAL)).root.find(f"{SVG}path[@fill='url(#sheet-hatch)']")
    assert ratio(hatched.get("stroke"), PAPER) >= 3


def test_the_drawing_brings_its_own_light_ground():
    root = Drawn(draw_sheet(OPTICAL)).root
    ground = root.find(f"{SVG}rect")
    assert ground.get("fill") == PANEL
    assert root.get("viewBox") == f"0 0 {ground.get('width')} {ground.get('height')}"


# Labels: none leaves the canvas, none covers another


def text_boxes(root):
    """Each line of text as (left, top, right, bottom), set in DejaVu Sans, wider than most."""
    fonts = Path(matplotlib.get_data_path(), "fonts", "ttf")

    def wide(text, size, bold):
        name = "DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"
        return ImageFont.truetype(fonts / name, 100).getlength(text) * size / 100

    def box(x, y, text, size, bold, anchor):
        run = wide(text, size, bold)
        left = x - {"start": 0, "middle": run / 2, "end": run}[anchor]
        return left, y - 0.76 * size, left + run, y + 0.1 * size

    for text in root.findall(f"{SVG}text"):
        x, y, size = (float(text.get(name)) for name in ("x", "y", "font-size"))
        anchor = text.get("text-anchor", "start")
        first, second = box(x, y, text.text, size, True, anchor), text[0]
        if second.get("dy"):
            yield first
            yield box(x, y + float(second.get("dy")), second.text, 12, False, anchor)
        else:
            run = wide(second.text, 12, False) + float(second.get("dx"))
            yield first[0], first[1], first[2] + run, first[3]
    for group in root.iter(f"{SVG}g"):
        if group.get("transform"):
            x, y = map(float, re.findall(r"[\d.]+", group.get("transform")))
            text = group.find(f"{SVG}text")
            yield box(x + float(text.get("x")), y, text.text, 12, False, "start")


def assert_apart(boxes, width, height, least=20):
    boxes = list(boxes)
    assert len(boxes) >= least
    for left, top, right, bottom in boxes:
        assert 0 <= left < right <= width
        assert 0 <= top < bottom <= height
    for at, one in enumerate(boxes):
        for other in boxes[at + 1 :]:
            apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1]
            assert apart or other[3] <= one[1], (one, other)


@ALL
@BOTH
@pytest.mark.parametrize("width", [440, 900])
def test_labels_keep_apart_and_inside(layout, units, width):
    root = Drawn(draw_sheet(layout, units=units, scale_width=width)).root
    assert root.get("width") == str(width)
    assert_apart(text_boxes(root), *map(float, root.get("viewBox").split()[2:]))


def test_labels_keep_apart_wherever_the_picture_is_dragged():
    chance = random.Random(7)
    for _ in range(150):
        wide, high = chance.choice([("13", "19"), ("44", "96"), ("96", "44"), ("6", "4")])
        width = chance.uniform(0.02, 0.9) * min(float(wide), float(high))
        left = chance.uniform(0, float(wide) - width)
        top = chance.uniform(0, float(high) - width * 2 / 3)
        layout = laid(
            f"{wide}x{high}in", width=f"{width:.4f}in", left=f"{left:.4f}in", top=f"{top:.4f}in"
        )
        root = Drawn(draw_sheet(layout, units=chance.choice(["in", "mm"]))).root
        assert_apart(text_boxes(root), *map(float, root.get("viewBox").split()[2:]))


@pytest.mark.browser
def test_a_browser_finds_no_label_over_another(tmp_path):
    drawings = [
        draw_sheet(layout, units=units, prefix=f"d{number}{units}{width}", scale_width=width)
        for number, layout in enumerate(LAYOUTS.values())
        for units in ("in", "mm")
        for width in (440, 640)
    ]
    page = tmp_path / "drawings.html"
    page.write_text(
        f"<!DOCTYPE html><meta charset=utf-8>{''.join(drawings)}<pre id=found></pre><script>"
        "document.getElementById('found').textContent = JSON.stringify("
        "[...document.querySelectorAll('body > svg')].map(svg => {"
        " const at = svg.getBoundingClientRect(), scale = at.width / svg.viewBox.baseVal.width;"
        " return {size: [svg.viewBox.baseVal.width, svg.viewBox.baseVal.height],"
        " boxes: [...svg.querySelectorAll('text')].map(text => {"
        "  const box = text.getBoundingClientRect();"
        "  return [box.left - at.left, box.top - at.top + 2, box.right - at.left,"
        "   box.bottom - at.top - 2].map(side => side / scale); })}; }));</script>",
        encoding="utf-8",
    )
    found = json.loads(
        re.search(r'<pre id="found">(.*?)</pre>', chromium("--dump-dom", page=page))[1]
    )
    assert len(found) == len(drawings)
    for each in found:
        assert_apart(each["boxes"], *each["size"], least=12)
