"""Begin or check a print room's own rules."""

from pathlib import Path

from labkit.room.rules import check_room, new_room


def add_arguments(parser) -> None:
    """The actions of the command."""
    actions = parser.add_subparsers(required=True, metavar="ACTION")
    for action, act, told in (
        ("new", _new, "write a commented file of rules to edit"),
        ("check", _check, "explain each mistake in such a file, with its line"),
    ):
        added = actions.add_parser(action, help=told)
        added.add_argument("file", metavar="FILE")
        added.set_defaults(act=act)


def run(asked) -> int:
    """Do the action asked for."""
    return asked.act(asked)


def _new(asked) -> int:
    new_room(Path(asked.file))
    print(f"{asked.file}: edit it, then run `labkit room check {asked.file}`.")
    return 0


def _check(asked) -> int:
    mistakes = check_room(Path(asked.file))
    for mistake in mistakes:
        print(f"{asked.file}: {mistake}")
    if not mistakes:
        print(f"{asked.file}: nothing to mend.")
    return 1 if mistakes else 0
