"""Three ways to make one sheet: ``python -m tests.bench.makers MAKER JOB`` prints the seconds it took.

Each is asked for the same: a picture, upright and in RGB, resampled by a Lanczos window of three
where its size changes, on a white sheet, as a TIFF with LZW, horizontal differencing, resolution and
profile. What is imported is imported before the clock starts. labkit also flushes its file to the
disk; the others leave that to the system.
"""

import json
import sys
from collections.abc import Callable
from dataclasses import asdict, dataclass
from pathlib import Path
from time import perf_counter


@dataclass(frozen=True)
class Job:
    """A sheet to make: in the words of ``labkit.place`` and, for the others, in pixels.

    ``size`` is the sheet's, ``box`` the picture's left, top, width and height on it; ``depth`` are the bits a
    channel of the sheet. Of 16 it is packed by deflate.
    """

    picture: str
    out: str
    on: str
    turn: bool
    width: str | None
    size: tuple[int, int]
    box: tuple[int, int, int, int]
    ppi: int
    depth: int = 8

    def text(self) -> str:
        """As an argument of a command."""
        return json.dumps(asdict(self))


def labkit(job: Job) -> Callable[[], None]:
    """The writer alone: decode, resample, convert, encode, write."""
    import imagecodecs  # noqa: F401
    import tifffile  # noqa: F401

    from labkit.files.pixels.conversion import conversion
    from labkit.files.pixels.decode import decode
    from labkit.files.writing.strips import SheetStrips
    from labkit.files.writing.tiff import Labels, write_strips
    from labkit.geometry.raster import rasterize
    from labkit.job import words
    from labkit.room.rules import load_room

    room = load_room(None)
    picture = words.open_picture(job.picture, room=room)
    layout = words.place(picture, on=job.on, turn=job.turn, width=job.width, room=room)
    raster = rasterize(layout, picture.pixels, working_ppi=job.ppi)

    def make() -> None:
        to_rgb = conversion(picture, room.colour)
        strips = SheetStrips(decode(picture), to_rgb, layout, raster, job.depth)
        labels = Labels("Ada Brook", "Harbour", layout.sentence(), to_rgb.profile)
        packing = room.colour.packing_for(job.depth)
        write_strips(Path(job.out), strips, raster, labels, packing)

    return make


def libvips(job: Job) -> Callable[[], None]:
    """A pipeline of libvips, the file read from top to bottom."""
    import pyvips

    def make() -> None:
        turning = {"autorotate": True} if job.picture.endswith(".jpg") else {}
        image = pyvips.Image.new_from_file(job.picture, access="sequential", **turning)
        if image.interpretation == "cmyk":
            image = image.icc_transform(
                "srgb", embedded=True, intent="relative", black_point_compensation=True
            )
        elif image.format == "ushort" and job.depth == 8:
            image = image.colourspace("srgb")
        left, top, width, height = job.box
        if (image.width, image.height) != (width, height):
            image = image.resize(
                width / image.width, vscale=height / image.height, kernel="lanczos3"
            )
        image = image.embed(left, top, *job.size, extend="white")
        to_mm = job.ppi / 25.4
        image.tiffsave(
            job.out,
            compression="lzw" if job.depth == 8 else "deflate",
            predictor="horizontal",
            xres=to_mm,
            yres=to_mm,
            resunit="inch",
        )

    return make


def pillow(job: Job) -> Callable[[], None]:
    """Pillow, the whole sheet in memory."""
    from io import BytesIO

    from PIL import Image, ImageCms, ImageOps

    Image.MAX_IMAGE_PIXELS = None
    flags = ImageCms.Flags.BLACKPOINTCOMPENSATION

    def make() -> None:
        with Image.open(job.picture) as image:
            image = ImageOps.exif_transpose(image)
        profile = image.info.get("icc_profile")
        if image.mode == "CMYK":
            target = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))
            source = ImageCms.ImageCmsProfile(BytesIO(profile))
            image = ImageCms.profileToProfile(
                image, source, target, 1, "RGB", flags=flags
            )  # 1: relative colorimetric
            profile = target.tobytes()
        left, top, width, height = job.box
        if image.size != (width, height):
            image = image.resize((width, height), Image.Resampling.LANCZOS)
        sheet = Image.new("RGB", job.size, "white")
        sheet.paste(image, (left, top))
        sheet.save(
            job.out,
            compression="tiff_lzw",
            tiffinfo={317: 2},  # horizontal differencing
            dpi=(job.ppi, job.ppi),
            icc_profile=profile,
        )

    return make


MAKERS = {each.__name__: each for each in (labkit, libvips, pillow)}


def makers_of(depth: int) -> list[str]:
    """Those that make a sheet of so many bits a channel: Pillow has no RGB of 16."""
    return [name for name in MAKERS if depth == 8 or name != "pillow"]


def main(maker: str, text: str) -> None:
    """Make the sheet, and print how long that took."""
    job = Job(**json.loads(text))
    make = MAKERS[maker](job)
    Path(job.out).unlink(missing_ok=True)
    start = perf_counter()
    make()
    print(perf_counter() - start)


if __name__ == "__main__":
    main(*sys.argv[1:])
