"""What a check finds in files labelled with their faults, and how fast it is beside libvips decoding."""

import argparse
import os
import shutil
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from labkit.files.checks.findings import Findings
from labkit.files.child.guarded import Guarded
from labkit.geometry.layout import lay_out
from labkit.geometry.length import length
from labkit.geometry.paper import find_sheet
from labkit.geometry.pixelbox import PixelBox
from labkit.room.rules import load_room
from labkit.teaching.faults.cases import our_pictures
from labkit.teaching.faults.hand_in import HandIn
from labkit.teaching.faults.made import write
from tests.bench.measured import ratio, run, table, verdict
from tests.files import labelled
from tests.files.labelled import Labelled

MOST_PIXELS_OFF = 1
MOST_INCHES_OFF = 0.01
"""How far a border may be read wrongly: off a file without loss, and off a JPEG of quality 85."""
MOST_OVER_VIPS = 1.3
"""How many times as long as libvips takes to decode and average them a check of many files may take."""
FILES, PROCESSES = 200, min(os.cpu_count() or 1, 2)
"""How many files are checked against the clock, and by how many processes."""


def add_options(parser: argparse.ArgumentParser) -> None:
    """Which half, and how often."""
    parser.add_argument("--only", choices=("findings", "speed"), help="measure one of the two")
    parser.add_argument("--seed", type=int, default=0, help="another labelled set (0)")
    parser.add_argument("--each", type=int, default=3, help="pictures for each fault (3)")
    parser.add_argument("--rounds", type=int, default=3, help="rounds of the clock (3)")
    parser.add_argument("--calm", action="store_true", help="measure again while others work")
    parser.add_argument("--pictures", metavar="FOLDER", help="keep the large files, or find them")


def measure(asked: argparse.Namespace) -> None:
    """Measure what is asked for and print the tables."""
    with TemporaryDirectory() as made:
        folder = Path(made)
        if asked.only != "speed":
            _measure_findings(folder / "labelled", asked.seed, asked.each)
        if asked.only != "findings":
            large = Path(asked.pictures) if asked.pictures else folder / "large"
            _measure_speed(large, folder, asked.rounds, asked.calm)


# Findings


@dataclass(frozen=True)
class _Seen:
    """A labelled file, and what a check told of it: codes, the gravest grade, the picture's box."""

    labelled: Labelled
    told: frozenset[str]
    verdict: str
    box: PixelBox | None

    @property
    def rightly(self) -> set[str]:
        """What it may be told."""
        more = labelled.EXPECTED_TOO.get(self.labelled.name, set())
        return self.labelled.codes | more


def _measure_findings(folder: Path, seed: int, each: int) -> None:
    folder.mkdir()
    room = labelled.small_room()
    shown = labelled.pictures(folder, bundled=True)
    seen = []
    with Guarded("labkit.files.look.look", "labkit.files.pixels.decode") as child:
        for one in _all(folder, shown, room, seed, each):
            found = labelled.look_over(one, room, child)
            seen.append(_seen(one, found))
            if not len(seen) % 50:
                print(f"{len(seen)} files …", flush=True)
    _print_findings(seen)
    _print_misses(seen)
    _print_targets(seen)


def _all(folder: Path, shown: Sequence, room, seed: int, each: int) -> Iterator[Labelled]:
    """Every labelled file, removed once it was looked at."""
    for make in (labelled.clean, labelled.faults, labelled.pairs):
        options = {"each": each} if make is labelled.faults else {}
        for one in make(folder, shown, room, seed, **options):
            yield one
            if one.what == "clean":
                yield labelled.resaved(one)
            shutil.rmtree(one.file.parent)


def _seen(one: Labelled, found: Findings) -> _Seen:
    box = found.seen.box if found.seen and found.layout else None
    return _Seen(one, frozenset(labelled.told(found)), found.verdict, box)


def _print_findings(seen: Sequence[_Seen]) -> None:
    """For each code how often it was found where it is, and told where it is not."""
    there = Counter(code for each in seen for code in each.labelled.codes)
    found = Counter(code for each in seen for code in each.labelled.codes & each.told)
    wrong = Counter(code for each in seen for code in each.told - each.rightly)
    lines = [
        (code, f"{found[code]}", f"{there[code]}", f"{wrong[code]}", f"{len(seen) - there[code]}")
        for code in sorted(there | wrong)
    ]
    head = ("finding", "found", "of", "wrongly", "in others")
    print(f"\n{len(seen)} labelled files\n{table(head, lines)}")


def _print_misses(seen: Sequence[_Seen]) -> None:
    """What was missed and what was told wrongly, by the name of the fault."""
    for title, what in (
        ("Missed", lambda each: each.labelled.codes - each.told),
        ("Told wrongly", lambda each: each.told - each.rightly),
    ):
        counted = Counter(
            (code, each.labelled.what, each.labelled.name) for each in seen for code in what(each)
        )
        lines = [(*key, f"{count}") for key, count in sorted(counted.items())]
        if lines:
            print(f"\n{title}\n{table(('finding', 'in', 'with', 'times'), lines)}")


