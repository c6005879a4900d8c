"""Make a print file, exactly the size of its sheet, and a job ticket from each picture."""

from labkit.files.child.guarded import Guarded

EPILOG = (
    "Lengths have a unit: 12in, 12 1/2 in, 30cm, 300mm. Every refusal says what to do about it."
)
_MAKING = ("labkit.job.making", "labkit.files.writing.tiff", "imagecodecs")
"""What the child imports while this process reads the room."""


def add_arguments(parser) -> None:
    """The options of the command."""
    parser.add_argument(
        "files", nargs="+", metavar="PICTURE", help="a picture, or several for a series"
    )
    parser.add_argument(
        "--page", type=int, metavar="N", help="which page or frame of a file that has several"
    )
    sheet = parser.add_argument_group("sheet")
    stock = sheet.add_mutually_exclusive_group()
    stock.add_argument(
        "--sheet",
        metavar="SIZE",
        help="A3, letter, 13x19in, 329x483mm …; with --whole the file's own if not given",
    )
    stock.add_argument(
        "--roll", metavar="WIDTH", help="with --parts: each on as much of this roll as it needs"
    )
    sheet.add_argument("--turn", action="store_true", help="lay the sheet on its side")
    parts = parser.add_argument_group("one picture in parts (the size is then that of the whole)")
    parts.add_argument(
        "--parts", metavar="3x1", help="so many columns and rows, a print file for each"
    )
    between = parts.add_mutually_exclusive_group()
    between.add_argument("--overlap", metavar="LENGTH", help="what neighbours both show: 1/2in")
    between.add_argument(
        "--gap", metavar="LENGTH", help="what hangs between them, picture hidden behind it: 2in"
    )
    size = parser.add_argument_group("size of the picture (none: 100 %, as the file states)")
    size.add_argument("--width", metavar="LENGTH")
    size.add_argument("--height", metavar="LENGTH")
    size.add_argument("--fit", action="store_true", help="as large as the border allows")
    size.add_argument(
        "--fill",
        action="store_true",
        help="cover all inside the border, or a box of --width by --height, cropped",
    )
    size.add_argument(
        "--border", metavar="LENGTH", help="for fit and fill; the room's own if not given"
    )
    size.add_argument(
        "--crop-at", metavar="X,Y", help="what stays when cropped, as fractions: 0.5,0.3"
    )
    place = parser.add_argument_group("place")
    place.add_argument(
        "--at", default="centre", metavar="PLACE", help="centre, optical or even-three"
    )
    place.add_argument("--left", metavar="LENGTH", help="left border, together with --top")
    place.add_argument("--top", metavar="LENGTH", help="top border, together with --left")
    place.add_argument("--trim", metavar="SIZE", help="print to the edge of this finished size")
    place.add_argument(
        "--bleed", metavar="LENGTH", help="what the cut takes; the room's own if not given"
    )
    place.add_argument(
        "--cut-to", metavar="BORDER", help="mark where to cut so that this white border stays"
    )
    place.add_argument("--below", metavar="MORE", help="so much more of it below: 1/2in, or 10%%")
    place.add_argument(
        "--whole",
        action="store_true",
        help="the file is a finished sheet: every pixel stays where it is, only its form is mended",
    )
    pixels = parser.add_argument_group("pixels")
    pixels.add_argument(
        "--resample", type=int, metavar="PPI", help="make new pixels at this resolution"
    )
    pixels.add_argument(
        "--keep-pixels", action="store_true", help="keep every pixel, whatever the ppi"
    )
    pixels.add_argument(
        "--lighter",
        type=float,
        metavar="STEP",
        help="one tone step at middle grey, as chosen on a test strip: 0.3, or -0.3 for darker",
    )
    pixels.add_argument(
        "--by", metavar="UNIT", help="what the step is told in: stops (if not given), or lightness"
    )
    pixels.add_argument(
        "--strict", action="store_true", help="exit 1 if a print falls below the floor"
    )
    job = parser.add_argument_group("job")
    job.add_argument("--owner", metavar="NAME", help="whose it is (or from the file's name)")
    job.add_argument("--title", metavar="WORDS", help="what it is (or from the file's name)")
    job.add_argument("--copies", type=int, default=1, metavar="N")
    job.add_argument(
        "--paper",
        metavar="NAME",
        help="one of the room's papers; the first kept in this size if not given",
    )
    job.add_argument(
        "--printer", metavar="NAME", help="one of the room's; the paper's own if not given"
    )
    job.add_argument("--course", default="", metavar="TEXT")
    job.add_argument("--due", default="", metavar="DATE", help="such as 2031-05-12")
    output = parser.add_argument_group("output")
    output.add_argument(
        "--out", metavar="FOLDER", help="where to; the reader's own folder if not given"
    )
    output.add_argument("--replace", action="store_true", help="replace files of the same name")
    output.add_argument("--room", metavar="FILE", help="the rules of another print room")
    output.add_argument("--json", action="store_true", help="the facts as JSON instead of words")


def run(options) -> int:
    """Make all that is asked for."""
    with Guarded(*_MAKING) as child:
        from labkit.commands.recipe import prepare

        return prepare(options, child)
