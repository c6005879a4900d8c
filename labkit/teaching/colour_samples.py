"""Pictures under several profiles, on two papers and in five steps, made once for a lesson's apps.

The child functions decode a stranger's file; what they make goes into a file, and no pixels come back.
"""

import json
from base64 import b64encode
from io import BytesIO
from pathlib import Path

import numpy as np
from PIL import Image

from labkit.files.header.picture import Picture
from labkit.files.pixels.conversion import conversion, srgb_profile
from labkit.files.pixels.decode import decode
from labkit.files.pixels.difference import delta_e
from labkit.files.pixels.paperprofile import PaperProfile
from labkit.files.pixels.proof import Proof, proof
from labkit.files.pixels.tone import tone
from labkit.files.pixels.transform import lab_of, transform
from labkit.files.writing.strips import preview
from labkit.room.rules import Room
from labkit.teaching.papers import PAPERS, STEPS, paper
from labkit.teaching.profiles.wide import wide_profile

TILE, STEP_TILE = 480, 240
"""The longest side of a tile, in pixels, of a whole picture and of a step of the test strip."""
READINGS = ("file", "as wide", "as matt", "translated", "wide, label lost", "matt, label lost")
"""One picture under several profiles: the tiles of :func:`keep_readings`, from left to right."""
PROOFS = (
    "file",
    *(
        f"{name}, {look}"
        for name in PAPERS
        for look in (
            "relative", "perceptual", "relative, own white", "perceptual, own white", "lost",
        )
    ),
)  # fmt: skip
"""One picture on two papers: the tiles of :func:`keep_proofs`."""
STRIPS = ("screen", *(f"{name}, {step}" for name in PAPERS for step in STEPS))
"""The middle of a picture in five steps on two papers: the tiles of :func:`keep_strips`."""
_HATCH = 8
"""Pixels from one line of the hatching to the next."""


def keep_readings(picture: Picture, room: Room, kept: Path) -> None:
    """In a guarded child: keep, as JSON, the strip of :data:`READINGS` and what one colour becomes.

    ``spot`` is the numbers of the picture's most colourful place, ``translated`` what they are in the wide
    space; ``lab`` what colour they are by the profile of the file, the wide one and the matt paper's;
    ``changed`` how far that colour is off in each tile, in CIEDE2000.
    """
    rgb, source = _small(picture, room, TILE)
    wide, matt, screen = wide_profile(), paper("matt").data, srgb_profile()
    spot = _most_colourful(rgb, source)
    translated = transform(rgb, source, wide, dtype="u1")
    sent = transform(rgb, source, matt, black_point=True, dtype="u1")
    seen = {
        "file": (rgb, source),
        "as wide": (rgb, wide),
        "as matt": (rgb, matt),
        "translated": (translated, wide),
        "wide, label lost": (translated, screen),
        "matt, label lost": (sent, screen),
    }
    tiles = [transform(values, by, screen, dtype="u1") for values, by in seen.values()]
    lab = {name: lab_of(values[spot][None, None], by)[0, 0] for name, (values, by) in seen.items()}
    told = {
        "spot": rgb[spot].tolist(),
        "translated": translated[spot].tolist(),
        "sent": sent[spot].tolist(),
        "lab": {name: each.tolist() for name, each in lab.items()},
        "changed": {name: float(delta_e(lab["file"], each)) for name, each in lab.items()},
    }
    _keep(kept, tiles, told)


def keep_proofs(picture: Picture, room: Room, kept: Path) -> None:
    """In a guarded child: keep, as JSON, the strip of :data:`PROOFS` and what each paper does to it.

    By the paper's name: the shares ``lost`` and ``dark``, and ``moved``, the mean CIEDE2000 by intent.
    """
    rgb, source = _small(picture, room, TILE)
    tiles, papers = [], {}
    for name in PAPERS:
        found = paper(name)
        plain, white = (_proofs(rgb, source, found, own) for own in (False, True))
        relative, perceptual = plain
        tiles += [each.printed for each in (*plain, *white)]
        tiles.append(hatched(relative.original, relative.lost))
        papers[name] = {
            "lost": relative.share,
            "dark": relative.share_too_dark,
            "moved": {each.intent: float(each.moved.mean()) for each in (relative, perceptual)},
        }
    tiles.insert(0, relative.original)
    _keep(kept, tiles, {"papers": papers})


def keep_strips(picture: Picture, room: Room, kept: Path) -> None:
    """In a guarded child: keep, as JSON, the strip of :data:`STRIPS`: the middle of the picture in 4 : 3."""
    rgb, source = _small(picture, room, 2 * STEP_TILE)
    rgb = _middle(rgb, (STEP_TILE, STEP_TILE * 3 // 4))
    tiles = [transform(rgb, source, srgb_profile(), dtype="u1")]
    for name in PAPERS:
        found = paper(name)
        for step in STEPS:
            tiles.append(proof(tone(step, profile=source)(rgb), source, found).printed)
    _keep(kept, tiles, {})


def hatched(picture: np.ndarray, where: np.ndarray) -> np.ndarray:
    """A picture (rows, columns, 3; uint8) hatched where it says so (rows, columns; bool).

    The lines are black beside white, so that they are seen on every colour.
    """
    rows, columns = np.indices(where.shape)
    line = (rows + columns) % _HATCH
    made = picture.copy()
    made[where & (line < 2)] = 0
    made[where & (line >= 2) & (line < 4)] = 255
    return made


def _proofs(rgb, source: bytes, found: PaperProfile, own_white: bool) -> list[Proof]:
    return [
        proof(rgb, source, found, intent=intent, paper_white=own_white)
        for intent in ("relative", "perceptual")
    ]


def _small(picture: Picture, room: Room, longest: int) -> tuple[np.ndarray, bytes]:
    """The picture, small, as RGB of uint8, and the profile it is in."""
    to_rgb = conversion(picture, room.colour)
    return np.asarray(preview(decode(picture), to_rgb, longest)), to_rgb.profile


def _middle(rgb: np.ndarray, size: tuple[int, int]) -> np.ndarray:
    """So many pixels from the middle; a smaller picture is enlarged to them."""
    wide, high = size
    if rgb.shape[1] < wide or rgb.shape[0] < high:
        times = max(wide / rgb.shape[1], high / rgb.shape[0])
        larger = [
            max(least, round(side * times))
            for least, side in zip(size, rgb.shape[1::-1], strict=True)
        ]
        rgb = np.asarray(Image.fromarray(rgb).resize(larger, Image.Resampling.LANCZOS))
    left, top = (rgb.shape[1] - wide) // 2, (rgb.shape[0] - high) // 2
    return rgb[top : top + high, left : left + wide]


def _most_colourful(rgb: np.ndarray, source: bytes) -> tuple[int, int]:
    """The row and column of the strongest colour."""
    lab = lab_of(rgb, source)
    chroma = np.hypot(lab[..., 1], lab[..., 2])
    row, column = np.unravel_index(np.argmax(chroma), chroma.shape)
    return int(row), int(column)


def _keep(kept: Path, tiles: list[np.ndarray], told: dict) -> None:
    made = BytesIO()
    Image.fromarray(np.hstack(tiles)).save(made, "JPEG", quality=88)
    strip = f"data:image/jpeg;base64,{b64encode(made.getvalue()).decode()}"
    shape = tiles[0].shape[1::-1]
    kept.write_text(json.dumps({"strip": strip, "shape": shape, **told}), encoding="utf-8")
