"""A folder of hand-ins as a day brings them: good ones of which all is known, and others with faults."""

import random
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from pathlib import Path

import numpy as np
from PIL import Image

from labkit.geometry.length import length
from labkit.room.rules import Room, load_room
from labkit.teaching.faults.cases import good_hand_in
from labkit.teaching.faults.made import write
from labkit.teaching.pictures import demo_pictures
from tests.files.sheets import keeping

_PIXELS = 900, 700
_KEPT = "sheets = [\n"
_SMALL = (
    '  {{ size = "A6", price = {a6} }},\n  {{ size = "4x6in", price = {four}, left = {left} }},\n'
)


def room_file(folder: Path) -> Path:
    """The shipped room, whose first two papers are kept in two small sheets besides: 80 and 50 pence."""
    shipped = files("labkit.room") / "room.toml"
    before, cotton, pearl, rest = shipped.read_text(encoding="utf-8").split(_KEPT, 3)
    made = _KEPT.join(
        (
            before,
            _SMALL.format(a6="0.80", four="0.90", left=12) + cotton,
            _SMALL.format(a6="0.50", four="0.60", left=500) + pearl,
            rest,
        )
    )
    file = folder / "room.toml"
    file.write_text(made, encoding="utf-8")
    return file


@cache
def small_room(file: Path) -> Room:
    """That room, read, with narrower borders to fit small sheets."""
    return replace(load_room(file), border=length("1/4in"))


def picture(file: Path, number: int) -> Path:
    """A picture that is like no other of these: large patches of colour, and grain."""
    chance = np.random.default_rng(number)
    patches = Image.fromarray(chance.integers(30, 180, (5, 5, 3), np.uint8)).resize(_PIXELS)
    grain = chance.integers(0, 50, (*_PIXELS[::-1], 3), np.uint8)
    Image.fromarray(np.asarray(patches) + grain).save(file, compress_level=0)
    return file


@dataclass(frozen=True)
class Wanted:
    """A good hand-in on a ``sheet``, or with ``at`` "roll" on 19.5 × 6 in, which is longer than any.

    ``row`` is its row of a jobs.csv, without its file; "" for none.
    """

    owner: str
    sheet: str
    folder: str = ""
    row: str = ""
    at: str = "centre"


def hand_in(wanted: Wanted, number: int, pictures: Path, root: Path, room: Room) -> Path:
    """Make one of them: a fine file, by its own picture."""
    shown = [
        (replace(demo_pictures()[0], file=picture(pictures / f"{number}.png", number)), _PIXELS)
    ]
    only = room if wanted.at == "roll" else keeping(room, wanted.sheet)
    made = good_hand_in(random.Random(number), wanted.at, shown, only)
    folder = root / wanted.folder
    folder.mkdir(parents=True, exist_ok=True)
    return write(replace(made, owner=wanted.owner, title=f"Study {number}"), folder)


def folder_of(wanted: Sequence[Wanted], root: Path, pictures: Path, room: Room) -> list[Path]:
    """All of them, and the jobs.csv that says more of some."""
    made = [hand_in(each, n, pictures, root, room) for n, each in enumerate(wanted)]
    rows = [
        f"{file.relative_to(root).as_posix()},{each.row}"
        for each, file in zip(wanted, made, strict=True)
        if each.row
    ]
    if rows:
        (root / "jobs.csv").write_text(
            "\n".join(["file,paper,copies,course,due", *rows, ""]), encoding="utf-8"
        )
    return made
