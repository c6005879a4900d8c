"""Type on a print file: figures and words as ink."""

from functools import cache
from importlib.util import find_spec
from math import ceil
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw, ImageFont


@cache
def plain_type(size: int) -> ImageFont.FreeTypeFont:
    """A plain type with the letters of many languages, ``size`` pixels high, which comes with matplotlib
    (not loaded for it)."""
    found = find_spec("matplotlib")
    if found and found.origin:
        file = Path(found.origin).parent / "mpl-data/fonts/ttf/DejaVuSans.ttf"
        if file.exists():
            return ImageFont.truetype(str(file), size)
    return ImageFont.load_default(size)


@cache
def written(text: str, size: int) -> np.ndarray:
    """A line of type as ink: (rows, columns) uint8, 255 where it is black, cut to its letters."""
    font = plain_type(size)
    image = Image.new("L", (max(1, ceil(font.getlength(text))), size * 5 // 4), 0)
    ImageDraw.Draw(image).text((0, 0), text, fill=255, font=font)
    return np.asarray(image)
