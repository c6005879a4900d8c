"""A small picture as an address that holds it, for a page or a drawing in one piece: RFC 2397."""

import re
from base64 import b64decode, b64encode
from io import BytesIO
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL import Image

_ADDRESS = re.compile(r"data:image/(?:jpeg|png|gif);base64,[A-Za-z0-9+/]+=*")


def data_address(data: bytes, kind: str = "jpeg") -> str:
    """The bytes of a picture file as an address.

    >>> data_address(b"\\xff\\xd8")
    'data:image/jpeg;base64,/9g='
    """
    return f"data:image/{kind};base64,{b64encode(data).decode()}"


def address_of(image: "Image.Image", quality: int = 85) -> str:
    """The address of an image packed as a JPEG of that quality."""
    made = BytesIO()
    image.save(made, "JPEG", quality=quality)
    return data_address(made.getvalue())


def address_bytes(address: str) -> bytes:
    """The bytes of the file in an address."""
    return b64decode(address.partition(",")[2])


def is_address(text: str) -> bool:
    """Whether it is the address of a picture that is all in it, and nothing besides."""
    return _ADDRESS.fullmatch(text) is not None
