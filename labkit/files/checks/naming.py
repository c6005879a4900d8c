"""What there is to say of a hand-in's name: whose, what and what size, and whether it travels safely."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from unicodedata import category, normalize

from labkit.errors import LabError
from labkit.files.checks.findings import Finding, tell
from labkit.files.checks.words import listed
from labkit.files.writing.name import MOST_BYTES, MOST_CHARACTERS, file_name, read_name
from labkit.geometry.length import Length, millimetres, size_text
from labkit.geometry.paper import Sheet, catalogue, find_sheet
from labkit.room.rules import Room
from labkit.room.stock import SAME_SHEET


def name_findings(path: Path, sheet: Sheet | None, room: Room) -> list[Finding]:
    """What is wrong with the name of a file that amounts to ``sheet`` (None where nobody knows).

    A name as ``prepare`` makes it for that sheet is never found fault with.
    """
    stem = _stem(path)
    words = _take_apart(stem, room)
    expected = _expected(words, sheet, room)
    found = list(_characters(path.name, stem, expected))
    if given := _given(words):
        found.append(tell("name-camera", name=path.name, reason=given, expected=expected))
    elif words.read is None:
        reason = _reason(words, stem)
        found.append(tell("name", name=path.name, reason=reason, expected=expected))
    if sheet is not None and words.sizes and not any(_is(size, sheet) for size in words.sizes):
        size = size_text((sheet.width, sheet.height), room.units)
        found.append(tell("name-size", named=words.sizes[-1].text, size=size))
    return found


def read_file_name(path: Path, room: Room) -> dict[str, str] | None:
    """Owner, title and sheet as a file's name tells them, whatever a program added to mark a copy; None
    if the name does not follow the room's pattern.

    >>> from labkit.room.rules import load_room
    >>> read_file_name(Path("Nia-Oak_Tide_A3 (2).tif"), load_room())
    {'owner': 'Nia Oak', 'title': 'Tide', 'sheet': 'A3'}
    """
    return _take_apart(_stem(path), room).read


def _stem(path: Path) -> str:
    """The name without its ending; in “boat 8.5x11” the point is no ending's."""
    name = Path(path.name.rstrip(" ."))
    return name.stem if re.fullmatch(r"\.[^\W\d_]\w{0,4}", name.suffix) else name.name


# What a name is made of


@dataclass(frozen=True, slots=True)
class _Size:
    """A size in a name as it is written, and the sheets it may mean."""

    text: str
    sheets: tuple[Sheet, ...]


@dataclass(frozen=True, slots=True)
class _Words:
    """A name taken apart.

    ``read`` is what it says if it follows the pattern, ``pieces`` what is left between its underscores,
    dashes and commas once the ``sizes`` are taken out, and ``guess`` the owner and title they may be.
    ``is_copy``: a program marked it as a copy.
    """

    read: dict[str, str] | None
    sizes: tuple[_Size, ...]
    is_copy: bool = False
    pieces: tuple[str, ...] = ()
    guess: tuple[str, str] | None = None


_COPY = re.compile(
    r"^(?:(?:copy(?: \(?\d+\)?)? of|kopie von|copie de)\s)+"
    r"|(?:\s*\(\d+\)|[\s_-]+(?:copy|kopie|copie)(?:[\s_-]*\d+)?)+$",
    re.I,
)
"""How programs name a second copy (common practice, no source)."""


def _take_apart(stem: str, room: Room) -> _Words:
    plain = normalize("NFC", stem)
    read = _read(plain, room)
    if read and (_is_made(plain, read, room) or not _COPY.search(plain)):
        return _Words(read, (_size(read, room),))
    original = _COPY.sub("", plain)
    if read := _read(original, room):
        return _Words(read, (_size(read, room),), is_copy=True)
    return _loose(original, room, is_copy=original != plain)


def _read(stem: str, room: Room) -> dict[str, str] | None:
    """What a name says that follows the pattern, with a size where the size belongs."""
    read = read_name(room.name_pattern, stem)
    return read if read and _meant(read["sheet"], room) else None


def _size(read: dict[str, str], room: Room) -> _Size:
    return _Size(read["sheet"], _meant(read["sheet"], room))


def _is_made(stem: str, read: dict[str, str], room: Room) -> bool:
    """Whether it is letter by letter the name that ``prepare`` makes."""
    try:
        return file_name(room.name_pattern, **_as_asked(read)) == stem
    except LabError:
        return False


