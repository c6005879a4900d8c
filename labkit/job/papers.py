"""The papers of a room compared for one picture: what each shows of it, and which to take."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from labkit.errors import LabError
from labkit.files.child.guarded import Child, resident_child
from labkit.files.header.picture import Picture
from labkit.geometry.paper import Sheet
from labkit.room.route import Route
from labkit.room.rules import Room

LONGEST = 600
"""The longer side, in pixels, of the copy of the picture that is measured."""
ALIKE = 0.02
"""Papers whose shares of lost colours differ by no more than this show as much (our own judgement)."""


@dataclass(frozen=True)
class Candidate:
    """A paper for the picture, and how a print on it goes.

    ``white`` and ``black`` are the lightness (CIE L*) of bare paper and of its deepest black, ``lost`` the
    share of the picture, 0 to 1, that it cannot show, ``too_dark`` what of it is too dark; all are None
    where ``why_not`` says why nothing is known. ``preview`` is the picture as it will look, a ``data:``
    address.
    """

    route: Route
    white: float | None = None
    black: float | None = None
    lost: float | None = None
    too_dark: float | None = None
    preview: str = ""
    why_not: str = ""

    @property
    def price(self) -> Decimal | None:
        """Of one print; None where the paper is not kept in this size, or has no price."""
        return self.route.price()


@dataclass(frozen=True)
class Comparison:
    """The papers of a room for one picture on one sheet; ``shape`` is that of the copy measured."""

    picture: Picture
    sheet: Sheet
    candidates: tuple[Candidate, ...]
    original: str
    shape: tuple[int, int]

    @property
    def recommended(self) -> Candidate | None:
        """Of the papers kept in this size that show plainly the most of it, the cheapest; None where fewer
        than two can be compared."""
        known = self._known()
        if len(known) < 2:
            return None
        least = min(each.lost for each in known)
        alike = [each for each in known if each.lost - least <= ALIKE]
        return min(alike, key=lambda each: (each.price is None, each.price or 0))

    def _known(self) -> list[Candidate]:
        return [each for each in self.candidates if each.lost is not None and each.route.stock]

    def reason(self, room: Room) -> str:
        """What is recommended, why, and what it costs, in sentences."""
        best = self.recommended
        if best is None:
            return (
                "Nothing is recommended: to compare what papers show, the settings of two of them that are "
                "kept in this size must name their profiles in the room's file."
            )
        others = [each for each in self._known() if each is not best]
        alike = [each for each in others if abs(each.lost - best.lost) <= ALIKE]
        name = best.route.paper.name
        if alike:
            names = ", ".join(each.route.paper.name for each in alike)
            told = f"Take {name}: {names} would show as much of this picture, and cost no less."
        else:
            next_best = min(others, key=lambda each: each.lost)
            told = (
                f"Take {name}: {share_text(best.lost)} of this picture cannot be shown on it, and "
                f"{share_text(next_best.lost)} on {next_best.route.paper.name}, the next."
            )
        return f"{told} {self._cost(best, room)}"

    def _cost(self, best: Candidate, room: Room) -> str:
        if best.price is None:
            return "It has no price here."
        cheapest = min(
            (each for each in self.candidates if each.price is not None), key=lambda own: own.price
        )
        more = best.price - cheapest.price
        told = f"A print costs {room.money(best.price)}"
        if not more:
            return f"{told}, and none costs less."
        return f"{told}, {room.money(more)} more than on {cheapest.route.paper.name}, the cheapest."


def compare_papers(
    picture: Picture, room: Room, *, sheet: Sheet | None = None, child: Child | None = None
) -> Comparison:
    """Compare every paper of the room for ``picture`` on ``sheet``.

    Without one it is the smallest in stock that holds the size the picture states, or the first in stock.
    Two papers may be compared only where their settings name a profile. LabError for a picture that
    cannot be read.
    """
    sheet = sheet or (picture.size and room.sheet_for(picture.size)) or room.sheets[0]
    routes = [room.route(sheet, paper) for paper in room.papers]
    profiles = [each.setting.profile if each.setting else None for each in routes]
    told = (child or resident_child()).run(
        measure, picture, room, profiles,
        seconds=room.limits.seconds * (len(routes) + 1), memory_mb=room.limits.memory_mb,
        about=picture.path.name,
    )  # fmt: skip
    candidates = [
        Candidate(route, **facts) for route, facts in zip(routes, told["papers"], strict=True)
    ]
    return Comparison(picture, sheet, tuple(candidates), told["original"], tuple(told["shape"]))


def measure(picture: Picture, room: Room, profiles: Sequence[Path | None]) -> dict:
    """In a guarded child: what each of the papers with these profiles shows of the picture."""
    import numpy as np
    from PIL import Image

    from labkit.files.look.address import address_of
    from labkit.files.pixels.conversion import conversion, srgb_profile
    from labkit.files.pixels.decode import decode
    from labkit.files.pixels.transform import transform
    from labkit.files.writing.strips import preview

    to_rgb = conversion(picture, room.colour)
    rgb = np.asarray(preview(decode(picture), to_rgb, LONGEST))
    original = transform(rgb, to_rgb.profile, srgb_profile(), dtype="u1")
    return {
        "papers": [_measured(rgb, to_rgb.profile, each, room) for each in profiles],
        "original": address_of(Image.fromarray(original)),
        "shape": rgb.shape[1::-1],
    }


def _measured(rgb, source: bytes, profile: Path | None, room: Room) -> dict:
    from PIL import Image

    from labkit.files.look.address import address_of
    from labkit.files.pixels.paperprofile import paper_profile
    from labkit.files.pixels.proof import proof

    if profile is None:
        return {"why_not": "its setting names no profile"}
    try:
        paper = paper_profile(profile)
        made = proof(rgb, source, paper, intent=room.colour.intent, paper_white=True)
    except LabError as refusal:
        return {"why_not": str(refusal).removesuffix(".")}
    return {
        "white": paper.white[0],
        "black": paper.black[0],
        "lost": made.share,
        "too_dark": made.share_too_dark,
        "preview": address_of(Image.fromarray(made.printed)),
    }


def share_text(share: float) -> str:
    """A share in words.

    >>> share_text(0.001), share_text(0.25)
    ('less than 1%', '25%')
    """
    return "less than 1%" if 0 < share < 0.005 else f"{share:.0%}"


HEADS = ("paper", "kind", "weight", "white", "black", "cannot show", "because too dark", "a print")


def rows_of(compared: Comparison, room: Room) -> list[tuple[str, ...]]:
    """The comparison as a table: its heads, then a row for each paper; "–" for what is not known."""
    return [HEADS, *(_row(each, room) for each in compared.candidates)]


def _row(each: Candidate, room: Room) -> tuple[str, ...]:
    paper = each.route.paper
    price = room.money(each.price) if each.route.stock else "not kept in this size"
    known = each.lost is not None
    measured = (
        (f"{each.white:.0f}", f"{each.black:.0f}", share_text(each.lost), share_text(each.too_dark))
        if known
        else ("–",) * 4
    )
    return paper.name, paper.surface, f"{paper.weight_gsm} g/m²", *measured, price


def unknown(compared: Comparison) -> list[str]:
    """A sentence on each paper of which nothing could be measured."""
    return [
        f"{each.route.paper.name}: {each.why_not}." for each in compared.candidates if each.why_not
    ]


def page(compared: Comparison, room: Room) -> str:
    """The comparison as one page of HTML."""
    from labkit.drawing.pages.papers import papers_page

    known = [each for each in compared.candidates if each.preview]
    return papers_page(
        picture=compared.picture.path.name,
        sheet=str(compared.sheet),
        table=rows_of(compared, room),
        looks=[
            ("on the screen", compared.original),
            *((f"on {each.route.paper.name}", each.preview) for each in known),
        ],
        unknown=unknown(compared),
        reason=compared.reason(room),
        shape=compared.shape,
        room=room,
    )
