"""Wall time and peak memory of making a sheet, beside libvips and Pillow."""

import argparse
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from labkit.geometry.raster import rasterize
from labkit.job.words import open_picture, place
from labkit.room.rules import load_room, new_room
from tests.bench.makers import MAKERS, Job, makers_of
from tests.bench.measured import ratio, run, table, verdict

ALLOWANCE = 80
"""MB of memory that may be taken besides the decoded picture, whatever the sheet."""
MOST_APART = 1.0
"""Levels of 255 by which two sheets may differ on average and still be the same work."""


@dataclass(frozen=True)
class Sheet:
    """A sheet that is made: its size, one twice as long, the picture for it, and what is aimed at.

    The targets say how many times as fast as libvips.
    """

    name: str
    longer: str
    picture: str
    writer_target: float
    command_target: float


@dataclass(frozen=True)
class Row:
    """One kind of work; ``bytes`` for a decoded pixel, ``widths`` by sheet where not its own, ``depth``
    the bits a channel of the sheet."""

    kind: str
    picture: str
    bytes: int
    widths: tuple[str | None, str | None] = (None, None)
    depth: int = 8


SHEETS = (
    Sheet("13x19in", "13x38in", "small", writer_target=1.5, command_target=1.2),
    Sheet("44x96in", "44x192in", "large", writer_target=2.5, command_target=1.6),
)
ROWS = (
    Row("as it is", "plain.jpg", 3),
    Row("resampled", "plain.jpg", 3, ("12in", "32in")),
    Row("CMYK", "CMYK.jpg", 4),
    Row("turned", "turned.jpg", 3),
    Row("16-bit TIFF", "deep.tif", 6),
    Row("16-bit PNG", "deep.png", 6),
    Row("16 bits kept", "deep.tif", 6, depth=16),
    Row("16 bits kept, resampled", "deep.tif", 6, ("12in", "32in"), depth=16),
)


def add_options(parser: argparse.ArgumentParser) -> None:
    """How often, and which rows."""
    parser.add_argument("--rounds", type=int, default=5, help="rounds for each row (5)")
    parser.add_argument("--calm", action="store_true", help="measure again while others work")
    parser.add_argument("--only", metavar="WORDS", default="", help="rows whose name holds this")
    parser.add_argument("--pictures", metavar="FOLDER", help="keep the pictures here, or find them")


def measure(asked: argparse.Namespace) -> None:
    """Measure every row and print the tables."""
    with TemporaryDirectory() as made:
        folder = Path(made)
        pictures = Path(asked.pictures) if asked.pictures else folder / "pictures"
        if not (pictures / "large-plain.jpg").exists():
            run("-m", "tests.bench.pictures", pictures, folder=folder)
        measured = {}
        try:
            for row in _rows(pictures, folder):
                if asked.only in row.name:
                    measured[row] = _measure_row(row, folder, asked.rounds, asked.calm)
        except KeyboardInterrupt:
            print("stopped; what was measured:")
    _print_times(measured)
    _print_memory(measured)


@dataclass(frozen=True)
class Named:
    """A row on a sheet; ``decoded`` is the picture's size in memory, in MB."""

    name: str
    sheet: Sheet
    job: Job
    decoded: float

    def command(self, on: str) -> list[str]:
        """The whole command that makes it, on that sheet."""
        job = self.job
        lies = ["--turn"] if job.turn else []
        size = ["--width", job.width] if job.width else []
        told = ["--owner", "Ada Brook", "--title", "Harbour", "--out", str(Path(job.out).parent)]
        room = ["--room", str(_deep_room(Path(job.out).parent))] if job.depth == 16 else []
        return ["prepare", job.picture, "--sheet", on, *lies, *size, *told, *room, "--replace"]


def _deep_room(folder: Path) -> Path:
    """The shipped room, but with print files of 16 bits."""
    file = folder / "deep-room.toml"
    if not file.exists():
        text = new_room(file).read_text(encoding="utf-8")
        file.write_text(text.replace("\ndepth = 8", "\ndepth = 16"), encoding="utf-8")
    return file


