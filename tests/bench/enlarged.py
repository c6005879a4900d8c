"""How many of scikit-image's pictures, enlarged, are found out, and how many others are called enlarged
or soft."""

import argparse
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from io import BytesIO
from statistics import median
from time import perf_counter

import numpy as np
import skimage.data
from PIL import Image, ImageFilter

from labkit.files.look.enlarged import Enlarged, find_enlarged
from labkit.files.look.softness import find_soft
from labkit.files.look.tiles import detailed_tiles
from labkit.files.pixels.decode import Pixels
from labkit.geometry.pixelbox import PixelBox
from tests.bench.measured import table, verdict

NAMES = [
    "brick",
    "cell",
    "chelsea",
    "clock",
    "coffee",
    "coins",
    "colorwheel",
    "grass",
    "gravel",
    "horse",
    "hubble_deep_field",
    "immunohistochemistry",
    "logo",
    "page",
    "retina",
    "rocket",
    "shepp_logan_phantom",
    "text",
]
"""All that come with the package and are no less than 147 pixels high, without the moon, of which every
pixel is doubled, and without the chessboard, which every whole enlargement leaves a chessboard."""
LARGEST = 1000
"""Pictures are cut to this many pixels each way, so that it all takes a few minutes."""
FILTERS = ("nearest", "bilinear", "bicubic", "lanczos")
FACTORS = (1.5, 2, 3, 4)
QUALITIES = (None, 95, 85)
NEAR = 0.03
"""How far off a factor may be that counts as right: of itself."""
MOST_FALSE, LEAST_FOUND, MOST_S = 0.02, 0.9, 0.1
LARGE, TURNS = (5472, 3648), 9
"""The 20 megapixels that are timed, and how often."""


def add_options(parser: argparse.ArgumentParser) -> None:
    """How many processes."""
    parser.add_argument("--processes", type=int, default=2, help="that share the work (2)")


def measure(asked: argparse.Namespace) -> None:
    """Measure and print the tables.

    The first half is every other picture in the order of the alphabet. The limits ``STANDS_OUT``,
    ``LACKS`` and ``WIDE`` in ``files/look/enlarged.py`` are among those that called none of it
    enlarged in error and found most of it. All else was chosen with every picture in
    sight: the second half had no say in those limits, but is no fresh sample.
    """
    halves = NAMES[::2], NAMES[1::2]
    with ProcessPoolExecutor(asked.processes) as pool:
        counted = [sum(pool.map(_count, half), Counter()) for half in halves]
    print(f"Limits set on: {', '.join(halves[0])}\nnot on: {', '.join(halves[1])}")
    _print_found(counted)
    _print_false(counted)
    _print_soft(sum(counted, Counter()))
    _print_time()


def _print_found(counted: list[Counter]) -> None:
    heads = [f"{_saved(quality)}, {half}" for half in ("set on", "others") for quality in QUALITIES]
    rows = []
    for factor in FACTORS:
        for filter_ in FILTERS:
            kinds = [("enlarged", factor, filter_, quality) for quality in QUALITIES]
            cells = [_share(each, kind) for each in counted for kind in kinds]
            rows.append((f"{factor} times, {filter_}", *cells))
    print(f"\nFound, of so many (with the right factor)\n{table(('', *heads), rows)}")
    for half, each in zip(("set on", "others"), counted, strict=True):
        kinds = [("enlarged", n, f, None) for n in FACTORS if n >= 2 for f in FILTERS]
        found = sum(each[*kind, "found"] for kind in kinds) / sum(each[*kind] for kind in kinds)
        reached = verdict(found >= LEAST_FOUND)
        print(
            f"{half}, 2 times and above, not saved as JPEG: {found:.1%} ({LEAST_FOUND:.0%} {reached})"
        )


def _print_false(counted: list[Counter]) -> None:
    kinds = dict.fromkeys(kind for each in counted for kind in each if len(kind) == 2)
    kinds = [kind for kind in kinds if kind[0] == "other"]
    rows = [
        (kind[1], *(f"{each[*kind, 'found']}/{each[kind]}" for each in counted)) for kind in kinds
    ]
    print(f"\nCalled enlarged, and are not\n{table(('', 'set on', 'others'), rows)}")
    for half, each in zip(("set on", "others"), counted, strict=True):
        false = sum(each[*kind, "found"] for kind in kinds) / sum(each[kind] for kind in kinds)
        print(f"{half}: {false:.1%} (at most {MOST_FALSE:.0%} {verdict(false <= MOST_FALSE)})")


