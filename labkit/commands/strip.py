"""Write test strips: a part of each picture in several tone steps, ready to print on the paper meant."""

import time
from pathlib import Path

from labkit.commands.columns import columns
from labkit.errors import LabError
from labkit.files.child.guarded import Guarded
from labkit.geometry.length import length, size_text
from labkit.geometry.light import strip_steps
from labkit.geometry.paper import find_sheet
from labkit.home import home
from labkit.room.rules import Paper, Room, load_room

DESCRIPTION = (
    "Write test strips: a part of each picture, as large as it will be in the final print, in several tone "
    "steps. Each is labelled with the value that `labkit prepare --lighter` takes. Strips of several people "
    "share a sheet, with their names on them."
)
EPILOG = (
    "Print a strip as the final print will be printed, let it dry, and look at it in the light in which the "
    "print will hang."
)


def add_arguments(parser) -> None:
    """The options of the command."""
    parser.add_argument("files", nargs="+", metavar="FILE", help="pictures, or finished files")
    parser.add_argument(
        "--at", metavar="X,Y", default="0.5,0.5",
        help="the place to show, in fractions across and down: 0.3,0.5 (its middle if not given)",
    )  # fmt: skip
    parser.add_argument(
        "--size", default="4x6in", metavar="SIZE", help="of one strip, as it lies (4x6in)"
    )
    parser.add_argument(
        "--width", metavar="LENGTH", help="of the final print (none: 100 %%, as the file states)"
    )
    parser.add_argument("--steps", type=int, default=5, metavar="N", help="how many (5)")
    parser.add_argument(
        "--apart",
        type=float,
        metavar="STEP",
        help="from one step to the next (0.3; by lightness 4)",
    )
    parser.add_argument(
        "--first", type=float, metavar="STEP", help="the darkest step (one step darker)"
    )
    parser.add_argument(
        "--by", default="stops", metavar="UNIT",
        help="what steps are told in: stops of exposure (if not given), or lightness (CIE L*)",
    )  # fmt: skip
    parser.add_argument(
        "--papers",
        metavar="A,B",
        help="one sheet for each of these papers; the room's first if not given",
    )
    parser.add_argument(
        "--sheet",
        metavar="SIZE",
        help="to print on; the smallest that the paper is kept in if not given",
    )
    parser.add_argument("--owner", metavar="NAME", help="whose it is (or from the file's name)")
    parser.add_argument("--title", metavar="WORDS", help="what it is (or from the file's name)")
    parser.add_argument(
        "--out", metavar="FOLDER", help="where to; the reader's own folder if not given"
    )
    parser.add_argument(
        "--job", metavar="NUMBER", help="the job's number (date and time if not given)"
    )
    parser.add_argument("--replace", action="store_true", help="replace files of the same name")
    parser.add_argument("--room", metavar="FILE", help="the rules of another print room")


def run(options) -> int:
    """Write the strips for every paper, and tell what was written."""
    room = load_room(options.room) if options.room else home().room()
    if len(options.files) > 1 and options.title:
        raise LabError("one title cannot name several strips: leave it out, and name the files.")
    steps = strip_steps(options.steps, options.apart, options.first, options.by)
    papers = _papers(options.papers, room)
    with Guarded("labkit.job.strip", "labkit.files.writing.tiff", "imagecodecs") as child:
        from labkit.job.strip import write_strips_on

        strips = [_strip(Path(file).expanduser(), options, room, child) for file in options.files]
        asked = {
            "size": find_sheet(options.size),
            "steps": steps,
            "sheet": find_sheet(options.sheet) if options.sheet else None,
            "job": options.job or time.strftime("%Y%m%d-%H%M%S"),
            "out": Path(options.out).expanduser() if options.out else home().exports,
            "room": room,
            "replace": options.replace,
            "child": child,
        }
        made = [write_strips_on(strips, paper=paper, **asked) for paper in papers]
    print(_told(made, steps, asked["size"], room))
    return 0


def _papers(names: str | None, room: Room) -> list[Paper]:
    wanted = [name.strip() for name in (names or "").split(",") if name.strip()]
    return list(dict.fromkeys(room.paper(name) for name in wanted)) or [room.paper()]


def _strip(file: Path, options, room: Room, child: Guarded):
    from labkit.commands.order import whose
    from labkit.job.strip import strip_of
    from labkit.job.words import open_picture, point

    picture = open_picture(file, room=room, child=child)
    owner, title = whose(file, options, room)
    owner, title = owner or picture.artist, title or picture.title
    if len(options.files) > 1 and not (owner.strip() and title.strip()):
        example = room.name_pattern.format(owner="Ada-Brook", title="Boat", sheet="13x19in")
        raise LabError(
            "needs a name and a title on its strip: name each of these pictures as a print file is named "
            f"here, like {example}{file.suffix}, or make its strip by itself, with --owner and --title.",
            about=file.name,
        )
    return strip_of(
        picture,
        owner=owner,
        title=title,
        at=point(options.at),
        width=length(options.width, "the width") if options.width else None,
    )


def _told(made, steps, size, room: Room) -> str:
    blocks = []
    for each in made:
        medium, count = each.gangs[0].medium, sum(len(gang.packing.placed) for gang in each.gangs)
        number = "1 test strip" if count == 1 else f"{count} test strips"
        rows = [
            ("strips", f"{number} of {size_text((size.width, size.height), room.units)}"),
            ("sheet", f"{medium.name}, {', '.join(gang.kind_text for gang in each.gangs)}"),
            ("price", room.money(each.price(room))),
            *(("file", file.name) for file in each.written.files),
            ("page", each.written.page.name),
            ("folder", str(each.written.page.parent)),
            *(("done", note) for note in each.notes),
        ]
        blocks.append("\n".join([each.paper.name, *columns(rows, indent="  ")]))
    tones = ", ".join(str(step) if step else "as it is" for step in steps)
    example = max(steps, key=lambda step: step.amount).option
    blocks.append(
        f"Steps: {tones}, at middle grey. Print them as the final print, choose one in the light in which "
        f"the print will hang, and give what stands below it, such as: labkit prepare … {example}"
    )
    return "\n\n".join(blocks)