def _as_asked(read: dict[str, str]) -> dict[str, str]:
    return {"owner": read["owner"], "title": read["title"], "sheet_label": read["sheet"]}


def _loose(stem: str, room: Room, *, is_copy: bool) -> _Words:
    """A name that does not follow the pattern: the sizes in it, and what else there is."""
    parts = [part for part in re.split(r"_+|\s+[-–—]+\s+|,\s+", stem) if part.strip(" -.")]
    fixed = {text.strip("_ -").casefold() for text in re.split(r"{\w+}", room.name_pattern)}
    sizes, pieces = [], []
    for part in parts:
        if (meant := _meant(part, room)) and (len(parts) > 2 or re.search(r"\d", part)):
            sizes.append(_Size(part, meant))
            continue
        inside = list(_sizes_inside(part, room))
        sizes += inside
        for size in inside:
            part = part.replace(size.text, " ", 1)
        if any(map(str.isalnum, part)) and part.casefold() not in fixed:
            pieces.append(" ".join(part.split()).strip(" -."))
    telling = [piece for piece in pieces if not _says_nothing([piece])]
    if _says_nothing(pieces) or not telling:
        return _Words(None, tuple(sizes), is_copy, tuple(pieces))
    owner_first = room.name_pattern.index("{owner") < room.name_pattern.index("{title")
    guess = _guess(telling if owner_first else telling[::-1])
    return _Words(None, tuple(sizes), is_copy, tuple(telling), guess)


def _guess(pieces: list[str]) -> tuple[str, str] | None:
    """Owner and title, where the pieces leave little doubt: two of them, more behind one of several words,
    or three words of which the first two are not written small."""
    if len(pieces) == 2 or (len(pieces) > 2 and re.search("[ -]", pieces[0])):
        return pieces[0], " ".join(pieces[1:])
    if len(pieces) == 3 and all(piece.isalpha() for piece in pieces):
        given, surname, title = pieces
        if not (given + surname).islower():
            return f"{given} {surname}", title
    return None


# Sizes in names

_NUMBER = r"\d{1,4}(?:[.,]\d{1,4})?(?: ?[¼-¾⅐-⅞])?"
_UNIT = r"""(?: ?(?:inches|inch|in|"|″|mm|cm))?"""
_ALONE = r"(?<![^\W_])", r"(?![^\W_]|[.,]\d)"
"""Behind no letter or digit, and before none."""
_SIZE = re.compile(
    rf"{_ALONE[0]}(?<!\d[.,]){_NUMBER}{_UNIT}(?: ?[x×] ?{_NUMBER}{_UNIT})+{_ALONE[1]}(?! ?[x×])"
    rf"|{_ALONE[0]}(?:(?:ISO[ -]?[AB]|JIS[ -]?B|S?RA|A)\d{{1,2}}|ARCH[ -]?(?:[A-D]|E[1-3]?)"
    rf"|ANSI[ -]?[A-E]){_ALONE[1]}(?!\+|[ -]?plus)",
    re.I | re.A,
)
"""A size by its measure, or by a name that is hardly anything else; three measures are no sheet."""
_CENTIMETRES_WITHIN = millimetres(5)
"""Centimetres in a name are whole ones: 30 x 42 is said of 297 × 420 mm."""
_MOST_INCHES = 100


def _meant(text: str, room: Room) -> tuple[Sheet, ...]:
    """The sheets that a text may mean which is a size and nothing else; a size without a unit may be in
    inches, centimetres, or, if it is a known one, millimetres."""
    text = text.strip(" -.")
    if sheet := _found(text):
        return (sheet,)
    in_inches, in_mm, in_cm = (_found(text + unit) for unit in ("in", "mm", "cm"))
    if in_inches is None:
        return ()
    longest = max(in_inches.width, in_inches.height).inches
    return tuple(
        filter(
            None,
            (
                in_inches if longest <= _MOST_INCHES else None,
                in_mm if _is_known(in_mm, room) else None,
                in_cm if longest <= _MOST_INCHES * 2.54 else None,
            ),
        )
    )


def _found(text: str) -> Sheet | None:
    try:
        return find_sheet(text)
    except LabError:
        return None