def _print_soft(counted: Counter) -> None:
    """Of all pictures, for the limit of ``files/look/softness.py`` was set on none of either half alone."""
    rows = []
    for factor in FACTORS:
        cells = []
        for quality in QUALITIES:
            kinds = [("enlarged", factor, filter_, quality) for filter_ in FILTERS]
            told, of = (sum(counted[*kind, *more] for kind in kinds) for more in (("told",), ()))
            cells.append(f"{told}/{of} ({told / of:.0%})")
        rows.append((f"{factor} times", *cells))
    heads = ("", *map(_saved, QUALITIES))
    print(f"\nCalled enlarged or soft, by any filter\n{table(heads, rows)}")
    others = [kind for kind in counted if len(kind) == 2 and kind[0] == "other"]
    sharp = [kind for kind in others if not kind[1].startswith("soft")]
    soft, of = (sum(counted[*kind, *more] for kind in sharp) for more in (("soft",), ()))
    print(f"Called soft, and were not made so: {soft} of {of} ({soft / of:.1%})")


def _print_time() -> None:
    pixels = Pixels(np.asarray(picture("gravel").resize(LARGE)), 1)
    times = []
    for _ in range(TURNS):
        start = perf_counter()
        find_enlarged(detailed_tiles(pixels, PixelBox(0, 0, *LARGE)))
        times.append(perf_counter() - start)
    middle = median(times)
    reached = verdict(middle <= MOST_S)
    print(
        f"\n{LARGE[0]} × {LARGE[1]} pixels: {middle * 1000:.0f} ms ({MOST_S * 1000:.0f} ms {reached})"
    )


def _saved(quality: int | None) -> str:
    return f"JPEG {quality}" if quality else "raw"


def _share(counted: Counter, kind: tuple) -> str:
    return f"{counted[*kind, 'found']}/{counted[kind]} ({counted[*kind, 'right']})"


def _count(name: str) -> Counter:
    """What is found in one picture: for each kind how many there were, were found, were right."""
    counted, image = Counter(), picture(name)
    for kind, made, factor in (*_enlarged(image), *_others(image)):
        found = find(made)
        is_soft = not found and find_soft(tiles_of(made)) > 0
        counted[kind] += 1
        counted[*kind, "told"] += is_soft or found is not None
        counted[*kind, "soft"] += is_soft
        counted[*kind, "found"] += found is not None
        counted[*kind, "right"] += bool(found and factor and abs(found.factor / factor - 1) < NEAR)
    return counted


