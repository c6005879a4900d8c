"""A cell of a table that a spreadsheet opens: text stays text, and is never run as a formula."""

_RUN = ("=", "+", "-", "@", "\t", "\r")
"""What a spreadsheet takes for the beginning of a formula (OWASP, CSV injection)."""


def safe_cell(text: str) -> str:
    """``text`` as a cell: an apostrophe goes before what a spreadsheet would run.

    >>> safe_cell("=1+1"), safe_cell("harbour")
    ("'=1+1", 'harbour')
    """
    return f"'{text}" if text.startswith((*_RUN, "'")) else text


def text_of_cell(cell: str) -> str:
    """What :func:`safe_cell` was given."""
    return cell[1:] if cell.startswith("'") and cell[1:].startswith((*_RUN, "'")) else cell
