"""A print room's own rules: one TOML file that an instructor edits, read into one value."""

from functools import cache
from pathlib import Path

from labkit.errors import LabError, system_reason
from labkit.geometry.box import Edges
from labkit.geometry.resolution import FloorRow
from labkit.room import earlier
from labkit.room import schema as toml
from labkit.room import values as check
from labkit.room.printers import PATHS, Feed, Measured, Printer, Setting
from labkit.room.room import AS_THE_PICTURE, Colour, Cutter, Handling, Limits, Room, Tolerance
from labkit.room.schema import Mistake
from labkit.room.stock import KeptSheet, Paper, Roll
from labkit.room.together import go_together

SHIPPED = Path(__file__).with_name("room.toml")
"""The rules of the invented room that comes with the package."""


def load_room(path: str | Path | None = None) -> Room:
    """The rules in the room file at ``path``, or of the room that comes with the package.

    LabError for a file with mistakes: the first of them, its line, and how to see them all.
    """
    return _read(Path(path)) if path else _of_the_package()


@cache
def _of_the_package() -> Room:
    return _read(SHIPPED)


def _read(path: Path) -> Room:
    room, mistakes = toml.read_file(path, _ROOM, _shipped())
    if not mistakes:
        return room
    first = mistakes[0]
    if not first.line:
        raise LabError(first.sentence)
    raise LabError(f"{path.name}, {first} `labkit room check {path}` lists every mistake in it.")


def check_room(path: str | Path) -> list[Mistake]:
    """Every mistake in the room file at ``path``, by line; an empty list for a sound one."""
    return toml.read_file(Path(path), _ROOM, _shipped())[1]


def new_room(path: str | Path) -> Path:
    """Write a room file to start from, with all its notes, and give its path.

    LabError where there is a file of that name already, or the folder cannot be written to.
    """
    path = Path(path)
    try:
        with path.open("xb") as file:
            file.write(SHIPPED.read_bytes())
    except FileExistsError:
        raise LabError(
            f"{path} is there already and is left as it is: give another name, or move it away first."
        ) from None
    except FileNotFoundError:
        raise LabError(
            f"there is no folder {path.parent} to put {path.name} in: make it first."
        ) from None
    except OSError as error:
        raise LabError(
            f"{path} cannot be written ({system_reason(error)}): choose a folder of your own."
        ) from None
    return path


def _shipped() -> str:
    return SHIPPED.read_text(encoding="utf-8", errors="replace")


# What a room file holds


def _paper(sheets, rolls, turn, **values) -> Paper:
    return Paper(sheets=sheets or (), rolls=rolls or (), turn=turn is not False, **values)


def _kept(size, **values) -> KeptSheet:
    return KeptSheet(sheet=size, **values)


def _colour(packing_shared, **values) -> Colour:
    return Colour(packing_shared=packing_shared or "Deflate", **values)


def _setting(default, **values) -> Setting:
    return Setting(default=bool(default), **values)


def _feed(cuts, **values) -> Feed:
    return Feed(cuts=bool(cuts), **values)


_FEED = toml.table(
    _feed,
    optional=("cuts",),
    earlier=earlier.FEED,
    unprintable=toml.table(
        Edges, left=check.edge, top=check.edge, right=check.edge, bottom=check.edge
    ),
    widest=check.size,
    longest=check.size,
    cuts=toml.yes_no,
)
_SHEET = toml.table(
    _kept, optional=("price", "left"), size=check.sheet, price=check.price, left=check.count
)
_ROLL = toml.table(
    Roll,
    optional=("price_per_metre", "left"),
    width=check.size,
    length=check.size,
    price_per_metre=check.price,
    left=check.edge,
)
_PAPER = toml.table(
    _paper,
    optional=("turn", "sheets", "rolls"),
    earlier=earlier.PAPER,
    name=toml.text,
    surface=toml.text,
    weight_gsm=toml.whole,
    thickness=check.size,
    coated_side=toml.text,
    suits=toml.text,
    turn=toml.yes_no,
    sheets=toml.many(_SHEET),
    rolls=toml.many(_ROLL),
)
_PRINTER = toml.table(
    Printer,
    optional=tuple(PATHS),
    earlier=earlier.PRINTER,
    name=toml.text,
    **dict.fromkeys(PATHS, _FEED),
)
_MEASURED = toml.table(
    Measured,
    date=toml.day,
    across=check.scale,
    along=check.scale,
    spread=check.share,
    offset_across=check.shift,
    offset_along=check.shift,
)
_SETTING = toml.table(
    _setting,
    optional=("default", "leader", "tail", "measured"),
    printer=toml.text,
    paper=toml.text,
    path=toml.choice(*PATHS),
    default=toml.yes_no,
    media=toml.text,
    colour_by=toml.choice("program", "printer"),
    profile=check.profile(),
    minutes_per_square_metre=check.number("minutes", 0, 1000, above=True, like="12"),
    minutes_to_load=check.number("minutes", 0, 1000, like="0.5"),
    drying_hours=check.number("hours", 0, 1000, like="24"),
    leader=check.edge,
    tail=check.edge,
    measured=_MEASURED,
)
_ROOM = toml.table(
    Room,
    earlier=earlier.ROOM,
    together=go_together,
    name=toml.text,
    units=toml.choice("in", "mm"),
    currency=toml.text,
    working_ppi=toml.whole,
    border=check.edge,
    bleed=check.edge,
    name_pattern=check.name_pattern,
    floor=toml.many(
        toml.table(
            FloorRow, optional=("up_to",), up_to=check.size, ppi=toml.whole, distance=check.size
        )
    ),
    papers=toml.many(_PAPER),
    printers=toml.many(_PRINTER),
    settings=toml.many(_SETTING),
    cutter=toml.table(
        Cutter,
        longest_cut=check.size,
        least_strip=check.edge,
        least_piece=check.edge,
        stack=check.size,
        tolerance=check.size,
    ),
    handling=toml.table(
        Handling,
        help_above_kg=check.number("kg", 0, 100, above=True, like="9"),
        core_diameter=check.size,
        core_kg_per_metre=check.number("kg", 0, 100, like="0.5"),
        same_day_hours=check.number("hours", 0, 24, like="6"),
    ),
    colour=toml.table(
        _colour,
        optional=("packing_shared",),
        space=toml.choice("sRGB"),
        own_rgb=toml.choice("keep", "convert"),
        depth=toml.choice(8, 16, AS_THE_PICTURE),
        packing_16=toml.choice("Deflate", "LZW"),
        packing_shared=toml.choice("Deflate", "LZW"),
        intent=toml.choice("perceptual", "relative", "saturation", "absolute"),
        untagged_cmyk=check.profile("CMYK"),
        untagged_grey=toml.choice("sRGB"),
    ),
    tolerance=toml.table(
        Tolerance,
        place=check.size,
        size=check.size,
        floor=check.share,
    ),
    limits=toml.table(Limits, seconds=toml.whole, memory_mb=toml.whole, pixels=toml.whole),
)
