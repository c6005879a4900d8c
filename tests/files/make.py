"""Small picture files of many kinds for the tests: every function writes one file and gives its path."""

import struct
import zlib
from collections.abc import Iterable
from pathlib import Path

import imagecodecs
import numpy as np
import tifffile
from PIL import Image, ImageCms

SIZE = (60, 40)
"""Width and height of a test picture in pixels, unless another is asked for."""


def drawing(size: tuple[int, int] = SIZE, mode: str = "RGB") -> Image.Image:
    """Slopes of colour and one bright corner, upper left: no turn or mirroring of it is the same.

    With alpha the lower right quarter is clear.
    """
    across = np.linspace(40, 200, size[0], dtype=np.uint8)[None, :].repeat(size[1], 0)
    down = np.linspace(60, 180, size[1], dtype=np.uint8)[:, None].repeat(size[0], 1)
    values = np.dstack([across, down, across // 2 + down // 2])
    values[: size[1] // 4, : size[0] // 4] = 255, 230, 20
    made = Image.fromarray(values).convert(mode)
    if mode in ("RGBA", "LA"):
        made.paste(0, (size[0] // 2, size[1] // 2, *size))
    return made


def undated(profile: bytes) -> bytes:
    """A profile without the second in which it was made (ICC.1, clause 7.2: bytes 24 to 35)."""
    return profile[:24] + bytes(12) + profile[36:]


def srgb() -> bytes:
    """An sRGB profile."""
    return undated(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())


def grey_profile(gamma: float = 2.2) -> bytes:
    """A grey profile of one gamma."""
    return undated(imagecodecs.cms_profile("gray", gamma=gamma))


def rgb_profile(gamma: float = 1.8) -> bytes:
    """An RGB profile that is plainly not sRGB: its curve, and a wider red and green."""
    primaries = [0.68, 0.32, 1, 0.265, 0.69, 1, 0.15, 0.06, 1]
    white = [0.3127, 0.3290, 1]
    return undated(
        imagecodecs.cms_profile("rgb", gamma=gamma, whitepoint=white, primaries=primaries)
    )


def exif(*entries: tuple[int, int, tuple[int, ...]], order: str = "<") -> bytes:
    """A block of Exif written by hand: (tag, 3, numbers) is SHORT, (tag, 5, (over, under)) RATIONAL."""
    head = {"<": b"II*\0", ">": b"MM\0*"}[order] + struct.pack(order + "I", 8)
    beyond, directory = b"", struct.pack(order + "H", len(entries))
    start = 8 + 2 + 12 * len(entries) + 4
    for tag, kind, values in entries:
        if kind == 3:
            field = struct.pack(order + "HH", values[0], 0)
        else:
            field = struct.pack(order + "I", start + len(beyond))
            beyond += struct.pack(order + "II", *values)
        directory += struct.pack(order + "HHI", tag, kind, 1) + field
    return b"Exif\0\0" + head + directory + bytes(4) + beyond


def orientation_exif(orientation: int) -> bytes:
    """A block of Exif that states an orientation and nothing else."""
    return exif((274, 3, (orientation,)))


def picture(
    path: Path,
    *,
    size: tuple[int, int] = SIZE,
    mode: str = "RGB",
    ppi: float | None = None,
    profile: bytes | None = None,
    orientation: int | None = None,
    **options,
) -> Path:
    """A picture written by Pillow as the kind its ending says; ``options`` are Pillow's own."""
    if ppi:
        options["dpi"] = (ppi, ppi)
    if orientation:
        options["exif"] = orientation_exif(orientation)
    if profile is not None:
        options["icc_profile"] = profile
    drawing(size, mode).save(path, **options)
    return path


def frames(path: Path, count: int = 3) -> Path:
    """An animation, or a TIFF of several pages, by Pillow."""
    first, *rest = (drawing().rotate(90 * turn) for turn in range(count))
    first.save(path, save_all=True, append_images=rest)
    return path


def tiff(
    path: Path,
    *,
    size: tuple[int, int] = SIZE,
    channels: int = 3,
    bits: int = 8,
    ppi: tuple[tuple[int, int], tuple[int, int]] | None = None,
    unit: int = 2,
    profile: bytes | None = None,
    orientation: int | None = None,
    tags: Iterable[tuple] = (),
    byteorder: str = "<",
    big: bool = False,
    **options,
) -> Path:
    """A TIFF written by tifffile; ``ppi`` are two fractions (over, under), ``options`` tifffile's own."""
    values = np.asarray(drawing(size, "RGBA"))[..., [0, 1, 2, 3, 0][:channels]]
    if bits == 16:
        values = values.astype(np.uint16) * 257
    tags = list(tags)
    if orientation:
        tags.append((274, 3, 1, orientation, True))
    options.setdefault("photometric", "rgb" if channels >= 3 else "minisblack")
    tifffile.imwrite(
        path,
        values[..., 0] if channels == 1 else values,
        bigtiff=big,
        byteorder=byteorder,
        metadata=None,
        resolution=ppi,
        resolutionunit=unit if ppi else None,
        iccprofile=profile,
        extratags=tags,
        **options,
    )
    return path


def tiff_with_thumbnail(path: Path) -> Path:
    """A TIFF whose second directory is a thumbnail: tag 254 says so."""
    with tifffile.TiffWriter(path) as writer:
        writer.write(np.asarray(drawing()), photometric="rgb")
        writer.write(np.asarray(drawing((15, 10))), photometric="rgb", subfiletype=1)
    return path


def tiff_with_mask(path: Path) -> Path:
    """A TIFF whose second directory is a mask of what is transparent (tag 254 is 4)."""
    with tifffile.TiffWriter(path) as writer:
        writer.write(np.asarray(drawing()), photometric="rgb")
        writer.write(np.asarray(drawing(mode="1")), photometric="mask", subfiletype=4)
    return path


def layered_tiff(path: Path, block: bytes, **options) -> Path:
    """A TIFF with an editor's private data in tag 37724."""
    return tiff(path, tags=[(37724, 7, len(block), block, True)], **options)


def layer_block(key: bytes = b"Layr", content: bytes = b"a layer.", order: str = ">") -> bytes:
    """One block of such data: signature, key and length, each in the byte order of the file."""
    names = (b"8BIM", key) if order == ">" else (b"MIB8", key[::-1])
    return b"".join(names) + struct.pack(order + "I", len(content)) + content


def png_16(path: Path, channels: int = 3) -> Path:
    """A PNG of 16 bits a channel: 1 grey, 2 grey and alpha, 3 RGB, 4 RGBA."""
    values = np.asarray(drawing(mode="RGBA")).astype(np.uint16)[..., [0, 3, 1, 2][:channels]] * 257
    path.write_bytes(imagecodecs.png_encode(np.ascontiguousarray(values.squeeze())))
    return path


def chunk(name: bytes, data: bytes) -> bytes:
    """A chunk of a PNG (ISO 15948): length, name, data, check sum."""
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def png_with(path: Path, *chunks: bytes, late: bool = False, **options) -> Path:
    """A PNG with more chunks behind its header, or (``late``) behind its pixels."""
    picture(path, **options)
    data = path.read_bytes()
    at = len(data) - 12 if late else 8 + 25
    path.write_bytes(data[:at] + b"".join(chunks) + data[at:])
    return path


def png_header(path: Path, width: int, height: int, bits: int = 1, colours: int = 0) -> Path:
    """A PNG that says it has so many pixels and holds none worth decoding."""
    header = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, bits, colours, 0, 0, 0))
    path.write_bytes(
        b"\x89PNG\r\n\x1a\n" + header + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")
    )
    return path


def jfif(path: Path, unit: int, across: int, down: int, **options) -> Path:
    """A JPEG whose JFIF header holds these bytes (JFIF 1.02, p. 5)."""
    picture(path, **options)
    data = bytearray(path.read_bytes())
    assert data[6:11] == b"JFIF\0"
    data[13:18] = struct.pack(">BHH", unit, across, down)
    path.write_bytes(data)
    return path


def bare_jpeg(path: Path, block: bytes = b"") -> Path:
    """A JPEG without a JFIF header, as cameras write it: a block of Exif stands in its place."""
    picture(path)
    data = path.read_bytes()
    length = int.from_bytes(data[4:6], "big")
    segment = b"\xff\xe1" + struct.pack(">H", len(block) + 2) + block if block else b""
    path.write_bytes(data[:2] + segment + data[4 + length :])
    return path


def telephone_jpeg(path: Path, **options) -> Path:
    """A JPEG with a second, smaller picture embedded, as telephones write it."""
    drawing().save(path, format="MPO", save_all=True, append_images=[drawing((30, 20))], **options)
    return path
