"""What a file is by its first bytes, and the wording for what is no picture."""

from io import BytesIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.errors import LabError
from labkit.files.header.kind import kind_of
from labkit.files.header.readers import READERS
from tests.files.make import srgb
from tests.geometry.refused import refusal


def boxed(*brands: bytes) -> bytes:
    return (
        (8 + 4 * (len(brands) + 1)).to_bytes(4, "big")
        + b"ftyp"
        + brands[0]
        + bytes(4)
        + b"".join(brands[1:])
    )


RAW = "a camera raw file: develop it, and save a TIFF or a JPEG."
LAYERED = "a layered working file of an image editor: flatten it there, and save a copy as TIFF."
EXPORT = "export the picture from it as TIFF, PNG or JPEG."
ARCHIVE = "a compressed archive: unpack it, and open the picture inside."
VIDEO = "a video: hand in a still picture."
SOUND = "a sound recording: open a picture."
OFFICE = "an office document: take the picture out of it."
LINES = f"a drawing made of lines: {EXPORT}"
MAIL = "an e-mail: save the picture that is attached to it, and hand that in."
LINK = "a link to something kept elsewhere: hand in the picture that it leads to."
MODEL = "a model in three dimensions: render it, and save the picture as TIFF."
NOTES = "notes that belong to a picture: hand in the picture that lies beside them."
FONT = "a font: hand in the picture itself."
CONTRAST = (
    "a picture of higher contrast than paper has: fit its tones into 16 bits a channel, and save it "
    "as TIFF."
)


def zipped(name: bytes, content: bytes = b"") -> bytes:
    """The start of a ZIP archive: its first entry, stored as it is (APPNOTE 6.3.10, 4.3.7)."""
    sizes = len(content).to_bytes(4, "little") * 2 + len(name).to_bytes(2, "little") + bytes(2)
    return b"PK\x03\x04" + bytes(14) + sizes + name + content


def text(*lines: str) -> bytes:
    return "\r\n".join(lines).encode()


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"%PDF-1.7\n%\xe2\xe3", f"a PDF document: {EXPORT}"),
        (b"%!PS-Adobe-3.0 EPSF-3.0\n", f"a PostScript drawing: {EXPORT}"),
        (b"8BPS\0\x01" + bytes(20), LAYERED),
        (b"mine xcf v011\0", LAYERED),
        (b"PK\x03\x04" + bytes(30), "a ZIP archive or an office document: take the picture out of it."),
        (b"\xd0\xcf\x11\xe0\xa1\xb1" + bytes(30), "an office document: take the picture out of it."),
        (b"\x1f\x8b\x08" + bytes(30), ARCHIVE),
        (b"7z\xbc\xaf\x27\x1c", ARCHIVE),
        (b"Rar!\x1a\x07", ARCHIVE),
        (bytes(1) * 257 + b"ustar", ARCHIVE),
        (boxed(b"isom", b"mp41"), VIDEO),
        (boxed(b"qt  "), VIDEO),
        (b"RIFF\0\0\0\0AVI LIST", VIDEO),
        (b"\x1a\x45\xdf\xa3" + bytes(30), VIDEO),
        (b"RIFF\0\0\0\0WAVEfmt ", SOUND),
        (b"ID3\x04" + bytes(30), SOUND),
        (boxed(b"crx ", b"isom"), RAW),
        (b"II*\0\x10\0\0\0CR\x02\0" + bytes(30), RAW),
        (b"IIU\0\x08\0\0\0" + bytes(30), RAW),
        (b"IIRO\x08\0\0\0" + bytes(30), RAW),
        (b"II\x1a\0\0\0HEAPCCDR\x02\0\x01\0", RAW),
        (b"a letter to the print room\n", "a text file: open the picture itself."),
        ("naïve café".encode() * 200, "a text file: open the picture itself."),
        ("brief".encode("utf-16"), "a text file: open the picture itself."),
        (b"BM is how this text begins, but not a bitmap\n", "a text file: open the picture itself."),
        (b"<!DOCTYPE html><html>", "a web page: save the picture itself from that page."),
        (b'<?xml version="1.0"?>\n<svg xmlns="', f"a drawing made of lines (SVG): {EXPORT}"),
        (b"\xff\x0a" + bytes(30), "a JPEG XL picture: save it as TIFF or PNG."),
        (b"II\xbc\x01" + bytes(30), "a JPEG XR picture: save it as TIFF or PNG."),
        (zipped(b"mimetype", b"application/vnd.oasis.opendocument.text"), OFFICE),
        (zipped(b"[Content_Types].xml", b"<Types/>"), OFFICE),
        (zipped(b"Index/Document"), OFFICE),
        (zipped(b"mimetype", b"image/openraster"), LAYERED),
        (zipped(b"mimetype", b"application/epub+zip"), "an electronic book: take the picture out of it."),
        (zipped(b"boat.jpg"), "a ZIP archive or an office document: take the picture out of it."),
        (b"{\\rtf1\\ansi", OFFICE),
        (b"\x01\0\0\0" + bytes(36) + b" EMF" + bytes(30), LINES),
        (b"\xd7\xcd\xc6\x9a" + bytes(30), LINES),
        (b"AC1032" + bytes(30), f"a technical drawing: {EXPORT}"),
        (b"\xc5\xd0\xd3\xc6" + bytes(30), f"a PostScript drawing: {EXPORT}"),
        (b"\0\r\n\xffjunk in front\n%PDF-1.4\n", f"a PDF document: {EXPORT}"),
        (bytes(128) + b"DICM" + bytes(30), f"a medical picture (DICOM): {EXPORT}"),
        (b"SIMPLE  =                    T", f"a table of measurements (FITS): {EXPORT}"),
        (b"\x76\x2f\x31\x01" + bytes(30), CONTRAST),
        (b"#?RADIANCE\nFORMAT=32-bit_rle_rgbe\n", CONTRAST),
        (b"\0\0\x01\0\x01\0" + bytes(30), "an icon: hand in the picture itself."),
        (srgb(), "a colour profile: hand in the picture that it is meant for."),
        (b"\0\x01\0\0\0\x0f" + bytes(30), FONT),
        (b"OTTO" + bytes(30), FONT),
        (b"wOF2" + bytes(30), FONT),
        (b"glTF\x02\0\0\0", MODEL),
        (b"ply\nformat ascii 1.0\n", MODEL),
        (text("ISO-10303-21;", "HEADER;"), MODEL),
        (text("solid boat", "  facet normal 0 0 1"), MODEL),
        (b"L\0\0\0\x01\x14\x02\0\0\0\0\0\xc0", LINK),
        (text("[InternetShortcut]", "URL=https://quillmarsh.example/boat"), LINK),
        (text("\ufeff[Desktop Entry]", "Type=Link"), LINK),
        (text('{"url": "https://quillmarsh.example/open?id=1"}'), LINK),
        (text('{"": "Do not edit", "doc_id": "1"}'), LINK),
        (text("<?xml version='1.0'?>", "<plist><dict><key>URL</key>"), LINK),
        (text("From: a@quillmarsh.example", "Subject: my print", "", "Here it is."), MAIL),
        (text("Received: from quillmarsh.example", "\tby print.example", "Message-ID: <1@a>"), MAIL),
        (b"\x78\x9f\x3e\x22" + bytes(30), MAIL),
        (b"\0\x05\x16\x07\0\x02\0\0" + bytes(30), NOTES),
        (text('<x:xmpmeta xmlns:x="x">'), NOTES),
        (text('<?xpacket begin=""?>', "<x>"), NOTES),
        (b"MZ\x90\0" + bytes(30), "a program: hand in the picture itself."),
        (text("From: the print room"), "a text file: open the picture itself."),
        (text('{"size": 3}'), "a text file: open the picture itself."),
        (text("<html><body><svg>"), "a web page: save the picture itself from that page."),
    ],
)  # fmt: skip
def test_what_is_not_a_picture_is_called_what_it_is(data, told):
    assert refusal(kind_of, BytesIO(data)) == f"is not a picture that can be printed but {told}"