def _sizes_inside(part: str, room: Room) -> Iterator[_Size]:
    """The sizes amid other words; one without a unit only if it is a known sheet's."""
    for match in _SIZE.finditer(part):
        text = match[0].strip()
        meant = _meant(text, room)
        if len(meant) > 1 or _found(text) is None:
            meant = tuple(sheet for sheet in meant if _is_known(sheet, room))
        if meant:
            yield _Size(text, meant)


def _is_known(sheet: Sheet, room: Room) -> bool:
    return any(_same(sheet, known, SAME_SHEET) for known in (*room.sheets, *catalogue()))


def _is(size: _Size, sheet: Sheet) -> bool:
    """Whether a size in a name may be that of the sheet, whichever way round it lies."""
    return _agreeing(size, sheet) is not None


def _agreeing(size: _Size, sheet: Sheet) -> Sheet | None:
    """The sheet that is meant, lying as the file's does; None if it is another size."""
    for meant in size.sheets:
        within = _CENTIMETRES_WITHIN if _is_in_centimetres(size.text, meant) else SAME_SHEET
        if _same(meant, sheet, within):
            return meant if meant.is_turned == sheet.is_turned else meant.turned()
    return None


def _is_in_centimetres(text: str, meant: Sheet) -> bool:
    sides = meant.width.mm, meant.height.mm
    return meant.unit == "mm" and "mm" not in text and not any(side % 10 for side in sides)


def _same(one: Sheet, other: Sheet, within: Length) -> bool:
    return one.same_size(other, within) or one.turned().same_size(other, within)


# Names that say nothing

_ANYWHERE = """
    img image images pic pict picture photo photograph photos snap shot capture screen screenshot
    scan scanned scanner document doc file page sheet frame layer slide video clip panorama
    untitled unnamed noname new blank test temp tmp download received attachment export exported
    output print printed copy final finally last latest draft version ver rev revised edit edited
    merged flat flattened the of at am pm no nr
    unbenannt bild foto kopie von neu sans titre copie de nouveau imagen imagem captura pantalla
    copia sin título senza titolo immagine скриншот фото снимок изображение копия
    無題 未命名 无标题 新建 截图 截圖 スクリーンショット 画像 照片 图片 图像 صورة لقطة 사진 제목없음
    tif tiff jpg jpeg png heic pdf
"""
"""Words that programs, cameras, phones and scanners put into names, and people in a hurry (common
practice, no source)."""
_NOTHING = frozenset(_ANYWHERE.split())
_IDENTIFIER = re.compile(r"(?=.*\d)[0-9a-f]{8,}(?:[ -][0-9a-f]{4,})*", re.I)
_RUNNING = 3
"""A running number has three digits at least; the four of a camera's are those of the Design rule for
Camera File system, which puts four free characters before them (from memory)."""


def _says_nothing(pieces: Sequence[str]) -> bool:
    """Whether a name is numbers, letters before a running number, or words that are put into any name."""
    text = " ".join(pieces)
    if _IDENTIFIER.fullmatch(text):
        return True
    words = re.findall(r"[^\W\d_]+|\d+", text)
    has_number = any(len(word) >= _RUNNING for word in words if word.isdigit())
    return bool(words) and all(
        word.isdigit()
        or word.casefold() in _NOTHING
        or (len(word) == 1 and len(words) > 1)
        or (has_number and _is_prefix(word))
        for word in words
    )


def _is_prefix(word: str) -> bool:
    """Capitals, or letters no word is made of, such as stand before a running number."""
    is_short = len(word) <= 4 and word.isascii()
    return is_short and (word.isupper() or not re.search("[aeiouy]", word, re.I))


# What is wrong, and the name it should have


def _given(words: _Words) -> str:
    """How a name tells that nobody gave it, but a device or a program; "" where somebody did."""
    if not _says_nothing(words.pieces):
        return "as a program names a second copy" if words.is_copy else ""
    if any(len(digits) >= _RUNNING for digits in re.findall(r"\d+", " ".join(words.pieces))):
        return "with a running number, a date or a code such as cameras, phones and scanners give"
    return "with nothing but words that stand in any name"


