"""What a PDF says of its first page, so that its owner can be told what to export from it instead."""

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

from labkit.errors import LabError
from labkit.geometry.box import Box, Edges
from labkit.geometry.length import Length, size_text

if TYPE_CHECKING:
    from pypdf import PageObject

_PER_INCH = 72
"""Units of the page in an inch, unless it states a UserUnit (ISO 32000-1, 8.3.2.3)."""

Size = tuple[Length, Length]


@dataclass(frozen=True, slots=True)
class Document:
    """A PDF: how many ``pages`` it has, and of the first one, as it is shown, the sizes in exact lengths.

    ``page`` is the page's width and height; ``trim`` the size it is cut to and ``bleed`` what is beyond
    that on each side, None where the document does not state them (ISO 32000-1, 14.11.2).
    """

    pages: int
    page: Size
    trim: Size | None = None
    bleed: Edges | None = None

    @property
    def wanted(self) -> Size:
        """What has to be exported: trim and bleed where both are stated, else the whole page."""
        if self.trim is None or self.bleed is None:
            return self.page
        width, height = self.trim
        return (
            width + self.bleed.left + self.bleed.right,
            height + self.bleed.top + self.bleed.bottom,
        )

    def pixels(self, ppi: Fraction | int) -> tuple[int, int]:
        """Width and height in whole pixels of what has to be exported."""
        width, height = self.wanted
        return width.pixels(ppi), height.pixels(ppi)

    def sentence(self, first: str = "in") -> str:
        """The facts in words, lengths with the unit ``first`` ("in" or "mm") in front."""
        count = "one page," if self.pages == 1 else f"{self.pages} pages, the first"
        told = [f"a PDF document of {count} {size_text(self.page, first)}"]
        if self.trim:
            told.append(f"trimmed to {size_text(self.trim, first)}")
        if self.bleed:
            told.append(f"with bleed: {self.bleed.text(first)}")
        else:
            told.append("without bleed" if self.trim else "with neither trim nor bleed stated")
        return ", ".join(told)

    def part(self) -> str:
        """What of it has to be exported, in words."""
        if self.wanted != self.page:
            return "the trim size and bleed" + (
                "" if self.pages == 1 else " of the page that is meant"
            )
        return "the page" if self.pages == 1 else "the page that is meant"


def read_document(path: Path | str) -> Document:
    """Read pages and sizes of a PDF; nothing of it is drawn.

    LabError, naming the file, for a document that is locked, empty or damaged.
    """
    from pypdf import PdfReader
    from pypdf.errors import DependencyError, FileNotDecryptedError

    path = Path(path)
    try:
        with PdfReader(path) as reader:
            if reader.is_encrypted and not reader.decrypt(""):
                raise FileNotDecryptedError
            count = len(reader.pages)
            page = reader.pages[0] if count else None
            found = page and _first_page(page)
    except (FileNotDecryptedError, DependencyError):
        raise LabError(
            f"“{path.name}” is a PDF document that is locked, so nobody can see here how large it is: "
            "save it without a password, or export the picture from it as TIFF.",
            "document",
        ) from None
    except Exception as error:  # the library raises whatever it meets in a damaged file
        raise LabError(
            f"“{path.name}” is a PDF document, but damaged or cut short: export it again, and the "
            "picture as TIFF.",
            "damaged",
        ) from error
    if not found:
        raise LabError(
            f"“{path.name}” is a PDF document without a page: export it again, and the picture as TIFF.",
            "damaged",
        )
    return Document(count, *found)


def _first_page(page: "PageObject") -> tuple[Size, Size | None, Edges | None]:
    """Size, trim and bleed, turned as the page is shown.

    What is stated outside the page does not exist: trim lies in bleed, and bleed on the page.
    """
    turns = page.rotation // 90 % 4
    media = _box(page, "/MediaBox")
    whole = (_box(page, "/CropBox") or media).clipped(media)
    trim, bleed = (
        box and box.clipped(media) for box in (_box(page, "/TrimBox"), _box(page, "/BleedBox"))
    )
    if min(side.inches for box in (whole, trim) if box for side in box.size) <= 0:
        raise ValueError("a box without a size")
    beyond = trim.within(bleed) if trim and bleed else Edges()
    has_bleed = all(size.inches >= 0 for _, size in beyond.items()) and beyond != Edges()
    for _ in range(-turns % 4):  # Rotate turns clockwise
        beyond = beyond.turned()
    return (
        _turned(whole.size, turns),
        trim and _turned(trim.size, turns),
        beyond if has_bleed else None,
    )


def _box(page: "PageObject", name: str) -> Box | None:
    """A box of the page, measured from the left and from above, whichever corners were stated."""
    stated = page.get(name)
    if stated is None:
        return None
    unit = Fraction(repr(float(page.user_unit))) / _PER_INCH
    one, two, three, four = (
        Length(Fraction(repr(float(value))) * unit) for value in stated.get_object()
    )
    (left, right), (bottom, top) = sorted((one, three)), sorted((two, four))
    return Box(left, -top, right - left, top - bottom)


def _turned(size: Size, turns: int) -> Size:
    return size[::-1] if turns % 2 else size