def test_a_file_of_no_known_kind():
    assert refusal(kind_of, BytesIO(bytes(range(256)))) == (
        "is no kind of picture known here: open a TIFF, PNG, JPEG, WebP or HEIC file."
    )


def test_an_empty_file():
    told = "is empty (0 bytes): copy it again from where it came from."
    assert refusal(kind_of, BytesIO()) == told


@pytest.mark.parametrize("length", [1, 1024, 5000])
def test_a_file_of_zeros_was_lost_on_its_way(length):
    assert refusal(kind_of, BytesIO(bytes(length))) == (
        "is nothing but zeros where a picture should begin: it was lost on its way, so copy it again "
        "from where it came from."
    )


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "empty"),
        (bytes(5000), "damaged"),
        (b"%PDF-1.7", "document"),
        (b"%!PS-Adobe-3.0", "not-a-picture"),
        (b"a letter", "note"),
        (bytes(range(256)), "unreadable"),
    ],
)
def test_a_refusal_knows_the_finding_it_amounts_to(data, code):
    with pytest.raises(LabError) as caught:
        kind_of(BytesIO(data))
    assert caught.value.code == code


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        (b"\xff\xd8\xff\xe1", "JPEG"), (b"\x89PNG\r\n\x1a\n", "PNG"), (b"II*\0", "TIFF"),
        (b"MM\0*", "TIFF"), (b"II+\0", "TIFF"), (b"MM\0+", "TIFF"), (b"RIFF\0\0\0\0WEBP", "WebP"),
        (b"GIF87a", "GIF"), (b"GIF89a", "GIF"), (b"P6 60 40 255\n", "PPM"),
        (b"BM" + bytes(12) + b"\x28\0\0\0", "BMP"), (b"\xff\x4f\xff\x51", "JPEG 2000"),
        (boxed(b"heic", b"mif1"), "HEIC"), (boxed(b"mif1", b"avif"), "AVIF"),
    ],
)  # fmt: skip
def test_a_picture_is_known_by_its_first_bytes(data, kind):
    """Sources: the standards named in labkit/files/header/kind.py."""
    file = BytesIO(data)
    assert kind_of(file) == kind
    assert file.tell() == 0


@given(st.binary(max_size=60))
def test_whatever_the_bytes_the_answer_is_a_kind_or_a_sentence(data):
    try:
        found = kind_of(BytesIO(data))
    except LabError as error:
        found = str(error)
    assert found in READERS or (found.startswith("is ") and found.endswith("."))
