"""A picture's shape against the paper's: by width, by height, whole, or filled and cropped."""

from dataclasses import dataclass
from fractions import Fraction

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


WHOLE = Crop()


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


def refuse_outside(keep: tuple[Fraction, Fraction]) -> None:
    """LabError for a point to keep that lies outside the picture."""
    if not all(0 <= part <= 1 for part in keep):
        across, down = (decimal(Fraction(part), 3) for part in keep)
        raise LabError(
            f"the point to keep, {across},{down}, lies outside the picture: "
            "give two numbers from 0 to 1, such as 0.5,0.3."
        )


def ratio_text(ratio: Fraction) -> str:
    """A ratio in small whole numbers where it has them, else to 1: ``3 : 2``, ``1.414 : 1``.

    Small is up to 22, so that letter paper is told as 17 : 22.
    """
    if max(ratio.numerator, ratio.denominator) <= 22:
        return f"{ratio.numerator} : {ratio.denominator}"
    return f"{decimal(ratio, 3)} : 1" if ratio >= 1 else f"1 : {decimal(1 / ratio, 3)}"
