"""A hand-in made: its pixels drawn and its file written, faults and all."""

from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from labkit.geometry.raster import mark_boxes
from labkit.teaching.faults.hand_in import HandIn

if TYPE_CHECKING:
    import numpy as np

_GREY, _BLOCK = 128, 16
"""What stands where blocks of a JPEG are lost: the middle level; and their size (ITU-T T.81, A.2)."""
_ROWS = 128
"""Rows in a strip, so that the parts of a file can be lost one by one."""
_TURNS = {1: 0, 3: 2, 6: 1, 8: 3}
"""Quarter-turns to the left by which pixels are stored for each orientation (TIFF 6.0, tag 274)."""
_PRIVATE, _LAYER = 37724, b"MIB8ryaL\x08\0\0\0a layer."
"""The tag of an editor's own data, and a block of such data that holds a layer (as in tiff_reader)."""
_SRGB_NAME, _PRINTER_NAME = "sRGB built-in", "Heron on matt"
"""Names as long as each other, so that one can stand in the other's place."""


def write(hand_in: HandIn, folder: Path) -> Path:
    """Make the file in ``folder``, anew if it is there, and what was handed in before it."""
    if hand_in.beside:
        write(hand_in.beside, folder)
    values = _turned(_in_mode(_sheet(hand_in), hand_in), hand_in.flag)
    path = folder / hand_in.file_name
    made = _tiff(values, hand_in) if hand_in.kind == "TIFF" else _other(values, hand_in)
    path.write_bytes(made[: int(len(made) * hand_in.kept)])
    return path


def _sheet(hand_in: HandIn) -> "np.ndarray":
    """The whole sheet: height × width × 3 bytes."""
    import numpy as np

    picture, box = _picture(hand_in), hand_in.box
    if hand_in.alone:
        return picture
    width, height = hand_in.sheet_pixels
    sheet = np.full((height, width, 3), hand_in.surround, np.uint8)
    for mark in (*mark_boxes(hand_in.layout, hand_in.ppi), *hand_in.strays):
        sheet[mark.top : mark.bottom, mark.left : mark.right] = 0
    sheet[box.top : box.bottom, box.left : box.right] = picture
    if hand_in.grey:
        row = int(height * (1 - hand_in.grey)) // _BLOCK * _BLOCK
        sheet[row : row + _BLOCK, width * 2 // 3 // _BLOCK * _BLOCK :] = _GREY
        sheet[row + _BLOCK :] = _GREY
    return sheet


def _picture(hand_in: HandIn) -> "np.ndarray":
    """The part of the picture that is used, as large as its box."""
    import numpy as np
    from PIL import Image, ImageFilter

    box, (left, top) = hand_in.box, hand_in.start
    size = box.width, box.height
    wide, high = (round(side / hand_in.enlarged) for side in size)
    with Image.open(hand_in.picture) as opened:
        part = opened.convert("RGB").crop((left, top, left + wide, top + high))
    if part.size != size:
        part = part.resize(size, Image.Resampling.BICUBIC)
    if hand_in.soft:
        part = part.filter(ImageFilter.GaussianBlur(hand_in.soft))
    values = np.array(part)
    if hand_in.fade:
        columns = round(box.width * hand_in.fade)
        share = np.linspace(0, 1, columns)[None, :, None]
        values[:, :columns] = 255 - (255 - values[:, :columns]) * share
    return values


def _in_mode(values: "np.ndarray", hand_in: HandIn) -> "np.ndarray":
    import numpy as np
    from PIL import Image

    if hand_in.mode == "RGB":
        return values
    converted = np.array(Image.fromarray(values).convert(hand_in.mode))
    if hand_in.mode == "RGBA" and hand_in.clear:
        box = hand_in.box
        paper = (values == hand_in.surround).all(axis=2)
        paper[box.top : box.bottom, box.left : box.right] = False
        converted[paper, 3] = 0
    return converted


def _turned(values: "np.ndarray", flag: int) -> "np.ndarray":
    import numpy as np

    return np.ascontiguousarray(np.rot90(values, _TURNS[flag]))


def _tiff(values: "np.ndarray", hand_in: HandIn) -> bytes:
    import tifffile

    across, down = hand_in.states or (hand_in.ppi, hand_in.ppi)
    colours = {"RGB": "rgb", "RGBA": "rgb", "CMYK": "separated", "L": "minisblack"}
    options = {
        "photometric": colours[hand_in.mode],
        "extrasamples": ["unassalpha"] if hand_in.mode == "RGBA" else None,
        "rowsperstrip": _ROWS,
        "resolution": (across, down),
        "resolutionunit": hand_in.unit,
        "iccprofile": _profile(hand_in.profile),
        "compression": hand_in.packing,
        "metadata": None,
        "software": False,
        "extratags": [(274, 3, 1, hand_in.flag, True)],
    }
    if hand_in.packing == "jpeg":
        options["compressionargs"] = {"level": hand_in.quality}
    if hand_in.packing == "lzw":
        options["predictor"] = True
    if hand_in.layers:
        options["extratags"].append((_PRIVATE, 7, len(_LAYER), _LAYER, True))
    made = BytesIO()
    with tifffile.TiffWriter(made, bigtiff=hand_in.big, byteorder="<") as tiff:
        for _ in range(hand_in.pages):
            tiff.write(values, **options)
    return made.getvalue()


def _other(values: "np.ndarray", hand_in: HandIn) -> bytes:
    from PIL import Image

    made = BytesIO()
    options = {"quality": hand_in.quality} if hand_in.kind == "JPEG" else {"compress_level": 1}
    dpi = hand_in.states or (hand_in.ppi, hand_in.ppi)
    profile = _profile(hand_in.profile)
    Image.fromarray(values).save(made, hand_in.kind, dpi=dpi, icc_profile=profile, **options)
    return made.getvalue()


def _profile(name: str) -> bytes | None:
    """The profile of that name; the printer's is sRGB said to be one of a printer (ICC.1, bytes 12–15)."""
    from labkit.files.pixels.conversion import srgb_profile

    if not name:
        return None
    profile = srgb_profile()
    if name == "printer":
        told = [text.encode("utf-16be") for text in (_SRGB_NAME, _PRINTER_NAME)]
        profile = profile[:12] + b"prtr" + profile[16:].replace(*told)
    return profile
