"""Pixels on demand: a picture decoded once, then handed out upright, region by region."""

import mmap
from contextlib import contextmanager
from functools import cache
from threading import Event, Thread
from typing import TYPE_CHECKING

import numpy as np
from PIL import Image, ImageCms

from labkit.errors import LabError
from labkit.files.header.picture import Picture
from labkit.files.header.pillow import pillow_image
from labkit.files.header.tiff_reader import open_tiff, pages_to_print
from labkit.files.pixels.conversion import on_white
from labkit.files.pixels.deep import UPRIGHT, to_8_bits
from labkit.files.pixels.intact import Broken, refuse_holes, refuse_zero_end
from labkit.files.pixels.jpeg import decode_jpeg

if TYPE_CHECKING:
    from tifffile import TiffFile, TiffPage

Region = tuple[int, int, int, int]
"""Left, top, right, bottom in whole pixels."""

_UPRIGHT = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
"""What undoes each orientation of Exif 2.3 and TIFF 6.0, section 8."""

_GIVE_BACK_SECONDS = 0.004
"""From one giving back to the next: some MB are read meanwhile at most."""

_MODES = {1: "L", 2: "LA", 3: "RGB", 4: "RGBA"}


class Pixels:
    """A decoded picture in memory, as stored; regions of it come out upright, and at 8 bits except where
    they are asked for as they are held.

    It holds a numpy array where a codec gives one (a byte, or two, for each channel of a pixel), and
    Pillow's image otherwise. ``doubt`` is a sign that part of it may be damaged, a variant of the finding
    ``damage-signs``, or "".
    """

    def __init__(self, stored: "np.ndarray | Image.Image", orientation: int, doubt: str = ""):
        self._stored = stored
        self._orientation = orientation
        self.doubt = doubt

    @property
    def shape(self) -> tuple[int, int]:
        """Width and height, upright."""
        width, height = self._stored_shape
        return (height, width) if self._orientation >= 5 else (width, height)

    def as_stored(self) -> "Pixels":
        """The same as it lies in the file."""
        return Pixels(self._stored, 1)

    @property
    def _stored_shape(self) -> tuple[int, int]:
        if isinstance(self._stored, np.ndarray):
            return self._stored.shape[1], self._stored.shape[0]
        return self._stored.size

    @property
    def depth(self) -> int:
        """Bits a channel that are held: 16 or 8."""
        return 8 * self._stored.itemsize if isinstance(self._stored, np.ndarray) else 8

    def held(self, region: Region) -> np.ndarray | None:
        """The same part as numbers of the depth that is held, (rows, columns, channels); None where
        Pillow holds them."""
        if not isinstance(self._stored, np.ndarray):
            return None
        left, top, right, bottom = _stored_region(region, self._stored_shape, self._orientation)
        part = np.atleast_3d(self._stored[top:bottom, left:right])
        turn = UPRIGHT.get(self._orientation)
        return part if turn is None else turn(part)

    def region(self, region: Region) -> Image.Image:
        """That part of the upright picture, as an image of 8 bits a channel."""
        image = self._cut(_stored_region(region, self._stored_shape, self._orientation))
        turn = _UPRIGHT.get(self._orientation)
        return image if turn is None else image.transpose(turn)

    def rgb(self, region: Region) -> np.ndarray | None:
        """The same part as an array of RGB where it lies in memory as that, and upright; else None."""
        held = self._stored
        if self._orientation != 1 or not isinstance(held, np.ndarray) or held.shape[2:] != (3,):
            return None
        left, top, right, bottom = region
        return to_8_bits(held[top:bottom, left:right])

    def levels(self, region: Region) -> np.ndarray:
        """The same part as an array of RGB whatever lies in memory: what is clear shows white, and no
        profile is looked at."""
        held = self.rgb(region)
        if held is not None:
            return held
        image = self.region(region)
        if image.has_transparency_data:
            image = on_white(image.convert("RGBA"))
        if image.mode == "LAB":
            return np.asarray(ImageCms.applyTransform(image, _lab_to_rgb()))
        return np.asarray(image.convert("RGB"))

    def sample(self, region: Region, step: int) -> np.ndarray:
        """Every ``step``-th pixel of a region each way, as :meth:`levels` gives them."""
        held = self.rgb(region)
        if held is not None:
            return held[::step, ::step]
        left, top, right, bottom = region
        rows = range(top, bottom, step)
        return np.stack([self.levels((left, y, right, y + 1))[0, ::step] for y in rows])

    def thinned(self, step: int) -> "Pixels":
        """The picture in every ``step``-th of its pixels each way, to make something small of."""
        held = self._stored
        if isinstance(held, np.ndarray):
            return Pixels(held[::step, ::step], self._orientation)
        size = tuple(-(-side // step) for side in held.size)
        return Pixels(held.resize(size, Image.Resampling.NEAREST), self._orientation)

    def has_clear(self) -> bool:
        """Whether any pixel is not quite opaque, told of pictures whose alpha is kept."""
        held = self._stored
        if isinstance(held, np.ndarray):
            if held.ndim < 3 or held.shape[2] not in (2, 4):
                return False
            return bool(held[..., -1].min() < np.iinfo(held.dtype).max)
        return held.has_transparency_data and held.convert("RGBA").getextrema()[3][0] < 255

    def _cut(self, region: Region) -> Image.Image:
        left, top, right, bottom = region
        if isinstance(self._stored, np.ndarray):
            part = np.ascontiguousarray(self._stored[top:bottom, left:right])
            channels = part.shape[2] if part.ndim == 3 else 1
            return Image.fromarray(to_8_bits(part), _MODES[channels])
        part = self._stored.crop(region)
        if part.mode.startswith("I;16"):
            return Image.fromarray(to_8_bits(np.asarray(part)))
        return part


def decode(picture: Picture) -> Pixels:
    """Decode the file of ``picture`` whole, the original opened read-only.

    LabError, naming the file, when it is damaged or cut short, or holds numbers no print is made of or
    colours in a form that nothing here decodes.
    """
    if picture.mode in ("F", "I"):
        raise LabError(
            f"holds {picture.depth}-bit numbers, not 8 or 16 bits a channel: "
            "export it again at 8 bits.",
            about=picture.path.name,
        )
    try:
        stored, doubt = _by_codec(picture)
        if stored is None:
            stored = _by_pillow(picture)
    except (LabError, MemoryError):
        raise
    except Exception as fault:
        reason = str(fault) if isinstance(fault, Broken) else "its data make no sense to a decoder"
        raise LabError(
            f"is damaged or cut short ({reason}): copy or export it again.",
            "damaged",
            about=picture.path.name,
        ) from None
    pixels = Pixels(stored, picture.orientation, doubt)
    if pixels.shape != picture.pixels:
        raise LabError(
            f"says it has {picture.pixels[0]} × {picture.pixels[1]} pixels but "
            f"holds {pixels.shape[0]} × {pixels.shape[1]}: export it again.",
            "damaged",
            about=picture.path.name,
        )
    return pixels


def _by_codec(picture: Picture) -> tuple[np.ndarray | None, str]:
    """The pixels through the format's own codec where that spares memory or depth, else None; and a
    doubt about them, or ""."""
    import imagecodecs

    if picture.kind == "TIFF":
        return _plain_tiff(picture), ""
    if picture.page > 1:
        return None, ""
    with _mapped(picture) as data:
        if picture.kind == "JPEG":
            values, doubt = decode_jpeg(data, picture.mode)
            return (None if picture.mode == "CMYK" else values), doubt
        if picture.kind == "PNG":
            values = imagecodecs.png_decode(data)  # of a table of colours to see that it is sound
            has_colour_key = picture.alpha and picture.mode in ("L", "RGB", "I;16")
            if picture.depth >= 8 and picture.mode != "P" and not has_colour_key:
                return values, ""
        elif picture.kind in ("WebP", "HEIC", "AVIF"):
            refuse_zero_end(data, picture.kind)
    return None, ""


def _plain_tiff(picture: Picture) -> np.ndarray | None:
    """Grey or RGB of 8 or 16 bits, with its alpha (TIFF 6.0, ExtraSamples: 2, or untold) if it has one.

    Channels besides these are left out. None for any other TIFF.
    """
    from tifffile import EXTRASAMPLE, PHOTOMETRIC, TIFF

    channels = {PHOTOMETRIC.RGB: 3, PHOTOMETRIC.MINISBLACK: 1, PHOTOMETRIC.MINISWHITE: 1}
    has_alpha = picture.mode.endswith("A")
    with open_tiff(picture.path) as tiff:
        page = _page(picture, tiff)
        is_plain = (
            page.photometric in channels
            and page.dtype in (np.uint8, np.uint16)
            and page.bitspersample in (8, 16)
            and (not has_alpha or page.extrasamples[:1] in ((), (EXTRASAMPLE.UNASSALPHA,)))
            and page.compression in TIFF.DECOMPRESSORS
        )
        with _mapped(picture) as data:
            _refuse_unopened(page, data)
            refuse_holes(page, data)
            if not is_plain:
                return None
            values = _values(page, data)
        if values.ndim == 2:
            values = values[..., np.newaxis]
        elif page.planarconfig == 2:
            values = np.moveaxis(values, 0, -1)
        if page.photometric == PHOTOMETRIC.MINISWHITE:
            np.invert(values[..., 0], out=values[..., 0])
        kept = channels[page.photometric] + has_alpha
        return values[..., 0] if kept == 1 else values[..., :kept]


def _page(picture: Picture, tiff: "TiffFile") -> "TiffPage":
    return pages_to_print(tiff)[max(1, picture.page) - 1]


_BY_LIBTIFF = {1, 5, 8, 32773, 32946}
"""The lossless packings of TIFF 6.0 and its supplements, which libtiff decodes as quickly as others do."""


def _values(page: "TiffPage", data: mmap.mmap) -> np.ndarray:
    """The numbers of a page, by libtiff where it knows their packing, as other programs read them; what is
    not packed lies in the file as it will in memory."""
    if page.is_contiguous and page.predictor == 1:
        return np.asarray(page.asarray(), page.dtype)
    if int(page.compression) in _BY_LIBTIFF:
        import imagecodecs

        values = imagecodecs.tiff_decode(data, index=page.index)
        if (values.shape, values.dtype) == (page.shape, page.dtype):
            return values
    return page.asarray()


def _refuse_unopened(page: "TiffPage", data: mmap.mmap) -> None:
    """Refuse what libtiff does not open, whatever may be made of it here."""
    import imagecodecs

    try:
        imagecodecs.tiff_decode(data, index=page.index, out=np.empty(1, np.uint8))
    except IndexError:
        raise Broken("other programs cannot open it: its directory is wrong") from None
    except ValueError:  # it is open, and there is no room for it in one byte
        return


def _by_pillow(picture: Picture) -> Image.Image:
    frame = max(1, picture.page) - 1
    if picture.kind == "TIFF" and frame:
        with open_tiff(picture.path) as tiff:
            frame = _page(picture, tiff).index
    try:
        return pillow_image(picture.path, picture.kind, frame)
    except (SyntaxError, ValueError):  # so Pillow says that it does not know the form of a TIFF
        if picture.kind != "TIFF":
            raise
        raise LabError(
            f"keeps its colours ({picture.colours}, {picture.depth} bits a channel) "
            "in a form that is not read here: flatten it, convert it to RGB at 8 bits, and save it again.",
            about=picture.path.name,
        ) from None


@cache
def _lab_to_rgb() -> ImageCms.ImageCmsTransform:
    """What Pillow's own ``convert`` makes anew for each part of a picture: 6 ms for one row."""
    lab, srgb = ImageCms.createProfile("LAB"), ImageCms.createProfile("sRGB")
    return ImageCms.buildTransform(lab, srgb, "LAB", "RGB")


@contextmanager
def _mapped(picture: Picture):
    """The file's bytes, read where a codec asks for them."""
    with (
        open(picture.path, "rb") as file,
        mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ) as data,
        _given_back(data),
    ):
        yield data


@contextmanager
def _given_back(data: mmap.mmap):
    """Give back what was read of a mapped file, again and again: it would count as memory of this process
    until the end, beside the pixels made of it. What is asked for once more is read once more."""
    done = Event()

    def give_back() -> None:
        while not done.wait(_GIVE_BACK_SECONDS):
            data.madvise(mmap.MADV_DONTNEED)

    if not hasattr(mmap, "MADV_DONTNEED"):  # not on Windows
        yield
        return
    thread = Thread(target=give_back, daemon=True)
    thread.start()
    try:
        yield
    finally:
        done.set()
        thread.join()


def _stored_region(region: Region, stored: tuple[int, int], orientation: int) -> Region:
    """Where an upright region lies in the picture as stored."""
    left, top, right, bottom = region
    if orientation >= 5:
        left, top, right, bottom = top, left, bottom, right
    width, height = stored
    if orientation in (2, 3, 7, 8):
        left, right = width - right, width - left
    if orientation in (3, 4, 6, 7):
        top, bottom = height - bottom, height - top
    return left, top, right, bottom
