"""The pictures that are measured with, made from the demo harbour: ``python -m tests.bench.pictures FOLDER``.

One of 13 and one of 96 megapixels, each plain, in CMYK, and turned by its Exif orientation; the
smaller one also at 16 bits a channel, as TIFF and as PNG. All state 300 ppi. The larger is the smaller one
enlarged, with fine noise over it: no encoder then finds it easier than a photograph.
"""

import sys
from io import BytesIO
from pathlib import Path

import imagecodecs
import numpy as np
import pyvips
import tifffile
from PIL import Image, ImageCms

from tests.bench.measured import ROOT

HARBOUR = ROOT / "images" / "harbour.jpg"
LARGE = (12_000, 8_000)
GRAIN = 4
"""How far the noise strays from a pixel's value, in levels of 255 (standard deviation)."""


def main(folder: Path) -> None:
    """Make them all."""
    folder.mkdir(exist_ok=True)
    with Image.open(HARBOUR) as small:
        small.load()
    _save_all(small, small.info["icc_profile"], folder, "small")
    _save_deep(small, folder)
    _save_all(_grainy(small.resize(LARGE)), small.info["icc_profile"], folder, "large")


def _save_all(image: Image.Image, profile: bytes, folder: Path, name: str) -> None:
    common = {"dpi": (300, 300), "quality": 92}
    image.save(folder / f"{name}-plain.jpg", icc_profile=profile, **common)
    exif = Image.Exif()
    exif[274] = 6
    image.save(folder / f"{name}-turned.jpg", icc_profile=profile, exif=exif, **common)
    inks = bytes(pyvips.Image.profile_load("cmyk"))
    source, target = (ImageCms.ImageCmsProfile(BytesIO(data)) for data in (profile, inks))
    separated = ImageCms.profileToProfile(image, source, target, outputMode="CMYK")
    separated.save(folder / f"{name}-CMYK.jpg", icc_profile=inks, **common)


def _grainy(image: Image.Image) -> Image.Image:
    numbers = np.random.default_rng(1)
    values = np.array(image)
    for row in values:
        noise = numbers.normal(0, GRAIN, (len(row), 1))
        row[:] = np.clip(row + noise, 0, 255)
    return Image.fromarray(values)


def _save_deep(image: Image.Image, folder: Path) -> None:
    """16 bits a channel, the lower eight of them noise as in a scan; 300 ppi is 11811 to the metre."""
    noise = np.random.default_rng(2).integers(0, 256, (*image.size[::-1], 3), np.uint16)
    values = np.asarray(image).astype(np.uint16) * 256 + noise
    states = {"photometric": "rgb", "resolution": (300, 300), "resolutionunit": "inch"}
    tifffile.imwrite(folder / "small-deep.tif", values, rowsperstrip=64, metadata=None, **states)
    data = imagecodecs.png_encode(values, level=4)
    states = b"pHYs" + (11811).to_bytes(4, "big") * 2 + b"\1"
    chunk = (9).to_bytes(4, "big") + states + imagecodecs.zlib_crc32(states).to_bytes(4, "big")
    path = folder / "small-deep.png"
    path.write_bytes(data[:33] + chunk + data[33:])  # behind the header, ISO 15948


if __name__ == "__main__":
    main(Path(sys.argv[1]))
