"""05-colour: what a paper cannot show, what each intent does about it, and which of two papers suits."""

import json
from dataclasses import dataclass
from pathlib import Path

from labkit.drawing.prints import draw_prints
from labkit.drawing.swatches import draw_swatches
from labkit.files.child.kept import cached_file
from labkit.files.pixels.proof import told
from labkit.home import home
from labkit.job.papers import ALIKE, share_text
from labkit.lessons.parts.figure import ChoiceControl, FigureApp, Reading
from labkit.lessons.parts.predict import OrderQuestion
from labkit.lessons.parts.reader import your_picture
from labkit.lessons.parts.settings import follows_picture
from labkit.room.rules import Room
from labkit.teaching.colour_samples import PROOFS, keep_proofs
from labkit.teaching.papers import PAPERS, paper

SWATCHES = {
    "pale sky": (205, 215, 225),
    "brick red": (178, 70, 55),
    "nearly black": (20, 20, 24),
}
"""Colours of sRGB, in the order in which the matt paper moves them, least first."""
_LOOK = [("the prints", "prints"), ("what is lost", "lost")]
_WHITE = [("as the screen's", ""), ("its own", ", own white")]
_PAPERS = [(name, name) for name in PAPERS]
_SURFACES = {"gloss": ("gloss", "pearl", "lustre", "satin", "shin"), "matt": ("matt",)}
"""Words for the surfaces of papers that an invented one stands for (common practice, no source)."""


@dataclass(frozen=True)
class Proofed:
    """A paper, whether prints or lost colours are shown, and by which white."""

    paper: str = "matt"
    look: str = "prints"
    white: str = ""


@dataclass(frozen=True)
class Compared:
    """Whether prints or lost colours are shown of both papers."""

    look: str = "prints"


@follows_picture
def proofs(picture: str | Path | None = None) -> FigureApp:
    """The picture, and how it will look on a paper by two intents; lost colours hatched."""
    made, room = _made(picture)
    return FigureApp(
        Proofed(),
        [
            ChoiceControl("paper", "paper", options=_PAPERS),
            ChoiceControl("look", "show", options=_LOOK),
            ChoiceControl("white", "the paper's white", options=_WHITE),
        ],
        draw=lambda state, units: _draw(
            [
                _first(state.look, state.paper),
                *(
                    (PROOFS.index(f"{state.paper}, {intent}{state.white}"), intent)
                    for intent in ("relative", "perceptual")
                ),
            ],
            made, "proofs", f"As it will look on the {state.paper} paper", _proof_sentence(state, made),
        ),
        tell=lambda state, units: _proof_sentence(state, made),
        read=lambda state, units: proof_readings(state, made),
        units=room.units,
        photo=made["strip"],
    )  # fmt: skip


def proof_readings(state: Proofed, made: dict) -> list[Reading]:
    """What of the picture the paper cannot show, and how far each intent moves its colours."""
    facts = made["papers"][state.paper]
    return [
        ("cannot be shown", share_text(facts["lost"])),
        ("because it is too dark", share_text(facts["dark"])),
        ("relative moves by, ΔE2000", told(facts["moved"]["relative"])),
        ("perceptual moves by, ΔE2000", told(facts["moved"]["perceptual"])),
        *_paper_rows(state.paper),
        ("measured on", "a copy of {} × {} pixels".format(*made["shape"])),
    ]


@follows_picture
def two_papers(picture: str | Path | None = None) -> FigureApp:
    """The picture on two papers, each with its own white, and which of them suits it."""
    made, room = _made(picture)
    return FigureApp(
        Compared(),
        [ChoiceControl("look", "show", options=_LOOK)],
        draw=lambda state, units: _draw(
            [(0, "on the screen"), *((PROOFS.index(_on(name, state)), name) for name in PAPERS)],
            made, "papers", "On two papers", _compared_sentence(state, made),
        ),
        tell=lambda state, units: _compared_sentence(state, made),
        read=lambda state, units: compared_readings(made, room),
        units=room.units,
        photo=made["strip"],
    )  # fmt: skip