def picture(name: str) -> Image.Image:
    """One of scikit-image's pictures in RGB, its middle where it is large."""
    values = getattr(skimage.data, name)()
    if values.dtype != np.uint8:  # from 0 to 1, or false and true
        values = (np.clip(values, 0, 1) * 255).astype(np.uint8)
    image = Image.fromarray(values).convert("RGB")
    left, top = (max(0, side - LARGEST) // 2 for side in image.size)
    return image.crop((left, top, image.width - left, image.height - top))


def find(image: Image.Image) -> Enlarged | None:
    """What the detector tells of a whole picture."""
    return find_enlarged(tiles_of(image))


def tiles_of(image: Image.Image) -> list[np.ndarray]:
    """The tiles of a whole picture that are measured."""
    return detailed_tiles(Pixels(np.asarray(image), 1), PixelBox(0, 0, *image.size))


def _enlarged(image: Image.Image) -> Iterator[tuple[tuple, Image.Image, float]]:
    for factor in FACTORS:
        for filter_ in FILTERS:
            made = scaled(image, factor, Image.Resampling[filter_.upper()])
            for quality in QUALITIES:
                saved = as_jpeg(made, quality) if quality else made
                yield ("enlarged", factor, filter_, quality), saved, factor


def _others(image: Image.Image) -> Iterator[tuple[tuple, Image.Image, None]]:
    changes = {
        "as it is": lambda it: it,
        **{f"JPEG {quality}": partial(as_jpeg, quality=quality) for quality in (95, 85, 60)},
        "half as large": partial(scaled, factor=0.5),
        "0.75 as large": partial(scaled, factor=0.75),
        "0.75, pixels left out": partial(scaled, factor=0.75, filter_=Image.Resampling.NEAREST),
        "cropped at odd places": _cropped,
        "JPEG 85, cropped": lambda it: _cropped(as_jpeg(it, 85)),
        "JPEG 60, cropped, JPEG 85": lambda it: as_jpeg(_cropped(as_jpeg(it, 60)), 85),
        "JPEG 85, half": lambda it: scaled(as_jpeg(it, 85), 0.5),
        "JPEG 60, half": lambda it: scaled(as_jpeg(it, 60), 0.5),
        "JPEG 85, 0.75": lambda it: scaled(as_jpeg(it, 85), 0.75),
        "JPEG 60, 0.75": lambda it: scaled(as_jpeg(it, 60), 0.75),
        "soft (radius 1)": _soft,
        "soft (radius 2)": partial(_soft, radius=2),
        "soft (radius 1), JPEG 85": lambda it: as_jpeg(_soft(it), 85),
        "soft (radius 2), JPEG 60": lambda it: as_jpeg(_soft(it, 2), 60),
        "sharpened": lambda it: it.filter(ImageFilter.UnsharpMask(2, 150, 0)),
        "turned by 3 degrees": lambda it: it.rotate(3, Image.Resampling.BICUBIC).crop(
            (40, 40, it.width - 40, it.height - 40)
        ),
        "with noise": _noisy,
        "one colour a pixel, filled in": _filled_in,
        "the same, JPEG 95": lambda it: as_jpeg(_filled_in(it), 95),
    }
    for told, change in changes.items():
        yield ("other", told), change(image), None
    for told, made in _drawn(image.size):
        yield ("other", told), made, None


def as_jpeg(image: Image.Image, quality: int) -> Image.Image:
    """Saved as a JPEG and opened again."""
    held = BytesIO()
    image.save(held, "JPEG", quality=quality)
    return Image.open(held).convert("RGB")


def scaled(
    image: Image.Image, factor: float, filter_: Image.Resampling = Image.Resampling.LANCZOS
) -> Image.Image:
    """So many times as large, to the nearest pixel."""
    return image.resize(tuple(round(side * factor) for side in image.size), filter_)


def _cropped(image: Image.Image) -> Image.Image:
    return image.crop((3, 5, image.width, image.height))


def _soft(image: Image.Image, radius: float = 1) -> Image.Image:
    return image.filter(ImageFilter.GaussianBlur(radius))


def _noisy(image: Image.Image, deviation: float = 5) -> Image.Image:
    values = np.asarray(image)
    noise = np.random.default_rng(1).normal(0, deviation, values.shape)
    return Image.fromarray(np.clip(values + noise, 0, 255).astype(np.uint8))


def _filled_in(image: Image.Image) -> Image.Image:
    """As a camera has it: each pixel sees one colour (red and green, green and blue), and what is missing
    is the mean of its neighbours."""
    values = np.asarray(image).astype(float)
    seen = np.zeros_like(values)
    seen[0::2, 0::2, 0] = seen[0::2, 1::2, 1] = seen[1::2, 0::2, 1] = seen[1::2, 1::2, 2] = 1
    filled = _about(values * seen) / _about(seen)
    return Image.fromarray(np.clip(filled + 0.5, 0, 255).astype(np.uint8))


def _about(values: np.ndarray) -> np.ndarray:
    """The sum of each pixel and its neighbours, weighted 1, 2, 1 each way."""
    wide = np.pad(values, ((1, 1), (1, 1), (0, 0)), mode="reflect")
    down = wide[:-2] + 2 * wide[1:-1] + wide[2:]
    return down[:, :-2] + 2 * down[:, 1:-1] + down[:, 2:]


def _drawn(size: tuple[int, int]) -> Iterator[tuple[str, Image.Image]]:
    """Pictures that no photograph is in, of the same size as one."""
    yield "white", Image.new("RGB", size, "white")
    across, down = np.meshgrid(np.arange(size[0]), np.arange(size[1]))
    numbers = np.random.default_rng(size[0])
    yield "noise alone", Image.fromarray(numbers.integers(0, 256, (*size[::-1], 3), np.uint8))
    yield "slopes of colour", _grey(across // 3 % 256, down // 3 % 256)
    yield "graph paper", _grey(np.where((across % 10 == 0) | (down % 10 == 0), 60, 250))
    yield "squares of 6 pixels", _grey((across // 6 + down // 6) % 2 * 200 + 20)


def _grey(*channels: np.ndarray) -> Image.Image:
    first, last = channels[0], channels[-1]
    return Image.fromarray(np.dstack([first, last, last]).astype(np.uint8))
