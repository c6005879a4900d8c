"""What ``prepare --parts`` asks for, and what does not go with it."""

from pathlib import Path

from labkit.commands.order import order_of, whose
from labkit.errors import LabError
from labkit.files.child.guarded import Guarded
from labkit.geometry.length import ZERO, length
from labkit.geometry.parts import read_count
from labkit.geometry.proportion import HALF
from labkit.job import words as job
from labkit.job.parts import InParts, write_parts
from labkit.job.planned import Made
from labkit.room.rules import Room

_ONE_SHEET = ("fit", "border", "left", "top", "trim", "bleed", "whole")
"""Options that place one picture on one sheet."""


def refuse_parts(options) -> None:
    """LabError for options that contradict each other where a picture is divided, or is not."""
    if not options.parts:
        for name in ("roll", "overlap", "gap"):
            if getattr(options, name):
                raise LabError(
                    f"--{name} is for a picture in parts: say --parts 3x1 too, or leave it out."
                )
        return
    if len(options.files) > 1:
        raise LabError(f"{len(options.files)} pictures are given: divide one at a time.")
    for name in _ONE_SHEET:
        if getattr(options, name):
            raise LabError(
                f"--{name} is for a print on one sheet: leave it out, or leave --parts out."
            )
    if not (options.roll or options.sheet):
        raise LabError("say on what the parts are printed: --sheet 13x19in, or --roll 24in.")
    if options.roll and options.turn:
        raise LabError("--turn is for sheets: on a roll each part lies so that it takes the least.")


def make_parts(options, room: Room, child: Guarded) -> list[Made]:
    """All parts of the one picture."""
    file = Path(options.files[0])
    picture = job.open_picture(file, page=options.page, room=room, child=child)
    owner, title = whose(file, options, room)
    columns, rows = read_count(options.parts)
    asked = InParts(
        columns,
        rows,
        gap=length(options.gap, "the gap") if options.gap else ZERO,
        overlap=length(options.overlap, "the overlap") if options.overlap else ZERO,
        sheet=options.sheet,
        roll=length(options.roll, "the roll") if options.roll else None,
    )
    if options.crop_at is not None and not options.fill:
        raise LabError("the point to keep counts where a picture is cropped, by --fill.")
    return write_parts(
        picture,
        asked,
        room,
        owner=owner,
        title=title,
        width=length(options.width, "the width") if options.width else None,
        height=length(options.height, "the height") if options.height else None,
        fill=options.fill,
        keep=job.point(options.crop_at) if options.crop_at else (HALF, HALF),
        at=options.at,
        turn=options.turn,
        resample=options.resample,
        replace_them=options.replace,
        child=child,
        **order_of(options),
    )
