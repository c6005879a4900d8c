"""The page that goes with a ruler sheet: how to print it, what to measure, where to write it down."""

from markupsafe import Markup

from labkit.drawing.pages.template import template
from labkit.drawing.ruler import draw_ruler
from labkit.geometry.measured import EACH_END, ENOUGH, fine_text
from labkit.room.measures import ENDS, NO_EDGE
from labkit.room.printers import hours_text
from labkit.room.room import Room
from labkit.room.ruling import Ruling

MEASURES = {
    "across": "from end line to end line of the bar that runs across the feed",
    "along": "from end line to end line of the bar that runs along the feed",
    "left": "from the paper's left edge to the upper left cross",
    "left-below": "from the paper's left edge to the lower left cross",
    "right": "from the paper's right edge to the upper right cross",
    "top": "from the edge that went in first to the upper left cross",
    "bottom": "from the opposite edge to the lower left cross",
}
"""What is measured of each print, by the names it is entered under."""


def measures(ruling: Ruling) -> dict[str, str]:
    """Those of :data:`MEASURES` that count on this paper."""
    return {name: told for name, told in MEASURES.items() if not (ruling.is_roll and name in ENDS)}


def asked(ruling: Ruling, name: str, units: str = "in") -> str:
    """What a measure should come to: of a bar, on both of its sides."""
    if name in ("across", "along"):
        bar = getattr(ruling.ruler, name)
        sides = (bar.in_inches.inch_text(), bar.in_mm.mm_text())
        return " or ".join(sides[::-1] if units == "mm" else sides)
    return ruling.ruler.inset.both(units)


def steps(ruling: Ruling, units: str = "in") -> list[str]:
    """What to do, a sentence each."""
    told = [
        f"Print {ENOUGH} of these at 100 %: no fitting to the page, no centring, no enlarging.",
        "Let them dry. Measure each with the longest steel ruler there is, its edge on the line.",
    ]
    told += [
        f"{name.upper().replace('-', ' ')}: {where}; {asked(ruling, name, units)} if all is right."
        for name, where in measures(ruling).items()
    ]
    return [*told, "Write the unit beside each figure: it tells which side of a bar was read."]


def ruler_page(ruling: Ruling, room: Room, file: str) -> str:
    """One self-contained page of HTML for a ruler sheet, to print and write on."""
    title = f"Ruler sheet, {ruling.name}"
    drawing = draw_ruler(
        ruling.ruler, ruling.edges, prefix="ruler", title=title, words=" ".join(steps(ruling))
    )
    rows = [
        (name.replace("-", " "), where, asked(ruling, name, room.units))
        for name, where in measures(ruling).items()
    ]
    setting = ruling.setting
    return template("ruler").render(
        ruling=ruling,
        room=room,
        file=file,
        drawing=Markup(drawing),  # escaped where it was drawn
        rows=rows,
        count=ENOUGH,
        media=setting.media if setting else "not known here: ask trained staff",
        dries=hours_text(setting.drying_hours) if setting else "",
        each_end=fine_text(EACH_END),
        command=command(ruling),
        not_read=NO_EDGE if ruling.is_roll else "",
    )


def command(ruling: Ruling) -> str:
    """What enters the measures, with a place for each figure."""
    width = ruling.sheet.width.inch_text().replace(" in", "in")
    stock = f'--roll "{width}"' if ruling.is_roll else f"--sheet {ruling.sheet.label}"
    given = " ".join(f"--{name} {'… ' * ENOUGH}".rstrip() for name in measures(ruling))
    return (
        f'labkit ruler read {stock} --printer "{ruling.printer.name}" --paper "{ruling.paper.name}" '
        f"{given}"
    )
