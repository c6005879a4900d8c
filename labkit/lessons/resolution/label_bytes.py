"""01-resolution, to go further: the label as it stands in a file, byte by byte."""

from dataclasses import dataclass
from pathlib import Path

from labkit.drawing.byte_lines import draw_byte_lines
from labkit.files.header.label import jfif_bytes, jfif_start, png_bytes, relabelled, tiff_bytes
from labkit.home import home
from labkit.lessons.parts.figure import FigureApp, MenuControl, Reading
from labkit.lessons.parts.reader import your_picture
from labkit.lessons.parts.settings import follows_picture
from labkit.lessons.resolution.sizes import LABELS


@dataclass(frozen=True)
class Label:
    """A label of ``ppi``."""

    ppi: int = 300


@follows_picture
def label_bytes(picture: str | Path | None = None) -> FigureApp:
    """The resolution tag in a JPEG, a PNG and a TIFF, in hexadecimal."""
    room = home().room()
    begins = jfif_start(your_picture(room, picture).path)
    return FigureApp(
        Label(),
        [MenuControl("ppi", "resolution", options=[(f"{ppi} ppi", ppi) for ppi in LABELS])],
        draw=lambda state, units: draw_byte_lines(
            label_lines(state.ppi, begins),
            prefix="bytes",
            title=f"A label of {state.ppi} ppi",
        ),
        tell=lambda state, units: (
            f"A label of {state.ppi} ppi: in a JPEG the bytes {jfif_bytes(state.ppi).hex(' ')}, in a TIFF "
            f"{tiff_bytes(state.ppi).hex(' ')}."
        ),
        read=label_readings,
        units=room.units,
    )


def label_readings(state: Label, units: str) -> list[Reading]:
    """How many bytes the label takes in each kind of file."""
    kinds = (("JPEG", jfif_bytes), ("PNG", png_bytes), ("TIFF", tiff_bytes))
    return [(f"bytes in a {kind}", str(len(made(state.ppi)))) for kind, made in kinds]


def label_lines(ppi: int, begins: bytes) -> tuple[str, ...]:
    """The label as it stands in a file, byte by byte in hexadecimal; ``begins``: how this one begins."""
    lines = [
        f"JPEG  {jfif_bytes(ppi).hex(' '):<26}  per inch: {ppi}, {ppi}",
        f"PNG   {png_bytes(ppi).hex(' '):<26}  {int.from_bytes(png_bytes(ppi)[:4])} to the metre",
        f"TIFF  {tiff_bytes(ppi).hex(' '):<26}  {ppi} / 1 per inch",
    ]
    if begins:
        start = relabelled(begins, ppi)
        words = f"{start[:13].hex(' ')} [{start[13:18].hex(' ')}] {start[18:].hex(' ')}"
        lines.append(f"this file begins: {words}")
    return tuple(lines)
