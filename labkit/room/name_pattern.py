"""The pattern of a print file's name: the one rule for what it may be, and for taking it apart."""

from string import Formatter
from unicodedata import category

from labkit.errors import LabError

NAME_FIELDS = ("owner", "title", "sheet")
"""What a file's name tells: whose it is, what it is, what size it is."""

_NEVER_IN_A_NAME = set('/\\:*?"<>|.{}')
"""Signs that some disk refuses in a file's name, the dot of its ending, and braces."""
_LIKE = "write it like {owner}_{title}_{sheet}"


def name_template(pattern: str, what: str = "") -> list[tuple[str, str]]:
    """The fixed text before each field of a pattern, and the field; the text behind the last with "".

    ``what`` names the pattern in a refusal. LabError unless each of NAME_FIELDS is there once, told apart
    by an underscore, with nothing that a file's name cannot have.

    >>> name_template("{owner}_{title}_{sheet}")
    [('', 'owner'), ('_', 'title'), ('_', 'sheet')]
    """
    what = what or f"the name pattern “{pattern}”"
    try:
        parsed = list(Formatter().parse(pattern))
    except ValueError:
        raise LabError(f"{what} has a brace without its partner: {_LIKE}.") from None
    fields = [field for _, field, *_ in parsed if field is not None]
    dressed = [field for _, field, form, turn in parsed if field is not None and (form or turn)]
    if unknown := [*dressed, *(field for field in fields if field not in NAME_FIELDS)]:
        raise LabError(
            f"{what} has {{{unknown[0]}}}, which nobody can fill in: use {{owner}}, {{title}} and "
            "{sheet}, with nothing else between the braces."
        )
    for field in NAME_FIELDS:
        if fields.count(field) != 1:
            raise LabError(f"{what} must have {{{field}}} once: {_LIKE}.")
    template = [(before, field or "") for before, field, *_ in parsed]
    if strange := [sign for before, _ in template for sign in before if _is_strange(sign)]:
        raise LabError(
            f"{what} has {strange[0]!r}, which does not belong in a file's name: {_LIKE}."
        )
    between = [before for before, _ in template[1:3]]
    if not all("_" in before for before in between) or pattern.strip(" -") != pattern:
        raise LabError(
            f"{what} needs an underscore between its parts, and no space or hyphen at its ends, so that "
            f"names can be read back: {_LIKE}."
        )
    return template


def _is_strange(sign: str) -> bool:
    """No good between the parts of a name: refused by some disk, unseen, or an accent without its letter."""
    return sign in _NEVER_IN_A_NAME or not sign.isprintable() or category(sign).startswith("M")
