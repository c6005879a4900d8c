"""09-trim-and-measure: what a printer does to a ruler sheet, and what measuring three of them says."""

from dataclasses import dataclass
from fractions import Fraction

from labkit.drawing.ruler import CameOut, draw_ruler
from labkit.errors import LabError
from labkit.geometry.causes import fitted_scale, middle_moved
from labkit.geometry.length import ZERO, Length, decimal, millimetres
from labkit.geometry.measured import Errors, percent
from labkit.home import home
from labkit.lessons.parts.figure import (
    ChoiceControl,
    FigureApp,
    NumberControl,
    Reading,
    TextControl,
)
from labkit.lessons.parts.predict import ChoiceQuestion
from labkit.room.measures import MEASURED, errors_of, figures, verdict
from labkit.room.room import Room
from labkit.room.ruling import Ruling, ruling_on_sheet

_SHEET, _HIGH = "13x19in", 400
_WHOLE, _FITTED, _CENTRED = "100 %", "fitted", "centred"


@dataclass(frozen=True)
class Printing:
    """A ruler sheet on its way through: what is ``set``, and what the printer adds: the feed's error in
    hundredths of a percent, a skew in tenths of a millimetre from cross to cross."""

    ruling: Ruling
    set: str = _WHOLE
    feed: float = 0
    askew: float = 0

    @property
    def scale(self) -> Fraction:
        """What is set makes of every length."""
        if self.set != _FITTED:
            return Fraction(1)
        return fitted_scale(self.ruling.sheet.sides, self.ruling.edges)

    @property
    def along(self) -> Fraction:
        """The scale along the feed."""
        return self.scale * (1 + Fraction(str(self.feed)) / 10_000)

    @property
    def moved(self) -> tuple[Length, Length]:
        """How far right the middle comes out, and how far down the file begins; fitting and centring put its
        middle into that of what is reached, and the feed counts from the edge that goes in first."""
        if self.set == _WHOLE:
            return ZERO, ZERO
        right, down = middle_moved(self.ruling.edges)
        begins = down + self.ruling.ruler.height * (1 - self.scale) / 2
        return right, begins * (self.along / self.scale)

    @property
    def lean(self) -> Length:
        """How far the lower cross lies to the right of where the upper one has it."""
        return millimetres(Fraction(str(self.askew)) / 10)

    @property
    def came_out(self) -> CameOut:
        """The same for the drawing, small errors made larger."""
        slope = self.lean / self.ruling.ruler.between
        return CameOut(
            float(self.scale), float(self.along), *(float(each.inches) for each in self.moved),
            slope=float(slope), larger=1 if self.set == _FITTED else 10,
        )  # fmt: skip


def printed() -> FigureApp:
    """A ruler sheet as it comes out: fitting, centring, the feed and a crooked sheet, each alone."""
    room = home().room()
    return FigureApp(
        Printing(_ruling(room)),
        [
            ChoiceControl(
                "set",
                "set at the printer",
                options=[(_WHOLE, _WHOLE), ("fit to the page", _FITTED), ("centre", _CENTRED)],
            ),
            NumberControl("feed", "the feed", least=-50, most=50, step=5, told=_feed),
            NumberControl("askew", "loaded askew", least=-20, most=20, step=2, told=_askew),
        ],
        draw=lambda state, units: draw_ruler(
            state.ruling.ruler, state.ruling.edges, prefix="printed", title=str(state.ruling),
            words=_printed_sentence(state, units), printed=state.came_out, high=_HIGH,
        ),
        tell=_printed_sentence,
        read=printed_readings,
        units=room.units,
    )  # fmt: skip


def _ruling(room: Room) -> Ruling:
    kept = [sheet.name for sheet in room.sheets]
    return ruling_on_sheet(room, _SHEET if _SHEET in kept else room.sheets[-1])


def _feed(hundredths: float) -> str:
    return f"{percent(Fraction(str(hundredths)) / 10_000)} along"


def _askew(tenths: float) -> str:
    return f"{decimal(Fraction(str(tenths)) / 10, 1)} mm over the sheet"


def printed_readings(state: Printing, units: str) -> list[Reading]:
    """What a ruler would show, and what it should."""
    ruler = state.ruling.ruler
    across, along = ruler.across.in_inches, ruler.along.in_inches
    right, down = state.moved
    middle = (Fraction(1) - state.scale) * (ruler.width / 2 - ruler.inset).inches
    half = state.lean / 2
    lower = down + (ruler.height - ruler.inset) * state.along
    return [
        (f"across, {across.said(units)}", (across * state.scale).both(units)),
        (f"along, {along.said(units)}", (along * state.along).both(units)),
        ("left", (ruler.inset + Length(middle) + right - half).both(units)),
        ("left below", (ruler.inset + Length(middle) + right + half).both(units)),
        ("right", (ruler.inset + Length(middle) - right + half).both(units)),
        ("top", (down + ruler.inset * state.along).both(units)),
        ("bottom", (ruler.height - lower).both(units)),
    ]


