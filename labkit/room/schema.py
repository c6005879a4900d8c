"""Read a TOML file by a schema, and tell every mistake in one sentence with its line.

A schema is made of readers. A reader takes a value and where it stands, and gives what the value
means; or it tells a mistake there and gives None.
"""

import re
import tomllib
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal
from difflib import get_close_matches
from functools import lru_cache
from pathlib import Path

from labkit.errors import system_reason

Steps = tuple[str | int, ...]
"""The way to a value from the top of a file: ``("papers", 0, "name")``."""


@dataclass(frozen=True, order=True, slots=True)
class Mistake:
    """One mistake: the line it stands on (from 1; 0 for the file as a whole), and a sentence."""

    line: int
    sentence: str

    def __str__(self) -> str:
        return f"line {self.line}: {self.sentence}" if self.line else self.sentence


@dataclass(frozen=True, slots=True)
class Place:
    """Where a reader stands: the way to the value, the file's folder, and what was told so far."""

    folder: Path
    model: str
    """The text of a complete file, from which the sentences take their examples."""
    told: list[tuple[Steps, str]] = field(default_factory=list)
    steps: Steps = ()

    def at(self, *steps: str | int) -> "Place":
        """The place so many steps further in."""
        return Place(self.folder, self.model, self.told, self.steps + steps)

    @property
    def name(self) -> str:
        """What the sentences call it: ``“papers.weight_gsm”``."""
        return f"“{'.'.join(_words(self.steps))}”"

    def tell(self, sentence: str) -> None:
        """Note a mistake here."""
        self.told.append((self.steps, sentence))


Reader = Callable[[object, Place], object]


def read_file(path: Path, reader: Reader, model: str) -> tuple[object, list[Mistake]]:
    """What ``reader`` makes of the TOML file at ``path``, and every mistake in it by line.

    ``model`` is the text of a complete file. The value is of use only when there is no mistake.
    """
    try:
        raw = path.read_bytes()
    except OSError as error:
        why = system_reason(error)
        return None, [Mistake(0, f"{path} cannot be read ({why}): check its name and folder.")]
    try:
        written = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        return None, [Mistake(line, "this line is not UTF-8 text: save the file as UTF-8.")]
    try:
        data = tomllib.loads(written, parse_float=Decimal)
    except (ValueError, RecursionError) as error:
        return None, [_single_heading(written, model) or _syntax_mistake(error, written)]
    place = Place(path.absolute().parent, model)
    value = reader(data, place)
    told = {Mistake(_line(steps, written), sentence) for steps, sentence in place.told}
    return value, sorted(told)


@lru_cache(maxsize=4)
def find_lines(written: str) -> dict[Steps, tuple[int, str]]:
    """Where each value of a sound TOML text begins: its line, from 1, and the statement it is in.

    Each statement is parsed by itself, so that quoted keys, inline tables and text with brackets in
    it are read by the same rules as the file.

    >>> find_lines('name = "x"\\n[[papers]]\\nsize = { wide = 3 }')[("papers", 0, "size", "wide")]
    (3, 'size = { wide = 3 }')
    """
    found, here, statement, start = {}, (), "", 1
    for number, line in enumerate(written.split("\n"), 1):
        statement += line + "\n"
        try:
            data = tomllib.loads(statement)
        except tomllib.TOMLDecodeError:  # goes on in the next line
            _note_items(statement, here, number, line, found)
            continue
        told = start, _in_one_line(statement)
        if statement.lstrip().startswith("["):
            here = _heading_steps(data, found)
            for deep in range(len(here)):
                found.setdefault(here[: deep + 1], told)
        else:
            for steps in _ways(data):
                found.setdefault(here + steps, told)
        statement, start = "", number + 1
    return found


def _note_items(statement: str, here: Steps, number: int, line: str, found) -> None:
    """Note what the line adds to a list that is not closed yet."""
    try:
        data = tomllib.loads(f"{statement}]")
    except tomllib.TOMLDecodeError:
        return
    for steps in _ways(data):
        if len(steps) > 1:
            found.setdefault(here + steps, (number, line.strip().removesuffix(",")))


def _in_one_line(statement: str) -> str:
    """A statement as it is quoted: of a list over several lines the first item."""
    first, *rest = (line.strip() for line in statement.strip().split("\n"))
    return (
        f"{first} {rest[0].removesuffix(',')} ]"
        if first.endswith("[") and rest
        else statement.strip()
    )


def _heading_steps(data, found) -> Steps:
    steps = ()
    while data:
        (key, data), *_ = data.items()
        steps += (key,)
        count = sum(len(way) == len(steps) + 1 and way[:-1] == steps for way in found)
        if isinstance(data, list):
            steps, data = (*steps, count), data[0]
        elif (*steps, 0) in found:
            steps += (count - 1,)
    return steps


def _ways(value):
    inside = value.items() if isinstance(value, dict) else enumerate(value)
    for key, deeper in inside:
        yield (key,)
        if isinstance(deeper, dict | list):
            yield from ((key, *way) for way in _ways(deeper))


def _line(steps: Steps, written: str) -> int:
    lines = find_lines(written)
    while steps and steps not in lines:
        steps = steps[:-1]
    return lines[steps][0] if steps else 1


