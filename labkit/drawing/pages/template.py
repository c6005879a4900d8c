"""The templates of the pages, and how what stands in them is made safe to show."""

from functools import cache

from jinja2 import Environment, PackageLoader, StrictUndefined, Template
from markupsafe import Markup

_KEPT = "\u200c\u200d\xa0"
"""Signs that cannot be seen and are kept: two joiners that some scripts are spelled with, and a space
that does not break."""


def template(name: str) -> Template:
    """The template ``name``.html; values are escaped, and told as :func:`plain` has them."""
    return _environment().get_template(f"{name}.html")


@cache
def _environment() -> Environment:
    return Environment(
        loader=PackageLoader("labkit.drawing", "pages"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=lambda value: value if isinstance(value, Markup) else plain(value),
    )


def plain(text: object) -> str:
    """A text as it can be shown safely: what would break its line, or turn its direction, is replaced.

    >>> plain("boat\\u202egpj.tif"), plain("two\\nlines")
    ('boat\N{REPLACEMENT CHARACTER}gpj.tif', 'two\N{REPLACEMENT CHARACTER}lines')
    """
    return "".join(
        sign if sign.isprintable() or sign in _KEPT else "\N{REPLACEMENT CHARACTER}"
        for sign in str(text)
    )
