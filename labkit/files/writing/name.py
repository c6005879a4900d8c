"""File names that say whose a print is, what it is and what size it is, safe wherever they travel."""

import re
import unicodedata
from collections.abc import Iterator

from labkit.errors import LabError
from labkit.room.name_pattern import NAME_FIELDS, name_template

MOST_CHARACTERS, MOST_BYTES = 120, 200
"""Of a name without its ending. File systems take 255 of either; paths and sync services take less
(common practice, no source)."""


def file_name(pattern: str, *, owner: str, title: str, sheet_label: str) -> str:
    """The name of a print file without its ending, made by the room's ``pattern``.

    Letters, marks and digits of any script are kept (Unicode NFC), a run of anything else becomes one
    hyphen; a sheet's label keeps a decimal point. A long name loses the end of its title first, then
    that of its owner. Since all three parts are always there, it is never a device's name such as CON.
    LabError when a part is missing or nothing of it is left, or when the pattern cannot be used.

    >>> file_name("{owner}_{title}_{sheet}", owner="Nia Oak", title="Tide, 3rd", sheet_label="13x19in")
    'Nia-Oak_Tide-3rd_13x19in'
    """
    template = name_template(pattern)
    parts = {
        "owner": _safe("owner", owner),
        "title": _safe("title", title),
        "sheet": _safe("sheet", sheet_label),
    }

    def stem() -> str:
        return "".join(before + parts.get(field, "") for before, field in template)

    for field in ("title", "owner"):
        over = len(stem()) - MOST_CHARACTERS, len(stem().encode()) - MOST_BYTES
        if max(over) > 0:
            part = parts[field]
            parts[field] = _cut(part, len(part) - over[0], len(part.encode()) - over[1])
    name = stem()
    if len(name) > MOST_CHARACTERS or len(name.encode()) > MOST_BYTES:
        raise LabError(
            f"the file name cannot be made shorter than {len(name)} characters ({len(name.encode())} "
            f"bytes), and it may have {MOST_CHARACTERS} ({MOST_BYTES}): use plainer words for it."
        )
    return name


def read_name(pattern: str, stem: str) -> dict[str, str] | None:
    """Owner, title and sheet of a name without its ending; None if it does not follow ``pattern``.

    Hyphens in owner and title are given back as spaces.

    >>> read_name("{owner}_{title}_{sheet}", "Nia-Oak_Tide-3rd_13x19in")
    {'owner': 'Nia Oak', 'title': 'Tide 3rd', 'sheet': '13x19in'}
    >>> read_name("{owner}_{title}_{sheet}", "scan 0412") is None
    True
    """
    template = name_template(pattern)
    apart = "".join(re.escape(sign) for before, _ in template for sign in before if _outside(sign))
    expression = "".join(
        re.escape(before) + (f"(?P<{field}>[^{apart}]+)" if field else "")
        for before, field in template
    )
    found = re.fullmatch(expression, unicodedata.normalize("NFC", stem))
    if not found or not all(_words(part) for part in found.groups()):
        return None
    read = {field: found[field].strip(" -.") for field in NAME_FIELDS}
    return {**read, **{field: read[field].replace("-", " ") for field in ("owner", "title")}}


def _safe(field: str, text: str) -> str:
    """A part of a name, with hyphens between its words."""
    text = str(text or "")
    if not text.strip():
        raise LabError(
            f"the {field} is missing: a file's name says whose it is, what it is and what size it is, "
            f"so give {field}=…"
        )
    pieces = text.split(".") if field == "sheet" else [text]
    safe = ".".join(filter(None, ("-".join(_words(piece)) for piece in pieces)))
    if not safe:
        raise LabError(
            f"nothing is left of the {field} “{text}” in a file name, which keeps letters and digits: "
            f"give {field} with at least one of them."
        )
    return safe


def _words(text: str) -> list[str]:
    """Runs of letters and digits with the marks on them; a mark on nothing is dropped."""
    words = [""]
    for sign in unicodedata.normalize("NFC", text):
        if _is_base(sign) or (_is_mark(sign) and words[-1]):
            words[-1] += sign
        elif words[-1]:
            words.append("")
    return [word for word in words if word]


def _cut(part: str, characters: int, size: int) -> str:
    """The beginning of a part within so many characters and bytes, but at least its first letter."""
    kept = ""
    letters = _letters(part)
    for letter in letters:
        longer = kept + letter
        if kept and (len(longer) > characters or len(longer.encode()) > size):
            break
        kept = longer
    return kept.rstrip("-")


def _letters(part: str) -> Iterator[str]:
    """Each character with the marks that belong to it."""
    starts = [at for at, sign in enumerate(part) if not _is_mark(sign)]
    for start, end in zip(starts, [*starts[1:], len(part)], strict=True):
        yield part[start:end]


def _is_base(sign: str) -> bool:
    return unicodedata.category(sign)[0] in "LN"


def _is_mark(sign: str) -> bool:
    return unicodedata.category(sign)[0] == "M"


def _outside(sign: str) -> bool:
    """Whether a character never stands in a part, so that it tells parts apart."""
    return not (_is_base(sign) or _is_mark(sign) or sign in "-.")
