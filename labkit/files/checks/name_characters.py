"""Characters in a file's name that do not travel safely."""

import re
from collections.abc import Iterator
from unicodedata import category, normalize

from labkit.files.checks.findings import Finding, phrase, tell
from labkit.files.checks.words import listed
from labkit.files.writing.name import MOST_BYTES, MOST_CHARACTERS

_REFUSED = set('<>:"/\\|?*')
"""Some file systems take none of these in a name (from memory)."""
_MEANT_OTHERWISE = set("#%&{}$`^~")
"""Addresses, command lines and services that keep files in step read these as something else (from
memory)."""
_JOINERS = "\u200c\u200d"
"""Unseen, but Persian and the scripts of India need them."""
_DEVICES = re.compile(r"(?:con|prn|aux|nul|conin\$|conout\$|(?:com|lpt)[0-9¹²³])", re.I)
"""Names some systems keep for devices, whatever the ending (from memory)."""


def character_findings(name: str, stem: str, expected: str) -> Iterator[Finding]:
    """What in a name some system refuses, hides or changes. Accents apart from their letters are for
    information: some file systems write every name so, whoever made it."""
    reasons = list(_strange(name, stem))
    if reasons:
        yield tell("name-characters", name=name, reason=listed(reasons), expected=expected)
    elif normalize("NFC", name) != name:
        yield tell("name-characters", variant="accents", name=name, expected=expected)


def _strange(name: str, stem: str) -> Iterator[str]:
    if refused := sorted(_REFUSED & set(name)):
        yield _said("refused", signs=_quoted(refused))
    if odd := {sign for sign in name if sign in _MEANT_OTHERWISE or category(sign) == "So"}:
        yield _said("changed", signs=_quoted(sorted(odd)))
    if unseen := sorted({sign for sign in name if _is_unseen(sign)}):
        yield _said("unseen", signs=listed([f"U+{ord(sign):04X}" for sign in unseen]))
    if name.startswith("."):
        yield _said("dot-first")
    if name.startswith("-"):
        yield _said("hyphen-first")
    for sign, word in ((" ", "space"), (".", "dot")):
        if name.endswith(sign) or stem.endswith(sign):
            yield _said("end", sign=word)
    if _DEVICES.fullmatch(name.partition(".")[0].rstrip()):
        yield _said("device")
    written = normalize("NFC", stem)
    size = len(written.encode(errors="surrogatepass"))
    if len(written) > MOST_CHARACTERS or size > MOST_BYTES:
        most = {"most": MOST_CHARACTERS, "most_bytes": MOST_BYTES}
        yield _said("long", characters=len(written), bytes=size, **most)


def _said(reason: str, **figures) -> str:
    return phrase("name-characters", reason, **figures)


def _quoted(signs: list[str]) -> str:
    return listed([f"“{sign}”" for sign in signs])


def _is_unseen(sign: str) -> bool:
    """Control and formatting characters, and what is no character: bytes that are no text, private use."""
    return category(sign) in ("Cc", "Cf", "Cs", "Co") and sign not in _JOINERS
