"""What a room prints with: printers, the paths of each, and the settings of each paper on a path."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from labkit.geometry.box import Edges
from labkit.geometry.length import Length

PATHS = {"sheet": "sheet feed", "hand": "hand feed", "roll": "roll"}
"""The ways through a printer, as the room file spells them and as they are told."""


@dataclass(frozen=True, slots=True)
class Feed:
    """A way through a printer, for an upright sheet, the edge that goes in first on top.

    ``widest`` is the widest paper it takes, ``longest`` the longest piece. ``cuts``: the printer cuts the
    paper across by itself after each print file, as it may off a roll.
    """

    unprintable: Edges
    widest: Length
    longest: Length
    cuts: bool = False


@dataclass(frozen=True, slots=True)
class Printer:
    """A printer and its paths, each None where it has none; it has one at least."""

    name: str
    sheet: Feed | None
    hand: Feed | None
    roll: Feed | None

    @property
    def feeds(self) -> dict[str, Feed]:
        """The paths it has, by the names of PATHS."""
        return {name: feed for name in PATHS if (feed := getattr(self, name))}


@dataclass(frozen=True, slots=True)
class Measured:
    """What a ruler sheet came out as: measured length divided by asked length, across the feed and along
    it, with the largest difference among the sheets measured (a part of one); how far right the middle of a
    sheet comes out of its place, and how far down a print begins out of its place at the edge that goes in
    first, from where ``along`` adds up."""

    date: date
    across: Fraction
    along: Fraction
    spread: Fraction
    offset_across: Length
    offset_along: Length


@dataclass(frozen=True, slots=True)
class Setting:
    """How one paper is printed on one printer by one path; names as in the room file.

    ``media`` is the room's own name of the media setting, ``colour_by`` where colour is managed
    ("program" or "printer"). ``minutes_to_load`` is a sheet's, or a roll's; ``leader`` and ``tail`` run
    through before and after a print off a roll, and are None on other paths.
    """

    printer: str
    paper: str
    path: str
    default: bool
    media: str
    colour_by: str
    profile: Path | None
    minutes_per_square_metre: Decimal
    minutes_to_load: Decimal
    drying_hours: Decimal
    leader: Length | None
    tail: Length | None
    measured: Measured | None


def hours_text(hours: Decimal) -> str:
    """A time to dry, in words.

    >>> hours_text(Decimal(1)), hours_text(Decimal("24.0"))
    ('1 hour', '24 hours')
    """
    return "1 hour" if hours == 1 else f"{float(hours):g} hours"
