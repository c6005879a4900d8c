"""Programs and libraries that are not ours, to write and read the same files with.

A test skips where one is missing. The reason is always given from here, so that pytest's closing list
has one line for each that is missing, not one for each test.
"""

import os
import shutil
from concurrent.futures import ProcessPoolExecutor
from functools import cache
from multiprocessing import get_context
from pathlib import Path

import numpy as np
import pytest
import tifffile

ALL_NEEDED = "LABKIT_TESTS_NEED_ALL"
"""Set to 1, as where CI has installed everything: what is missing is a failure, not a skip."""
BROWSERS = ("chromium", "chromium-browser", "google-chrome")


def find_program(name: str) -> str:
    """Where a command is; the test skips where it is not installed."""
    return shutil.which(name) or _missing(f"the command {name} is not installed")


def find_browser() -> str:
    """Where a Chromium is; the test skips where there is none."""
    found = next(filter(None, map(shutil.which, BROWSERS)), None)
    return found or _missing(f"no browser here: none of {', '.join(BROWSERS)} is installed")


def _missing(reason: str):
    if os.environ.get(ALL_NEEDED) == "1":
        pytest.fail(f"{reason}, and {ALL_NEEDED} is 1")
    pytest.skip(reason)


# libvips


def vips_is_here() -> bool:
    """Whether libvips can be loaded: pyvips finds its own, or the system's."""
    return _vips_process().submit(_can_load_vips).result()


def by_vips(path: Path, *commands: str) -> np.ndarray:
    """Pixels as libvips reads them, after commands of its own such as ``autorot``."""
    made = path.with_name(f"{path.name}.vips.tif")
    _vips(_save, path, made, commands, {})
    return tifffile.imread(made)


def vips_save(path: Path, made: Path, **options) -> Path:
    """A picture saved by libvips; ``options`` are its own."""
    _vips(_save, path, made, (), options)
    return made


def vips_field(path: Path, field: str):
    """A field of the header as libvips reads it."""
    return _vips(_field, path, field)


@cache
def _vips_process() -> ProcessPoolExecutor:
    """Its HEIF library and the one the package uses cannot share a process."""
    return ProcessPoolExecutor(1, mp_context=get_context("spawn"))


def _vips(function, path: Path, *given):
    if not vips_is_here():
        _missing("libvips is not installed, nor pyvips-binary, which carries it")
    told, answer = _vips_process().submit(_told, function, path, *given).result()
    if told:
        pytest.skip("this libvips was built without a reader for such files")
    return answer


# In the process of its own

_NOT_BUILT_IN = (
    "is not a known file format",
    "has not been built in",
    "bad labq format",  # Lab of 8 bits, refused by libvips 8.18
)


def _can_load_vips() -> bool:
    try:
        import pyvips  # noqa: F401
    except (ImportError, OSError):
        return False
    return True


def _told(function, path: Path, *given):
    """Whether this libvips was built without what reads such files; otherwise what the function gives."""
    import pyvips

    try:
        return False, function(pyvips.Image.new_from_file(str(path)), *given)
    except pyvips.Error as error:
        if any(words in str(error) for words in _NOT_BUILT_IN):
            return True, None
        raise


def _save(image, made: Path, commands: tuple[str, ...], options: dict) -> None:
    for command in commands:
        image = getattr(image, command)()
    image.write_to_file(str(made), **options)


def _field(image, field: str):
    return image.get(field)
