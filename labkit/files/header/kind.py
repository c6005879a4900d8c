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

_EXPORT = "export the picture from it as TIFF, PNG or JPEG"
_ITSELF = "hand in the picture itself"
RAW = ("a camera raw file", "develop it, and save a TIFF or a JPEG")
PDF = ("a PDF document", _EXPORT)
_VIDEO = ("a video", "hand in a still picture")
_OFFICE = ("an office document", "take the picture out of it")
_LAYERED = (
    "a layered working file of an image editor",
    "flatten it there, and save a copy as TIFF",
)
_LINES = ("a drawing made of lines", _EXPORT)
_MAIL = ("an e-mail", "save the picture that is attached to it, and hand that in")
_LINK = ("a link to something kept elsewhere", "hand in the picture that it leads to")
_MODEL = ("a model in three dimensions", "render it, and save the picture as TIFF")
TEXT = ("a text file", "open the picture itself")
_NOTES = ("notes that belong to a picture", "hand in the picture that lies beside them")

_OTHERS = {
    RAW: [
        (8, b"CR\x02"), (6, b"HEAPCCDR"), (0, b"IIRO"), (0, b"IIRS"), (0, b"MMOR"), (0, b"IIU\0"),
        (0, b"FOVb"), (0, b"\0MRM"), (8, b"CCD-RAW"),
    ],
    _LAYERED: [(0, b"8BPS"), (4, b" xcf "), (38, b"image/openraster")],
    PDF: [(0, b"%PDF")],
    ("a PostScript drawing", _EXPORT): [(0, b"%!PS"), (0, b"\xc5\xd0\xd3\xc6")],
    _LINES: [(40, b" EMF"), (0, b"\xd7\xcd\xc6\x9a")],
    ("a technical drawing", _EXPORT): [(0, b"AC10")],
    ("an electronic book", "take the picture out of it"): [(38, b"application/epub+zip")],
    _OFFICE: [
        (0, b"\xd0\xcf\x11\xe0"), (0, b"{\\rtf"), (38, b"application/vnd.oasis.opendocument"),
        (30, b"[Content_Types].xml"), (30, b"_rels/"), (30, b"docProps/"), (30, b"Index/"),
    ],
    ("a ZIP archive or an office document", "take the picture out of it"): [(0, b"PK\x03\x04")],
    ("a compressed archive", "unpack it, and open the picture inside"): [
        (0, b"\x1f\x8b"), (0, b"7z\xbc\xaf"), (0, b"Rar!"), (0, b"BZh"), (0, b"\xfd7zXZ"),
        (257, b"ustar"),
    ],
    _VIDEO: [(0, b"\x1a\x45\xdf\xa3"), (8, b"AVI "), (0, b"\0\0\x01\xba")],
    ("a sound recording", "open a picture"): [
        (8, b"WAVE"), (0, b"ID3"), (0, b"fLaC"), (0, b"OggS"),
    ],
    ("a JPEG XL picture", "save it as TIFF or PNG"): [(0, b"\xff\x0a"), (0, b"\0\0\0\x0cJXL ")],
    ("a JPEG XR picture", "save it as TIFF or PNG"): [(0, b"II\xbc\x01")],
    ("a medical picture (DICOM)", _EXPORT): [(128, b"DICM")],
    ("a table of measurements (FITS)", _EXPORT): [(0, b"SIMPLE  =")],
    (
        "a picture of higher contrast than paper has",
        "fit its tones into 16 bits a channel, and save it as TIFF",
    ): [(0, b"\x76\x2f\x31\x01"), (0, b"#?RADIANCE"), (0, b"#?RGBE")],
    ("an icon", _ITSELF): [(0, b"\0\0\x01\0"), (0, b"icns")],
    ("a colour profile", "hand in the picture that it is meant for"): [(36, b"acsp")],
    ("a font", _ITSELF): [
        (0, b"\0\x01\0\0\0"), (0, b"OTTO"), (0, b"ttcf"), (0, b"wOFF"), (0, b"wOF2"),
    ],
    _MODEL: [(0, b"glTF"), (0, b"ply\n"), (0, b"ply\r")],
    _LINK: [
        (0, b"L\0\0\0\x01\x14\x02\0"), (0, b"[InternetShortcut]"), (0, b"[Desktop Entry]"),
        (0, b"book\0\0\0\0mark"), (0, b"bplist00"),
    ],
    _MAIL: [(0, b"\x78\x9f\x3e\x22")],
    _NOTES: [(0, b"\0\x05\x16\x07"), (0, b"\0\x05\x16\0")],
    ("a program", _ITSELF): [(0, b"MZ\x90\0"), (0, b"\x7fELF")],
}  # fmt: skip
"""What else is handed in, and what to do with it; the first that fits is told.

Marks as file(1) 5.44 has them, or the kind's own standard: OpenDocument 1.2 and EPUB 3 (a first entry
"mimetype", stored as it is), ECMA-376 part 2 (Content_Types), ICC.1 §7.2 (acsp), ISO 29199-2 (JPEG XR),
DICOM part 10, FITS 4.0, RFC 1740 (the notes a computer keeps beside a file). From memory: "IIU",
"Index/", "_rels/", "docProps/", "book…mark".
"""

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
    if re.search(rb"%PDF-\d\.\d", head):  # readers look for it in the first 1024 bytes, from memory
        raise not_a_picture(*PDF)
    if not any(head):
        raise LabError(
            "is nothing but zeros where a picture should begin: it was lost on its way, so copy it again "
            "from where it came from.",
            "damaged",
        )
    raise LabError("is no kind of picture known here: open a TIFF, PNG, JPEG, WebP or HEIC file.")


def not_a_picture(what: str, advice: str) -> LabError:
    """The refusal of another kind of file, which wants the file's name in front."""
    code = {PDF: "document", TEXT: "note"}.get((what, advice), "not-a-picture")
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
    if start.startswith(("<!doctype html", "<html")):
        return "a web page", "save the picture itself from that page"
    if "<svg" in start:
        return "a drawing made of lines (SVG)", _EXPORT
    if "<x:xmpmeta" in start or start.startswith("<?xpacket"):
        return _NOTES
    if _LINK_TEXT.match(start):
        return _LINK
    if _MODEL_TEXT.match(start):
        return _MODEL
    if _is_mail(start):
        return _MAIL
    return TEXT


_LINK_TEXT = re.compile(
    r'\[internetshortcut\]|\[desktop entry\]|\{\s*"url"\s*:|\{.*"doc_id"\s*:|<.*<key>url<', re.S
)
"""Links to a page or a program, and what stands in a synchronised folder for a document on the web."""
_MODEL_TEXT = re.compile(r"iso-10303-21;|solid\b[^\n]*\s+facet\b")
"""ISO 10303-21, and the text form of STL as file(1) has it."""
_MAIL_FIELD = re.compile(
    r"(return-path|received|delivered-to|message-id|mime-version|from|to|subject|date|content-type"
    r"|x-[\w-]+): "
)
"""Some of the fields of RFC 5322 and RFC 2045."""


def _is_mail(start: str) -> bool:
    """Whether a text begins with two fields of an e-mail, one to a line."""
    lines = [line for line in start.splitlines() if line[:1] not in " \t"]
    return len(lines) > 1 and all(map(_MAIL_FIELD.match, lines[:2]))
