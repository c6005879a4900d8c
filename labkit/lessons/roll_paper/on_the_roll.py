"""07-roll-paper: how much is left on a roll, and how heavy it is."""

from dataclasses import dataclass, replace

from labkit.drawing.rollend import draw_roll_end
from labkit.geometry.length import Length, decimal, length
from labkit.geometry.rolled import diameter_of, length_left, paper_kg
from labkit.home import home
from labkit.lessons.parts.figure import FigureApp, LengthControl, MenuControl, Reading
from labkit.lessons.parts.predict import OrderQuestion
from labkit.room.laying import Medium, rolls_of
from labkit.room.rules import Room


@dataclass(frozen=True)
class RollEnd:
    """A roll of one paper, measured across its end."""

    medium: Medium
    outside: Length
    room: Room

    @property
    def thickness(self) -> Length:
        """Of one sheet."""
        return self.medium.paper.thickness

    @property
    def core(self) -> Length:
        """Across the core."""
        return self.room.handling.core_diameter

    @property
    def new(self) -> Length:
        """How thick a new roll is."""
        return diameter_of(self.medium.on_roll, self.core, self.thickness)

    @property
    def left(self) -> Length:
        """How much paper is on it."""
        return length_left(self.outside, self.core, self.thickness)

    @property
    def kg(self) -> float:
        """What it weighs, core and all."""
        paper = paper_kg(self.medium.width, self.left, self.medium.paper.weight_gsm)
        return paper + self.core_kg

    @property
    def core_kg(self) -> float:
        """What the core weighs."""
        return float(self.room.handling.core_kg_per_metre) * float(self.medium.width.mm) / 1000

    def fitted(self) -> "RollEnd":
        """The same, no thicker than a new one."""
        return replace(self, outside=min(self.outside, self.new))


def on_the_roll() -> FigureApp:
    """How much is left on a roll by its diameter, and what the roll weighs."""
    room = home().room()
    media = [medium for paper in room.papers for medium in rolls_of(room, paper)]
    start = RollEnd(media[0], length("100mm"), room)
    return FigureApp(
        start,
        [
            MenuControl(
                "medium", "roll",
                options=[(f"{each.paper.name}, {each.name}", each) for each in media],
                made=lambda state, medium: replace(state, medium=medium).fitted(),
            ),
            LengthControl(
                "outside", "diameter", span=lambda state: (state.core, state.new),
                made=lambda state, outside: replace(state, outside=outside).fitted(),
            ),
        ],
        draw=lambda state, units: draw_roll_end(
            state.outside, state.core, state.new, state.left, state.medium.on_roll, units=units,
            prefix="roll-end", words=_sentence(state, units),
        ),
        tell=_sentence,
        read=readings,
        units="mm",
    )  # fmt: skip


def readings(state: RollEnd, units: str) -> list[Reading]:
    """What the three measures are, what is left, and what it weighs."""
    paper = state.medium.paper
    most = state.room.handling.help_above_kg
    heavy = state.kg > float(most)
    return [
        ("one sheet is", f"{decimal(state.thickness.mm, 2)} mm thick"),
        ("the core is", f"{state.core.both(units)} across"),
        ("left on it", metres(state.left)),
        ("paper weighs", f"{paper.weight_gsm} g/m²"),
        ("the roll weighs", f"{state.kg:.1f} kg, {state.core_kg:.1f} kg of it core"),
        (f"above {most} kg", "ask for help" if heavy else "this one is below that"),
    ]


def metres(size: Length) -> str:
    """A length as it is told of a roll."""
    return f"{decimal(size.mm / 1000, 1)} m ({decimal(size.inches / 12, 0)} ft)"


def _sentence(state: RollEnd, units: str) -> str:
    return (
        f"A {state.medium.name} of {state.medium.paper.name}, {state.outside.both(units)} across, with a "
        f"core of {state.core.both(units)}: {metres(state.left)} are left, and it "
        f"weighs {state.kg:.1f} kg."
    )


def lightest_first() -> OrderQuestion:
    """Predict an order: four new rolls by their weight."""
    a, b, c, d = (
        "24 in wide, 15 m, 300 g/m²",
        "17 in wide, 30 m, 260 g/m²",
        "24 in wide, 30 m, 260 g/m²",
        "44 in wide, 15 m, 300 g/m²",
    )
    return OrderQuestion(
        "Put these four new rolls in order by the weight of their paper, lightest first.",
        (a, b, c, d),
        "Width × length × grams per square metre: 0.610 m × 15 m × 300 g = 2.7 kg; 0.432 × 30 × 260 = "
        "3.4 kg; 0.610 × 30 × 260 = 4.8 kg; 1.118 × 15 × 300 = 5.0 kg. The core comes on top.",
        {
            (b, a): "The narrow roll is twice as long: 0.432 × 30 is 13 m², 0.610 × 15 is 9 m².",
            (c, b): "Both are 30 m of the same paper, so the wider one is the heavier.",
            (
                c,
                a,
            ): "They are equally wide, but one is twice as long, and its paper only a little lighter.",
            (
                d,
                c,
            ): "0.610 × 30 is 18.3 m² of 260 g; 1.118 × 15 is 16.8 m² of 300 g. It is close: reckon it.",
            (d, a): "Same length, same paper, but 44 in is nearly twice as wide as 24 in.",
            (d, b): "1.118 × 15 is 16.8 m² and heavy paper; 0.432 × 30 is 13 m² of lighter paper.",
        },
    )
