"""A file written whole or not at all: under a name of its own first, which tells whose it is."""

import os
import platform
import re
import shutil
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from zlib import crc32

from labkit.errors import LabError

_PART = re.compile(r".+\.([0-9a-f]{8})-(\d+)(?:-old)?\.part")


def _machine() -> str:
    """This machine in eight signs, since a folder may be shared by several."""
    return f"{crc32(platform.node().encode()):08x}"


def is_part(file: Path) -> bool:
    """Whether a file is being written, or was when whatever wrote it ended."""
    return _PART.fullmatch(file.name) is not None


@contextmanager
def parts_of(*targets: Path) -> Iterator[list[Path]]:
    """A name to write each target under, in its own folder; what is left there is removed in any case.

    What processes that are gone left in those folders is removed before.
    """
    for folder in {target.parent for target in targets}:
        _clear(folder)
    mark = f"{_machine()}-{os.getpid()}"
    parts = [target.with_name(f"{target.name}.{mark}.part") for target in targets]
    try:
        yield parts
    finally:
        for part in parts:
            _remove(part)


def publish(pairs: Sequence[tuple[Path, Path]], *, replace: bool) -> None:
    """Give finished parts their names, all of them or none; never over an existing file unless ``replace``.

    LabError if a name is taken, OSError if the system refuses; each file that was there is then as it was.
    """
    old: list[tuple[Path, Path]] = []
    made: list[Path] = []
    try:
        for part, target in pairs:
            if replace and target.is_file():
                old.append((_kept_aside(target), target))
            _name(part, target, replace=replace)
            made.append(target)
    except BaseException:
        for target in made:
            _remove(target)
        for aside, target in old:
            os.replace(aside, target)
        raise
    for aside, _ in old:
        _remove(aside)


def taken(target: Path, *, titled: bool = False) -> LabError:
    """The refusal to overwrite; ``titled``: another title would give it another name."""
    title = "another title, " if titled else ""
    return LabError(
        f"{target.name} already exists in {target.parent}: nothing was overwritten. "
        f"Give {title}another folder, or ask to replace it."
    )


def _kept_aside(target: Path) -> Path:
    """The same file by a second name, so that it never lacks one; a copy where there are no such names."""
    aside = target.with_name(f"{target.name}.{_machine()}-{os.getpid()}-old.part")
    aside.unlink(missing_ok=True)
    try:
        os.link(target, aside)
    except OSError:
        shutil.copy2(target, aside)
    return aside


def _name(part: Path, target: Path, *, replace: bool) -> None:
    if replace:
        os.replace(part, target)
        return
    try:
        os.link(part, target)
    except FileExistsError:
        raise taken(target) from None
    except OSError:  # a file system without hard links
        try:
            os.close(os.open(target, os.O_CREAT | os.O_EXCL))
        except FileExistsError:
            raise taken(target) from None
        os.replace(part, target)
    else:
        os.unlink(part)


def _remove(file: Path) -> None:
    with suppress(OSError):  # a disk that no longer takes anything, which is told of elsewhere
        file.unlink()


def _clear(folder: Path) -> None:
    """Remove what processes of this machine left that are gone."""
    with suppress(OSError):
        for file in folder.glob("*.part"):
            found = _PART.fullmatch(file.name)
            if found and found[1] == _machine() and not _is_there(int(found[2])):
                _remove(file)


def _is_there(process: int) -> bool:
    import psutil

    return psutil.pid_exists(process)
