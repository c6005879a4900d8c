"""01-resolution: a printer's dots per inch, a press's lines per inch, a scanner's pixels per inch."""

from dataclasses import dataclass
from fractions import Fraction

from labkit.drawing.beside import CARD, Thing, draw_beside
from labkit.drawing.dots import dots_a_pixel, draw_dots, draw_screen, tones
from labkit.geometry.length import Length, length
from labkit.geometry.proportion import by_width
from labkit.geometry.resolution import ppi_for_screen, ppi_text, rgb_bytes, scan_ppi
from labkit.home import home
from labkit.lessons.parts.figure import (
    ChoiceControl,
    FigureApp,
    LengthControl,
    MenuControl,
    NumberControl,
    Reading,
)
from labkit.lessons.resolution.sizes import grouped


@dataclass(frozen=True)
class Dots:
    """A printer of ``dpi``, a picture of ``ppi``, and how many per cent of the dots are inked."""

    dpi: int = 2400
    ppi: int = 300
    dark: int = 40


@dataclass(frozen=True)
class Screen:
    """A press's screen in lines per inch, and how many pixels there are to a line."""

    lpi: int = 150
    pixels_a_line: Fraction = Fraction(2)

    @property
    def ppi(self) -> Fraction:
        """What the picture needs."""
        return ppi_for_screen(self.lpi, self.pixels_a_line)


@dataclass(frozen=True)
class Scan:
    """An original of 3 : 2, the print wanted of it, and the ppi that print needs."""

    original: Length
    printed: Length
    print_ppi: int = 300

    @property
    def ppi(self) -> Fraction:
        """What to scan at."""
        return scan_ppi(self.print_ppi, self.original, self.printed)

    @property
    def pixels(self) -> tuple[int, int]:
        """What the scan has: the same as the print."""
        return tuple(side.pixels(self.print_ppi) for side in by_width((3, 2), self.printed))


def dots() -> FigureApp:
    """Pixels per inch against a printer's dots per inch: many dots make one pixel's tone."""
    return FigureApp(
        Dots(),
        [
            MenuControl("dpi", "printer", options=[(f"{dpi} dpi", dpi) for dpi in (600, 1200, 2400)]),
            NumberControl("ppi", "picture", least=100, most=2400, step=50, told=lambda n: f"{n:g} ppi"),
            NumberControl("dark", "tone", least=0, most=100, step=5, told=lambda n: f"{n:g}% ink"),
        ],
        draw=lambda state, units: draw_dots(state.dpi, state.ppi, state.dark, units=units, prefix="dots"),
        tell=_dots_sentence,
        read=dots_readings,
        units=home().room().units,
    )  # fmt: skip


def dots_readings(state: Dots, units: str) -> list[Reading]:
    """Dots along a pixel, dots in it, and the tones they can make."""
    along = dots_a_pixel(state.dpi, state.ppi)
    return [
        ("dots along one pixel", f"{float(along):.3g}"),
        ("dots in one pixel", f"{float(along * along):.3g}"),
        ("tones of one ink in one pixel", str(tones(state.dpi, state.ppi))),
        ("pixels in a square inch", grouped(state.ppi**2)),
    ]


def screen() -> FigureApp:
    """A press's lines per inch: two pixels to a line, and so 300."""
    ways = [("1.4", Fraction(7, 5)), ("1.5", Fraction(3, 2)), ("2", Fraction(2))]
    return FigureApp(
        Screen(),
        [
            NumberControl("lpi", "screen", least=60, most=200, step=5, told=lambda n: f"{n:g} lpi"),
            ChoiceControl("pixels_a_line", "pixels a line", options=ways),
        ],
        draw=lambda state, units: draw_screen(state.lpi, state.ppi, units=units, prefix="screen"),
        tell=_screen_sentence,
        read=lambda state, units: [
            ("lines per inch", f"{state.lpi} lpi"),
            ("pixels to a line", f"{float(state.pixels_a_line):g}"),
            ("the picture needs", ppi_text(state.ppi)),
        ],
        units=home().room().units,
    )


def scan() -> FigureApp:
    """Scanning: the print's ppi times the enlargement."""
    kinds = [("a photograph, 300 ppi", 300), ("line art, 1200 ppi", 1200)]
    most = (length("12in"), length("24in"))
    return FigureApp(
        Scan(length("36mm"), length("12in")),
        [
            LengthControl("original", "its width", span=lambda _: (length("1/2in"), most[0])),
            LengthControl("printed", "print's width", span=lambda _: (length("4in"), most[1])),
            ChoiceControl("print_ppi", "original is", options=kinds),
        ],
        draw=lambda state, units: draw_beside(
            _scan_things(state.original, state.printed),
            _scan_things(*most),
            units=units,
            prefix="scan",
            title=f"Scan at {ppi_text(state.ppi)}",
        ),
        tell=_scan_sentence,
        read=scan_readings,
        units=home().room().units,
    )


def scan_readings(state: Scan, units: str) -> list[Reading]:
    """Enlargement, the ppi to scan at, and what that comes to."""
    wide, high = state.pixels
    told = [
        ("enlarged", f"{float(state.printed / state.original):.3g} times"),
        ("scan at", ppi_text(state.ppi)),
        ("pixels", f"{wide} × {high}"),
        ("as 8-bit RGB, unpacked", _megabytes(rgb_bytes(state.pixels))),
        ("as 8-bit grey, unpacked", _megabytes(wide * high)),
    ]
    if state.print_ppi > 300:
        told.append(("as pure black and white, 1 bit", _megabytes(wide * high // 8)))
    return told


def _scan_things(original: Length, printed: Length) -> tuple[Thing, ...]:
    first = Thing("original", *by_width((3, 2), original), "paper")
    return first, Thing("print", *by_width((3, 2), printed)), CARD


def _dots_sentence(state: Dots, units: str) -> str:
    along = float(dots_a_pixel(state.dpi, state.ppi))
    return (
        f"A {state.dpi} dpi printer has {along:.3g} dots along one pixel of a {state.ppi} ppi picture: "
        f"{tones(state.dpi, state.ppi)} tones of one ink in one pixel. {state.dark}% of the dots are inked."
    )


def _screen_sentence(state: Screen, units: str) -> str:
    return (
        f"A press with a screen of {state.lpi} lines per inch, and "
        f"{float(state.pixels_a_line):g} pixels to a line: the picture needs {ppi_text(state.ppi)}."
    )


def _scan_sentence(state: Scan, units: str) -> str:
    return (
        f"An original {state.original.both(units)} wide for a print {state.printed.both(units)} wide at "
        f"{state.print_ppi} ppi is scanned at {ppi_text(state.ppi)}: "
        f"{state.pixels[0]} × {state.pixels[1]} pixels, {_megabytes(rgb_bytes(state.pixels))} as RGB."
    )


def _megabytes(count: int) -> str:
    return f"{count / 1e6:.1f} MB"
