"""A table in a terminal."""

from collections.abc import Sequence


def columns(
    rows: Sequence[Sequence[str]], *, indent: str = "", right: Sequence[int] = ()
) -> list[str]:
    """Rows of cells as lines, each column as wide as its longest cell; those numbered in ``right`` end in
    one line, the others begin in one.

    >>> columns([("sheet", "price"), ("13x19in", "£6.20"), ("A4", "£12.40")], right=[1])
    ['sheet     price', '13x19in   £6.20', 'A4       £12.40']
    """
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]

    def line(row: Sequence[str]) -> str:
        cells = (
            cell.rjust(width) if number in right else cell.ljust(width)
            for number, (cell, width) in enumerate(zip(row, widths, strict=True))
        )
        return f"{indent}{'  '.join(cells)}".rstrip()

    return [line(row) for row in rows]
