"""What ``prepare`` does: one recipe for one picture or a series, and what is told of it."""

import json
import sys
from fractions import Fraction
from pathlib import Path

from labkit.commands.columns import columns
from labkit.commands.in_parts import make_parts, refuse_parts
from labkit.commands.order import order_of, whose
from labkit.errors import LabError
from labkit.files.child.guarded import Guarded
from labkit.files.header.picture import Picture
from labkit.files.writing.name import file_name
from labkit.geometry.layout import Layout
from labkit.geometry.length import size_text
from labkit.geometry.parts import Part
from labkit.geometry.resolution import ppi_text
from labkit.home import home
from labkit.job import words as job
from labkit.job.cutting import cut_to
from labkit.job.planned import Made, step_asked
from labkit.room.rules import Room, load_room


def prepare(options, child: Guarded) -> int:
    """Make every file asked for, tell what was made, and give the exit code.

    A picture of a series that is refused does not stop the others; the code is then 2.
    """
    room = load_room(options.room) if options.room else home().room()
    if len(options.files) > 1 and options.title:
        raise LabError(
            "one title cannot name several files: leave it out, and name the pictures like "
            f"{room.name_pattern.format(owner='Ada-Brook', title='Boat', sheet='13x19in')}.jpg."
        )
    step_asked(options.lighter, options.by)
    refuse_parts(options)
    if options.parts:
        made = make_parts(options, room, child)
        print(_told_parts(made, room, options))
        return 1 if options.strict and any(one.below_floor for one in made) else 0
    made, refused = [], 0
    for file in options.files:
        try:
            one = _make(Path(file), options, room, child, {before.file.stem for before in made})
            made.append(one)
        except LabError as refusal:
            if len(options.files) == 1:
                raise
            print(f"labkit: {file}: {refusal}", file=sys.stderr)
            refused += 1
    if options.json:
        facts = [_facts(one, room) for one in made]
        print(
            json.dumps(facts[0] if len(options.files) == 1 else facts, ensure_ascii=False, indent=1)
        )
    elif len(options.files) == 1:
        print(_summary(made[0], room, options))
    else:
        print(_table(made, room))
    if refused:
        return 2
    return 1 if options.strict and any(one.below_floor for one in made) else 0


def _make(file: Path, options, room: Room, child: Guarded, before: set[str]) -> Made:
    """One picture of a series; ``before`` are the names given so far."""
    picture = job.open_picture(file, page=options.page, room=room, child=child)
    layout, resample = _placed(picture, options, room)
    owner, title = whose(file, options, room)
    label = layout.sheet.label
    if file_name(room.name_pattern, owner=owner, title=title, sheet_label=label) in before:
        raise LabError("another picture of this series has the same owner and title: rename one.")
    return job.write(
        picture,
        layout,
        owner=owner,
        title=title,
        resample=resample,
        replace=options.replace,
        measured=_measured(picture, layout, resample, room, child) if options.whole else None,
        room=room,
        child=child,
        **order_of(options),
    )


def _measured(picture: Picture, layout: Layout, ppi: Fraction, room: Room, child: Guarded):
    """Where a finished sheet has its picture: what its ticket shows."""
    from labkit.files.checks.check import check
    from labkit.job.ticket import measured_on

    return measured_on(check(picture.path, room=room, child=child), layout.sheet, ppi, room)


def _placed(picture: Picture, options, room: Room) -> tuple[Layout, int | Fraction | None]:
    """Where the picture is to sit, and the resolution it is to be brought to, if any."""
    if options.whole:
        _refuse_with_whole(options)
        return job.place_whole(
            picture,
            on=options.sheet,
            turn=options.turn,
            paper=options.paper,
            printer=options.printer,
            room=room,
        )
    if not options.sheet:
        raise LabError(
            "say on which sheet, such as --sheet 13x19in; a finished file that stays as it is, such as one "
            "to be made lighter, needs --whole instead."
        )
    layout = job.place(
        picture,
        on=options.sheet,
        turn=options.turn,
        width=options.width,
        height=options.height,
        fit=options.fit,
        fill=options.fill,
        border=options.border,
        crop_at=options.crop_at,
        at=options.at,
        left=options.left,
        top=options.top,
        trim=options.trim,
        bleed=options.bleed,
        paper=options.paper,
        printer=options.printer,
        room=room,
    )
    return cut_to(layout, options.cut_to, options.below, room), options.resample


def _refuse_with_whole(options) -> None:
    others = (
        "width", "height", "fit", "fill", "border", "crop_at", "left", "top", "trim", "bleed",
        "cut_to", "below",
    )  # fmt: skip
    given = [name for name in (*others, "resample", "keep_pixels") if getattr(options, name)]
    if given or options.at != "centre":
        option = (given or ["at"])[0].replace("_", "-")
        raise LabError(
            f"--whole leaves every pixel where it is, and --{option} moves or changes some: leave one "
            "of the two out."
        )