def _reason(words: _Words, stem: str) -> str:
    """In what a name differs from the pattern that says something all the same."""
    if not words.pieces:
        reason = "it says a size and nothing else" if words.sizes else "it says nothing"
    elif not words.sizes and re.search(r"A3[ -]?(?:\+|plus)", stem, re.I):
        reason = "“A3+” means several sizes, so it does not say which one it is"
    elif not words.sizes:
        reason = "it does not say what size it is"
    elif len(words.pieces) == 1:
        reason = "no underscore parts whose it is from what it is"
    else:
        reason = "it is not whose, what and what size, with underscores between and hyphens inside"
    owner = words.guess[0] if words.guess else ""
    has_case = owner.lower() != owner.upper()  # a script without case may have no spaces either
    is_one_word = owner.isalpha() and has_case
    return f"{reason} (is “{owner}” the whole name?)" if is_one_word else reason


def _expected(words: _Words, sheet: Sheet | None, room: Room) -> str:
    """The name it should have; where nothing tells whose, what or what size, words that ask for it."""
    asked = {"owner": "Your Name", "title": "Its Title", "sheet_label": "Its-Size"}
    told = dict(asked)
    stock = {lying for each in room.sheets for lying in (each, each.turned())}
    if words.read:
        told |= _as_asked(words.read)
    elif words.guess:
        told |= dict(zip(("owner", "title"), words.guess, strict=True))
    if sheet is not None:
        agreeing = filter(None, (_agreeing(size, sheet) for size in words.sizes))
        told["sheet_label"] = (sheet if sheet in stock else next(agreeing, sheet)).label
    elif words.sizes:
        told["sheet_label"] = words.sizes[-1].sheets[0].label
    try:
        return file_name(room.name_pattern, **told)
    except LabError:
        return file_name(room.name_pattern, **asked)


# Characters

_REFUSED = set('<>:"/\\|?*')
"""Some file systems take none of these in a name (from memory)."""
_MEANT_OTHERWISE = set("#%&{}$`^~")
"""Addresses, command lines and services that keep files in step read these as something else (from
memory)."""
_JOINERS = "\u200c\u200d"
"""Unseen, but Persian and the scripts of India need them."""
_DEVICES = re.compile(r"(?:con|prn|aux|nul|conin\$|conout\$|(?:com|lpt)[0-9¹²³])", re.I)
"""Names some systems keep for devices, whatever the ending (from memory)."""


def _characters(name: str, stem: str, expected: str) -> Iterator[Finding]:
    """What in a name some system refuses, hides or changes. Accents apart from their letters are for
    information: some file systems write every name so, whoever made it."""
    reasons = list(_strange(name, stem))
    if reasons:
        told = listed(reasons)
        yield tell("name-characters", name=name, reason=told, expected=expected)
    elif normalize("NFC", name) != name:
        told = "has accents kept apart from their letters, as some disks write them"
        yield tell("name-characters", grade="fine", name=name, reason=told, expected=expected)


def _strange(name: str, stem: str) -> Iterator[str]:
    if refused := sorted(_REFUSED & set(name)):
        yield f"has {listed([f'“{sign}”' for sign in refused])}, which not every system takes"
    odd = {sign for sign in name if sign in _MEANT_OTHERWISE or category(sign) == "So"}
    if odd:
        signs = listed([f"“{sign}”" for sign in sorted(odd)])
        yield f"has {signs}, which some programs and services take for something else, or lose"
    if unseen := sorted({sign for sign in name if _is_unseen(sign)}):
        yield f"has characters that nobody sees ({listed([f'U+{ord(s):04X}' for s in unseen])})"
    if name.startswith("."):
        yield "begins with a dot, which hides it"
    if name.startswith("-"):
        yield "begins with a hyphen, which programs take for an option"
    for sign, word in ((" ", "space"), (".", "dot")):
        if name.endswith(sign) or stem.endswith(sign):
            yield f"ends in a {word}, which some systems drop"
    if _DEVICES.fullmatch(name.partition(".")[0].rstrip()):
        yield "is one that some systems keep for a device"
    written = normalize("NFC", stem)
    size = len(written.encode(errors="surrogatepass"))
    if len(written) > MOST_CHARACTERS or size > MOST_BYTES:
        yield (
            f"is {len(written)} characters long ({size} bytes), more than the {MOST_CHARACTERS} "
            f"({MOST_BYTES}) that travel safely"
        )


def _is_unseen(sign: str) -> bool:
    """Control and formatting characters, and what is no character: bytes that are no text, private use."""
    return category(sign) in ("Cc", "Cf", "Cs", "Co") and sign not in _JOINERS
