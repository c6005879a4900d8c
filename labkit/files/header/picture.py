"""A picture as its file states it, turned as it is shown; no pixels."""

from base64 import b64decode, b64encode
from collections.abc import Iterator
from dataclasses import dataclass, field, fields
from fractions import Fraction
from pathlib import Path

from labkit.files.header.facts import Facts
from labkit.geometry.length import Length, decimal


@dataclass(frozen=True)
class Picture(Facts):
    """A picture file: its facts, and no pixels.

    ``kind`` is the format found in the content, whatever the name ends in: JPEG, PNG, TIFF, WebP,
    HEIC, AVIF, GIF, BMP, JPEG 2000 or PPM. ``pixels`` (width, height), like ``ppi``, are as the picture
    is shown, turned as ``orientation`` says. ``profile`` is the embedded ICC profile and ``profile_name``
    its description; of one that is damaged or cannot be used only ``profile_fault`` tells. ``page`` is
    the one that was asked for by its number, 0 where none was and the first is meant.
    """

    path: Path
    kind: str
    pixels: tuple[int, int]
    profile: bytes | None = field(default=None, repr=False)
    profile_name: str = ""
    profile_fault: str = ""
    page: int = 0

    @property
    def stored(self) -> tuple[int, int]:
        """Width and height in pixels as the picture lies in the file, before it is turned."""
        return self.pixels[::-1] if self.orientation >= 5 else self.pixels

    @property
    def size(self) -> tuple[Length, Length] | None:
        """Width and height at 100 %, exact; None when the file does not state a resolution."""
        if self.ppi is None:
            return None
        width, height = (
            Length(count / ppi) for count, ppi in zip(self.pixels, self.ppi, strict=True)
        )
        return width, height

    @property
    def colours(self) -> str:
        """Its colours in a word: RGB, grey, CMYK, Lab, colour table, or black and white."""
        return _COLOUR_WORDS.get(self.mode, "RGB")

    @property
    def profile_class(self) -> str:
        """What the profile describes: "mntr" a display, "scnr" an input, "prtr" a printer … (ICC.1 §7.2.5);
        "" without one."""
        return (self.profile or b"")[12:16].decode("latin-1")

    @property
    def profile_space(self) -> str:
        """The colours it is for, in four signs: "RGB ", "GRAY", "CMYK" … (ICC.1 §7.2.6); "" without one."""
        return (self.profile or b"")[16:20].decode("latin-1")

    @property
    def megapixels(self) -> float:
        """Millions of pixels."""
        return self.pixels[0] * self.pixels[1] / 1e6

    def sentence(self, first: str = "in") -> str:
        """The facts in words, lengths with the unit ``first`` ("in" or "mm") in front."""
        told = ", ".join([self.kind, "{} × {} pixels".format(*self.pixels), *self._words()])
        if self.size is None:
            return f"{self.path.name}: {told}; it states no resolution, so it has no size yet."
        width, height = (side.both(first) for side in self.size)
        return f"{self.path.name}: {told}, so {width} by {height} at 100 %."

    def _words(self) -> Iterator[str]:
        if self.ppi:
            yield " × ".join(dict.fromkeys(decimal(ppi, 2) for ppi in self.ppi)) + " ppi"
        if self.colours != "RGB":
            yield self.colours
        if self.depth not in (1, 8):
            yield f"{self.depth} bits a channel"
        yield self.profile_name or ("damaged profile" if self.profile_fault else "no profile")
        if self.pages > 1:
            yield f"{self.pages} pages"
        if self.layers:
            yield "layers"
        if self.alpha:
            yield "transparency"

    def __str__(self) -> str:
        return self.sentence()

    def _repr_pretty_(self, printer, cycle):
        printer.text(str(self))


_COLOUR_WORDS = {
    "1": "black and white", "L": "grey", "LA": "grey", "I": "grey", "I;16": "grey", "F": "grey",
    "P": "colour table", "PA": "colour table", "CMYK": "CMYK", "LAB": "Lab",
}  # fmt: skip


def to_json(picture: Picture) -> dict:
    """All facts as plain values, but for the path."""
    told = {each.name: getattr(picture, each.name) for each in fields(Picture)}
    del told["path"]
    for name in _RATIOS:
        told[name] = told[name] and [str(ppi) for ppi in told[name]]
    told["profile"] = told["profile"] and b64encode(told["profile"]).decode()
    return told


def from_json(path: Path, told: dict) -> Picture:
    """The picture at ``path`` from what :func:`to_json` made of it."""
    told = dict(told)
    for name in _RATIOS:
        told[name] = told[name] and tuple(map(Fraction, told[name]))
    told["profile"] = told["profile"] and b64decode(told["profile"])
    return Picture(path, **told | {"pixels": tuple(told["pixels"])})


_RATIOS = ("ppi", "other_ppi")
