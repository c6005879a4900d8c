"""A picture that is no finished print of its kind yet: how it becomes one, in the room's form."""

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from labkit.files.header.picture import Picture
from labkit.files.pixels import deep
from labkit.files.pixels.conversion import conversion, srgb_profile
from labkit.files.pixels.decode import Pixels
from labkit.files.pixels.transform import transform
from labkit.files.writing.strips import SheetStrips
from labkit.geometry.box import Box
from labkit.geometry.layout import Layout, lay_out
from labkit.geometry.length import ZERO
from labkit.geometry.paper import sheet_of
from labkit.geometry.raster import Raster, rasterize
from labkit.geometry.resolution import ppi_text
from labkit.geometry.size import Size
from labkit.room.rules import Colour, Room


@dataclass(frozen=True, slots=True)
class Recipe:
    """How a picture becomes a print: its place on that, in lengths and in pixels, the bits a channel, and
    in a sentence each what that changes."""

    layout: Layout
    raster: Raster
    depth: int
    changes: tuple[str, ...] = ()

    @property
    def size(self) -> Size:
        """Of the print."""
        return self.layout.sheet.sides

    @property
    def ppi(self) -> Fraction:
        """Of the print."""
        return self.raster.ppi

    @property
    def pixels(self) -> tuple[int, int]:
        """Of the print."""
        return self.raster.sheet


def to_the_rooms_form(picture: Picture, room: Room) -> Recipe | None:
    """How a finished print gets the room's resolution, space and depth, its size staying; None where it has
    them."""
    layout = Layout(sheet_of(*picture.size), Box(ZERO, ZERO, *picture.size))
    ppi, depth = room.working_ppi, room.colour.depth_for(16 if picture.depth > 8 else 8)
    raster = rasterize(layout, picture.pixels, working_ppi=ppi, resample=ppi)
    changes = tuple(filter(None, (
        _resolution(picture, raster),
        _colours(picture, room),
        _depth(picture, depth),
    )))  # fmt: skip
    return Recipe(layout, raster, depth, changes) if changes else None


def in_a_cell(picture: Picture, cell: Size, room: Room) -> Recipe:
    """How a picture is shown whole in the middle of a cell of a contact sheet."""
    layout = lay_out(picture.pixels, sheet_of(*cell), fit=True)
    ppi = room.working_ppi
    return Recipe(layout, rasterize(layout, picture.pixels, working_ppi=ppi, resample=ppi), 8)


def _resolution(picture: Picture, raster: Raster) -> str:
    own, new = picture.ppi[0], raster.ppi
    if own == new:
        return ""
    if not raster.resampled:
        return f"its label was changed from {ppi_text(own)} to {ppi_text(new)}, no pixel with it"
    verb, wide, high = "reduced" if own > new else "enlarged", *picture.pixels
    return (
        f"it was {verb} from {ppi_text(own)} to {ppi_text(new)} ({wide} × {high} to "
        f"{raster.picture.width} × {raster.picture.height} pixels)"
    )


def _colours(picture: Picture, room: Room) -> str:
    if picture.colours != "RGB":
        return f"its colours ({picture.colours}) were converted to {room.colour.space}"
    if picture.alpha:
        return "what is transparent was laid on white"
    if picture.profile is None:
        return f"it states no profile, so {room.colour.space} was assumed and embedded"
    if undated(picture.profile) == undated(srgb_profile()):
        return ""
    name = picture.profile_name or "its own profile"
    return f"its colours were converted from {name} to {room.colour.space}, {room.colour.intent} intent"


def _depth(picture: Picture, depth: int) -> str:
    own = 16 if picture.depth > 8 else 8
    return "" if own == depth else f"its {own} bits a channel were written as {depth}"


def undated(profile: bytes | None) -> bytes | None:
    """A profile without the date it was made, and the number reckoned from all of it (ICC.1 §7.2.8 and
    §7.2.18): neither says anything of colour."""
    return None if profile is None else profile[:24] + profile[36:84] + profile[100:]


def prepared_rows(
    picture: Picture, pixels: Pixels, recipe: Recipe, colour: Colour
) -> Callable[[int, int], np.ndarray]:
    """What gives the rows of the print: (rows, width, 3), uint8 or uint16, in the room's space."""
    to_rgb = conversion(picture, colour)
    is_other = undated(to_rgb.profile) != undated(srgb_profile())
    depth = 16 if is_other else recipe.depth
    strips = SheetStrips(pixels, to_rgb, recipe.layout, recipe.raster, depth)
    place = recipe.raster.picture

    def rows(first: int, last: int) -> np.ndarray:
        made = strips.rows(first, last)
        inked = slice(max(0, place.top - first), max(0, place.bottom - first))
        shown = made[inked, place.left : place.right]
        if is_other and shown.size:
            rules = {"intent": colour.intent, "black_point": True, "dtype": "u2"}
            shown[...] = transform(shown, to_rgb.profile, srgb_profile(), **rules)
        return deep.to_8_bits(made) if recipe.depth == 8 else made

    return rows
