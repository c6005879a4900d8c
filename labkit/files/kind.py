"""What kind of file it is, told by its first bytes: the name and its ending are never asked."""

import re
from codecs import getincrementaldecoder
from typing import BinaryIO

from labkit.errors import LabError

_HEAD = 1024

_PICTURES = {
    "JPEG": [(0, b"\xff\xd8\xff")],
    "PNG": [(0, b"\x89PNG\r\n\x1a\n")],
    "TIFF": [(0, b"II*\0"), (0, b"MM\0*"), (0, b"II+\0"), (0, b"MM\0+")],
    "WebP": [(8, b"WEBP")],
    "GIF": [(0, b"GIF87a"), (0, b"GIF89a")],
    "JPEG 2000": [(0, b"\0\0\0\x0cjP  "), (0, b"\xff\x4f\xff\x51")],
}
"""Where in the file a mark stands, and the mark: of each kind the one its own standard sets.

ITU-T T.81; ISO 15948; TIFF 6.0, section 2, and the 43 ("+") of BigTIFF; RFC 9649; GIF 87a and 89a;
ISO 15444-1, annexes A and I.
"""

RAW = ("a camera raw file", "develop it, and save a TIFF or a JPEG")
_VIDEO = ("a video", "hand in a still picture")
_OFFICE = ("an office document", "take the picture out of it")
_EXPORT = "export the picture from it as TIFF, PNG or JPEG"
PDF = ("a PDF document", _EXPORT)

_OTHERS = {
    RAW: [
        (8, b"CR\x02"), (6, b"HEAPCCDR"), (0, b"IIRO"), (0, b"IIRS"), (0, b"MMOR"), (0, b"IIU\0"),
        (0, b"FOVb"),
    ],
    ("a layered working file of an image editor", "flatten it there, and save a copy as TIFF"): [
        (0, b"8BPS"), (4, b" xcf "),
    ],
    PDF: [(0, b"%PDF")],
    ("a PostScript drawing", _EXPORT): [(0, b"%!PS")],
    ("a ZIP archive or an office document", "take the picture out of it"): [(0, b"PK\x03\x04")],
    _OFFICE: [(0, b"\xd0\xcf\x11\xe0")],
    ("a compressed archive", "unpack it, and open the picture inside"): [
        (0, b"\x1f\x8b"), (0, b"7z\xbc\xaf"), (0, b"Rar!"), (0, b"BZh"), (0, b"\xfd7zXZ"),
        (257, b"ustar"),
    ],
    _VIDEO: [(0, b"\x1a\x45\xdf\xa3"), (8, b"AVI "), (0, b"\0\0\x01\xba")],
    ("a sound recording", "open a picture"): [
        (8, b"WAVE"), (0, b"ID3"), (0, b"fLaC"), (0, b"OggS"),
    ],
    ("a JPEG XL picture", "save it as TIFF or PNG"): [(0, b"\xff\x0a"), (0, b"\0\0\0\x0cJXL ")],
}  # fmt: skip
"""What else is handed in, and what to do with it; marks as file(1) 5.44 has them, "IIU" from memory."""

_HEIF_BRANDS = {
    b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"hevm", b"hevs", b"mif1", b"msf1",
}  # fmt: skip
"""The brands of HEIF: ISO 23008-12."""

_BMP_HEADERS = (12, 40, 52, 56, 64, 108, 124)
"""Their sizes in bytes: two letters alone would be too little to go by."""


def kind_of(file: BinaryIO) -> str:
    """The kind of picture in ``file``, which is left at its start.

    LabError, a sentence that wants the file's name in front, for an empty file and for anything else
    than a picture.
    """
    head = file.read(_HEAD)
    file.seek(0)
    if not head:
        raise LabError("is empty (0 bytes): copy it again from where it came from.", "empty")
    if other := _marked(_OTHERS, head):
        raise not_a_picture(*other)
    if kind := _marked(_PICTURES, head):
        return kind
    if head[4:8] == b"ftyp":
        return _boxed_kind(head)
    if head[:2] == b"BM" and int.from_bytes(head[14:18], "little") in _BMP_HEADERS:
        return "BMP"
    if re.match(rb"P[1-6]\s", head):
        return "PPM"
    if text := _as_text(head):
        raise not_a_picture(*_text_kind(text))
    raise LabError("is no kind of picture known here: open a TIFF, PNG, JPEG, WebP or HEIC file.")


def not_a_picture(what: str, advice: str) -> LabError:
    """The refusal of another kind of file, which wants the file's name in front."""
    code = "document" if (what, advice) == PDF else "not-a-picture"
    return LabError(f"is not a picture that can be printed but {what}: {advice}.", code)


def _marked(table: dict, head: bytes):
    for kind, marks in table.items():
        if any(head.startswith(mark, at) for at, mark in marks):
            return kind
    return None


def _boxed_kind(head: bytes) -> str:
    """The kind of an ISO 14496-12 file, by the brands in its first box."""
    end = min(int.from_bytes(head[:4], "big"), len(head))
    brands = {head[at : at + 4] for at in range(8, end, 4) if at != 12}  # at 12 stands a version
    if brands & {b"avif", b"avis"}:
        return "AVIF"
    if brands & _HEIF_BRANDS:
        return "HEIC"
    raise not_a_picture(*(RAW if b"crx " in brands else _VIDEO))


def _as_text(head: bytes) -> str:
    """The head as text, "" when it is none."""
    if head.startswith((b"\xff\xfe", b"\xfe\xff")):
        return head.decode("utf-16", "replace")
    try:
        text = getincrementaldecoder("utf-8")().decode(head)  # the last letter may be cut through
    except UnicodeDecodeError:
        return ""
    return text if all(sign >= " " or sign in "\t\n\r\f" for sign in text) else ""


def _text_kind(text: str) -> tuple[str, str]:
    start = text.lstrip("\ufeff \t\r\n").lower()
    if "<svg" in start:
        return "a drawing made of lines (SVG)", _EXPORT
    if start.startswith(("<!doctype html", "<html")):
        return "a web page", "save the picture itself from that page"
    return "a text file", "open the picture itself"
