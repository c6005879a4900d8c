"""Where a picture sits on a sheet: one type for lessons, drawing, writer and checker."""

from dataclasses import dataclass
from fractions import Fraction

from labkit.errors import LabError
from labkit.geometry import proportion
from labkit.geometry.box import Box, Edges
from labkit.geometry.length import ZERO, Length
from labkit.geometry.paper import Sheet
from labkit.geometry.proportion import HALF, WHOLE, Crop
from labkit.geometry.resolution import ppi_at, ppi_text
from labkit.geometry.trim import MARK_LENGTH, Trim

PLACES = ("centre", "optical", "even-three")
"""The places that have a name; any other is given by its left and top."""

TOP_SHARE = Fraction(2, 5)
"""Spare white is divided 2 : 3 above and below: Gage, Applied Design for Printers (1920), Fig. 9–10."""


@dataclass(frozen=True, slots=True)
class Layout:
    """A sheet, the picture's box on it, the part of the picture used, and what is cut off.

    All lengths are exact; nothing here is in pixels. ``unprintable`` are the printer's four edges as
    this sheet lies. ``trim`` is None for a print that keeps its borders.
    """

    sheet: Sheet
    picture: Box
    crop: Crop = WHOLE
    unprintable: Edges = Edges()
    trim: Trim | None = None

    @property
    def sheet_box(self) -> Box:
        """The sheet as a box."""
        return Box(ZERO, ZERO, self.sheet.width, self.sheet.height)

    @property
    def borders(self) -> Edges:
        """White on the four sides of the picture; with the picture they add up to the sheet."""
        return self.picture.within(self.sheet_box)

    @property
    def printable(self) -> Box:
        """What the printer can reach."""
        return _reach(self.sheet, self.unprintable)

    @property
    def keeps_white(self) -> bool:
        """Whether it is cut outside the picture, so that white borders stay round it."""
        return self.trim is not None and all(
            border > ZERO for _, border in self.picture.within(self.trim.box).items()
        )

    @property
    def guides(self) -> tuple[tuple[Length, Length], tuple[Length, Length]]:
        """Where guides stand to place the picture by hand: two across the sheet, two down it."""
        box = self.trim.box if self.trim and not self.keeps_white else self.picture
        return (box.left, box.right), (box.top, box.bottom)

    def sentence(self, first: str = "in") -> str:
        """The layout in words: what is on what, and the four borders."""
        width, height = (side.both(first) for side in self.picture.size)
        told = f"Picture {width} wide and {height} high on {self.sheet}. Borders: {self.borders.text(first)}."
        if self.trim:
            wide, high = (side.both(first) for side in self.trim.box.size)
            kept = self.picture.within(self.trim.box).text(first)
            bleed = f"with {self.trim.bleed.both(first)} of bleed"
            told += f" Trimmed to {wide} by {high}, {f'with borders: {kept}' if self.keeps_white else bleed}."
        if lost := round(self.crop.lost * 100):
            told += f" {lost}% of the picture is cropped."
        return told

    def __str__(self) -> str:
        return self.sentence()

    def _repr_pretty_(self, printer, cycle):
        printer.text(str(self))


def place(
    size: tuple[Length, Length],
    sheet: Sheet,
    at: str = "centre",
    *,
    least_top: Length = ZERO,
) -> tuple[Length, Length]:
    """Left and top of a piece of ``size`` put at a named place on ``sheet``.

    ``centre`` halves the spare white both ways. ``optical`` divides the spare height 2 : 3, with
    ``least_top`` above if that is more, but never more above than below. ``even-three`` makes left,
    right and top equal and leaves the rest below. LabError for another word, a piece larger than the
    sheet, or one whose three even borders leave less below than above.
    """
    wide, high = sheet.width - size[0], sheet.height - size[1]
    if min(wide, high) < ZERO:
        over = " and ".join(
            f"{-spare} too {word}"
            for spare, word in ((wide, "wide"), (high, "high"))
            if spare < ZERO
        )
        turned = size[0] <= sheet.height and size[1] <= sheet.width
        ways = (
            ", choose a larger sheet, or turn the sheet" if turned else ", or choose a larger sheet"
        )
        raise LabError(f"{_by(size)} does not fit on {sheet}: it is {over}. Make it smaller{ways}.")
    side = wide / 2
    if at in ("centre", "center"):
        return side, high / 2
    if at == "optical":
        return side, min(max(high * TOP_SHARE, least_top), high / 2)
    if at == "even-three":
        if high - side < side:
            raise LabError(
                f"three even borders of {side} leave less than that below, for the sheet is only "
                f"{high} higher than the piece: turn the sheet, or place it at centre."
            )
        return side, side
    raise LabError(f"“{at}” is no place: use {', '.join(PLACES)}, or give left and top.")


