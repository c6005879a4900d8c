"""03-aspect-ratio: the crop window on the picture, and the print for a frame."""

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from pathlib import Path

from labkit.drawing.crop import Lip, draw_crop
from labkit.drawing.sheet import describe_sheet, draw_sheet
from labkit.files.header.picture import Picture
from labkit.geometry.holding import sight_size
from labkit.geometry.layout import Layout
from labkit.geometry.length import ZERO, Length, decimal, length, nearest
from labkit.geometry.proportion import HALF, Crop, Part, fill, ratio_text
from labkit.home import home
from labkit.job import words as job
from labkit.lessons.aspect_ratio.shapes import SHAPES, ours, percent
from labkit.lessons.parts.exercise import Exercise
from labkit.lessons.parts.figure import (
    ChoiceControl,
    Drag,
    FigureApp,
    LengthControl,
    MenuControl,
    Reading,
)
from labkit.lessons.parts.placing import Placing, try_layout
from labkit.lessons.parts.predict import FigureQuestion
from labkit.lessons.parts.reader import your_picture
from labkit.lessons.parts.settings import follows_picture
from labkit.lessons.parts.sheetapp import DRAG, sheet_controls
from labkit.room.rules import Room
from labkit.teaching.aspect_ratio import aspect_ratio_brief
from labkit.teaching.pictures import demo_pictures

_HELP = (
    "The whole picture with the crop window on it. Arrow keys move the window, with Shift by eight steps; "
    "it can also be dragged."
)
_MOST_LIP = length("1in")


@dataclass(frozen=True)
class Cropping:
    """The largest window of a shape on a picture of ``shape`` pixels, and what stays of it: ``keep``.

    ``ratio`` is long side to short; ``part`` a part of the picture that has a name.
    """

    shape: tuple[int, int]
    ratio: Fraction
    lying: bool
    keep: tuple[Fraction, Fraction] = (HALF, HALF)
    part: Part | None = None

    @property
    def window(self) -> Fraction:
        """The window's shape, width over height."""
        return self.ratio if self.lying else 1 / self.ratio

    @cached_property
    def crop(self) -> Crop:
        """The part of the picture in the window."""
        return fill(self.shape, Length(self.window), Length(Fraction(1)), self.keep)

    def moved(self, left: float, top: float) -> "Cropping":
        """With the window's corner there, in widths of the picture, or as near as it goes."""
        down = Fraction(top) * self.shape[0] / self.shape[1]
        return replace(self, keep=self.crop.keep_at(Fraction(left), down))

    @property
    def corner(self) -> tuple[float, float]:
        """The window's left and top, in widths of the picture."""
        return float(self.crop.left), float(self.crop.top * self.shape[1] / self.shape[0])


@dataclass(frozen=True)
class Framing(Placing):
    """A print for a frame: a box on a sheet, of which the frame's ``lip`` covers each edge.

    ``show`` is what is looked at and moved: "crop", the window on the picture, or "sheet".
    """

    lip: Length = ZERO
    part: Part | None = None
    show: str = "crop"

    @cached_property
    def crop(self) -> Crop:
        """The part of the picture that is printed."""
        return fill(self.shape, *self.size, self.keep)

    @property
    def whole(self) -> tuple[Length, Length]:
        """How large the whole picture would be."""
        return self.size[0] / self.crop.width, self.size[1] / self.crop.height

    @property
    def sight(self) -> tuple[Length, Length]:
        """What the frame leaves to be seen."""
        return sight_size(self.size, self.lip)

    @property
    def seen(self) -> Crop:
        """The part of the picture that is seen."""
        crop, (wide, high) = self.crop, self.hidden
        return Crop(
            crop.left + wide, crop.top + high, crop.width - 2 * wide, crop.height - 2 * high
        )

    @property
    def hidden(self) -> tuple[Fraction, Fraction]:
        """What the lip covers on one side, of the whole picture's width and of its height."""
        return tuple(self.lip / side for side in self.whole)


