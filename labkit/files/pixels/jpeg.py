"""The pixels of a JPEG, and what its decoder complains of on the way."""

import re
from typing import TYPE_CHECKING

from labkit.files.pixels.intact import Broken, refuse_broken_jpeg

if TYPE_CHECKING:
    from mmap import mmap

    import numpy as np

_SPACES = {"L": "GRAY", "RGB": "RGB", "CMYK": "CMYK"}
_CHANNELS = {"GRAY": 1, "RGB": 3, "CMYK": 4}
_LEFT_OVER = re.compile(r"(\d+) extraneous bytes before marker 0xd9")
"""What libjpeg says where a picture's data are all used up before they end."""
_LOST = re.compile(
    r"[Pp]remature end|bad (Huffman|arithmetic) code|before marker 0x(d[0-7a]|c4)|instead of RST"
)
"""What it says of pixels that are lost. What else it complains of stands in a header and loses nothing."""
LEFT_OVER = "data-left-over"
"""The doubt about a JPEG that has data left over at its end: a variant of the finding ``damage-signs``."""


def decode_jpeg(data: "mmap | bytes", mode: str) -> "tuple[np.ndarray, str]":
    """The pixels of a JPEG of 8 bits a channel as they are stored, and a doubt about them, or "".

    A decoder goes on where data make no sense, and fills up. Broken tells of anything that was lost;
    of bytes that are left over at the end only a doubt is told, for some cameras leave such a rest.
    Bytes that are all alike are padding. A changed byte that happens to make sense is not heard.
    """
    import imagecodecs

    end = refuse_broken_jpeg(data) - len(b"\xff\xd9")
    space = _SPACES[mode]
    try:
        return _decoded(data, space), ""
    except ValueError as complaint:
        if _LOST.search(str(complaint)):
            raise Broken("data in the middle of it make no sense") from None
        left_over = _LEFT_OVER.search(str(complaint))
    values = imagecodecs.jpeg8_decode(data)  # which says nothing
    if not left_over:  # a slip in a header, which loses nothing
        return values, ""
    rest = data[end - int(left_over[1]) : end]
    is_padding = len(rest) > 1 and len(set(rest)) == 1
    return values, "" if is_padding else LEFT_OVER


def _decoded(data: "mmap | bytes", space: str) -> "np.ndarray":
    """The pixels, in memory that nobody has filled with zeros before, which takes longer than to decode."""
    import numpy as np
    import simplejpeg

    height, width = simplejpeg.decode_jpeg_header(data)[:2]
    room = np.empty(height * width * _CHANNELS[space], np.uint8)
    values = simplejpeg.decode_jpeg(data, space, buffer=room)
    return values[..., 0] if values.shape[2] == 1 else values
