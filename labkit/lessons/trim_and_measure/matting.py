"""09-trim-and-measure: a window mat, its opening, its borders, and what of the picture it covers."""

from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from labkit.drawing.trimplan import draw_mat
from labkit.geometry.length import ZERO, Length, length, size_text
from labkit.geometry.paper import Sheet, find_sheet
from labkit.geometry.proportion import by_width
from labkit.geometry.size import Size
from labkit.geometry.weight import EVEN, WEIGHTS, Mat, Weight, window_mat
from labkit.home import home
from labkit.job import words as job
from labkit.lessons.parts.figure import (
    ChoiceControl,
    FigureApp,
    LengthControl,
    MenuControl,
    Reading,
)
from labkit.lessons.parts.reader import your_picture
from labkit.lessons.parts.settings import follows_picture

_BOARDS = tuple(find_sheet(size) for size in ("11x14in", "16x20in", "20x24in", "A3", "A2"))
_LEAST, _MOST_OVERLAP = length("4in"), length("1/2in")


@dataclass(frozen=True)
class Matting:
    """A picture behind a board: how wide, which board and how it lies, overlap and weight."""

    shape: tuple[int, int]
    width: Length
    board: Sheet
    turned: bool
    overlap: Length
    weight: Weight = EVEN

    @property
    def size(self) -> Size:
        """The picture's width and height."""
        return by_width(self.shape, self.width)

    @cached_property
    def lies(self) -> Size:
        """The board as it lies."""
        board = self.board.turned() if self.turned else self.board
        return board.width, board.height

    @cached_property
    def mat(self) -> Mat:
        """The mat; LabError where the board is too small."""
        return window_mat(self.size, self.lies, self.overlap, self.weight)


@follows_picture
def window(picture: str | Path | None = None) -> FigureApp:
    """Your picture behind a board: its opening and borders, equal or heavier below."""
    room = home().room()
    shown = your_picture(room, picture)
    wide = shown.pixels[0] > shown.pixels[1]
    state = Matting(
        shown.pixels, length("12in" if wide else "8in"), _BOARDS[1], wide, length("1/8in")
    )
    return FigureApp(
        state,
        [
            MenuControl("board", "board", options=[(str(each), each) for each in _BOARDS]),
            ChoiceControl(
                "turned", "the board lies", options=[("upright", False), ("on its side", True)]
            ),
            LengthControl("width", "picture's width", span=lambda state: (_LEAST, length("20in"))),
            LengthControl("overlap", "overlap", span=lambda state: (ZERO, _MOST_OVERLAP)),
            MenuControl("weight", "below", options=list(WEIGHTS.items())),
        ],
        draw=lambda state, units: draw_mat(
            state.mat, state.size, units=units, prefix="mat",
            title=f"Board {size_text(state.lies, units)}", words=_sentence(state, units),
        ),
        tell=_sentence,
        read=readings,
        units=room.units,
        photo=job.preview(shown, room=room),
    )  # fmt: skip


def readings(state: Matting, units: str) -> list[Reading]:
    """The opening, the four borders, and how much more there is below than above."""
    mat = state.mat
    borders = mat.borders
    return [
        ("opening", size_text(mat.opening.size, units)),
        *((f"{side} border", border.both(units)) for side, border in borders.items()),
        ("more below", (borders.bottom - borders.top).both(units)),
        ("hidden on each side", mat.overlap.both(units)),
    ]


def _sentence(state: Matting, units: str) -> str:
    mat = state.mat
    return (
        f"A picture of {size_text(state.size, units)} behind a board of {size_text(state.lies, units)}: an "
        f"opening of {size_text(mat.opening.size, units)}. Borders: {mat.borders.text(units)}."
    )
