"""What in a room file contradicts the rest of it."""

from collections.abc import Iterable, Iterator
from functools import partial
from itertools import pairwise

from labkit.geometry.paper import Sheet
from labkit.room.printers import Setting
from labkit.room.route import Route
from labkit.room.schema import Place
from labkit.room.stock import KeptSheet, Paper, Roll


def go_together(sound: dict, written: dict, place: Place) -> None:
    """Tell what in a room contradicts the rest. ``sound`` holds only the values read without mistake,
    ``written`` all of the file.

    A name that nothing here has may stand for any: what hangs on it alone is not told besides.
    """
    for needed, rule in (
        ({"papers"}, _papers_are_kept),
        ({"printers"}, _printers_have_a_path),
        ({"floor"}, _floor_rises),
        ({"working_ppi", "floor"}, _working_ppi_is_enough),
        ({"border", "printers"}, _border_is_reached),
        ({"border", "papers"}, partial(_leaves_paper, "border")),
        ({"bleed", "papers"}, partial(_leaves_paper, "bleed")),
        ({"printers"}, _only_rolls_are_cut),
        ({"settings"}, _settings_are_whole),
    ):
        if needed <= sound.keys():
            rule(sound, place)
    count = len(place.told)
    for kind, rule in (
        ("papers", _papers_differ),
        ("printers", _printers_differ),
        ("settings", _settings_differ),
    ):
        if kind in sound:
            rule(sound, place)
    if {"papers", "printers", "settings"} <= sound.keys() and len(place.told) == count:
        for rule in (_settings_take_a_path, _one_is_the_default, _stock_can_be_printed):
            rule(sound, place)
    if "papers" in sound:
        _sizes_differ(sound, place)
    _settings_name_what_there_is(written, place)


# Papers


def _papers_differ(room, place: Place) -> None:
    _differ((place.at("papers", i, "name"), each.name) for i, each in enumerate(room["papers"]))


def _sizes_differ(room, place: Place) -> None:
    for index, paper in enumerate(room["papers"]):
        own = place.at("papers", index)
        _differ(
            (own.at("sheets", i, "size"), _by(each.sheet)) for i, each in enumerate(paper.sheets)
        )
        _differ(
            (own.at("rolls", i, "width"), f"a roll {each.width} wide")
            for i, each in enumerate(paper.rolls)
        )


def _papers_are_kept(room, place: Place) -> None:
    for index, paper in enumerate(room["papers"]):
        if not (paper.sheets or paper.rolls):
            place.at("papers", index).tell(
                f"“{paper.name}” is kept neither in sheets nor on a roll: write sheets or rolls, or take "
                "the paper out."
            )
        for number, roll in enumerate(paper.rolls):
            if roll.left and roll.left > roll.length:
                place.at("papers", index, "rolls", number, "left").tell(
                    f"{roll.left} cannot be left of a roll of {roll.length}: mend one of the two."
                )


# Printers


def _printers_differ(room, place: Place) -> None:
    _differ((place.at("printers", i, "name"), each.name) for i, each in enumerate(room["printers"]))


def _printers_have_a_path(room, place: Place) -> None:
    for index, printer in enumerate(room["printers"]):
        if not printer.feeds:
            place.at("printers", index).tell(
                f"{printer.name} has no path for paper: write [printers.sheet], [printers.hand] or "
                "[printers.roll] below it."
            )


def _only_rolls_are_cut(room, place: Place) -> None:
    for index, printer in enumerate(room["printers"]):
        for path, feed in printer.feeds.items():
            if feed.cuts and path != "roll":
                place.at("printers", index, path, "cuts").tell(
                    f"{printer.name} can cut only what comes off a roll: take “cuts” out here, or write it "
                    "under [printers.roll]."
                )


def _border_is_reached(room, place: Place) -> None:
    """By hand the edges are wider, and the border is then made as wide."""
    for printer in room["printers"]:
        for feed in (feed for path, feed in printer.feeds.items() if path != "hand"):
            side, widest = max(feed.unprintable.items(), key=lambda each: each[1])
            if room["border"] < widest:
                place.at("border").tell(
                    f"“border” is {room['border']}, but {printer.name} cannot print nearer than "
                    f"{widest} to the {side} edge: make the border at least that."
                )


def _leaves_paper(name: str, room, place: Place) -> None:
    """On both sides of the widest paper."""
    sheets = [min(kept.sheet.width, kept.sheet.height) for p in room["papers"] for kept in p.sheets]
    rolls = [roll.width for paper in room["papers"] for roll in paper.rolls]
    widest = max([*sheets, *rolls], default=None)
    if widest and room[name] * 2 >= widest:
        place.at(name).tell(
            f"“{name}” is {room[name]}, which leaves nothing of the widest paper here, {widest}: check its "
            "unit."
        )


# Settings


def _settings_differ(room, place: Place) -> None:
    _differ(
        (place.at("settings", index), _told(each)) for index, each in enumerate(room["settings"])
    )


def _settings_are_whole(room, place: Place) -> None:
    for index, setting in enumerate(room["settings"]):
        own, ends = place.at("settings", index), (setting.leader, setting.tail)
        if setting.path == "roll" and None in ends:
            own.tell(
                'paper off a roll has a leader and a tail: write both, such as leader = "3cm" and '
                'tail = "5cm".'
            )
        if setting.path != "roll" and ends != (None, None):
            own.at("leader" if setting.leader else "tail").tell(
                "only paper off a roll has a leader and a tail: take them out."
            )
        if setting.colour_by == "program" and setting.profile is None:
            own.at("colour_by").tell(
                "the program can manage colour only with the paper's profile, and “profile” is “”: name "
                'one, or write colour_by = "printer".'
            )


