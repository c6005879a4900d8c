"""What the lesson's apps begin with, and what is read off them."""

import pytest

from labkit.geometry.length import length
from labkit.geometry.paper import find_sheet
from labkit.home import Reader, home
from labkit.lessons.margins import margins
from labkit.teaching.pictures import demo_pictures
from tests.lessons.hands import choose, slide


def test_four_borders_and_their_sums():
    assert margins.borders().readings == {
        "left border": "1/2 in (12.7 mm)",
        "top border": "5 1/2 in (139.7 mm)",
        "right border": "1/2 in (12.7 mm)",
        "bottom border": "5 1/2 in (139.7 mm)",
        "across the sheet": "1/2 in + 12 in + 1/2 in = 13 in",
        "down the sheet": "5 1/2 in + 8 in + 5 1/2 in = 19 in",
    }


@pytest.mark.parametrize(
    ("at", "above", "below", "higher"),
    [
        ("centre", "5 1/2 in (139.7 mm)", "5 1/2 in (139.7 mm)", "0 in (0 mm)"),
        ("optical", "4.4 in (111.8 mm)", "6.6 in (167.6 mm)", "1.1 in (27.9 mm)"),
        ("even-three", "1/2 in (12.7 mm)", "10 1/2 in (266.7 mm)", "5 in (127 mm)"),
    ],
)
def test_three_places_compared(at, above, below, higher):
    app = margins.places()
    choose(app, "at", at)
    told = app.readings
    assert [told["above"], told["below"], told["higher than the exact centre by"]] == [
        above,
        below,
        higher,
    ]
    assert ("cut here, from the top: four equal borders" in told) == (at == "even-three")


def test_borders_beside_what_the_printer_needs():
    assert margins.printer_edges().readings == {
        "left border": "1/2 in; needed 4 mm",
        "top border": "5 1/2 in; needed 3 mm",
        "right border": "1/2 in; needed 4 mm",
        "bottom border": "5 1/2 in; needed 7 mm",
        "lost of the picture": "nothing",
    }


def test_what_is_pushed_into_the_printers_edge_is_lost():
    """1/16 in from the left edge, where 4 mm are needed: 4 mm less 1.5875 mm."""
    app = margins.printer_edges()
    slide(app, "left", length("1/16in"))
    slide(app, "top", length("0in"))
    assert app.readings["lost of the picture"] == "0.095 in at the left and 3 mm at the top"
    assert 'id="edges-lost"' in app.still
    choose(app, "turn", True)  # the edge that goes in first is now the left one
    assert app.readings["left border"].endswith("needed 3 mm")
    assert app.readings["right border"].endswith("needed 7 mm")


def test_a_picture_as_wide_as_the_sheet_loses_both_edges():
    app = margins.printer_edges()
    slide(app, "width", length("13in"))
    assert app.readings["lost of the picture"] == "4 mm at the left and 4 mm at the right"


def test_trimmed_to_the_edge():
    told = margins.to_the_edge().readings
    assert told["finished piece"] == "17 in × 11 in"
    assert told["picture, with bleed"] == "17 1/4 in × 11 1/4 in"
    assert told["picture with marks"] == "17.722 in × 11.722 in"  # 6 mm more on each side
    assert told["marks: length"] == "6 mm (0.24 in)"
    assert told["marks: thickness"] == "0.25 mm"
    assert told["marks: distance from the cut"] == told["bleed on each side"] == "1/8 in (3.2 mm)"
    # 11 1/4 of the 11 1/2 in that a 3:2 picture 17 1/4 in wide is high
    assert told["cropped away"] == "2% of the picture"


def test_an_upright_picture_is_trimmed_upright():
    app = margins.to_the_edge(demo_pictures()[1].file)
    assert not app.placing.sheet.is_turned
    assert app.readings["finished piece"] == "11 in × 17 in"


def test_the_readers_own_picture_is_the_one_shown():
    home().keep(Reader(picture=str(demo_pictures()[1].file)))
    assert margins.borders().picture.path == demo_pictures()[1].file
    assert margins.by_eye().app.picture.path == demo_pictures()[0].file  # asked of our harbour


def test_a_picture_that_is_gone_gives_way_to_ours():
    home().keep(Reader(picture="/nowhere/gone.jpg"))
    assert margins.borders().picture.path == demo_pictures()[0].file


def test_the_picture_named_in_the_cell_is_not_replaced_silently():
    with pytest.raises(ValueError, match=r"gone\.jpg"):
        margins.borders("/nowhere/gone.jpg")


def test_in_millimetres_every_figure_has_millimetres():
    app = margins.to_the_edge()
    choose(app, "units", "mm")
    told = app.readings
    assert told["finished piece"] == "431.8 mm × 279.4 mm"
    assert told["bleed on each side"] == "3.2 mm (1/8 in)"
    slide(app, "bleed", length("5mm"))
    assert app.readings["bleed on each side"] == "5 mm (0.2 in)"
    choose(app, "trim", find_sheet("A3"))
    assert app.readings["picture, with bleed"] == "430 mm × 307 mm"
