"""TIFF 6.0 (3 June 1992): LZW, differencing and the fields an RGB picture needs, in what we write."""

import numpy as np
import pytest
import tifffile
from PIL import Image

from labkit.files.writing.packing import PACKINGS, differenced
from tests.files import make, sheets

EXAMPLE = bytes([7, 7, 7, 8, 8, 7, 7, 6, 6])
CODES = [256, 7, 258, 8, 8, 258, 6, 6, 257]
"""Section 13: the table ends in <6>; the closing <6> for the last pixel is not printed there."""
PACKED = bytes.fromhex("8001e0408044080c068080")
"""Those codes at 9 bits each, the first bit highest."""


def unpacked(data: bytes, bits: int) -> list[int]:
    number = int.from_bytes(data, "big")
    spare = len(data) * 8
    return [number >> (spare - bits * (i + 1)) & (2**bits - 1) for i in range(spare // bits)]


def test_the_worked_example_of_lzw():
    assert unpacked(PACKED, 9)[: len(CODES)] == CODES
    assert PACKINGS["LZW"].encode(np.frombuffer(EXAMPLE, np.uint8)) == PACKED


def test_libtiff_packs_the_worked_example_alike(tmp_path):
    """So the expected bytes are not ours: Pillow writes LZW through libtiff."""
    path = tmp_path / "example.tif"
    Image.frombytes("L", (9, 1), EXAMPLE).save(path, compression="tiff_lzw")
    with tifffile.TiffFile(path) as file:
        page = file.pages[0]
        at, size = page.dataoffsets[0], page.databytecounts[0]
    assert path.read_bytes()[at : at + size] == PACKED


def by_the_book(packed: bytes) -> bytes:
    """LZW as section 13 lays it down: codes of 9 to 12 bits, one more each time the table is full."""
    number, left = int.from_bytes(packed, "big"), len(packed) * 8
    made, table, bits, before = [], [], 9, b""
    while True:
        left -= bits
        code = number >> left & (1 << bits) - 1
        if code == 257:  # EndOfInformation
            return b"".join(made)
        if code == 256:  # Clear
            table, bits, before = [bytes([n]) for n in range(256)] + [b"", b""], 9, b""
            continue
        entry = table[code] if code < len(table) else before + before[:1]
        if before:
            table.append(before + entry[:1])
        made.append(entry)
        before = entry
        bits = 9 + (len(table) >= 511) + (len(table) >= 1023) + (len(table) >= 2047)


def test_the_book_unpacks_the_worked_example():
    assert by_the_book(PACKED) == EXAMPLE


@pytest.mark.parametrize("size", [1, 300, 600, 1200, 2500, 9000])
@pytest.mark.parametrize("levels", [4, 256])
def test_what_we_pack_can_be_unpacked_by_the_book(size, levels):
    """Through every width of code, and past a full table."""
    raw = np.random.default_rng(size).integers(0, levels, size).astype(np.uint8)
    assert by_the_book(PACKINGS["LZW"].encode(raw)) == raw.tobytes()


@pytest.mark.parametrize("channels", [1, 3])
def test_differencing_is_from_the_pixel_before_channel_by_channel(channels):
    """Section 14: horizontal differencing, with an offset of SamplesPerPixel when chunky."""
    rows = np.random.default_rng(1).integers(0, 256, (4, 9, channels)).astype(np.uint8)
    wanted = rows.copy()
    wanted[:, 1:] -= rows[:, :-1]
    assert np.array_equal(differenced(rows), wanted)


REQUIRED = {
    256: "ImageWidth", 257: "ImageLength", 258: "BitsPerSample", 259: "Compression",
    262: "PhotometricInterpretation", 273: "StripOffsets", 277: "SamplesPerPixel",
    278: "RowsPerStrip", 279: "StripByteCounts", 282: "XResolution", 283: "YResolution",
    296: "ResolutionUnit",
}  # fmt: skip
"""Section 6: "Required Fields for RGB Images"."""


@pytest.fixture
def written(tmp_path):
    picture = make.picture(tmp_path / "boat.png")
    sheets.print_file(tmp_path / "boat.tif", picture, on="5x4in", width="3in")
    return tmp_path / "boat.tif"


def test_every_required_field_is_there_with_its_type(written):
    """Types by section 8: SHORT is 3, LONG 4, RATIONAL 5."""
    with tifffile.TiffFile(written) as file:
        tags = file.pages[0].tags
        assert {tag.code: tag.name for tag in tags if tag.code in REQUIRED} == REQUIRED
        types = {tag.code: int(tag.dtype) for tag in tags}
        counts = {tag.code: tag.count for tag in tags}
        codes = [tag.code for tag in tags]
    assert all(types[code] in (3, 4) for code in (256, 257, 273, 278, 279))
    assert [types[code] for code in (258, 259, 262, 277, 284, 296, 317, 274)] == [3] * 8
    assert [types[code] for code in (282, 283)] == [5, 5]
    assert (counts[258], counts[282], counts[283]) == (3, 1, 1)
    assert codes == sorted(codes)  # section 2: "sorted in ascending order by Tag"


def test_tiffinfo_reads_the_required_fields(written):
    told = sheets.tiffinfo(written)
    assert "Image Width: 100 Image Length: 80" in told
    assert "Resolution: 20, 20 pixels/inch" in told
    assert "Bits/Sample: 8" in told
    assert "Compression Scheme: LZW" in told
    assert "Photometric Interpretation: RGB color" in told
    assert "Samples/Pixel: 3" in told
    assert "Rows/Strip: 80" in told
    assert "1 Strips:" in told
    assert "Warning" not in told


def test_each_strip_starts_anew(tmp_path, monkeypatch):
    """Section 13: "each strip is compressed independently", so each begins with a Clear code."""
    monkeypatch.setattr("labkit.files.writing.strips.STRIP_BYTES", 2000)
    picture = make.picture(tmp_path / "boat.png")
    path = tmp_path / "boat.tif"
    sheets.print_file(path, picture, on="5x4in", width="3in")
    data = path.read_bytes()
    with tifffile.TiffFile(path) as file:
        starts = file.pages[0].dataoffsets
    assert len(starts) == 14
    assert {unpacked(data[at : at + 9], 9)[0] for at in starts} == {256}


def test_it_is_stored_in_little_endian_order(written):
    """Section 2: "II" and 42."""
    assert written.read_bytes()[:4] == b"II*\0"
