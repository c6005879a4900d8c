"""A button that brings a file of the reader's own, however large, and shows how far it is."""

from collections.abc import Callable
from math import inf
from pathlib import Path
from tempfile import TemporaryFile
from typing import BinaryIO

import anywidget
import traitlets

from labkit.errors import LabError, system_reason

PIECE = 4 * 2**20
"""Bytes sent at once: a notebook's server drops messages of more than 10 MiB without a word."""

LIMIT = 10**9
"""Bytes of the largest file taken."""


class Upload(anywidget.AnyWidget):
    """Gathers the pieces that the script sends, and calls ``arrived`` when ``whole`` has an answer.

    Each piece is answered with the number of bytes that have ``arrived``, or None where no more are
    wanted.
    """

    _esm = Path(__file__).with_name("upload.js")
    label = traitlets.Unicode().tag(sync=True)
    accept = traitlets.Unicode().tag(sync=True)
    piece = traitlets.Int(PIECE).tag(sync=True)
    limit = traitlets.Int(LIMIT).tag(sync=True)

    def __init__(self, label: str, accept: str, arrived: Callable[[], None]):
        super().__init__(label=label, accept=accept)
        self._name, self._arrived = "", arrived
        self._gathered: BinaryIO | None = None
        self._refusal: LabError | None = None
        self.on_msg(self._piece)

    def whole(self) -> tuple[str, BinaryIO]:
        """The last file's own name, without folders, and its bytes, open at their beginning; LabError
        where it was too large, or found no room on the disk."""
        if self._refusal:
            raise self._refusal
        self._gathered.seek(0)
        return self._name, self._gathered

    def _piece(self, _, said: dict, buffers: list[memoryview]) -> None:
        self._name = Path(said["name"]).name
        self._refusal = None if said["size"] <= self.limit else self._too_large(said["size"])
        if not self._refusal and self._gather(said["start"], buffers[0]) < said["size"]:
            return self.send({"arrived": self._gathered.tell()})
        self._arrived()
        self._gathered = None
        return self.send({"arrived": None})

    def _gather(self, start: int, piece: memoryview) -> float:
        """The bytes there are now; without end where the disk takes no more."""
        try:
            if start == 0:
                self._gathered = TemporaryFile()  # noqa: SIM115 (open until the last piece)
            self._gathered.write(piece)
            return self._gathered.tell()
        except OSError as error:
            why = system_reason(error)
            self._refusal = LabError(
                f"{self._name} could not be brought ({why}): make room for it."
            )
            return inf

    def _too_large(self, size: int) -> LabError:
        return LabError(
            f"{self._name} has {size / 1e6:,.0f} MB, and {self.limit / 1e6:,.0f} MB are the most that "
            "can be brought: save a smaller copy of the picture and bring that."
        )
