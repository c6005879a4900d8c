"""Keep a record of what was printed, and tell what it sums to."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from labkit.commands.columns import columns
from labkit.errors import LabError
from labkit.files.child.guarded import Guarded
from labkit.files.record.entry import Entry
from labkit.files.record.record import add_to_record, read_record
from labkit.files.record.totals import BY, totals
from labkit.home import home, make_folder
from labkit.job.log import copies_before, entries_of, print_again
from labkit.room.rules import Room, load_room


def add_arguments(parser) -> None:
    """The actions of the command."""
    actions = parser.add_subparsers(required=True, metavar="ACTION")
    add = actions.add_parser("add", help="put finished prints into the record")
    add.add_argument("files", nargs="+", metavar="FILE", help="print files that were printed")
    add.add_argument("--copies", type=int, default=1, metavar="N", help="how many came out well")
    add.add_argument("--spoiled", type=int, default=0, metavar="N", help="how many did not")
    add.add_argument("--why", default="", metavar="TEXT", help="what spoiled them")
    add.add_argument("--paper", metavar="NAME", help="the paper; as on the ticket if not given")
    add.add_argument("--printer", metavar="NAME", help="the printer; as on the ticket if not given")
    add.add_argument("--course", default="", metavar="TEXT")
    add.add_argument(
        "--job", metavar="NUMBER", help="as printed on the ticket; today's if not given"
    )
    add.add_argument("--date", metavar="DATE", help="when, as in 2031-05-12; today if not given")
    add.add_argument("--page", type=int, metavar="N", help="which page was printed, of several")
    add.set_defaults(act=_add)
    show = actions.add_parser("show", help="tell what was printed, and what it sums to")
    show.add_argument("--by", choices=BY, default="course", help="what to sum by")
    show.add_argument("--since", metavar="DATE", help="from this day on, as in 2031-05-12")
    show.add_argument("--all", action="store_true", help="every line as well")
    show.set_defaults(act=_show)
    again = actions.add_parser("again", help="write the ticket of a job that was printed before")
    again.add_argument("job", metavar="NUMBER", help="as in the record")
    again.add_argument("--file", metavar="FILE", help="where the print file lies now")
    again.add_argument("--paper", metavar="NAME", help="which, of a job printed on several")
    again.add_argument("--page", type=int, metavar="N", help="which page is meant, of several")
    again.add_argument("--out", metavar="FOLDER", help="where to; beside the file if not given")
    again.add_argument("--replace", action="store_true", help="replace a ticket of the same name")
    again.set_defaults(act=_again)
    for action in (add, show, again):
        action.add_argument(
            "--record", metavar="FILE.csv", help="the record; your own if not given"
        )
        action.add_argument("--room", metavar="FILE", help="the rules of another print room")


def run(options) -> int:
    """Do the action asked for."""
    room = load_room(options.room) if options.room else home().room()
    record = Path(options.record).expanduser() if options.record else home().record
    return options.act(options, record, room)


def _add(options, record: Path, room: Room) -> int:
    day = _day(options.date, "--date") or date.today()
    if options.job and len(options.files) > 1:
        raise LabError("--job names one job, and several files were given: add them one by one.")
    made: list[Entry] = []
    with Guarded("labkit.files.look.look") as child:
        for file in options.files:
            made += entries_of(
                Path(file).expanduser(),
                room=room,
                day=day,
                copies=options.copies,
                spoiled=options.spoiled,
                why=options.why,
                paper=options.paper,
                printer=options.printer,
                course=options.course,
                number=options.job,
                page=options.page,
                child=child,
            )
    if not options.record:
        make_folder(record.parent)
    before = read_record(record)
    add_to_record(record, made)
    print("\n".join(columns([_row(entry, room) for entry in made])))
    print(f"{record}: {_counted(len(made), 'line')} added.")
    for sentence in copies_before(made, before):
        print(f"  look  {sentence}")
    return 0


def _show(options, record: Path, room: Room) -> int:
    since = _day(options.since, "--since")
    entries = [each for each in read_record(record) if since is None or each.date >= since]
    if not entries:
        print(f"{record}: nothing was printed{f' since {since}' if since else ' yet'}.")
        return 0
    if options.all:
        print("\n".join(columns([_row(entry, room) for entry in entries])), end="\n\n")
    head = (
        options.by, "prints", "spoiled", "m²", "of it waste", "price", "of spoiled", "without a price",
    )  # fmt: skip
    rows = [
        (
            each.name or "(not said)",
            str(each.prints),
            str(each.spoiled),
            f"{each.area_m2:.2f}",
            f"{each.waste_m2:.2f}",
            room.money(each.price),
            room.money(each.spoiled_price) if each.spoiled else "",
            str(each.unpriced or ""),
        )
        for each in totals(entries, options.by)
    ]
    print("\n".join(columns([head, *rows], right=range(1, len(head)))))
    if any(each.result == "spoiled" for each in entries):
        print(
            "The price is of good prints; what the spoiled ones would have cost is the room's loss."
        )
    return 0


def _again(options, record: Path, room: Room) -> int:
    made = print_again(
        options.job,
        read_record(record),
        room=room,
        file=Path(options.file).expanduser() if options.file else None,
        paper=options.paper,
        out=Path(options.out).expanduser() if options.out else None,
        replace_it=options.replace,
        page=options.page,
    )
    print(made.ticketed.ticket)
    if made.number.casefold() != options.job.strip().casefold():
        print(f"  The record has this file as job {made.number}.")
    for sentence in made.changed:
        print(f"  look  {sentence}")
    return 1 if made.changed else 0


def _row(entry: Entry, room: Room) -> Sequence[str]:
    count = _counted(entry.copies, "print") if entry.result == "good" else f"{entry.copies} spoiled"
    return (
        entry.job,
        entry.date.isoformat(),
        entry.owner,
        entry.title,
        entry.size,
        entry.paper,
        count,
        room.money(entry.price),
        entry.why,
    )


def _counted(number: int, thing: str) -> str:
    return f"1 {thing}" if number == 1 else f"{number} {thing}s"


def _day(text: str | None, option: str) -> date | None:
    try:
        return date.fromisoformat(text) if text else None
    except ValueError:
        raise LabError(f"{option} is “{text}”: give a day as in 2031-05-12.") from None
