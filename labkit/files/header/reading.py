"""A picture file opened, and its facts read from its header without decoding a pixel."""

import warnings
from dataclasses import fields
from fractions import Fraction
from os.path import exists, isdir, isfile
from pathlib import Path
from typing import BinaryIO

from labkit.errors import LabError
from labkit.files.header.facts import Facts
from labkit.files.header.kind import kind_of
from labkit.files.header.picture import Picture
from labkit.files.header.profile import sound_profile
from labkit.files.header.readers import READERS
from labkit.geometry.length import decimal


def read_picture(
    path: str | Path, *, max_pixels: int | None = None, page: int | None = None
) -> Picture:
    """Read the facts of a picture file; the file is opened for reading only, and closed again.

    ``max_pixels`` refuses a picture with more pixels than that; ``page`` asks for one of several, counted
    from 1. LabError, always in one sentence, for a file that is missing, a folder, empty, unreadable, not
    a picture, damaged, or too large, and for a page that is not there. A stranger's file is read in a
    guarded child: see :func:`labkit.files.child.opening.open_picture`.
    """
    path = Path(path)
    with _opened(path) as file:
        try:
            picture = _read(path, file, page)
            if max_pixels is not None:
                _refuse_more_pixels(picture.pixels, max_pixels)
        except LabError as error:
            raise LabError(error.rest, error.code, about=path.name) from None
    return picture


def _opened(path: Path) -> BinaryIO:
    if isdir(path):
        raise LabError(f"“{path}” is a folder: give the name of one picture in it.")
    if exists(path) and not isfile(path):
        raise LabError(f"“{path}” is a device and not a file: give the name of a picture.")
    try:
        return path.open("rb")
    except PermissionError:
        raise LabError(
            f"you are not allowed to read “{path}”: ask whoever owns it, or copy it to your own folder."
        ) from None
    except (OSError, ValueError):
        raise LabError(
            f"there is no file “{path}”: look at the spelling, the ending and the folder."
        ) from None


def _read(path: Path, file: BinaryIO, page: int | None) -> Picture:
    """The picture as shown, from what its header says of it as stored."""
    kind = kind_of(file)
    try:
        with warnings.catch_warnings(action="ignore"):
            header = READERS[kind](file, page=max(1, page or 1))
        if not all(isinstance(side, int) and side > 0 for side in header.size):
            raise ValueError("no size")
        profile, name, fault = sound_profile(header.icc)
    except LabError:
        raise
    except Exception as error:  # readers raise whatever they like on a damaged file
        raise LabError(
            f"begins like a {kind} file, but its header is damaged, cut short or of a rare kind: "
            "copy it again from where it came from, or export it anew as TIFF.",
            "damaged",
        ) from error

    if page is not None and page not in range(1, header.pages + 1):
        has = "one page" if header.pages == 1 else f"{header.pages} pages"
        raise LabError(f"has {has}, and no page {page}: choose one that is there.")
    stated = {fact: getattr(header, fact) for fact in _FACTS}
    if header.orientation >= 5:
        stated |= {fact: stated[fact] and stated[fact][::-1] for fact in ("ppi", "other_ppi")}
    return Picture(
        path,
        kind,
        header.size[::-1] if header.orientation >= 5 else header.size,
        profile=profile,
        profile_name=name,
        profile_fault=fault,
        page=page or 0,
        **stated,
    )


_FACTS = [field.name for field in fields(Facts)]


def _refuse_more_pixels(size: tuple[int, int], most: int) -> None:
    count = size[0] * size[1]
    if count > most:
        has, limit = (decimal(Fraction(pixels, 10**6), 3) for pixels in (count, most))
        raise LabError(
            f"has {has} megapixels ({size[0]} × {size[1]}), more than the {limit} megapixels "
            "allowed: make it smaller, or have the limit raised.",
            "too-large",
        )
