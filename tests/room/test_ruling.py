"""Which ruler measures a paper on its way through a printer."""

from labkit.geometry.length import inches, length, millimetres
from labkit.room.rules import load_room
from labkit.room.ruling import ruling_on_roll, ruling_on_sheet
from tests.geometry.refused import refusal

ROOM = load_room()


def test_a_sheet_goes_by_the_setting_of_its_paper():
    ruling = ruling_on_sheet(ROOM, "19x13in")
    assert str(ruling) == "Heron, sheet feed, cotton matt 300, 13x19in"
    assert ruling.setting in ROOM.settings
    assert (ruling.ruler.width, ruling.ruler.height) == (inches(13), inches(19))
    thick = ruling_on_sheet(ROOM, "A3", paper="rag board 450")
    assert thick.path == "hand"
    assert thick.edges.bottom == millimetres(20)


def test_a_roll_takes_a_metre_and_what_is_not_printed():
    """1000 mm, and at each end 5 mm that are not printed and 2 mm to spare, in whole centimetres: 102 cm."""
    ruling = ruling_on_roll(ROOM, inches(44))
    assert ruling.is_roll
    assert ruling.sheet.height == millimetres(1020)
    assert ruling.ruler.along.in_mm == millimetres(1000)
    assert ruling.sheet.label == "1117.6x1020mm"


def test_refusals():
    assert "no sheet in stock" in refusal(lambda: ruling_on_sheet(ROOM, "8x10in"))
    assert "is not kept in A4" in refusal(
        lambda: ruling_on_sheet(ROOM, "A4", paper="rag board 450")
    )
    assert "rolls kept are" in refusal(lambda: ruling_on_roll(ROOM, inches(50)))
    assert "of Heron" in refusal(lambda: ruling_on_roll(ROOM, length("24in"), "Heron"))
