"""Layouts to draw: large and small, upright and on the side, tight, trimmed, flat; and two helpers."""

import subprocess
from pathlib import Path

from labkit.geometry.box import Edges
from labkit.geometry.layout import Layout, lay_out
from labkit.geometry.length import length
from labkit.geometry.paper import find_sheet
from tests.peers import find_browser

ALIKE = Edges(*[length("1/8in")] * 4)
UNLIKE = Edges(length("0.12in"), length("3mm"), length("0.12in"), length("0.56in"))


def laid(sheet: str, shape=(3600, 2400), **options) -> Layout:
    """A picture of ``shape`` pixels on a sheet; lengths in ``options`` are texts."""
    for name in ("width", "border", "left", "top", "bleed"):
        if name in options:
            options[name] = length(options[name])
    if "trim" in options:
        options["trim"] = tuple(map(length, options["trim"]))
    return lay_out(shape, find_sheet(sheet), **options)


LAYOUTS = {
    "optical": laid("13x19in", width="12in", at="optical", unprintable=ALIKE),
    "on its side": laid("19x13in", width="12in", unprintable=UNLIKE.turned()),
    "tight": laid(
        "13x19in", fill=True, border="0.12in", unprintable=Edges(*[length("0.12in")] * 4)
    ),
    "no border": laid("A4", fill=True, border="0in"),
    "trimmed": laid("13x19in", trim=("11in", "17in"), bleed="1/8in", unprintable=UNLIKE),
    "trimmed flat": laid("19x13in", trim=("17in", "2in"), bleed="3mm", unprintable=UNLIKE),
    "huge": laid("44x96in", width="36in", at="optical"),
    "huge, in the corner": laid("44x96in", width="2in", left="41 15/16in", top="94 1/16in"),
    "huge, at the left": laid("44x96in", width="1/4in", left="1/16in", top="1/16in"),
    "tiny": laid("4x6in", fit=True, border="1/4in", unprintable=ALIKE),
    "flat": laid("96x10in", fit=True, border="0.6in", unprintable=UNLIKE),
    "high": laid("10x96in", (2400, 3600), width="1.7in", left="8.2in", top="0.07in"),
    "millimetres": laid("A3", width="180mm", unprintable=UNLIKE),
    "roll": laid(
        "1117.6x2438.4mm", width="1093.77mm", unprintable=Edges(length("5mm"), right=length("5mm"))
    ),
    "even": laid("13x19in", (3600, 3600), width="12in", at="even-three"),
}


def ratio(one: str, other: str) -> float:
    """Contrast of two colours like ``#1a1a1a``: WCAG 2.2, contrast ratio and relative luminance."""
    low, high = sorted((_luminance(one), _luminance(other)))
    return (high + 0.05) / (low + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def chromium(*flags: str, page: Path) -> str:
    """Open a page in Chromium without a window, and give what it writes; skip where there is none."""
    command = [find_browser(), "--headless", "--no-sandbox", "--disable-gpu", *flags, page.as_uri()]
    return subprocess.run(
        command, capture_output=True, check=True, timeout=120, encoding="utf-8"
    ).stdout
