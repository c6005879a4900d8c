"""A PDF handed in instead of a picture: what it is, and exactly what to export from it."""

from labkit.files.header.pdf import Document
from labkit.geometry.length import length, size_text
from labkit.geometry.paper import sheet_of
from labkit.geometry.resolution import ppi_text
from labkit.room.rules import Room

_WITHIN = length("1/72in")
"""A page is told in units of 1/72 inch (ISO 32000-1, 8.3.2.3), and often in whole ones."""


def advice(document: Document, room: Room) -> str:
    """What to export from a document, to the pixel, and on what stock that goes, in a few sentences."""
    wide, high = document.pixels(room.working_ppi)
    size = size_text(document.wanted, room.units)
    export = (
        f"Export {document.part()} as a TIFF of exactly {wide} × {high} pixels: {size} at "
        f"{ppi_text(room.working_ppi)}."
    )
    if wide * high > room.limits.pixels:
        export = (
            f"At {ppi_text(room.working_ppi)} it has {wide} × {high} pixels, more than are taken here: "
            "ask before you export it."
        )
    return f"{export} {_goes_on(document, room)}"


def _goes_on(document: Document, room: Room) -> str:
    sheet = sheet_of(*document.wanted)
    lying = (each for each in room.sheets if each.same_size(sheet, _WITHIN, either_way=True))
    known = next(lying, None)
    if known:
        return f"It is the size of a sheet in stock, {known.name}."
    if holding := room.sheet_for(document.wanted):
        return f"It is no sheet in stock: place it on one, {holding} or larger."
    if roll := room.roll_for(sheet):
        return f"No sheet in stock holds it; it comes off the {roll.width.both(room.units)} roll."
    return "Nothing here can hold it: ask what size is meant."