def _rows(pictures: Path, folder: Path) -> Iterator[Named]:
    room = load_room(None)
    for sheet in SHEETS:
        for row in ROWS:
            file = pictures / f"{sheet.picture}-{row.picture}"
            if not file.exists():
                continue
            picture = open_picture(file, room=room)
            turn = sheet.picture == "small" and row.kind != "turned"
            width = row.widths[SHEETS.index(sheet)]
            layout = place(picture, on=sheet.name, turn=turn, width=width, room=room)
            raster = rasterize(layout, picture.pixels, working_ppi=300)
            box = raster.picture
            job = Job(
                picture=str(file),
                out=str(folder / "sheet.tif"),
                on=sheet.name,
                turn=turn,
                width=width,
                size=raster.sheet,
                box=(box.left, box.top, box.width, box.height),
                ppi=int(raster.ppi),
                depth=row.depth,
            )
            decoded = picture.pixels[0] * picture.pixels[1] * row.bytes / 1e6
            yield Named(f"{sheet.name}, {row.kind}", sheet, job, decoded)


Measured = dict[str, list[float]]
"""Seconds, peaks, and the share of others, of every round, by what was measured."""


def _measure_row(row: Named, folder: Path, rounds: int, calm: bool) -> Measured:
    print(f"{row.name} …", flush=True)
    found: Measured = defaultdict(list)
    out = Path(row.job.out)
    for turn in range(rounds + 1):
        if turn == 1:
            found.clear()  # the first is for the file caches
        for maker in makers_of(row.job.depth):
            done = run("-m", "tests.bench.makers", maker, row.job.text(), folder=folder, calm=calm)
            found[f"{maker} alone"].append(float(done.said))
            found[f"{maker} peak"].append(done.peak)
            found["others"].append(done.others)
            if maker != "labkit":
                found[f"{maker} whole"].append(done.seconds)
            out.rename(folder / f"{maker}.tif")
        done = run("-m", "labkit", *row.command(row.job.on), folder=folder, calm=calm)
        found["labkit whole"].append(done.seconds)
        found["command peak"].append(done.peak)
        found["others"].append(done.others)
    longer = run("-m", "labkit", *row.command(row.sheet.longer), folder=folder)
    found["longer peak"].append(longer.peak)
    _refuse_other_work(row, folder)
    return found


def _refuse_other_work(row: Named, folder: Path) -> None:
    """A comparison counts only where the sheets are alike."""
    one, *others = (str(folder / f"{maker}.tif") for maker in makers_of(row.job.depth))
    for other in others:
        apart = float(run("-m", "tests.bench.apart", one, other, folder=folder).said)
        if apart > MOST_APART:
            raise SystemExit(f"{row.name}: {other} differs by {apart:.2f} levels on average.")


def _print_times(measured: dict[Named, Measured]) -> None:
    for what, part in (("The writer alone", "alone"), ("The whole command", "whole")):
        lines = []
        for row, found in measured.items():
            times = {maker: found[f"{maker} {part}"] for maker in MAKERS}
            target = row.sheet.writer_target if part == "alone" else row.sheet.command_target
            faster = ratio(times["libvips"], times["labkit"])
            lines.append(
                (
                    row.name,
                    *(f"{median(each):.2f}" if each else "–" for each in times.values()),
                    f"{faster:.2f}",
                    f"{ratio(times['pillow'], times['labkit']):.2f}" if times["pillow"] else "–",
                    f"{target}",
                    verdict(faster >= target),
                    f"{median(found['others']):.0%}",
                )
            )
        head = (
            "",
            *(f"{maker} s" for maker in MAKERS),
            "× libvips",
            "× Pillow",
            "target",
            "",
            "others",
        )
        print(f"\n{what}\n{table(head, lines)}")


def _print_memory(measured: dict[Named, Measured]) -> None:
    lines = []
    for row, found in measured.items():
        ours = [max(found[f"{what} peak"]) for what in ("labkit", "command", "longer")]
        others = [max(found[f"{what} peak"], default=0) for what in ("libvips", "pillow")]
        bound = row.decoded + ALLOWANCE
        figures = (*ours, *others, row.decoded, bound)
        lines.append(
            (
                row.name,
                *(f"{each:.0f}" if each else "–" for each in figures),
                verdict(max(ours) <= bound),
            )
        )
    head = (
        "",
        "writer",
        "command",
        "2 × longer",
        "libvips",
        "Pillow",
        "picture",
        f"+ {ALLOWANCE}",
        "",
    )
    print(f"\nPeak memory of the largest process, MB\n{table(head, lines)}")
