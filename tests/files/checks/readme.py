"""The README's table of what a check can find, from ``findings.toml``.

``python -m tests.files.checks.readme`` writes it anew.
"""

from pathlib import Path

import labkit
from labkit.files.checks.catalogue import catalogue, families

README = Path(labkit.__file__).parents[1] / "README.md"
_BEGIN, _END = "<!-- findings: from findings.toml -->\n", "<!-- end of findings -->\n"


def findings() -> str:
    """The table, a row a family and a column a grade; and what is never told of a hand-in."""
    rows = ["| | `stop` | `look` | `fine`, told with `--full` |", "|---|---|---|---|"]
    for family, words in families().items():
        cells = (_codes("", family, grade) for grade in ("stop", "look", "fine"))
        rows.append(f"| {words} | {' | '.join(cells)} |")
    table = "\n".join(rows)
    besides = (
        "A few may be graded otherwise than here, where the figures ask for it. An exercise, and "
        "`check(file, against=layout)` in a notebook, know what the file should be, and tell besides "
        f"{_codes('exercise')}. {_codes('writer')} is the writer's, of a disk that did not keep what it "
        "was given."
    )
    return f"\n{table}\n\n{besides}\n\n"


def _codes(told: str, family: str = "", grade: str = "") -> str:
    found = (
        f"`{code}`"
        for code, entry in catalogue().items()
        if entry.told == told and family in ("", entry.family) and grade in ("", entry.grade)
    )
    return ", ".join(found)


def parts() -> tuple[str, str, str]:
    """The README before the findings, the findings, and what comes after them."""
    before, rest = README.read_text(encoding="utf-8").split(_BEGIN)
    told, after = rest.split(_END)
    return before + _BEGIN, told, _END + after


if __name__ == "__main__":
    before, _, after = parts()
    README.write_text(f"{before}{findings()}{after}", encoding="utf-8")