class FrameApp(FigureApp):
    """A print for a frame, seen as the crop window on the picture or as the print on its sheet."""

    @property
    def layout_now(self) -> Layout | None:
        """The layout as it is set; None where it cannot be printed so."""
        return try_layout(self.state)[0]


@follows_picture
def crop(picture: str | Path | None = None) -> FigureApp:
    """A crop window of a chosen shape, dragged on the picture: what is lost, and what stays."""
    room = home().room()
    shown = your_picture(room, picture)
    return _crop_app(
        "crop", shown, Cropping(shown.pixels, Fraction(5, 4), False, part=_part(shown))
    )


def crop_readings(state: Cropping, units: str) -> list[Reading]:
    """What the window is, what is lost, what stays, and how to say so in code."""
    crop, (wide, high) = state.crop, state.shape
    kept = f"{nearest(crop.width * wide)} × {nearest(crop.height * high)}"
    told = [
        ("the picture's shape", ratio_text(Fraction(wide, high))),
        ("the window's shape", ratio_text(state.window)),
        ("pixels kept", f"{kept} of {wide} × {high}"),
        ("cropped away", percent(crop.lost)),
        ("in code, crop_at", ",".join(decimal(part, 3) for part in state.keep)),
    ]
    if state.part:
        told.append((f"of {state.part.name} stays", percent(state.part.shown(crop))))
    return told


def where_to_crop() -> FigureQuestion:
    """Predict by dragging: where the crop window must stand so that the boat stays."""
    demo = demo_pictures()[0]
    shown = your_picture(home().room(), demo.file)
    start = Cropping(shown.pixels, Fraction(5, 4), False, part=demo.keep)
    hidden = replace(start, part=None)
    return FigureQuestion(
        "Our harbour is to fill an upright frame of 8 × 10 in, and all of the red boat is to be in it, mast "
        "and bow. Drag the window, or move it with the arrow keys, to where it may stand.",
        "The boat lies between 19% and 48% of the picture's width. The window is 53% of it wide. So its left "
        "edge may stand anywhere from the picture's left edge to 19% of the width. A window in the middle "
        "cuts the bow off.",
        _crop_app("where", shown, hidden, controls=False),
        lambda state: _mended(state, start),
    )


def exercise(reader: str | None = None) -> Exercise:
    """A print for a frame with the boat, or the clock, to be seen: drawn from the reader's name."""
    return Exercise(
        "03-aspect-ratio", aspect_ratio_brief, _frame_app, room=home().room(), reader=reader
    )


def frame_readings(state: Framing, units: str) -> list[Reading]:
    """The print, what is seen of it, what is lost, and the four borders."""
    layout = state.layout
    told = [
        ("the print", " × ".join(side.both(units) for side in state.size)),
        ("seen (sight size)", " × ".join(side.both(units) for side in state.sight)),
        ("cropped away", percent(state.crop.lost)),
    ]
    if state.part:
        told.append((f"of {state.part.name} is seen", percent(state.part.shown(state.seen))))
    return [*told, *((f"{side} border", size.both(units)) for side, size in layout.borders.items())]


def _crop_app(name: str, shown: Picture, state: Cropping, *, controls: bool = True) -> FigureApp:
    room = home().room()
    ways = [
        MenuControl("ratio", "shape", options=SHAPES),
        ChoiceControl("lying", "window lies", options=[("upright", False), ("on its side", True)]),
    ]
    return FigureApp(
        state,
        ways if controls else [],
        draw=lambda state, units: draw_crop(
            state.shape, state.crop, prefix=name, title=f"Cropped to {ratio_text(state.window)}",
            words=_crop_sentence(state, units), across=1, keep=state.part,
        ),
        tell=_crop_sentence,
        read=crop_readings if controls else lambda state, units: [],
        units=room.units,
        photo=job.preview(shown, room=room),
        drag=Drag(
            place=lambda state: state.corner,
            move=lambda state, left, top, by, units: state.moved(left, top),
            step=lambda units: 0.01,
            help=_HELP,
        ),
    )  # fmt: skip


