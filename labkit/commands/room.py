"""Begin or check a print room's own rules."""

from pathlib import Path

from labkit.home import home
from labkit.room.rules import check_room, load_room, new_room


def add_arguments(parser) -> None:
    """The actions of the command."""
    actions = parser.add_subparsers(required=True, metavar="ACTION")
    for action, act, told in (
        ("new", _new, "write a commented file of rules to edit"),
        ("check", _check, "explain each mistake in such a file, and tell of its profiles"),
    ):
        added = actions.add_parser(action, help=told)
        added.add_argument("file", metavar="FILE")
        added.set_defaults(act=act)
    added.add_argument(
        "--record",
        metavar="FILE.csv",
        help="the record to look for jobs printed with another profile; your own if not given",
    )


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
    if mistakes:
        return 1
    is_sound = _tell_profiles(options)
    if is_sound:
        print(f"{options.file}: nothing to mend.")
    return 0 if is_sound else 1


def _tell_profiles(options) -> bool:
    """Tell of each profile that a setting names; whether all of them serve."""
    room = load_room(options.file)
    if not any(setting.profile for setting in room.settings):
        return True
    from labkit.files.record.record import read_record
    from labkit.job.profiles import profiles_told

    record = Path(options.record).expanduser() if options.record else home().record
    told = list(profiles_told(room, read_record(record)))
    for sentence in (sentence for each in told for sentence in each.sentences):
        print(f"{options.file}: {sentence}")
    return all(each.is_fit for each in told)