def _print_targets(seen: Sequence[_Seen]) -> None:
    clean = [each for each in seen if each.labelled.what == "clean"]
    stopped = sum(each.verdict == "stop" for each in clean)
    clear = sum(each.verdict == "fine" for each in clean)
    form = [each for each in seen if each.labelled.is_structural]
    found = sum(each.labelled.codes <= each.told for each in form)
    saved = [each for each in seen if each.labelled.what == "JPEG"]
    unread = sum(each.box is None for each in (*clean, *saved))
    pixels, worst = max((off, each.labelled.name) for each, off in _off(clean))
    inches, worst_saved = max(
        (off / each.labelled.hand_in.ppi, each.labelled.name) for each, off in _off(saved)
    )
    near, near_saved = pixels <= MOST_PIXELS_OFF, inches <= MOST_INCHES_OFF
    lines = [
        ("clean files stopped", f"{stopped}", "0", verdict(not stopped), f"of {len(clean)}"),
        ("clean files not fine", f"{len(clean) - clear}", "", "", f"of {len(clean)}"),
        ("faults of form found", f"{found}", "all", verdict(found == len(form)), f"of {len(form)}"),
        ("pictures not found", f"{unread}", "0", verdict(not unread), f"of {len(clean) + len(saved)}"),
        ("border off by", f"{pixels} px", f"{MOST_PIXELS_OFF}", verdict(near), worst),
        ("as JPEG 85", f"{inches:.4f} in", f"{MOST_INCHES_OFF}", verdict(near_saved), worst_saved),
    ]  # fmt: skip
    print(f"\n{table(('', 'measured', 'target', '', 'the worst, or of how many'), lines)}")
    beyond = sum(off / each.labelled.hand_in.ppi > MOST_INCHES_OFF for each, off in _off(saved))
    print(f"Beyond {MOST_INCHES_OFF} in as JPEG 85: {beyond} of {len(saved)}.")


def _off(seen: Iterable[_Seen]) -> Iterator[tuple[_Seen, int]]:
    """Each file whose picture was found, and by how many pixels its worst border is read wrongly."""
    for each in seen:
        if each.box is not None:
            one, other = each.labelled.box, each.box
            sides = ("left", "top", "right", "bottom")
            yield each, max(abs(getattr(one, side) - getattr(other, side)) for side in sides)


# Speed

KINDS = {
    "JPEG": {"kind": "JPEG"},
    "TIFF, LZW": {},
    "PNG": {"kind": "PNG"},
    "TIFF, deflate": {"packing": "adobe_deflate"},
}
_PARTS = ((0, 0), (120, 60), (40, 300), (300, 10), (333, 222))
"""Where the part of the picture begins, so that files of one kind differ."""


def _measure_speed(large: Path, folder: Path, rounds: int, calm: bool) -> None:
    _make_large(large)
    times = {"labkit": [], "libvips": [], "others": []}
    for turn in range(rounds + 1):
        ours = run("-m", "labkit", "check", large, folder=folder, calm=calm)
        vips = run("-m", "tests.bench.averages", large, PROCESSES, folder=folder, calm=calm)
        if turn:  # the first is for the file caches
            times["labkit"].append(ours.seconds)
            times["libvips"].append(vips.seconds)
            times["others"].append(max(ours.others, vips.others))
    over = ratio(times["labkit"], times["libvips"])
    head = ("", "labkit s", "libvips s", "ratio", "target", "", "others")
    line = (
        f"{FILES} files, {PROCESSES} processes",
        *(f"{median(times[who]):.1f}" for who in ("labkit", "libvips")),
        f"{over:.2f}",
        f"{MOST_OVER_VIPS}",
        verdict(over <= MOST_OVER_VIPS),
        f"{median(times['others']):.0%}",
    )
    print(f"\nA check of a folder, beside libvips decoding it\n{table(head, [line])}")


def _make_large(folder: Path) -> None:
    """Sheets of 13 × 19 in at 300 ppi, 22 megapixels, good but for the kind of some."""
    if folder.exists() and len(list(folder.iterdir())) == FILES:
        return
    folder.mkdir(parents=True, exist_ok=True)
    room = load_room()
    sheet = find_sheet("13x19in").turned()
    candidates = our_pictures()
    for at in range(FILES):
        demo, pixels = candidates[at // len(KINDS) % len(candidates)]
        start = _PARTS[at // len(KINDS) % len(_PARTS)]
        used = min(pixels[0] - start[0], 5400), min(pixels[1] - start[1], 3600)
        width = length(f"{used[0]}/300 in")
        layout = lay_out(used, sheet, unprintable=room.unprintable(sheet), width=width)
        good = HandIn(
            picture=demo.file,
            start=start,
            layout=layout,
            ppi=room.working_ppi,
            owner=f"Reader {at + 1}",
            title="Harbour",
            pattern=room.name_pattern,
        )
        write(replace(good, **list(KINDS.values())[at % len(KINDS)]), folder)
