"""06-handing-in: packed without loss: how small, how fast."""

from dataclasses import dataclass
from pathlib import Path

from labkit.drawing.bars import draw_bars
from labkit.files.child.guarded import resident_child
from labkit.files.header.picture import Picture
from labkit.home import home
from labkit.lessons.parts.figure import (
    ChoiceControl,
    FigureApp,
    MenuControl,
    NumberControl,
    Reading,
)
from labkit.lessons.parts.predict import OrderQuestion
from labkit.lessons.parts.reader import your_picture
from labkit.lessons.parts.settings import follows_picture
from labkit.room.rules import Room
from labkit.teaching.packed import WAYS, measure

_PLAIN, _LZW, _BETTER, _DEFLATE, _ = WAYS


@dataclass(frozen=True)
class Packed:
    """A way of packing, bits a channel, and how many per cent of the file are white round the picture."""

    way: str = _BETTER
    depth: int = 8
    white: int = 0


@follows_picture
def packings(picture: str | Path | None = None) -> FigureApp:
    """Sizes of one picture by each lossless way, and times that are measured anew at every choice."""
    room = home().room()
    shown = your_picture(room, picture)
    latest: dict = {}

    def draw(state: Packed, units: str) -> str:
        latest.update(_measured(shown, room, state))
        return draw_bars(
            _bars(latest), chosen=state.way, prefix="packed", title="Packed without loss",
            words=_sentence(state, latest),
        )  # fmt: skip

    return FigureApp(
        Packed(),
        [
            MenuControl("way", "packed by", options=[(way, way) for way in WAYS]),
            ChoiceControl("depth", "bits a channel", options=[("8", 8), ("16", 16)]),
            NumberControl(
                "white", "white round it", least=0, most=75, step=25, told=lambda share: f"{share:.0f}%"
            ),
        ],
        draw=draw,
        tell=lambda state, units: _sentence(state, latest),
        read=lambda state, units: readings(state, latest),
        units=room.units,
    )  # fmt: skip


def readings(state: Packed, measured: dict) -> list[Reading]:
    """The chosen way's size, its share of the raw one, and its times; then every way's."""
    ways = measured["ways"]
    mine = ways[state.way]
    return [
        ("pixels measured", "{} × {}".format(*measured["pixels"])),
        ("takes", _size(mine["bytes"])),
        ("of what it is unpacked", _share(mine, ways)),
        ("packed just now in", _time(mine["to_pack"])),
        ("opened just now in", _time(mine["to_open"])),
        *(
            (f"{way}: pack, open", f"{_time(each['to_pack'])}, {_time(each['to_open'])}")
            for way, each in ways.items()
        ),
    ]  # fmt: skip


def which_smallest() -> OrderQuestion:
    """Predict an order: the sizes of one picture in a file."""
    return OrderQuestion(
        "One picture with 8 bits a channel, saved in four ways that lose nothing. Differencing means that "
        "of each pixel only the difference from the one before it is stored. Put them in order by the size "
        "of the file, smallest first.",
        (_BETTER, _DEFLATE, _LZW, _PLAIN),
        "On our harbour LZW with differencing takes 34% of the unpacked size, deflate 47%, LZW 67%. In a "
        "photo hardly any pixel is the same as another, but most are nearly the same as their neighbour. So "
        "the differences are small numbers that come again and again, and those can be packed. Deflate with "
        "differencing is about as small as LZW with it.",
        {
            (_LZW, _BETTER): "LZW looks for what comes again. Which comes again more often in a photo: "
            "the same colour, or the same small step to the next pixel?",
            (_DEFLATE, _BETTER): "Deflate is the cleverer of the two, but it too looks for what comes again. "
            "What in a photo does, the colours or the steps between neighbours?",
            (_LZW, _DEFLATE): "Without differencing deflate packs a photo better than LZW does.",
            (_PLAIN, _LZW): "On most photos LZW helps somewhat. (With 16 bits it need not: see below.)",
        },
    )  # fmt: skip


def _measured(picture: Picture, room: Room, state: Packed) -> dict:
    limits = {"seconds": room.limits.seconds, "memory_mb": room.limits.memory_mb}
    return resident_child().run(
        measure, picture, room, state.depth, state.white, **limits, about=picture.path.name
    )


def _bars(measured: dict) -> list[tuple[str, float, str]]:
    ways = measured["ways"]
    return [
        (way, each["bytes"], f"{_size(each['bytes'])}, {_share(each, ways)}")
        for way, each in ways.items()
    ]


def _size(count: int) -> str:
    return f"{count / 1_000_000:.2f} MB"


def _share(way: dict, ways: dict) -> str:
    return f"{way['bytes'] / ways[_PLAIN]['bytes']:.0%}"


def _time(seconds: float) -> str:
    return f"{seconds * 1000:.0f} ms"


def _sentence(state: Packed, measured: dict) -> str:
    ways = measured["ways"]
    mine = ways[state.way]
    place = f"with {state.white:.0f}% of the file white round it" if state.white else "alone"
    return (
        f"A part of the picture {place}, {state.depth} bits a channel, {state.way}: "
        f"{_size(mine['bytes'])}, {_share(mine, ways)} of what it is unpacked."
    )
