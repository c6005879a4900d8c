"""A sheet with its controls: whatever is moved, sentence, drawing and readings follow."""

import xml.etree.ElementTree as ElementTree
from dataclasses import replace

import pytest

from labkit.geometry.length import length
from labkit.geometry.paper import find_sheet
from labkit.home import Reader, home
from labkit.lessons.margins import margins
from labkit.lessons.parts.placing import BY_HAND
from labkit.lessons.parts.settings import settings
from tests.lessons.hands import choose, drag, said, slide

LETTER, A3 = find_sheet("letter"), find_sheet("A3")
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture
def borders():
    return margins.borders()


@pytest.fixture
def edges():
    return margins.printer_edges()


@pytest.fixture
def trimmed():
    return margins.to_the_edge()


def state_of(app):
    return app.sentence, app.still, app.readings


def move(app, name: str, value):
    (slide if name in ("width", "left", "top", "bleed") else choose)(app, name, value)


MOVES = [
    (margins.borders, "sheet", A3, "down the sheet", "4.475 in + 7.585 in + 4.475 in = 16.535 in"),
    (margins.borders, "turn", True, "across the sheet", "3 1/2 in + 12 in + 3 1/2 in = 19 in"),
    (margins.borders, "width", length("9in"), "down the sheet", "6 1/2 in + 6 in + 6 1/2 in = 19 in"),
    (margins.borders, "left", length("3/4in"), "right border", "1/4 in (6.4 mm)"),
    (margins.borders, "top", length("2in"), "bottom border", "9 in (228.6 mm)"),
    (margins.borders, "units", "mm", "down the sheet", "139.7 mm + 203.2 mm + 139.7 mm = 482.6 mm"),
    (margins.places, "at", "optical", "higher than the exact centre by", "1.1 in (27.9 mm)"),
    (margins.places, "at", "even-three", "cut here, from the top: four equal borders", "9 in (228.6 mm)"),
    (margins.printer_edges, "at", "even-three", "top border", "1/2 in; needed 3 mm"),
    (margins.to_the_edge, "trim", find_sheet("A4"), "finished piece", "11.693 in × 8.268 in"),
    (margins.to_the_edge, "bleed", length("1/4in"), "picture, with bleed", "17 1/2 in × 11 1/2 in"),
    (margins.to_the_edge, "turn", False, "finished piece", "11 in × 17 in"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("app", "name", "value", "label", "figure"),
    MOVES,
    ids=[f"{move[0].__name__}-{move[1]}-{move[4]}" for move in MOVES],
)
def test_each_control_moves_everything(app, name, value, label, figure):
    shown = app()
    before = state_of(shown)
    move(shown, name, value)
    after = state_of(shown)
    assert all(one != other for one, other in zip(before, after, strict=True))
    assert shown.readings[label] == figure
    assert figure in shown._read_off.value.replace("&#x27;", "'")
    assert said(shown) == ""


def test_another_printer_has_other_edges(edges):
    before = state_of(edges)
    bittern = edges.controls["printer"].options[1]
    assert bittern[0] == "Bittern"
    choose(edges, "printer", bittern[1])
    assert all(one != other for one, other in zip(before, state_of(edges), strict=True))
    assert edges.readings["bottom border"] == "5 1/2 in; needed 12 mm"
    choose(edges, "turn", True)
    assert edges.readings["right border"] == "3 1/2 in; needed 12 mm"


def test_moves_known_by_heart(borders):
    """The same move through each control leaves the same figures in the state and on the sliders."""
    slide(borders, "top", length("2 1/16in"))
    assert borders.placing.at == BY_HAND
    assert borders.layout_now.picture.top == length("2 1/16in")
    assert borders.controls["top"]._told.value == "2 1/16 in (52.4 mm)"
    slide(borders, "width", length("6in"))
    assert borders.layout_now.picture.size == (length("6in"), length("4in"))
    assert borders.layout_now.picture.top == length("2 1/16in")


def test_a_named_place_holds_when_the_width_changes():
    app = margins.places()
    choose(app, "at", "optical")
    slide(app, "width", length("9in"))
    assert app.layout_now.picture.top == length("5.2in")  # 13 in to spare, two fifths above


def test_by_hand_begins_where_it_stood(edges):
    choose(edges, "at", "optical")
    before = edges.layout_now
    choose(edges, "at", BY_HAND)
    assert edges.layout_now == before
    slide(edges, "left", length("3/4in"))
    assert edges.layout_now.picture.top == before.picture.top


def test_dragging_snaps_and_keys_do_not(borders):
    slide(borders, "width", length("8in"))
    drag(borders, 2.6, 3.02)
    assert borders.placing.corner == (length("2 1/2in"), length("3in"))
    drag(borders, 2.5625, 3.0, by="key")
    assert borders.placing.corner == (length("2 9/16in"), length("3in"))


def test_a_nudge_leaves_the_other_side_alone(borders):
    slide(borders, "width", length("8in"))
    drag(borders, 0, 3.0)
    left, top = borders.view.place
    assert borders.placing.corner == (length("4mm"), length("3in"))
    drag(borders, left, top + borders.view.step, by="key")
    assert borders.placing.corner == (length("4mm"), length("3 1/16in"))


def test_in_millimetres_a_nudge_is_a_millimetre(borders):
    choose(borders, "units", "mm")
    slide(borders, "top", length("50mm"))
    left, top = borders.view.place
    drag(borders, left, top + borders.view.step, by="key")
    assert borders.placing.corner[1] == length("51mm")


def test_every_question_of_the_script_is_answered_even_one_that_moves_nothing(borders):
    drag(borders, -9, -9, by="key")
    assert borders.view.answered == borders.view.asked["turn"] == 1
    corner = borders.placing.corner
    drag(borders, -10, -10, by="key")
    assert borders.placing.corner == corner == (length("4mm"), length("3mm"))
    assert borders.view.answered == 2


def test_the_script_is_told_where_the_picture_is_and_its_guides(borders):
    slide(borders, "width", length("8in"))
    assert borders.view.place == [2.5, pytest.approx(19 / 2 - 8 / 3)]
    assert {guide["label"]: guide["at"] for guide in borders.view.snaps}[
        "centre, left to right"
    ] == 2.5
    assert borders.view.movable
    assert not margins.to_the_edge().view.movable


def test_a_refusal_is_told_and_the_last_drawing_stays(edges):
    choose(edges, "turn", True)
    still, readings = edges.still, edges._read_off.value
    choose(edges, "at", "even-three")
    assert said(edges).startswith(
        "three even borders of 3 1/2 in (88.9 mm) leave less than that below"
    )
    assert edges.controls["at"].value == edges.placing.at == "centre"
    assert edges.sentence.startswith("Picture ")
    assert (edges.still, edges._read_off.value) == (still, readings)


@pytest.mark.parametrize("way_out", ["optical", BY_HAND])
def test_out_of_a_refusal_there_is_a_way(edges, way_out):
    choose(edges, "turn", True)
    choose(edges, "at", "even-three")
    choose(edges, "at", way_out)
    assert said(edges) == ""
    assert edges.layout_now is not None


def test_out_of_a_refusal_the_picture_can_be_dragged(edges):
    choose(edges, "turn", True)
    choose(edges, "at", "even-three")
    drag(edges, 3.0, 3.0)
    assert said(edges) == ""
    assert edges.controls["at"].value == BY_HAND


def test_bleed_and_marks_that_do_not_fit_are_refused(trimmed):
    still = trimmed.still
    choose(trimmed, "trim", find_sheet("12x18in"))  # 12 1/4 in and two marks of 6 mm: 12.722 in
    assert said(trimmed).startswith(
        "18 in (457.2 mm) by 12 in (304.8 mm) with 1/8 in (3.2 mm) of bleed and corner marks of "
        "6 mm (0.24 in) does not fit what the printer reaches"
    )
    assert trimmed.still == still
    assert trimmed.controls["trim"].label.startswith("11 × 17 in")
    slide(trimmed, "bleed", length("1/2in"))  # 17 + 1 + 0.472 in, in the middle of 19 in
    assert "over by 0.012 in (0.3 mm) on the right" in said(trimmed)
    assert trimmed.still == still
    assert trimmed.controls["bleed"].value == trimmed.placing.bleed == length("1/8in")


def test_a_refused_state_put_by_code_is_told(edges):
    edges.put(replace(edges.placing.on(edges.placing.sheet.turned()), at="even-three"))
    assert said(edges).startswith("three even borders")
    assert edges.controls["at"].value == edges.placing.at == "centre"


def test_a_state_put_by_code_stands_on_every_control(edges):
    wanted = edges.placing.on(LETTER.turned()).resized(length("5in"))
    wanted = wanted.moved(length("1in"), length("2in"), step=None, snap=False)
    edges.put(wanted)
    assert edges.placing == wanted
    shown = {name: control.value for name, control in edges.controls.items()}
    assert (shown["sheet"], shown["turn"], shown["at"]) == (LETTER, True, BY_HAND)
    assert [shown[name] for name in ("width", "left", "top")] == [
        length("5in"),
        length("1in"),
        length("2in"),
    ]


def test_the_widest_picture_leaves_no_step_from_left_to_right(borders):
    borders.put(borders.placing.resized(length("20in")))
    assert borders.controls["left"]._slider.disabled
    assert borders.controls["left"]._told.value == "4 mm (0.16 in)"
    assert not borders.controls["top"]._slider.disabled


def test_the_unit_chosen_is_kept_for_every_lesson(borders):
    choose(borders, "units", "mm")
    assert home().reader() == Reader(units="mm")
    assert margins.places().units == "mm"


def test_large_type_changes_the_look_alone(borders):
    before = state_of(borders)
    settings().keep(large=True)
    assert "labkit-large" in borders._dom_classes
    assert state_of(borders) == before
    settings().keep(large=False)
    assert "labkit-large" not in borders._dom_classes


def test_controls_stand_in_one_order():
    whole = [
        "printer",
        "sheet",
        "turn",
        "width",
        "trim",
        "bleed",
        "at",
        "left",
        "top",
    ]
    for app in (margins.borders, margins.places, margins.printer_edges, margins.to_the_edge):
        names = list(app().controls)
        assert names == sorted(names, key=whole.index)


def test_without_a_kernel_it_is_a_sentence_and_a_drawing_without_the_photo(borders):
    bundle = borders._repr_mimebundle_()
    data = bundle[0] if isinstance(bundle, tuple) else bundle
    assert data["text/plain"] == borders.sentence
    assert (
        "Picture 12 in (304.8 mm) wide and 8 in (203.2 mm) high on 13 × 19 in" in borders.sentence
    )
    root = ElementTree.fromstring(data["image/svg+xml"])
    assert root.tag == f"{SVG}svg"
    assert "data:image" not in data["image/svg+xml"]
    assert borders.view.photo.startswith("data:image/jpeg;base64,")


def test_drawings_on_one_page_do_not_share_ids():
    seen = set()
    for app in (margins.borders, margins.places, margins.printer_edges, margins.to_the_edge):
        ids = {each.get("id") for each in ElementTree.fromstring(app().still).iter()} - {None}
        assert ids
        assert not ids & seen
        seen |= ids
