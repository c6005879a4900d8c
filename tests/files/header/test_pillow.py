"""A picture decoded by Pillow's own class for its kind, as it lies in the file."""

import os
import subprocess
import sys
import threading
from pathlib import Path

import imagecodecs
import numpy as np
import pytest
import tifffile
from PIL import Image

from labkit.files.header.pillow import pillow_image
from labkit.files.header.reading import read_picture
from tests.files import make

ROOT = Path(__file__).parents[3]


def decoded(path: Path) -> Image.Image:
    return pillow_image(path, read_picture(path).kind)


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("compression", [None, "lzw"])
def test_a_turned_tiff_is_decoded_as_it_lies(tmp_path, orientation, compression):
    path = make.tiff(tmp_path / "a.tif", orientation=orientation, compression=compression)
    assert np.array_equal(np.asarray(decoded(path)), tifffile.imread(path))


def test_a_turned_jpeg_is_decoded_as_it_lies(tmp_path):
    path = make.picture(tmp_path / "a.jpg", orientation=6)
    assert np.array_equal(np.asarray(decoded(path)), imagecodecs.jpeg8_decode(path.read_bytes()))


@pytest.mark.parametrize(
    "name", ["a.gif", "a.bmp", "a.png", "a.webp", "a.avif", "a.jp2", "a.ppm", "m.jpg"]
)
def test_the_first_picture_is_decoded(tmp_path, name):
    if name == "m.jpg":
        path = make.telephone_jpeg(tmp_path / name)
    else:
        path = make.picture(tmp_path / name, mode="P" if name == "a.gif" else "RGB")
    with Image.open(path) as image:
        assert decoded(path).convert("RGB").tobytes() == image.convert("RGB").tobytes()
    assert path.rename(tmp_path / "moved").exists()  # the file is closed again


def test_pillows_limit_is_lifted_and_put_back(tmp_path, monkeypatch, recwarn):
    path = make.picture(tmp_path / "a.webp")
    monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", 100)
    with pytest.raises(Image.DecompressionBombError):
        Image.open(path)
    assert decoded(path).size == make.SIZE
    assert Image.MAX_IMAGE_PIXELS == 100
    with pytest.raises(FileNotFoundError):
        pillow_image(tmp_path / "missing.webp", "WebP")
    os.truncate(path, 100)
    with pytest.raises(OSError):  # noqa: PT011 - whatever the plugin says
        pillow_image(path, "WebP")
    assert Image.MAX_IMAGE_PIXELS == 100
    assert not recwarn.list


def test_pillows_limit_survives_several_threads(tmp_path):
    before = Image.MAX_IMAGE_PIXELS
    path = make.picture(tmp_path / "a.png", size=(300, 200))
    workers = [
        threading.Thread(target=lambda: [decoded(path) for _ in range(20)]) for _ in range(4)
    ]
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join()
    assert before == Image.MAX_IMAGE_PIXELS


def test_an_orientation_in_another_block_of_a_tiff_turns_nothing(tmp_path):
    """Tag 274 is missing, so the picture is as it lies (TIFF 6.0, section 8: the default is 1)."""
    note = b'<x:xmpmeta xmlns:tiff="http://ns.adobe.com/tiff/1.0/" tiff:Orientation="6"/>'
    path = tmp_path / "a.tif"
    make.drawing(mode="P").save(path, tiffinfo={700: note})
    assert (read_picture(path).orientation, read_picture(path).pixels) == (1, make.SIZE)
    assert np.array_equal(np.asarray(decoded(path)), tifffile.imread(path))


def test_colours_are_taken_apart_from_the_alpha_they_are_stored_with(tmp_path):
    """TIFF 6.0, ExtraSamples 1: a colour of 200 half covered (128 of 255) is stored as 100."""
    path = tmp_path / "a.tif"
    values = np.full((4, 6, 2), (100, 128), np.uint8)
    extra = {"photometric": "minisblack", "extrasamples": ["assocalpha"], "metadata": None}
    tifffile.imwrite(path, values, planarconfig="contig", **extra)
    assert (decoded(path).mode, decoded(path).getpixel((0, 0))) == ("LA", (199, 128))


def test_only_the_class_of_the_kind_is_imported(tmp_path):
    path = make.picture(tmp_path / "a.gif", mode="P")
    code = (
        "import sys; from pathlib import Path; from labkit.files.header.pillow import pillow_image;"
        f"pillow_image(Path({str(path)!r}), 'GIF');"
        "assert 'PIL.GifImagePlugin' in sys.modules and 'PIL.WebPImagePlugin' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True, cwd=ROOT)
