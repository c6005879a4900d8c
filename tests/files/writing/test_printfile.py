"""What is said of a print file."""

from fractions import Fraction
from pathlib import Path

from labkit.files.writing.printfile import PrintFile
from labkit.geometry.layout import lay_out
from labkit.geometry.length import inches
from labkit.geometry.paper import find_sheet
from labkit.geometry.raster import rasterize


def test_the_sentence():
    layout = lay_out((3600, 2400), find_sheet("13x19in"), width=inches(12))
    raster = rasterize(layout, (3600, 2400), working_ppi=300)
    made = PrintFile(Path("a.tif"), layout, raster, "Ada", "Boat", "sRGB", 8, 1000)
    assert raster.ppi == Fraction(300)
    assert str(made) == (
        "a.tif: 3900 × 5700 pixels at 300 ppi, sRGB. Picture 12 in (304.8 mm) wide and 8 in (203.2 mm) "
        "high on 13 × 19 in (330.2 × 482.6 mm). Borders: left 1/2 in (12.7 mm), top 5 1/2 in (139.7 mm), "
        "right 1/2 in (12.7 mm), bottom 5 1/2 in (139.7 mm)."
    )
    assert "304.8 mm (12 in) wide" in made.sentence("mm")
