"""A picture's shape against the paper's: by width, by height, whole, or filled and cropped."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import sqrt

from labkit.errors import LabError
from labkit.geometry.length import Length, decimal

HALF = Fraction(1, 2)


@dataclass(frozen=True, slots=True)
class Crop:
    """The part of a picture that is used, in fractions of its width and height (0–1, exact)."""

    left: Fraction = Fraction(0)
    top: Fraction = Fraction(0)
    width: Fraction = Fraction(1)
    height: Fraction = Fraction(1)

    @property
    def lost(self) -> Fraction:
        """The share of the picture's area that is cut off."""
        return 1 - self.width * self.height

    def keep_at(self, left: Fraction, top: Fraction) -> tuple[Fraction, Fraction]:
        """The point to keep that puts a crop of this size at ``left`` and ``top``, or as near as it goes.

        >>> Crop(width=HALF).keep_at(Fraction(1, 8), Fraction(0))
        (Fraction(1, 4), Fraction(1, 2))
        """
        sides = ((left, self.width), (top, self.height))
        return tuple(
            HALF if size == 1 else min(max(at / (1 - size), Fraction(0)), Fraction(1))
            for at, size in sides
        )


WHOLE = Crop()


@dataclass(frozen=True, slots=True)
class Part:
    """A named part of a picture; ``box`` is left, top, right, bottom in fractions of its size."""

    name: str
    box: tuple[Fraction, Fraction, Fraction, Fraction]

    def shown(self, crop: Crop) -> Fraction:
        """The share of it that lies within ``crop``: 1 when all of it does.

        >>> Part("the left half", (Fraction(0), Fraction(0), HALF, Fraction(1))).shown(WHOLE)
        Fraction(1, 1)
        """
        left, top, right, bottom = self.box
        wide = min(right, crop.left + crop.width) - max(left, crop.left)
        high = min(bottom, crop.top + crop.height) - max(top, crop.top)
        return max(0, wide) * max(0, high) / ((right - left) * (bottom - top))

    def short(self, crop: Crop) -> dict[str, Fraction]:
        """How far it sticks out of ``crop`` on each side that it does, in fractions of the picture."""
        left, top, right, bottom = self.box
        out = {
            "left": crop.left - left,
            "top": crop.top - top,
            "right": right - crop.left - crop.width,
            "bottom": bottom - crop.top - crop.height,
        }
        return {side: by for side, by in out.items() if by > 0}

    def grown(self, wide: Fraction, high: Fraction) -> "Part":
        """With ``wide`` more on its left and right and ``high`` more above and below."""
        left, top, right, bottom = self.box
        return Part(self.name, (left - wide, top - high, right + wide, bottom + high))


def by_width(shape: tuple[int, int], width: Length) -> tuple[Length, Length]:
    """The size of a picture of ``shape`` pixels printed ``width`` wide.

    >>> by_width((3600, 2400), Length(Fraction(12)))
    (Length('12 in'), Length('8 in'))
    """
    return width, width * Fraction(shape[1], shape[0])


def by_height(shape: tuple[int, int], height: Length) -> tuple[Length, Length]:
    """The size of a picture of ``shape`` pixels printed ``height`` high."""
    return height * Fraction(shape[0], shape[1]), height


def by_both(shape: tuple[int, int], width: Length, height: Length) -> tuple[Length, Length]:
    """``width`` and ``height`` where they have the picture's ratio within half a pixel; else LabError.

    A picture is never stretched, so the sentence names both ratios and the two ways out.
    """
    exact = by_width(shape, width)[1]
    if abs(exact - height) > exact * Fraction(1, 2 * shape[1]):
        raise LabError(
            f"{width.inch_text()} × {height.inch_text()} is {ratio_text(width / height)}, but the "
            f"picture is {ratio_text(Fraction(*shape))} and is never stretched: give the width alone "
            f"(the height is then {exact.both()}), or use fill to crop it to that shape."
        )
    return width, exact


def fit(shape: tuple[int, int], width: Length, height: Length) -> tuple[Length, Length]:
    """The largest size at which the whole picture stays inside ``width`` × ``height``."""
    by_wide = by_width(shape, width)
    return by_wide if by_wide[1] <= height else by_height(shape, height)


def fill(
    shape: tuple[int, int],
    width: Length,
    height: Length,
    keep: tuple[Fraction, Fraction] = (HALF, HALF),
) -> Crop:
    """The largest part of a picture of ``shape`` pixels with the shape of ``width`` × ``height``.

    ``keep`` says what stays when something must go: (0, 0) the left and the top, (1, 1) the right
    and the bottom, (½, ½) the middle. LabError for one outside that.

    >>> fill((400, 300), Length(Fraction(4)), Length(Fraction(4)))
    Crop(left=Fraction(1, 8), top=Fraction(0, 1), width=Fraction(3, 4), height=Fraction(1, 1))
    """
    refuse_outside(keep)
    relative = (width / height) / Fraction(*shape)
    wide, high = min(Fraction(1), relative), min(Fraction(1), 1 / relative)
    return Crop((1 - wide) * keep[0], (1 - high) * keep[1], wide, high)