def lay_out(
    shape: tuple[int, int],
    sheet: Sheet,
    *,
    unprintable: Edges = Edges(),
    stated: tuple[Length, Length] | None = None,
    width: Length | None = None,
    height: Length | None = None,
    fit: bool = False,
    fill: bool = False,
    border: Length = ZERO,
    keep: tuple[Fraction, Fraction] = (HALF, HALF),
    at: str = "centre",
    left: Length | None = None,
    top: Length | None = None,
    trim: tuple[Length, Length] | None = None,
    bleed: Length = ZERO,
) -> Layout:
    """Lay a picture of ``shape`` pixels out on ``sheet``.

    Its size comes from ``width``, ``height`` or both; from ``fit`` (the largest that keeps ``border``
    on all sides); from ``fill`` (covers all inside the border, or just ``width`` × ``height``, cropped so
    that ``keep`` stays); else it is ``stated``, the size the file itself states. It sits ``at`` a named
    place, or with its upper left corner at ``left`` and ``top``. With ``trim`` the picture covers the
    trim size plus ``bleed``, and it is the trimmed piece that is placed. ``unprintable`` are the
    printer's edges as the sheet lies. LabError for anything that cannot be printed so, with the figures
    and the ways out.
    """
    _refuse_two_sizes(width, height, fit=fit, fill=fill, trim=trim)
    if fit and trim is not None:
        raise LabError("fit keeps borders and trim cuts them off: leave one of the two out.")
    if (left is None) != (top is None):
        raise LabError("left and top go together: give both, or a place such as centre.")
    for size, word in ((border, "border"), (bleed, "bleed")):
        if size < ZERO:
            raise LabError(f"a {word} of {size} is less than none: give zero or more.")
    asked = _asked_size(shape, width, height, crop=fill)
    if trim is not None:
        cut = _cut(sheet, unprintable, at, left, top, trim, bleed)
        shown = cut.bleed_box.size
        crop = _covering(asked, shown, keep) if asked else proportion.fill(shape, *shown, keep)
        return Layout(sheet, cut.bleed_box, crop, unprintable, cut)
    if fill and asked:
        size, crop = asked, proportion.fill(shape, *asked, keep)
    elif fit or fill:
        inner = sheet.width - border * 2, sheet.height - border * 2
        if min(inner) <= ZERO:
            raise LabError(
                f"borders of {border} leave nothing of {sheet}: make the border smaller."
            )
        size = proportion.fit(shape, *inner) if fit else inner
        crop = proportion.fill(shape, *inner, keep) if fill else WHOLE
    else:
        whole = asked or _stated_size(shape, stated)
        size = _to_the_pixel(shape, whole, sheet)
        crop = _covering(whole, size, (HALF, HALF))
    if left is None:
        least = max(unprintable.top, border if (fit or fill) and not asked else ZERO)
        left, top = place(size, sheet, at, least_top=least)
    layout = Layout(sheet, Box(left, top, *size), crop, unprintable)
    _refuse_short(layout.borders, sheet, unprintable)
    return layout


def sized(
    shape: tuple[int, int],
    *,
    stated: tuple[Length, Length] | None = None,
    width: Length | None = None,
    height: Length | None = None,
    fill: bool = False,
    keep: tuple[Fraction, Fraction] = (HALF, HALF),
) -> tuple[tuple[Length, Length], Crop]:
    """The size of a picture of ``shape`` pixels that is on no sheet yet, and what is used of it; the words
    are those of :func:`lay_out`."""
    _refuse_two_sizes(width, height, fit=False, fill=fill, trim=None)
    asked = _asked_size(shape, width, height, crop=fill)
    if fill and asked is None:
        raise LabError("to fill a box, give its width and its height.")
    if fill:
        return asked, proportion.fill(shape, *asked, keep)
    return asked or _stated_size(shape, stated), WHOLE


def _refuse_two_sizes(width, height, *, fit: bool, fill: bool, trim) -> None:
    sides = [side for side in (width, height) if side is not None]
    if fit and (fill or sides):
        raise LabError("width or height, fit, and fill are three ways to give a size: choose one.")
    if fill and len(sides) == 1:
        raise LabError(
            "to fill a box, give both its width and its height: with one of them alone the picture "
            "keeps its shape, and there is nothing to crop."
        )
    if fill and sides and trim is not None:
        raise LabError(
            "trim gives the box that is filled, and so do width and height: leave one of the two out."
        )


