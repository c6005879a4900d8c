"""05-colour: the light a print hangs in against the light of a screen, and the test strip read in it."""

import json
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from labkit.drawing.lit import Lit, draw_lit
from labkit.files.child.kept import cached_file
from labkit.files.pixels.tone import MIDDLE_LIGHT
from labkit.geometry.light import APPRAISAL, PRACTICAL, luminance, lux_for, step_text, stops
from labkit.home import home
from labkit.lessons.parts.figure import ChoiceControl, FigureApp, NumberControl, Reading
from labkit.lessons.parts.predict import SHARE, NumberQuestion
from labkit.lessons.parts.reader import your_picture
from labkit.lessons.parts.settings import follows_picture
from labkit.room.rules import Room
from labkit.teaching.colour_samples import PROOFS, STRIPS, keep_proofs, keep_strips
from labkit.teaching.papers import PAPERS, SCREEN, STEPS, middle_grey, off, white

_PAPER = ChoiceControl("paper", "paper", options=[(name, name) for name in PAPERS])
_WITHIN = {APPRAISAL: 500, PRACTICAL: 125}
"""How many lux more or less still count: ISO 3664:2009, second-hand; the 125 from memory."""


@dataclass(frozen=True)
class Hall:
    """A paper in a light of ``lux``, beside a screen whose white has ``screen`` cd/m²."""

    lux: int = 200
    screen: int = 120
    paper: str = "gloss"

    @property
    def print_white(self) -> float:
        """The luminance of bare paper, in cd/m²."""
        return luminance(self.lux, white(self.paper))


@dataclass(frozen=True)
class Strip:
    """A test strip on a paper in a light of ``lux``, and the step chosen on it."""

    lux: int = 500
    paper: str = "matt"
    step: float = 0.0


@follows_picture
def hall(picture: str | Path | None = None) -> FigureApp:
    """Screen and print in the light they are seen in."""
    made, room = _made(picture, keep_proofs, "-proofs.json")
    return FigureApp(
        Hall(),
        [
            NumberControl("lux", "light on the print", least=50, most=2500, step=50, told=_lux),
            NumberControl("screen", "white of the screen", least=60, most=300, step=10, told=_candela),
            _PAPER,
        ],
        draw=lambda state, units: draw_lit(
            [
                Lit(0, "on the screen", _candela(state.screen), _part(state.screen, state)),
                Lit(
                    PROOFS.index(f"{state.paper}, relative"), "on the wall",
                    _candela(state.print_white), _part(state.print_white, state),
                ),
            ],
            len(PROOFS), made["shape"], across=2, prefix="hall", title="White beside white",
            words=_hall_sentence(state),
        ),
        tell=lambda state, units: _hall_sentence(state),
        read=lambda state, units: hall_readings(state),
        units=room.units,
        photo=made["strip"],
    )  # fmt: skip


def hall_readings(state: Hall) -> list[Reading]:
    """Both whites, how far apart they are, the light that makes them equal, ISO 3664."""
    apart = stops(state.print_white, state.screen)
    return [
        ("white of the screen", _candela(state.screen)),
        ("white of the print", _candela(state.print_white)),
        ("the print beside the screen", step_text(round(apart, 1))),
        ("equal in a light of", _lux(lux_for(state.screen, white(state.paper)))),
        ("ISO 3664 calls this light", _condition(state.lux)),
    ]


def how_bright() -> NumberQuestion:
    """Predict a number: how bright paper is beside a screen."""
    return NumberQuestion(
        "White paper reflects 90% of the light, to all sides. In a hall of 200 lx its white then has "
        "0.9 × 200 ÷ 3.14 cd/m². The white of your screen has 120 cd/m². What share of the screen's "
        "brightness does the paper have?",
        Fraction(48, 100),
        "0.9 × 200 ÷ 3.14 is 57 cd/m², and 57 ÷ 120 is 48%: about half, one stop darker. The paper did "
        "nothing wrong, and neither did the printer. In the 2000 lx under which prints are compared, the "
        "same print is far brighter than the screen.",
        {
            "60%": "57 is the number of cd/m², not the share. Divide it by the screen's 120.",
            "57%": "57 is the number of cd/m², not the share. Divide it by the screen's 120.",
            "90%": "90% is what the paper reflects of the light that falls on it. How much falls on it here?",
            "53%": "The paper reflects 90%: take 0.9 × 200, not 200.",
            "100%": "Both are called white, because the eye adapts to each. Side by side they are not equal.",
            "21%": "57 ÷ 120 is a little less than a half.",
        },
        SHARE,
    )  # fmt: skip


