"""Pillow's own classes of the kinds it reads, and a picture decoded by one of them."""

from collections.abc import Iterator
from contextlib import contextmanager
from importlib import import_module
from pathlib import Path
from threading import RLock
from typing import BinaryIO

from PIL import Image

_PLUGINS = {
    "JPEG": ("PIL.JpegImagePlugin", "JpegImageFile"),
    "PNG": ("PIL.PngImagePlugin", "PngImageFile"),
    "TIFF": ("PIL.TiffImagePlugin", "TiffImageFile"),
    "WebP": ("PIL.WebPImagePlugin", "WebPImageFile"),
    "HEIC": ("pi_heif", "HeifImageFile"),
    "AVIF": ("PIL.AvifImagePlugin", "AvifImageFile"),
    "GIF": ("PIL.GifImagePlugin", "GifImageFile"),
    "BMP": ("PIL.BmpImagePlugin", "BmpImageFile"),
    "JPEG 2000": ("PIL.Jpeg2KImagePlugin", "Jpeg2KImageFile"),
    "PPM": ("PIL.PpmImagePlugin", "PpmImageFile"),
}

_AS_STORED = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_90,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_270,
}
"""What undoes the turning that Pillow does to a TIFF, and to nothing else."""


def pillow_file(file: BinaryIO, kind: str) -> Image.Image:
    """``file`` opened, but not decoded, by the class for its kind, which is imported for it.

    The class is called itself: Image.open would try others, and set limits of its own.
    """
    module, name = _PLUGINS[kind]
    return getattr(import_module(module), name)(file, "")


def pillow_image(path: Path, kind: str, frame: int = 0) -> Image.Image:
    """A page or frame, counted from 0, decoded whole, as it lies in the file, however many pixels it has.

    Colours that are stored multiplied by their alpha are taken apart from it. Raises whatever Pillow
    raises for a file of that ``kind`` which is damaged, or stored in a way it does not know.
    """
    with path.open("rb") as file, _no_pixel_limit():
        image = pillow_file(file, kind)
        if frame:
            image.seek(frame)
        turned = image.getexif().get(274) if kind == "TIFF" else None
        image.load()
    if turned in _AS_STORED:
        image = image.transpose(_AS_STORED[turned])
    return image.convert(image.mode.upper()) if image.mode in ("La", "RGBa") else image


_ONE_AT_A_TIME = RLock()


@contextmanager
def _no_pixel_limit() -> Iterator[None]:
    """Pillow's own limit, which is one for the whole process, lifted and put back."""
    with _ONE_AT_A_TIME:
        limit = Image.MAX_IMAGE_PIXELS
        Image.MAX_IMAGE_PIXELS = None
        try:
            yield
        finally:
            Image.MAX_IMAGE_PIXELS = limit