def _asked_size(shape, width, height, *, crop: bool) -> tuple[Length, Length] | None:
    for side, word in ((width, "width"), (height, "height")):
        if side is not None and side <= ZERO:
            raise LabError(f"a {word} of {side} leaves no picture: give one above zero.")
    if width is not None and height is not None:
        return (width, height) if crop else proportion.by_both(shape, width, height)
    if width is not None:
        return proportion.by_width(shape, width)
    return proportion.by_height(shape, height) if height is not None else None


def _stated_size(shape, stated) -> tuple[Length, Length]:
    if stated is None:
        raise LabError(
            "the file does not state its size: give a width or a height, or use fit or fill."
        )
    try:
        return proportion.by_both(shape, *stated)
    except LabError:
        across, down = (ppi_text(ppi_at(n, side)) for n, side in zip(shape, stated, strict=True))
        raise LabError(
            f"the file states {across} across and {down} down, but a picture is never stretched: "
            "give a width or a height, or use fit or fill."
        ) from None


def _to_the_pixel(shape, size, sheet: Sheet) -> tuple[Length, Length]:
    """Pixels are whole and sheets need not be: up to half a pixel over the sheet is left off."""
    sides = zip(size, shape, (sheet.width, sheet.height), strict=True)
    return tuple(
        room if room < side <= room + side / (2 * pixels) else side for side, pixels, room in sides
    )


def _cut(sheet: Sheet, unprintable: Edges, at, left, top, trim, bleed) -> Trim:
    """The finished piece in its place; LabError where its bleed and marks cannot be printed."""
    if min(trim) <= ZERO:
        raise LabError(f"a trim size of {_by(trim)} leaves no print: give two sides above zero.")
    if left is None:
        left, top = place(trim, sheet, at, least_top=unprintable.top + bleed + MARK_LENGTH)
    cut = Trim(Box(left, top, *trim), bleed)
    short = _below_zero(cut.marked_box.within(_reach(sheet, unprintable)))
    if short:
        raise LabError(
            f"{_by(trim)} with {bleed} of bleed and corner marks of {MARK_LENGTH} does not fit what "
            f"the printer reaches of {sheet}: over by {_sides(short)}. Move it, or use a larger sheet "
            "or less bleed."
        )
    return cut


def _reach(sheet: Sheet, unprintable: Edges) -> Box:
    wide = sheet.width - unprintable.left - unprintable.right
    high = sheet.height - unprintable.top - unprintable.bottom
    return Box(unprintable.left, unprintable.top, wide, high)


def _covering(size, shown, keep) -> Crop:
    """The part of a picture of ``size`` that is ``shown``; LabError where it stops short of that."""
    proportion.refuse_outside(keep)
    wide, high = size[0] - shown[0], size[1] - shown[1]
    beyond = Edges(wide * keep[0], high * keep[1], wide * (1 - keep[0]), high * (1 - keep[1]))
    short = _below_zero(beyond)
    if short:
        raise LabError(
            f"the picture at {_by(size)} stops short of the bleed by {_sides(short)}: "
            f"it must cover {_by(shown)}. Make it larger, or leave the size out to fill it."
        )
    return Crop(beyond.left / size[0], beyond.top / size[1], shown[0] / size[0], shown[1] / size[1])


def _refuse_short(borders: Edges, sheet: Sheet, unprintable: Edges) -> None:
    over = _below_zero(borders)
    if over:
        raise LabError(
            f"the picture runs off {sheet} by {_sides(over)}: move it, make it smaller, "
            "or choose a larger sheet."
        )
    needed = dict(unprintable.items())
    short = {side: room for side, room in borders.items() if room < needed[side]}
    if short:
        raise LabError(
            f"the border is too small for the printer ({_sides(short)}): it cannot print nearer to the "
            f"edges than {unprintable.text()}. Move or shrink the picture, or print it to the edge "
            "with trim and bleed on a larger sheet."
        )


def _below_zero(edges: Edges) -> dict[str, Length]:
    return {side: -room for side, room in edges.items() if room < ZERO}


def _by(size: tuple[Length, Length]) -> str:
    return f"{size[0].both()} by {size[1].both()}"


def _sides(lengths: dict[str, Length]) -> str:
    return ", ".join(f"{size} on the {side}" for side, size in lengths.items())