def ratio_inside(width: Length, height: Length, border: Length) -> Fraction:
    """The shape of the picture that leaves ``border`` on all four sides of a sheet: width over height.

    LabError for a border that leaves no picture.

    >>> ratio_inside(Length(Fraction(19)), Length(Fraction(13)), Length(HALF))
    Fraction(3, 2)
    """
    if border * 2 >= min(width, height) or border.inches < 0:
        raise LabError(
            f"equal borders of {border} leave no picture on {width.both()} by {height.both()}: "
            "give one from nothing to less than half the shorter side."
        )
    return (width - border * 2) / (height - border * 2)


def equal_border(ratio: Fraction, width: Length, height: Length) -> Length:
    """The border that a picture of ``ratio`` leaves on all four sides of a sheet.

    It solves (width - 2b) / (height - 2b) = ratio for b. Taking as much from both sides makes a shape
    longer, never rounder: so LabError for a picture that is nearer to a square than the sheet, or lies
    the other way; and for a square on a square sheet, where every border is equal.

    >>> equal_border(Fraction(3, 2), Length(Fraction(19)), Length(Fraction(13)))
    Length('1/2 in')
    """
    if ratio == 1 and width == height:
        raise LabError("a square on a square sheet leaves equal borders at any size: choose one.")
    border = None if ratio == 1 else (width - height * ratio) / (2 * (1 - ratio))
    if border is None or border.inches < 0 or border * 2 >= min(width, height):
        raise LabError(
            f"a whole picture of {ratio_text(ratio)} leaves no equal borders on {width.both()} by "
            f"{height.both()}, a sheet of {ratio_text(width / height)}: it would have to be longer in "
            "shape than the sheet, and lie the same way. Crop it, turn the sheet, or choose another."
        )
    return border


ALIKE = ("width", "height", "area")
"""What the pictures of a series can have in common."""


def series(
    ratios: Sequence[Fraction], width: Length, height: Length, alike: str
) -> list[tuple[Length, Length]]:
    """The largest sizes at which pictures of these ``ratios`` all stay inside ``width`` × ``height`` and
    have the same ``alike``: "width", "height" or "area".

    Of equal areas the sides are roots, so exact only to a float. LabError for another word.

    >>> series([Fraction(3, 2), Fraction(1)], Length(Fraction(6)), Length(Fraction(5)), "height")
    [(Length('6 in'), Length('4 in')), (Length('4 in'), Length('4 in'))]
    """
    if alike == "width":
        common = min(width, height * min(ratios))
        return [(common, common / ratio) for ratio in ratios]
    if alike == "height":
        common = min(height, width / max(ratios))
        return [(common * ratio, common) for ratio in ratios]
    if alike != "area":
        raise LabError(f"“{alike}” is nothing to have in common: use {', '.join(ALIKE)}.")
    area = min(
        min(width.inches**2 / ratio, height.inches**2 * ratio) for ratio in ratios
    )  # of the picture that reaches the edge first
    wide = [min(width, height * ratio, Length(Fraction(sqrt(area * ratio)))) for ratio in ratios]
    return [(side, side / ratio) for side, ratio in zip(wide, ratios, strict=True)]


def refuse_outside(keep: tuple[Fraction, Fraction]) -> None:
    """LabError for a point to keep that lies outside the picture."""
    if not all(0 <= part <= 1 for part in keep):
        across, down = (decimal(Fraction(part), 3) for part in keep)
        raise LabError(
            f"the point to keep, {across},{down}, lies outside the picture: "
            "give two numbers from 0 to 1, such as 0.5,0.3."
        )


def share(text: str, what: str = "a share") -> Fraction:
    """Read a share of a whole as people write it: ``17%``, ``0.17``, ``1/6``.

    ``what`` names it in the sentence of a refusal. LabError for what is none, and for one above 1 that
    has no per cent sign.

    >>> share("12.5 %"), share("1/8")
    (Fraction(1, 8), Fraction(1, 8))
    """
    plain = text.strip().replace(",", ".")
    try:
        value = Fraction(plain.removesuffix("%").strip()) / (100 if plain.endswith("%") else 1)
    except (ValueError, ZeroDivisionError):
        value = None
    if value is None or not 0 <= value <= 1:
        raise LabError(f"{what} of “{text}” is no share of a whole: write it like 25% or 1/4.")
    return value


def ratio_text(ratio: Fraction) -> str:
    """A ratio in small whole numbers where it has them, else to 1: ``3 : 2``, ``1.414 : 1``.

    Small is up to 22, so that letter paper is told as 17 : 22.
    """
    if max(ratio.numerator, ratio.denominator) <= 22:
        return f"{ratio.numerator} : {ratio.denominator}"
    return f"{decimal(ratio, 3)} : 1" if ratio >= 1 else f"1 : {decimal(1 / ratio, 3)}"
