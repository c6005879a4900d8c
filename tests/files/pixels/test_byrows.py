"""Rows of a TIFF strip by strip are those of the whole, however it is packed; and no damaged one passes."""

import numpy as np
import pytest
import tifffile

from labkit.errors import LabError
from labkit.files.header.reading import read_picture
from labkit.files.pixels.byrows import StripPixels, StripReader

SHAPE = 60, 37, 3


def saved(file, depth=8, **options):
    values = np.random.default_rng(4).integers(0, 2**depth, SHAPE).astype(f"u{depth // 8}")
    given = {"photometric": "rgb", "rowsperstrip": 7, "metadata": None}
    tifffile.imwrite(file, values, **given | options)
    return values


def reader(file):
    return StripReader.of(read_picture(file))


@pytest.mark.parametrize("depth", [8, 16])
@pytest.mark.parametrize("byteorder", ["<", ">"])
@pytest.mark.parametrize("bigtiff", [False, True])
@pytest.mark.parametrize(
    "packed",
    [
        {"compression": "lzw", "predictor": True},
        {"compression": "lzw"},
        {"compression": "deflate", "predictor": True},
        {},
    ],
)
def test_rows_are_those_of_the_whole(tmp_path, depth, byteorder, bigtiff, packed):
    values = saved(tmp_path / "a.tif", depth, byteorder=byteorder, bigtiff=bigtiff, **packed)
    made = reader(tmp_path / "a.tif")
    for first, last in ((0, 60), (6, 8), (13, 14), (55, 60)):
        assert np.array_equal(made.rows(first, last), values[first:last])


@pytest.mark.parametrize(
    "packed", [{"compression": "lzw", "predictor": True}, {"compression": "lzw"}]
)
@pytest.mark.parametrize(
    "spoil", [lambda data: b"\xff" * len(data), lambda data: b"\0" * len(data)]
)
def test_a_damaged_strip_is_refused(tmp_path, packed, spoil):
    file = tmp_path / "a.tif"
    saved(file, **packed)
    with tifffile.TiffFile(file) as tiff:
        at, count = tiff.pages[0].dataoffsets[3], tiff.pages[0].databytecounts[3]
    data = file.read_bytes()
    file.write_bytes(data[:at] + spoil(data[at : at + count]) + data[at + count :])
    made = reader(file)
    made.rows(0, 21)
    with pytest.raises(LabError, match="damaged"):
        made.rows(21, 28)


def test_what_lies_in_another_way_is_not_read_so(tmp_path):
    saved(tmp_path / "tiled.tif", tile=(16, 16), rowsperstrip=None)
    assert reader(tmp_path / "tiled.tif") is None


def test_a_part_and_a_sample_of_it(tmp_path):
    values = saved(tmp_path / "a.tif", compression="lzw", predictor=True)
    made = StripPixels.of(read_picture(tmp_path / "a.tif"))
    assert made.shape == (37, 60)
    assert np.array_equal(made.levels((3, 5, 30, 50)), values[5:50, 3:30])
    assert np.array_equal(made.sample((3, 5, 30, 50), 4), values[5:50:4, 3:30:4])
