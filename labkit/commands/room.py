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


def run(options) -> int:
    """Do the action asked for."""
    return options.act(options)


def _new(options) -> int:
    new_room(Path(options.file))
    print(f"{options.file}: edit it, then run `labkit room check {options.file}`.")
    return 0


def _check(options) -> int:
    mistakes = check_room(Path(options.file))
    for mistake in mistakes:
        print(f"{options.file}: {mistake}")
    if not mistakes:
        print(f"{options.file}: nothing to mend.")
    return 1 if mistakes else 0
