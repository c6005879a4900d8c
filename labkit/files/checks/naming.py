"""What there is to say of a hand-in's name: whose, what and what size, and whether it travels safely."""

import re
from dataclasses import replace
from pathlib import Path

from labkit.errors import LabError
from labkit.files.checks.findings import Finding, phrase, tell
from labkit.files.checks.name_characters import character_findings
from labkit.files.checks.name_parts import NameParts, as_given, stem_of, take_apart
from labkit.files.checks.name_sizes import sheet_as_named
from labkit.files.checks.name_words import has_running_number, says_nothing
from labkit.files.writing.name import file_name
from labkit.geometry.length import size_text
from labkit.geometry.paper import Sheet
from labkit.room.rules import Room


def name_findings(path: Path, sheet: Sheet | None, room: Room) -> list[Finding]:
    """What is wrong with the name of a file that amounts to ``sheet`` (None where nobody knows).

    A name as ``prepare`` makes it for that sheet is never found fault with.
    """
    stem = stem_of(path)
    parts = take_apart(stem, room)
    expected = _expected(parts, sheet, room)
    found = list(character_findings(path.name, stem, expected))
    figures = {"name": path.name, "expected": expected}
    if says_nothing(parts.pieces):
        variant = "number" if has_running_number(parts.pieces) else ""
        found.append(tell("name-camera", variant=variant, **figures))
    elif parts.is_copy:
        found.append(tell("name-camera", variant="copy", **figures))
    elif parts.read is None:
        found.append(_off_pattern(parts, stem, figures))
    if sheet and parts.sizes and not any(sheet_as_named(size, sheet) for size in parts.sizes):
        size = size_text(sheet.sides, room.units)
        found.append(tell("name-size", named=parts.sizes[-1].text, size=size))
    return found


def _off_pattern(parts: NameParts, stem: str, figures: dict[str, str]) -> Finding:
    """In what a name differs from the pattern that says something all the same."""
    found = tell("name", variant=_difference(parts, stem), **figures)
    owner = parts.guess[0] if parts.guess else ""
    has_case = owner.lower() != owner.upper()  # a script without case may have no spaces either
    if not (owner.isalpha() and has_case):
        return found
    doubt = phrase("name", "whole-name", owner=owner)
    return replace(found, found=f"{found.found} ({doubt})")


def _difference(parts: NameParts, stem: str) -> str:
    """The variant of the finding ``name``."""
    if not parts.pieces:
        return "size-only" if parts.sizes else "nothing"
    if not parts.sizes:
        return "several-sizes" if re.search(r"A3[ -]?(?:\+|plus)", stem, re.I) else "no-size"
    return "one-piece" if len(parts.pieces) == 1 else ""


def _expected(parts: NameParts, sheet: Sheet | None, room: Room) -> str:
    """The name it should have; where nothing tells whose, what or what size, words that ask for it."""
    blanks = {"owner": "Your Name", "title": "Its Title", "sheet_label": "Its-Size"}
    told = dict(blanks)
    stock = {lying for each in room.sheets for lying in (each, each.turned())}
    if parts.read:
        told |= as_given(parts.read)
    elif parts.guess:
        told |= dict(zip(("owner", "title"), parts.guess, strict=True))
    if sheet is not None:
        agreeing = filter(None, (sheet_as_named(size, sheet) for size in parts.sizes))
        told["sheet_label"] = (sheet if sheet in stock else next(agreeing, sheet)).label
    elif parts.sizes:
        told["sheet_label"] = parts.sizes[-1].sheets[0].label
    try:
        return file_name(room.name_pattern, **told)
    except LabError:
        return file_name(room.name_pattern, **blanks)


def named_sheets(path: Path, room: Room) -> tuple[Sheet, ...]:
    """The sheets that a file's name may mean, the likeliest first; none where it names no size."""
    sizes = take_apart(stem_of(path), room).sizes
    return sizes[-1].sheets if sizes else ()
