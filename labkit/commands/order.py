"""What the commands that make prints of pictures read alike of their options: whose it is, and the order."""

from pathlib import Path

from labkit.files.checks.name_parts import read_file_name
from labkit.room.rules import Room


def whose(file: Path, options, room: Room) -> tuple[str, str]:
    """Owner and title, as the options say or else the file's name; "" where neither does."""
    named = read_file_name(file, room) or {}
    return options.owner or named.get("owner", ""), options.title or named.get("title", "")


def order_of(options) -> dict:
    """What goes on the ticket and into the file, by the names that :func:`labkit.job.words.write` has for
    it."""
    names = (
        "out", "keep_pixels", "copies", "paper", "printer", "course", "due", "lighter", "by",
    )  # fmt: skip
    return {name: getattr(options, name) for name in names}