def _settings_name_what_there_is(written: dict, place: Place) -> None:
    """Of papers and printers by all their names, whatever else is wrong with them; not where two have one
    name, which may be the one that is missed."""
    known = {kind: _distinct(_names(written, kind)) for kind in ("papers", "printers")}
    for index, setting in enumerate(_groups(written, "settings")):
        for key, kind in (("paper", "papers"), ("printer", "printers")):
            name = setting.get(key)
            if (
                known[kind]
                and isinstance(name, str)
                and name.strip()
                and not _is_in(name, known[kind])
            ):
                place.at("settings", index, key).tell(
                    f"no {key} here is called “{name}”: use one of {', '.join(known[kind])}."
                )


def _groups(written: dict, kind: str) -> list[dict]:
    groups = written.get(kind)
    return (
        [each if isinstance(each, dict) else {} for each in groups]
        if isinstance(groups, list)
        else []
    )


def _names(written: dict, kind: str) -> list[str]:
    names = [group.get("name") for group in _groups(written, kind)]
    return [name.strip() for name in names if isinstance(name, str) and name.strip()]


def _distinct(names: list[str]) -> list[str]:
    """The names, or none where two are alike."""
    return names if len({name.casefold() for name in names}) == len(names) else []


def _is_in(name: str, names: Iterable[str]) -> bool:
    return name.strip().casefold() in {each.casefold() for each in names}


def _settings_take_a_path(room, place: Place) -> None:
    printers = _by_name(room["printers"])
    for index, setting in enumerate(room["settings"]):
        printer = printers.get(setting.printer.casefold())
        if printer and setting.path not in printer.feeds:
            place.at("settings", index, "path").tell(
                f"{printer.name} has no path “{setting.path}”: use one of {', '.join(printer.feeds)}, or "
                f"describe it under [printers.{setting.path}]."
            )


def _one_is_the_default(room, place: Place) -> None:
    for index, paper in enumerate(room["papers"]):
        own = _settings_of(paper, room)
        defaults = sum(each.default for each in own)
        strayed = any(each.default for each in _stray_settings(room))
        if own and defaults != 1 and not (strayed and not defaults):
            place.at("papers", index).tell(
                f"of the settings of “{paper.name}” {defaults or 'none'} say default = true: let one "
                "say so."
            )


def _stock_can_be_printed(room, place: Place) -> None:
    """Each size that a paper is kept in has a setting whose path takes it."""
    printers = _by_name(room["printers"])
    for index, paper in enumerate(room["papers"]):
        own = _settings_of(paper, room) + _stray_settings(room)
        for steps, stock in _stock_of(paper):
            if not any(_takes(setting, paper, stock, printers) for setting in own):
                place.at("papers", index, *steps).tell(
                    f"“{paper.name}” is kept in {stock.name}, but none of its [[settings]] takes that: "
                    "add one, or take the size out."
                )


def _by_name(things) -> dict:
    return {each.name.casefold(): each for each in things}


def _settings_of(paper: Paper, room) -> list[Setting]:
    return [each for each in room["settings"] if each.paper.casefold() == paper.name.casefold()]


def _stray_settings(room) -> list[Setting]:
    """Those of a paper that is not here: they may be any paper's."""
    papers = _by_name(room["papers"])
    return [each for each in room["settings"] if each.paper.casefold() not in papers]


def _stock_of(paper: Paper) -> Iterator[tuple[tuple, KeptSheet | Roll]]:
    for number, each in enumerate(paper.sheets):
        yield ("sheets", number, "size"), each
    for number, each in enumerate(paper.rolls):
        yield ("rolls", number, "width"), each


def _takes(setting: Setting, paper: Paper, stock: KeptSheet | Roll, printers: dict) -> bool:
    printer = printers.get(setting.printer.casefold())
    if printer is None:
        return isinstance(stock, Roll) == (setting.path == "roll")
    if setting.path not in printer.feeds:
        return False
    if isinstance(stock, Roll):
        return setting.path == "roll" and stock.width <= printer.roll.widest
    return (
        setting.path != "roll"
        and Route(stock.sheet, paper, stock, printer, setting.path, setting).is_taken
    )


def _told(setting: Setting) -> str:
    return f"{setting.printer}, {setting.paper}, path {setting.path}"


# The floor


def _floor_rises(room, place: Place) -> None:
    *rows, last = room["floor"]
    for index, row in enumerate(rows):
        if row.up_to is None:
            place.at("floor", index).tell(
                "only the last row of “floor” takes every longer print: give this row an up_to."
            )
    if last.up_to is not None:
        place.at("floor", len(rows)).tell(
            f"“floor” says nothing of prints over {last.up_to}: add a last row without up_to."
        )
    ends = [(index, row.up_to) for index, row in enumerate(room["floor"]) if row.up_to]
    for (_, before), (index, after) in pairwise(ends):
        if after <= before:
            place.at("floor", index, "up_to").tell(
                f"the rows of “floor” go from short prints to long ones, but {after} comes after "
                f"{before}: put them in rising order."
            )


def _working_ppi_is_enough(room, place: Place) -> None:
    highest = max(row.ppi for row in room["floor"])
    if room["working_ppi"] < highest:
        place.at("working_ppi").tell(
            f"“working_ppi” is {room['working_ppi']}, below the {highest} ppi that “floor” asks for: "
            "raise it, or lower the floor."
        )


# Two alike


def _differ(named) -> None:
    seen = set()
    for place, name in named:
        if name.casefold() in seen:
            place.tell(f"“{name}” is here for the second time: change one, or take it out.")
        seen.add(name.casefold())


def _by(sheet: Sheet) -> str:
    return f"{sheet.width} by {sheet.height}"