def _printed_sentence(state: Printing, units: str) -> str:
    ruler = state.ruling.ruler
    across, along = ruler.across.in_inches, ruler.along.in_inches
    return (
        f"A ruler sheet on {state.ruling}: the bar of {across.said(units)} across the feed comes out "
        f"{(across * state.scale).both(units)} long, that of {along.said(units)} along it "
        f"{(along * state.along).both(units)}."
    )


@dataclass(frozen=True)
class Entered:
    """What was measured of each print, with its unit, as text: a name of MEASURED each."""

    ruling: Ruling
    room: Room
    across: str
    along: str
    left: str = ""
    left_below: str = ""
    right: str = ""
    top: str = ""
    bottom: str = ""

    @property
    def errors(self) -> Errors:
        """What that says."""
        given = {name: [getattr(self, name.replace("-", "_"))] for name in MEASURED}
        return errors_of(given, self.ruling, called="“{}”")

    @property
    def refusal(self) -> str:
        """Why that cannot be read; "" where it can."""
        try:
            _ = self.errors
        except LabError as refusal:
            return str(refusal)
        return ""


class EnteredApp(FigureApp):
    """Figures that cannot be read stay as they were typed: the reason stands there, and no verdict."""

    def put(self, state: Entered) -> None:
        """Show what was entered, with what is said of it."""
        super().put(state)
        self.say(state.refusal)


def read_prints() -> EnteredApp:
    """Measures of three prints entered: scale, offset and skew, each with its doubt, and the likely cause."""
    room = home().room()
    ruling = _ruling(room)
    bars = (ruling.ruler.across, ruling.ruler.along)
    sound = [" ".join([bar.in_inches.inch_text().replace(" ", "")] * 3) for bar in bars]
    edge = " ".join([ruling.ruler.inset.inch_text().replace(" ", "")] * 3)
    return EnteredApp(
        Entered(ruling, room, *sound, left=edge, right=edge),
        [TextControl(name.replace("-", "_"), name.replace("-", " ")) for name in MEASURED],
        draw=lambda state, units: draw_ruler(
            ruling.ruler, ruling.edges, prefix="read", title=str(ruling),
            words=_read_sentence(state, units), printed=_as_read(state), high=_HIGH,
        ),
        tell=_read_sentence,
        read=read_readings,
        units=room.units,
    )  # fmt: skip


def _as_read(state: Entered) -> CameOut | None:
    if state.refusal:
        return None
    errors = state.errors

    def mean(found) -> float:
        return float(found.mean) if found else 0.0

    across, along = 1 + mean(errors.across), 1 + mean(errors.along)
    larger = 1 if abs(across - 1) > 0.01 else 10
    return CameOut(
        across,
        along,
        mean(errors.offset_across),
        mean(errors.offset_along),
        mean(errors.skew),
        larger,
    )


def read_readings(state: Entered, units: str) -> list[Reading]:
    """The verdict or the causes first, then each error with what can be told of it."""
    if state.refusal:
        return [("verdict", "none: this cannot be read yet")]
    errors = state.errors
    causes = state.ruling.causes(errors, state.room)
    told = [("likely", f"{each.name}. {each.mend}") for each in causes]
    return [*(told or [("verdict", verdict(errors))]), *figures(errors, state.ruling, units)]


def _read_sentence(state: Entered, units: str) -> str:
    if state.refusal:
        return f"A ruler sheet on {state.ruling}. What was entered cannot be read: {state.refusal}"
    errors = state.errors
    causes = state.ruling.causes(errors, state.room)
    told = "; ".join(each.name for each in causes) or "nothing"
    prints = "1 print" if errors.prints == 1 else f"{errors.prints} prints"
    return (
        f"{prints} of {state.ruling}: across {percent(1 + errors.across.mean, signed=False)}, along "
        f"{percent(1 + errors.along.mean, signed=False)}. To be mended: {told}."
    )


def what_to_set() -> ChoiceQuestion:
    """Predict by choosing: what a small error within the spread is worth."""
    return ChoiceQuestion(
        "A bar of 200 mm, read with a hand-held ruler to 0.25 mm at each end, comes out 199.8 mm long on the "
        "first print, 200.1 mm on the second and 199.7 mm on the third. What do you set at the printer?",
        "Nothing. The mean is 199.87 mm, 0.07 % too short. The ruler alone may be off by 0.18 % of 200 mm, "
        "and the prints differ by 0.2 %. What looks like an error may be your hand. A longer bar tells more.",
        {
            "nothing": "",
            "100.07 %": "That would mend an error that nobody has seen: the ruler may be off by more than "
            "that. And from then on every print would be 0.07 % too long, if the ruler was wrong.",
            "the feed": "The feed would show on a longer bar, and on all three prints alike. Here one print "
            "is too long and two are too short.",
        },
    )
