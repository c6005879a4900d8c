"""The hand-ins that lie in what was named: files as they are, folders with all that is in them."""

import os
from collections.abc import Iterator, Sequence
from pathlib import Path

from labkit.errors import LabError, system_reason
from labkit.files.writing.part import is_part

_OURS = b'<meta name="generator" content="labkit'
"""Stands near the top of tickets and reports, which lie beside print files and are no hand-ins."""
_PASSED_OVER = (".", "__MACOSX", "~$")
_ABSENT = ".icloud"
"""Stands for a hand-in that is kept elsewhere, and is hidden (from memory)."""
_SYSTEM = ("thumbs.db", "desktop.ini", ".xmp")
"""How names begin and end of what systems and programs leave in a folder without being asked."""


def hand_ins(paths: Sequence[Path], outputs: Sequence[Path]) -> Iterator[Path]:
    """Files as they were named, and what lies in folders, each once, in the order of their names.

    Hidden files, what systems and editors leave behind, our own tickets and reports, parts of files not
    yet written, and what this run writes are passed over in a folder.
    """
    seen = {os.path.realpath(output) for output in outputs}
    for path in paths:
        if not path.exists():
            raise LabError(f"there is no file or folder {path}: look at the spelling.")
        real = Path(os.path.realpath(path))
        inside = _in_folder(path, real, {real}) if path.is_dir() else [path]
        for file in inside:
            if (known := os.path.realpath(file)) not in seen:
                seen.add(known)
                yield file


def _in_folder(folder: Path, asked: Path, walked: set[Path]) -> Iterator[Path]:
    """What lies in a folder, and in those inside it, each gone through once: ``walked`` are those that were,
    and ``asked`` is the one that was named."""
    try:
        entries = sorted(os.scandir(folder), key=lambda entry: entry.name.casefold())
    except OSError as error:
        raise LabError(
            f"the folder {folder} cannot be read ({system_reason(error)}): ask its owner."
        ) from None
    for entry in entries:
        is_absent = entry.name.endswith(_ABSENT)
        if (
            entry.name.startswith(_PASSED_OVER) and not is_absent
        ) or entry.name.casefold().endswith(_SYSTEM):
            continue
        path = Path(entry.path)
        if os.path.isdir(path):
            real = Path(os.path.realpath(path))
            if real not in walked and real not in asked.parents:  # where a link may lead back to
                walked.add(real)
                yield from _in_folder(path, asked, walked)
        elif not is_our_page(path) and not is_part(path):
            yield path


def is_our_page(file: Path) -> bool:
    """Whether it is a ticket or a report that this program wrote."""
    if file.suffix.lower() != ".html":
        return False
    try:
        with file.open("rb") as opened:
            return _OURS in opened.read(1024)
    except OSError:
        return False
