"""04-margins: where the picture sits, and what is left around it."""

from dataclasses import replace
from pathlib import Path

from labkit.files.header.picture import Picture
from labkit.geometry.layout import place
from labkit.geometry.length import decimal, length
from labkit.geometry.paper import find_sheet
from labkit.geometry.trim import MARK_LENGTH, MARK_WIDTH, cut_for_equal_borders
from labkit.home import home
from labkit.lessons.margins.edges import Pushed, edge_readings
from labkit.lessons.parts.exercise import Exercise
from labkit.lessons.parts.placing import Placing
from labkit.lessons.parts.predict import MarkQuestion, NumberQuestion, OrderQuestion
from labkit.lessons.parts.reader import your_picture
from labkit.lessons.parts.settings import follows_picture
from labkit.lessons.parts.sheetapp import SheetApp, border_readings, short
from labkit.room.rules import Room
from labkit.teaching.margins import BEGIN_AT, BEGIN_WIDTH, margins_brief
from labkit.teaching.pictures import demo_pictures

_SHEET = "13x19in"


@follows_picture
def borders(picture: str | Path | None = None) -> SheetApp:
    """Sliders for width, left and top: four borders that answer, and add up to the sheet."""
    controls = ("sheet", "turn", "width", "left", "top")
    return _app("borders", picture, controls, border_readings)


@follows_picture
def places(picture: str | Path | None = None) -> SheetApp:
    """Centre, optical centre and three even borders, with the difference measured."""
    return _app("places", picture, ("sheet", "turn", "width", "at"), place_readings)


@follows_picture
def printer_edges(picture: str | Path | None = None) -> SheetApp:
    """The four edges the printer does not reach: they turn with the sheet, and what lies there is lost."""
    controls = ("printer", "sheet", "turn", "width", "at", "left", "top")

    def pushed(placing: Placing) -> Pushed:
        return Pushed(placing.shape, placing.sheet, placing.width, placing.edges)

    return _app("edges", picture, controls, edge_readings, pushed)


@follows_picture
def to_the_edge(picture: str | Path | None = None) -> SheetApp:
    """A print trimmed to its edge: trim size, bleed and corner marks."""
    controls = ("sheet", "turn", "trim", "bleed")
    return _app("trim", picture, controls, trim_readings, _trimmed)


def how_wide() -> NumberQuestion:
    """Predict a number: the border above a centred picture."""
    return NumberQuestion(
        "A picture 12 in wide and 9 in high lies in the centre of an upright sheet of 16 × 20 in. "
        "How wide is the border above it?",
        length("5 1/2in"),
        "The sheet is 20 in high and the picture 9 in. So 11 in are white, and half of that, 5 1/2 in "
        "(139.7 mm), is above.",
        {
            "11in": "11 in is all the white, above and below together. In the centre each gets half.",
            "10in": "10 in is half the sheet. Half of the picture lies in that half.",
            "2in": "2 in is the border on the left. The question is about the one above.",
            "4.4in": "4.4 in is the optical centre, which comes later. The centre halves the white.",
        },
    )


def by_eye() -> MarkQuestion:
    """Predict by dragging: where a picture looks centred."""
    room = home().room()
    shown = _ours(room)
    sheet = find_sheet(_SHEET)
    placing = Placing(shown.pixels, sheet, length("10in"), room.unprintable(sheet)).moved(
        length("1 1/2in"), length("11in"), step=None, snap=False
    )
    app = SheetApp("eye", shown, placing, ("left", "top"), lambda *_: [], room=room)
    exact = place(placing.size, sheet, "centre")[1]
    raised = place(placing.size, sheet, "optical")[1]
    return MarkQuestion(
        "In the exact middle of an upright sheet a picture seems to sink. Drag it, or move it with the "
        "arrow keys, up to where our rule puts it: two parts of the white above, three parts below.",
        raised,
        f"There is {exact * 2} of white. Two fifths of it go above: {raised}. That is "
        f"{exact - raised} higher than the exact middle. It is a matter of taste, and no law; the "
        "rule is H. L. Gage's, of 1920.",
        {
            exact: "That is the exact middle: as much above as below. The rule wants it higher.",
            exact * 2 / 3: "That is one part above and two parts below. The rule is 2 : 3.",
        },
        app,
    )


