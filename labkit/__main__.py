"""The command line: the same computation as the lessons, for the day's work."""

import sys

from labkit.files.child.search_path import trusted_path

sys.path[:] = trusted_path()  # before anything else is imported from it

import os  # noqa: E402
import signal  # noqa: E402
from importlib import import_module  # noqa: E402

from labkit.commands.parser import Parser  # noqa: E402
from labkit.errors import LabError, system_reason  # noqa: E402

COMMANDS = {
    "prepare": "make a print file and its job ticket from a picture",
    "strip": "write test strips: part of a picture in several tone steps, for a paper",
    "check": "look over what is handed in",
    "day": "what is to be printed today, what must be asked, what goes back",
    "ticket": "write the job ticket of a finished file",
    "layout": "lay several finished prints out on a roll or on sheets, and say where to cut",
    "ruler": "write a ruler sheet to print, and read what was measured of it",
    "log": "keep a record of what was printed, and tell what it sums to",
    "papers": "list the room's papers, the sizes each is kept in, and prices",
    "room": "begin or check a print room's own rules",
    "lessons": "open the lessons in JupyterLab",
}
"""Each is a module of that name in ``commands``, imported only when it is asked for."""


def main(arguments: list[str] | None = None) -> int:
    """Run one command; the exit code is 0 when all is well, 1 for a finding, 2 for a refusal."""
    options = _parser(sys.argv[1:] if arguments is None else arguments).parse_args(arguments)
    signal.signal(signal.SIGTERM, signal.default_int_handler)  # so that it tidies up, too
    try:
        code = options.run(options)
        sys.stdout.flush()
        return code
    except LabError as refusal:
        print(f"labkit: {refusal}", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        print("labkit: stopped; nothing was left behind.", file=sys.stderr)
        return 2
    except BrokenPipeError:
        sys.stderr.close()
        return 2
    except OSError as error:
        what = "what is told here" if error.filename is None else str(error.filename)
        reason = system_reason(error)
        print(f"labkit: {what} cannot be read or written ({reason}).", file=sys.stderr)
        sys.stdout = open(os.devnull, "w")  # noqa: SIM115  what is left would be tried again
        return 2


def _parser(arguments: list[str]) -> Parser:
    parser = Parser(prog="labkit", description=__doc__)
    commands = parser.add_subparsers(title="commands", required=True, metavar="COMMAND")
    named = next((each for each in arguments if not each.startswith("-")), "")
    for name, told in COMMANDS.items():
        command = commands.add_parser(name, help=told)
        if name == named:
            module = import_module(f"labkit.commands.{name}")
            command.description = getattr(module, "DESCRIPTION", module.__doc__)
            command.epilog = getattr(module, "EPILOG", None)
            module.add_arguments(command)
            command.set_defaults(run=module.run)
    return parser


if __name__ == "__main__":
    sys.exit(main())