def _crop_sentence(state: Cropping, units: str) -> str:
    crop = state.crop
    told = (
        f"A window of {ratio_text(state.window)} on a picture of {ratio_text(Fraction(*state.shape))}: its "
        f"left edge at {percent(crop.left)} of the width, its top edge at {percent(crop.top)} of the height; "
        f"{percent(crop.lost)} of the picture is cropped away."
    )
    if state.part:
        told += f" {percent(state.part.shown(crop))} of {state.part.name} stays."
    return told


def _mended(state: Cropping, start: Cropping) -> str:
    """What is wrong with where the window stands; "" when the boat is whole."""
    part = start.part
    out = part.short(state.crop)
    if not out:
        return ""
    if state.crop == start.crop:
        return (
            "That is the middle, where the window stood before you chose. Look at the bow: the boat's left "
            f"{percent(1 - part.shown(state.crop))} is outside."
        )
    way = {"left": "too far to the right", "right": "too far to the left"}
    side = max(out, key=out.get)
    return f"The window stands {way[side]}: {percent(1 - part.shown(state.crop))} of the boat is outside."


def _frame_app(picture: Picture, room: Room) -> FrameApp:
    sheet = room.sheets[0]
    demo = ours(picture)
    state = Framing(
        picture.pixels, sheet, length("6in"), room.unprintable(sheet), height=length("6in"),
        part=demo.keep if demo else None,
    )  # fmt: skip
    state = state.resized(state.width)
    known = {each.name: each for each in sheet_controls(state, room, by_hand=True)}
    placing = [
        replace(known[name], when=lambda state: state.show == "sheet")
        for name in ("sheet", "turn", "at", "left", "top")
    ]
    looks = [("the crop", "crop"), ("the sheet", "sheet")]
    return FrameApp(
        state,
        [
            ChoiceControl("show", "show", options=looks),
            *placing[:2],
            known["width"],
            known["height"],
            LengthControl("lip", "frame's lip", span=lambda state: (ZERO, _most_lip(state))),
            *placing[2:],
        ],
        draw=_draw_frame,
        tell=_frame_sentence,
        read=frame_readings,
        units=room.units,
        photo=job.preview(picture, room=room),
        drag=Drag(
            place=lambda state: _corner(state) if state.show == "crop" else DRAG.place(state),
            move=_move,
            step=DRAG.step,
            snaps=lambda state: [] if state.show == "crop" else DRAG.snaps(state),
            help=f"{_HELP} Looking at the sheet, they move the print on it.",
        ),
    )


def _most_lip(state: Framing) -> Length:
    return min(_MOST_LIP, min(state.size) / 4)


def _corner(state: Framing) -> tuple[float, float]:
    """The window's left and top in inches of the print."""
    wide, high = state.whole
    return float(wide * state.crop.left), float(high * state.crop.top)


def _move(state: Framing, left: float, top: float, by: str, units: str) -> Framing:
    if state.show == "sheet":
        return DRAG.move(state, left, top, by, units)
    wide, high = (side.inches for side in state.whole)
    return replace(state, keep=state.crop.keep_at(Fraction(left) / wide, Fraction(top) / high))


def _draw_frame(state: Framing, units: str) -> str:
    layout = state.layout
    if state.show == "sheet":
        return draw_sheet(layout, units=units, prefix="task")
    title = f"Cropped to {ratio_text(state.size[0] / state.size[1])}"
    return draw_crop(
        state.shape, state.crop, prefix="task", title=title,
        words=_frame_sentence(state, units), across=float(state.whole[0]), keep=state.part,
        lip=Lip(*state.hidden) if state.lip else None,
    )  # fmt: skip


def _frame_sentence(state: Framing, units: str) -> str:
    wide, high = (side.both(units) for side in state.sight)
    told = (
        f"Of the print {wide} by {high} is seen; a lip of {state.lip.both(units)} covers each edge."
    )
    if state.part:
        told += f" {percent(state.part.shown(state.seen))} of {state.part.name} is seen."
    if state.show == "crop":
        return f"{told} {state.layout.sentence(units)}"
    return f"{told} {describe_sheet(state.layout, units=units)}"


def _part(picture: Picture) -> Part | None:
    demo = ours(picture)
    return demo.keep if demo else None