@follows_picture
def strip(picture: str | Path | None = None) -> FigureApp:
    """Five steps on one paper in one light, beside the screen: which middle grey is the screen's?"""
    made, room = _made(picture, keep_strips, "-strips.json")
    return FigureApp(
        Strip(),
        [
            _PAPER,
            NumberControl("lux", "light in the hall", least=50, most=600, step=10, told=_lux),
            ChoiceControl("step", "step", options=[(step_label(step), step) for step in STEPS]),
        ],
        draw=lambda state, units: draw_lit(
            [
                Lit(0, "screen", _candela(SCREEN), _part(SCREEN, state)),
                *(_step(step, state) for step in STEPS),
            ],
            len(STRIPS), made["shape"], across=3, prefix="strip", title="A test strip in its light",
            words=_strip_sentence(state),
        ),
        tell=lambda state, units: _strip_sentence(state),
        read=lambda state, units: strip_readings(state),
        units=room.units,
        photo=made["strip"],
    )  # fmt: skip


def strip_readings(state: Strip) -> list[Reading]:
    """Middle grey on the screen and in the step chosen, in cd/m², and how far they are apart."""
    grey = luminance(state.lux, middle_grey(state.paper, state.step))
    return [
        ("middle grey on the screen", f"{SCREEN * MIDDLE_LIGHT:.1f} cd/m²"),
        (f"middle grey in step {step_label(state.step)}", f"{grey:.1f} cd/m²"),
        ("beside the screen", step_text(round(off(state.paper, state.lux, state.step), 2))),
    ]


def step_label(step: float) -> str:
    """A step as it stands on a strip."""
    return f"{step:+g}" if step else "0"


def _step(step: float, state: Strip) -> Lit:
    paper = luminance(state.lux, white(state.paper))
    grey = luminance(state.lux, middle_grey(state.paper, step))
    return Lit(
        STRIPS.index(f"{state.paper}, {step}"),
        f"{step_label(step)} stops",
        f"middle grey {grey:.1f} cd/m²",
        _part(paper, state),
        step == state.step,
    )


def _part(of: float, state: Hall | Strip) -> float:
    """A white as a part of the brightest there is."""
    screen = getattr(state, "screen", SCREEN)
    return of / max(screen, luminance(state.lux, white(state.paper)))


def _condition(lux: float) -> str:
    names = {APPRAISAL: "P1, to compare prints", PRACTICAL: "P2, as prints are seen"}
    for middle, name in names.items():
        if abs(lux - middle) <= _WITHIN[middle]:
            return name
    return "neither P1 nor P2"


def _lux(lux: float) -> str:
    return f"{lux:.0f} lx"


def _candela(bright: float) -> str:
    return f"{bright:.0f} cd/m²"


def _hall_sentence(state: Hall) -> str:
    apart = step_text(round(stops(state.print_white, state.screen), 1))
    return (
        f"A screen with a white of {_candela(state.screen)}, and a print on {state.paper} paper in a light "
        f"of {_lux(state.lux)}, where its white has {_candela(state.print_white)}: {apart} than the screen."
    )


def _strip_sentence(state: Strip) -> str:
    grey = luminance(state.lux, middle_grey(state.paper, state.step))
    return (
        f"The middle of the picture on the screen, and printed in five steps on {state.paper} paper, seen in "
        f"{_lux(state.lux)}. Chosen: {step_label(state.step)} stops, middle grey {grey:.1f} cd/m²; on the "
        f"screen it has {SCREEN * MIDDLE_LIGHT:.1f} cd/m²."
    )


def _made(picture: str | Path | None, keep, ending: str) -> tuple[dict, Room]:
    room = home().room()
    kept = cached_file(your_picture(room, picture), room, keep, ending)
    return json.loads(kept.read_text(encoding="utf-8")), room