def _single_heading(written: str, model: str) -> Mistake | None:
    """A group of which there are several, begun as if there were one."""
    for number, line in enumerate(written.split("\n"), 1):
        heading = re.match(r"\s*\[\s*([\w-]+)\s*\]\s*(#|$)", line)
        if heading and f"[[{heading[1]}]]" in model:
            name = heading[1]
            return Mistake(
                number,
                f"[{name}] is one of several: write it between two brackets each time, [[{name}]].",
            )
    return None


def _syntax_mistake(error: Exception, written: str) -> Mistake:
    return Mistake(
        _first_unsound_line(written.split("\n")),
        f"this cannot be read ({error}): a setting is written name = value, text and lengths stand "
        "between quotation marks, a list between [ and ], and nothing is set twice.",
    )


def _first_unsound_line(lines: list[str]) -> int:
    """Where the statement begins after which nothing is TOML any more, from 1."""
    for count in reversed(range(len(lines))):
        with suppress(ValueError, RecursionError):
            tomllib.loads("\n".join(lines[:count]))
            return count + 1
    return 1


# Readers of groups


def table(make, *, optional=(), earlier=None, together=None, **fields: Reader) -> Reader:
    """Reads a table with exactly these ``fields`` and gives ``make(**values)``.

    The ``optional`` ones are None where they are left out. ``earlier`` are settings of former files, each
    with what is told of it: a function of its value and its place. ``together`` is called with the values
    that hold no mistake, the table as it is written, and its place, to tell what does not go together.
    """
    earlier = earlier or {}

    def read(value, place: Place):
        if not isinstance(value, dict):
            return place.tell(f"{place.name} is not a group of settings: {_like_the_model(place)}.")
        for key in value.keys() & earlier.keys() - fields.keys():
            earlier[key](value[key], place.at(key))
        for key in value.keys() - fields.keys() - earlier.keys():
            place.at(key).tell(f"no setting here is called “{key}”: {_advice(key, place, fields)}")
        for key in fields.keys() - value.keys() - set(optional):
            missing = place.at(key)
            missing.tell(f"{missing.name} is missing: {_like_the_model(missing)}.")
        sound = {}
        for key, reader in fields.items():
            count = len(place.told)
            result = reader(value[key], place.at(key)) if key in value else None
            if len(place.told) == count and (key in value or key in optional):
                sound[key] = result
        if together:
            together(sound, value, place)
        return make(**sound) if len(sound) == len(fields) else None

    return read


def many(reader: Reader) -> Reader:
    """Reads a list, or the groups under a [[double heading]], each by ``reader``; gives a tuple."""

    def read(value, place: Place):
        if not isinstance(value, list) or not value:
            return place.tell(
                f"{place.name} is not a list of one or more: {_like_the_model(place)}."
            )
        return tuple(reader(item, place.at(index)) for index, item in enumerate(value))

    return read


def _advice(key: str, place: Place, fields) -> str:
    homes = [way[:-1] for way in find_lines(place.model) if way[-1] == key]
    if homes:
        home = ".".join(_words(homes[0]))
        return f"it belongs under {home}." if home else "it belongs above the first heading."
    if near := get_close_matches(key, fields, 1):
        return f"did you mean “{near[0]}”?"
    return f"take it out, or use one of {', '.join(fields)}."


def _like_the_model(place: Place) -> str:
    """What to write, shown by the complete file: its statement for the same setting."""
    model, own = find_lines(place.model), _first_of_each(place.steps)
    like = next((told for way, (_, told) in model.items() if _first_of_each(way) == own), "")
    if like.startswith("["):
        return f"write it like {like}, with the lines that `room new` writes below it"
    top = " above the first heading" if len(own) == 1 else ""
    return f"write it like {like}{top}" if like else "add it"


def _first_of_each(steps: Steps) -> Steps:
    return tuple(step if isinstance(step, str) else 0 for step in steps)


def _words(steps: Steps) -> Steps:
    return tuple(step for step in steps if isinstance(step, str))


# Readers of single values


def text(value, place: Place) -> str | None:
    """Text that is not empty."""
    if not isinstance(value, str) or not value.strip():
        return place.tell(
            f"{place.name} is {shown(value)}, but must be text between quotation marks."
        )
    return value.strip()


def choice(*allowed: str | int) -> Reader:
    """One of these."""

    def read(value, place: Place):
        if not any(type(value) is type(word) and value == word for word in allowed):
            words = " or ".join(shown(word) for word in allowed)
            return place.tell(f"{place.name} is {shown(value)}, but must be {words}.")
        return value

    return read


def whole(value, place: Place) -> int | None:
    """A whole number above zero."""
    if not isinstance(value, int) or isinstance(value, bool) or value < 1:
        return place.tell(
            f"{place.name} is {shown(value)}, but must be a whole number above zero, with neither "
            "quotation marks nor a unit."
        )
    return value


def yes_no(value, place: Place) -> bool | None:
    """True or false."""
    if not isinstance(value, bool):
        return place.tell(
            f"{place.name} is {shown(value)}, but must be true or false, without quotation marks."
        )
    return value


def day(value, place: Place) -> date | None:
    """A date, with neither quotation marks nor a time."""
    if not isinstance(value, date) or isinstance(value, datetime):
        return place.tell(
            f"{place.name} is {shown(value)}, but must be a date, year first and without quotation "
            "marks, such as 2026-09-07."
        )
    return value


def shown(value) -> str:
    """A value as the sentences quote it."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f"“{value}”"
    if isinstance(value, dict | list):
        return "a list" if isinstance(value, list) else "a group of settings"
    return str(value)