def which_first() -> OrderQuestion:
    """Predict an order: which place leaves least below."""
    centre, optical, even = "centre", "optical centre", "three even borders"
    return OrderQuestion(
        "A picture of 12 × 8 in lies on an upright sheet of 13 × 19 in, in each of the three places. Put "
        "them in order by the white below the picture, least first.",
        (centre, optical, even),
        "The centre leaves 5 1/2 in below, the optical centre 6.6 in, three even borders 10 1/2 in. White "
        "above and white below always add up to 11 in: less above is more below.",
        {
            (
                optical,
                centre,
            ): "The optical centre is higher than the centre. What does that do to the white below?",
            (
                even,
                centre,
            ): "With three even borders, the border above is as narrow as the one on the left.",
            (
                even,
                optical,
            ): "With three even borders the picture is near the top of the sheet, at the "
            "optical centre only a little above the middle.",
        },
    )


def exercise(reader: str | None = None) -> Exercise:
    """A picture of given width at a given place on a given sheet, drawn from the reader's name."""
    controls = ("sheet", "turn", "width", "at", "left", "top")

    def begin(picture: Picture, room: Room) -> SheetApp:
        sheet = room.sheets[0]
        placing = Placing(picture.pixels, sheet, BEGIN_WIDTH, room.unprintable(sheet), BEGIN_AT)
        placing = placing.resized(placing.width)
        return SheetApp("task", picture, placing, controls, border_readings, room=room)

    return Exercise("04-margins", margins_brief, begin, room=home().room(), reader=reader)


def place_readings(placing: Placing, units: str) -> list[tuple[str, str]]:
    """White above and below, how far that is from the exact centre, and the cut that evens borders."""
    layout = placing.layout
    edges = layout.borders
    exact = place(placing.size, placing.sheet, "centre")[1]
    raised = exact - edges.top
    told = [
        ("above", edges.top.both(units)),
        ("below", edges.bottom.both(units)),
        ("higher than the exact centre by", raised.both(units)),
    ]
    if placing.at == "even-three":
        cut = cut_for_equal_borders(layout.picture)
        told.append(("cut here, from the top: four equal borders", cut.both(units)))
    return told


def trim_readings(placing: Placing, units: str) -> list[tuple[str, str]]:
    """What is printed, what is cut to, how large a sheet that takes, and what the marks are."""
    layout = placing.layout
    trim, needed = layout.trim, layout.trim.marked_box
    sizes = [
        ("finished piece", trim.box),
        ("picture, with bleed", trim.bleed_box),
        ("picture with marks", needed),
    ]
    told = [(label, " × ".join(short(side, units) for side in box.size)) for label, box in sizes]
    told.append(("bleed on each side", trim.bleed.both(units)))
    told.append(("marks: length", MARK_LENGTH.both(units)))
    told.append(("marks: thickness", f"{decimal(MARK_WIDTH.mm, 2)} mm"))
    told.append(("marks: distance from the cut", trim.bleed.both(units)))
    told.append(("cropped away", f"{float(layout.crop.lost):.0%} of the picture"))
    return told


def _app(name: str, picture, controls, readings, change=lambda placing: placing) -> SheetApp:
    room = home().room()
    shown = your_picture(room, picture)
    return SheetApp(name, shown, change(_beginning(shown, room)), controls, readings, room=room)


def _beginning(picture: Picture, room: Room) -> Placing:
    """The picture on an upright sheet, a border of 1/2 in left and right where it fits so."""
    sheet = find_sheet(_SHEET)
    placing = Placing(picture.pixels, sheet, length("12in"), room.unprintable(sheet))
    return placing.resized(placing.width)


def _trimmed(placing: Placing) -> Placing:
    """The sheet turned the picture's way, trimmed to 11 × 17 in."""
    sheet = placing.sheet.turned() if placing.shape[0] > placing.shape[1] else placing.sheet
    size = find_sheet("11x17in")
    trim = (size.height, size.width) if sheet.is_turned else (size.width, size.height)
    return replace(placing.on(sheet), trim=trim, bleed=length("1/8in"))


def _ours(room: Room) -> Picture:
    """Our harbour, whose shape the questions are made for."""
    return your_picture(room, demo_pictures()[0].file)