def _summary(made: Made, room: Room, options) -> str:
    printed, layout, units = made.printed, made.layout, room.units
    width, height = (side.both(units) for side in layout.picture.size)
    wide, high = printed.raster.sheet
    rows = [
        ("sheet", f"{layout.sheet}, {wide} × {high} pixels at {ppi_text(printed.raster.ppi)}"),
        ("picture", f"{width} wide, {height} high"),
        *((f"{side}", border.both(units)) for side, border in layout.borders.items()),
    ]
    if layout.trim:
        trim_width, trim_height = (side.both(units) for side in layout.trim.box.size)
        bleed = f"{layout.trim.bleed.both(units)} of bleed"
        kept = layout.picture.within(layout.trim.box).text(units)
        beyond = f"borders: {kept}" if layout.keeps_white else bleed
        rows.append(("trim", f"{trim_width} wide, {trim_height} high, {beyond}"))
    if layout.crop.lost:
        rows.append(("cropped", f"{float(layout.crop.lost):.0%} of the picture"))
    rows += [
        ("profile", f"{printed.profile}, {printed.depth} bits a channel"),
        *(("done", sentence) for sentence in printed.converted),
        *(("look", sentence) for sentence in printed.warnings),
    ]
    paper = room.route(layout.sheet, options.paper, options.printer).paper
    cost = room.money(made.price)
    prints = "1 print" if options.copies == 1 else f"{options.copies} prints"
    rows += [
        ("price", f"{cost} for {prints} on {paper.name}"),
        ("job", made.number),
        ("ticket", made.ticket.name),
        ("folder", str(made.file.parent)),
    ]
    return "\n".join([made.file.name, *columns(rows, indent="  ")])


def _told_parts(made: list[Made], room: Room, options) -> str:
    """The parts one below the other, and what lies between them."""
    if options.json:
        return json.dumps([_facts(one, room) for one in made], ensure_ascii=False, indent=1)
    split = made[0].printed.part.split
    size = size_text(split.size, room.units)
    notes = {note: None for one in made for note in _notes(one)}
    lines = [_table(made, room, notes=False), *notes, f"The whole picture is {size}."]
    last = f"In {made[0].file.parent}, with a ticket for each."
    return "\n".join(filter(None, [*lines, split.hidden(room.units), last]))


def _notes(one: Made) -> tuple[str, ...]:
    return *one.printed.warnings, *one.printed.converted


def _table(made: list[Made], room: Room, *, notes: bool = True) -> str:
    """One line for each file of a series."""
    head = ("file", "sheet", "picture", "ppi", "price", "to note" if notes else "")
    rows = [head]
    for one in made:
        printed, size = one.printed, one.layout.picture
        rows.append(
            (
                one.file.name,
                one.layout.sheet.label,
                f"{_short(size.width, room)} × {_short(size.height, room)}",
                ppi_text(printed.raster.ppi).removesuffix(" ppi"),
                room.money(one.price, ""),
                " ".join(_notes(one)) if notes else "",
            )
        )
    prices = [one.price for one in made if one.price is not None]
    total = f", {room.money(sum(prices))} in all" if prices else ""
    return "\n".join([*columns(rows), f"{len(made)} made{total}."])


def _short(side, room: Room) -> str:
    return side.mm_text() if room.units == "mm" else side.inch_text()


def _facts(made: Made, room: Room) -> dict:
    """What was made, as plain numbers for other programs; lengths in inches."""
    printed, layout = made.printed, made.layout
    raster, box, sheet = printed.raster, layout.picture, layout.sheet
    trim = layout.trim
    return {
        "file": str(made.file),
        "ticket": str(made.ticket),
        "job": made.number,
        "owner": printed.owner,
        "title": printed.title,
        "sheet": {
            "name": sheet.label,
            "width_in": float(sheet.width),
            "height_in": float(sheet.height),
        },
        "ppi": _number(raster.ppi),
        "pixels": list(raster.sheet),
        "picture": {
            "left_in": float(box.left),
            "top_in": float(box.top),
            "width_in": float(box.width),
            "height_in": float(box.height),
            "ppi": _number(raster.own_ppi),
        },
        "borders_in": {side: float(border) for side, border in layout.borders.items()},
        "trim_in": trim
        and {
            "left": float(trim.box.left),
            "top": float(trim.box.top),
            "width": float(trim.box.width),
            "height": float(trim.box.height),
            "bleed": float(trim.bleed),
        },
        "crop": {
            "left": float(layout.crop.left),
            "top": float(layout.crop.top),
            "width": float(layout.crop.width),
            "height": float(layout.crop.height),
        },
        "profile": printed.profile,
        "depth": printed.depth,
        "resampled": raster.resampled,
        "lighter": printed.lighter.amount if printed.lighter else 0.0,
        "lighter_by": printed.lighter.by if printed.lighter else "stops",
        "converted": list(printed.converted),
        "price": None if made.price is None else float(made.price),
        "currency": room.currency,
        "warnings": list(printed.warnings),
        **({"part": _part(printed.part)} if printed.part else {}),
    }


def _part(part: Part) -> dict:
    """Which part of the whole picture it is, and where it lies on that."""
    box, (wide, high) = part.box, part.split.size
    return {
        "number": part.number,
        "of": part.split.count,
        "left_in": float(box.left),
        "top_in": float(box.top),
        "whole_width_in": float(wide),
        "whole_height_in": float(high),
        "gap_in": float(part.split.gap),
        "overlap_in": float(part.split.overlap),
    }


def _number(value: Fraction) -> int | float:
    return int(value) if value.denominator == 1 else float(value)
