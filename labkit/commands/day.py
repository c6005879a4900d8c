"""What is to be printed today from folders of hand-ins, what must be asked, and what goes back."""

from datetime import date
from pathlib import Path

from labkit.commands.day_told import as_json, as_text
from labkit.commands.output import progress_bar, refuse_ending, refuse_taken, write_page
from labkit.errors import LabError
from labkit.files.folder.jobs import read_jobs
from labkit.files.folder.plan import RULE
from labkit.files.folder.run import check_all
from labkit.files.record.record import read_record
from labkit.home import home
from labkit.job.day import plan_day
from labkit.room.rules import load_room

DESCRIPTION = (
    "What is to be printed today from folders of hand-ins. Each file is checked; what is fine is grouped "
    "by printer, paper and size, with the sheets or metres it needs, minutes at the printer and price; "
    "then comes what must be asked, and what goes back, each with a message to paste. Sub-folders may be "
    "called by student or by paper; a jobs.csv may say more, with the columns file, paper, copies, course "
    f"and due. What the record has already is not printed again. Nothing is printed or moved. {RULE} Exit "
    "code 1 if anything goes back."
)


def add_arguments(parser) -> None:
    """The options of the command."""
    parser.add_argument(
        "paths", nargs="+", metavar="FOLDER", help="a folder of hand-ins, or a file"
    )
    parser.add_argument("--report", metavar="FILE.html", help="write the page to print and tick")
    parser.add_argument("--json", action="store_true", help="the plan as JSON instead of words")
    parser.add_argument("--date", metavar="DATE", help="of another day, as in 2031-05-12")
    parser.add_argument("--record", metavar="FILE.csv", help="the record; your own if not given")
    parser.add_argument("--replace", action="store_true", help="replace a page of the same name")
    parser.add_argument("--room", metavar="FILE", help="the rules of another print room")


def run(options) -> int:
    """Check all files, plan the day, tell it; the exit code is 1 if anything goes back."""
    room = load_room(options.room) if options.room else home().room()
    day = _day(options.date)
    report = Path(options.report).expanduser() if options.report else None
    if report:
        refuse_ending(report, ".html")
        refuse_taken(report, replace_it=options.replace)
    record = Path(options.record).expanduser() if options.record else home().record
    entries = read_record(record)
    paths = [Path(path).expanduser() for path in options.paths]
    jobs, missing = read_jobs(paths, room, [record, *filter(None, [report])])
    if not jobs:
        raise LabError("there is no file to print in what was given: name files, or a folder.")
    files = list(dict.fromkeys(job.file for job in jobs))
    checked = check_all(files, room, thumbnails=bool(report), progress=progress_bar(len(files)))
    plan = plan_day(jobs, checked, room, day, record=entries, missing=missing)
    print(as_json(plan) if options.json else as_text(plan, room))
    if report:
        from labkit.drawing.pages.day import day_page

        write_page(report, day_page(plan, room), options.replace)
    return 1 if plan.back else 0


def _day(text: str | None) -> date:
    try:
        return date.fromisoformat(text) if text else date.today()
    except ValueError:
        raise LabError(f"--date is “{text}”: give a day as in 2031-05-12.") from None