def compared_readings(made: dict, room: Room) -> list[Reading]:
    """Both papers' white and black, what each cannot show of this picture, what a print costs on the room's
    paper of that surface, and which one suits."""
    rows = []
    for name in PAPERS:
        rows += [(f"{name}: {label}", figure) for label, figure in _paper_rows(name)]
        rows.append((f"{name}: cannot show", share_text(made["papers"][name]["lost"])))
    rows += _prices(room)
    return [*rows, ("shows more of this picture", suits(made) or "neither")]


def _prices(room: Room) -> list[Reading]:
    """A print on the first sheet that the room keeps papers of both surfaces in; none where there is none."""
    of = {
        name: [each for each in room.papers if any(word in each.surface for word in words)]
        for name, words in _SURFACES.items()
    }
    for sheet in room.sheets:
        kept = {name: next((p for p in own if p.sheet(sheet)), None) for name, own in of.items()}
        if all(kept.values()):
            return [
                (f"{name}: {sheet.name} on {own.name}", room.money(room.price(own, sheet)))
                for name, own in kept.items()
            ]
    return []


def suits(made: dict) -> str:
    """The paper that shows plainly more of the picture; "" where both show as much."""
    lost = {name: made["papers"][name]["lost"] for name in PAPERS}
    best, other = sorted(lost, key=lost.get)
    return best if lost[other] - lost[best] > ALIKE else ""


def which_moves() -> OrderQuestion:
    """Predict an order: which colours a matt paper moves most."""
    pale, red, black = SWATCHES
    words = "Three colours of a file: " + ", ".join(SWATCHES) + "."
    figure = FigureApp(
        Compared(),
        [],
        draw=lambda state, units: draw_swatches(
            list(SWATCHES.items()), prefix="moves", title="Three colours of a file", words=words
        ),
        tell=lambda state, units: words,
        units=home().room().units,
    )
    return OrderQuestion(
        "These three go onto our matt paper. Put them in order by how far the paper moves them, least first.",
        (pale, red, black),
        "The pale sky stays as it is (ΔE2000 0.4). The brick red becomes duller (4.6). Nearly black moves "
        "most (10.5): nothing on a paper is darker than its deepest black, and on this one that is a dark "
        "grey of L* 17. A print looks weak in its darks before it looks weak in its colours.",
        {
            (black, red): "Grey seems harmless because it has no colour. But how dark can a matt paper be?",
            (black, pale): "Pale colours are mostly bare paper. The dark ones need a deep black.",
            (red, pale): "The red needs much ink, the pale sky hardly any.",
        },
        figure,
    )  # fmt: skip


def _first(look: str, name: str) -> tuple[int, str]:
    if look == "lost":
        return PROOFS.index(f"{name}, lost"), "hatched: lost"
    return 0, "on the screen"


def _on(name: str, state: Compared) -> str:
    return f"{name}, lost" if state.look == "lost" else f"{name}, relative, own white"


def _draw(tiles, made: dict, prefix: str, title: str, words: str) -> str:
    return draw_prints(tiles, len(PROOFS), made["shape"], prefix=prefix, title=title, words=words)


def _paper_rows(name: str) -> list[Reading]:
    found = paper(name)
    return [
        ("white, L* (100 reflects all)", f"{found.white[0]:.0f}"),
        ("deepest black, L*", f"{found.black[0]:.0f}"),
    ]


def _proof_sentence(state: Proofed, made: dict) -> str:
    facts, white = (
        made["papers"][state.paper],
        "its own white" if state.white else "white as the screen's",
    )
    return (
        f"The picture on the screen, and as it will look on the {state.paper} paper by the relative and by "
        f"the perceptual intent, {white}. {share_text(facts['lost'])} of it cannot be shown there"
        f"{', and is hatched' if state.look == 'lost' else ''}. The screen is taken as sRGB."
    )  # fmt: skip


def _compared_sentence(state: Compared, made: dict) -> str:
    lost = ", ".join(f"{share_text(made['papers'][name]['lost'])} on {name}" for name in PAPERS)
    best = suits(made)
    end = (
        f"The {best} paper shows more of it."
        if best
        else "Both show as much of it: choose by the surface."
    )
    return f"The picture on the screen, and on two papers. Cannot be shown: {lost}. {end}"


def _made(picture: str | Path | None) -> tuple[dict, Room]:
    room = home().room()
    kept = cached_file(your_picture(room, picture), room, keep_proofs, "-proofs.json")
    return json.loads(kept.read_text(encoding="utf-8")), room
