"""What the lesson on roll paper asks: five prints on the better of two rolls, as short as can be."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from pathlib import Path
from random import Random

from labkit.errors import LabError
from labkit.files.child.guarded import Guarded
from labkit.files.child.kept import make_in_child
from labkit.files.child.opening import open_picture
from labkit.files.gang.prints import Print, read_prints
from labkit.files.gang.slug import LEAST_GAP, SLUG_ROOM
from labkit.files.header.picture import Picture
from labkit.files.writing.name import file_name
from labkit.geometry.box import Box
from labkit.geometry.length import ZERO, Length, inches, length, size_text
from labkit.geometry.packing import Packing, Piece, pack
from labkit.geometry.paper import sheet_of
from labkit.home import make_folder
from labkit.room.laying import Medium, cutter_of, price_of, rolls_of
from labkit.room.rules import Room
from labkit.teaching.brief import Candidate, chance_for

PPI = 100
"""Of the five prints: proofs for the class, so that the files stay small."""
GAP = length("1/4in")
OWNERS = ("Ada Brook", "Leo Fenn", "Mara Holt", "Nia Oak", "Tom Reed")
_SIZES = tuple(
    (length(f"{short}in"), length(f"{long}in"))
    for short, long in ((5, 7), (6, 9), (8, 10), (8, 12), (9, 12), (10, 14), (10, 15), (11, 14))
)
_TRIES = 200
_STEPS = 400
WITHIN = Decimal("1.02")
"""How much longer than the best layout still passes: a fiftieth."""
_CLEARLY = Decimal("1.04")
"""How much dearer the other roll is at least."""


@dataclass(frozen=True)
class Wanted:
    """One print of the five: whose, which picture, how large as it stands upright to the eye."""

    owner: str
    title: str
    picture: Path
    width: Length
    height: Length

    @property
    def piece(self) -> Piece:
        """The same to be laid out."""
        return Piece(self.owner, self.width, self.height)

    def told(self, first: str) -> str:
        """Whose it is and how large, in words."""
        return f"{self.owner}, {size_text((self.width, self.height), first)}"


@dataclass(frozen=True)
class RollTask:
    """One reader's task: five prints, and two rolls of one paper.

    ``picture`` is the first print's, for whoever needs one.
    """

    reader: str
    wanted: tuple[Wanted, ...]
    media: tuple[Medium, Medium]
    room: Room

    @property
    def picture(self) -> Path:
        """The first print's picture."""
        return self.wanted[0].picture

    @cached_property
    def best(self) -> tuple[Packing, ...]:
        """The best layout known on each roll, in rows."""
        return tuple(best_on(self.wanted, medium, self.room) for medium in self.media)

    def length(self, at: int, used: Length) -> Length:
        """What comes off roll ``at`` when ``used`` of it is printed."""
        medium = self.media[at]
        edges = medium.edges.top + medium.edges.bottom
        return used + SLUG_ROOM + edges + medium.leader + medium.tail

    def cost(self, at: int, used: Length) -> Decimal:
        """What that much of roll ``at`` costs; its area in square metres where no price is set."""
        taken, medium = self.length(at, used), self.media[at]
        price = price_of(self.room, medium, taken)
        return Decimal(float(medium.width.mm * taken.mm)) / 1000000 if price is None else price

    @cached_property
    def better(self) -> int:
        """The roll on which the best layout costs less."""
        return min((0, 1), key=lambda at: self.cost(at, self.best[at].used))

    @property
    def stem(self) -> str:
        """The name of the file as the best layout makes it."""
        return self._stem(self.sheet_label)

    @property
    def sheet_label(self) -> str:
        """The size of that file."""
        medium, used = self.media[self.better], self.best[self.better].used
        high = used + SLUG_ROOM + medium.edges.top + medium.edges.bottom
        return sheet_of(medium.width, high).label

    def _stem(self, label: str) -> str:
        pattern = self.room.name_pattern
        return file_name(pattern, owner=f"job {self.reader}", title="prints", sheet_label=label)

    @property
    def named(self) -> str:
        """What the reader is told of the file's name."""
        return f"The file is named {self._stem('SIZE')}.tif; the figure does that by itself."

    def sentence(self, first: str = "in") -> str:
        """The task in words."""
        rolls = " and ".join(medium.width.both(first) for medium in self.media)
        listed = "; ".join(each.told(first) for each in self.wanted)
        return (
            f"Five students want a print each, at 100 %: {listed}. There are two rolls of "
            f"{self.media[0].paper.name}, {rolls} wide. Take the roll on which the job costs less, lay all "
            f"five out in rows with {GAP.both(first)} between them, and make the piece as short as you can. "
            f"Prints may be turned. Within {float(WITHIN - 1):.0%} of the best length we know is enough."
        )

    def card(self) -> tuple[str, ...]:
        """The same by hand, in any editor: one step a line."""
        medium, best = self.media[self.better], self.best[self.better]
        edges = medium.edges
        wide = medium.width.pixels(PPI)
        high = (best.used + SLUG_ROOM + edges.top + edges.bottom).pixels(PPI)
        placed = [
            f"{each.name}{', turned a quarter' if each.turned else ''}: left edge at "
            f"{(each.box.left + edges.left).pixels(PPI)} pixels, top edge at "
            f"{(each.box.top + edges.top).pixels(PPI)} pixels."
            for each in best.placed
        ]
        return (
            "The five prints are in the folder “prints” in your folder: change no pixel of them.",
            f"Make a new blank file: {wide} × {high} pixels, {PPI} ppi, RGB, sRGB, 8 bits, pure white.",
            *placed,
            "Write below each whose it is, outside the picture.",
            f"Flatten, and save as TIFF, LZW, with the profile embedded, under the name {self.stem}.tif.",
        )


def roll_paper_task(reader: str, pictures: Sequence[Candidate], room: Room) -> RollTask:
    """The task for ``reader``. LabError without a name, or where the room has not two rolls to compare."""
    chance = chance_for("roll paper", reader)
    media = tuple(rolls_of(room)[:2])
    if len(media) < 2:
        raise LabError(
            f"{room.name} has fewer than two rolls to compare: add one to the room's file."
        )
    for _ in range(_TRIES):
        task = RollTask(reader.strip(), _five(chance, pictures), media, room)
        costs = sorted(task.cost(at, task.best[at].used) for at in (0, 1))
        if costs[1] >= costs[0] * _CLEARLY:
            return task
    raise LabError(
        f"the two narrowest rolls of {room.name} cost the same for every job: set a price."
    )


def _five(chance: Random, pictures: Sequence[Candidate]) -> tuple[Wanted, ...]:
    wanted = []
    for owner in OWNERS:
        demo, (across, down) = chance.choice(pictures)
        short, long = chance.choice(_SIZES)
        size = (long, short) if across > down else (short, long)
        wanted.append(Wanted(owner, demo.title, demo.file, *size))
    return tuple(wanted)


def best_on(wanted: Sequence[Wanted], medium: Medium, room: Room) -> Packing:
    """The shortest layout in rows that is known: for five prints the shortest there is."""
    return pack(
        [each.piece for each in wanted],
        medium.stock(below=SLUG_ROOM),
        gap=GAP,
        cutter=cutter_of(room, medium.paper),
        seconds=None,
        steps=_STEPS,
    )


def make_prints(task: RollTask, folder: Path) -> list[Print]:
    """The five finished prints in ``folder``, made where they are not there yet."""
    from labkit.files.child.opening import open_picture

    files = []
    make_folder(folder)
    for each in task.wanted:
        label = sheet_of(each.width, each.height).label
        stem = file_name(
            task.room.name_pattern, owner=each.owner, title=each.title, sheet_label=label
        )
        file = folder / f"{stem}.tif"
        if not file.exists():
            size = each.width.pixels(PPI), each.height.pixels(PPI)
            picture = open_picture(each.picture, task.room)
            make_in_child(picture, task.room, sized_print, file, size)
        files.append(file)
    prints, refused = read_prints(files, task.room)
    if refused:
        raise LabError(" ".join(refused))
    return prints


def sized_print(picture: Picture, room: Room, size: tuple[int, int], kept: Path) -> None:
    """In a guarded child: the picture in ``size`` pixels, cropped from its middle, as a finished print."""
    from PIL import Image, ImageOps

    from labkit.files.pixels.conversion import conversion
    from labkit.files.pixels.decode import decode

    to_rgb, pixels = conversion(picture, room.colour), decode(picture)
    whole = to_rgb.rgb(to_rgb.resizable(pixels.region((0, 0, *pixels.shape))))
    made = ImageOps.fit(whole, size, Image.Resampling.LANCZOS)
    made.save(kept, "TIFF", compression="tiff_lzw", dpi=(PPI, PPI), icc_profile=to_rgb.profile)


@dataclass(frozen=True)
class RollJudgement:
    """Whether a file does what the task asks, and a hint for each thing it does not."""

    file: Path
    hints: tuple[str, ...]
    used: Length | None = None

    @property
    def passed(self) -> bool:
        """Nothing is left to mend."""
        return not self.hints

    def sentence(self) -> str:
        """The judgement in words."""
        if self.passed:
            return f"{self.file.name} is ready to print: all five on the better roll, and none too long."
        things = "one thing" if len(self.hints) == 1 else f"{len(self.hints)} things"
        return f"{self.file.name} is not ready yet; {things} to mend."


def judge_roll(file: str | Path, task: RollTask, prints: Sequence[Print]) -> RollJudgement:
    """Find the five prints on the file, bit for bit, and judge where they lie.

    It does not matter what made the file. What cannot be opened is a hint too, never an error.
    """
    from labkit.files.gang.find import find_prints

    room = task.room
    try:
        gang = open_picture(file, room)
        limits = {"seconds": room.limits.seconds, "memory_mb": room.limits.memory_mb}
        with Guarded("labkit.files.gang.find") as child:
            pictures = [each.picture for each in prints]
            spots = child.run(find_prints, gang, pictures, room, about=gang.path.name, **limits)
    except LabError as refusal:
        return RollJudgement(Path(file), (str(refusal),))
    found = {
        each.owner: (spot[0], spot[1], spot[2] % 2 == 1)
        for each, spot in zip(task.wanted, spots, strict=True)
        if spot
    }
    hints = tuple(filter(None, _hints(gang, found, task)))
    return RollJudgement(Path(file), hints)


def _hints(gang: Picture, found: Mapping, task: RollTask):
    units = task.room.units
    lacking = [each for each in task.wanted if each.owner not in found]
    if lacking:
        names = ", ".join(each.owner for each in lacking)
        yield (
            f"Not found, pixel for pixel: the print of {names}. It is not on the file, something lies over "
            "it, or it was made larger or smaller: whoever resizes a finished print blurs it."
        )
    if gang.size is None or gang.ppi[0] != PPI:
        yield (
            f"The five prints have {PPI} ppi, and the file does not say so: at 100 % they would come out at "
            "another size."
        )
        return
    at = next((at for at in (0, 1) if task.media[at].width.pixels(PPI) == gang.pixels[0]), None)
    if at is None:
        rolls = " or ".join(medium.width.both(units) for medium in task.media)
        yield (
            f"The file is {gang.size[0].both(units)} wide. A print file for a roll is as wide as the whole "
            f"roll, white edges and all: {rolls}."
        )
        return
    boxes = _boxes(found, task)
    yield _outside(boxes, gang, task.media[at], units)
    yield _apart(boxes, units)
    yield _in_rows(boxes)
    if not lacking:
        yield _too_long(boxes, at, task, gang)


def _boxes(found: Mapping, task: RollTask) -> dict[str, Box]:
    boxes = {}
    for each in task.wanted:
        if each.owner in found:
            left, top, turned = found[each.owner]
            size = (each.height, each.width) if turned else (each.width, each.height)
            boxes[each.owner] = Box(inches(left) / PPI, inches(top) / PPI, *size)
    return boxes


def _outside(boxes: Mapping[str, Box], gang: Picture, medium: Medium, units: str) -> str:
    slack, edges = inches(1) / PPI, medium.edges
    wide, high = gang.size
    for owner, box in boxes.items():
        inside = (
            box.left + slack >= edges.left
            and box.top + slack >= edges.top
            and box.right <= wide - edges.right + slack
            and box.bottom <= high - edges.bottom + slack
        )
        if not inside:
            return (
                f"The print of {owner} reaches into the edge that the printer does not print: "
                f"{edges.left.both(units)} at each side. Of this roll "
                f"{(wide - edges.left - edges.right).both(units)} can be used, not {wide.both(units)}."
            )
    return ""


def _apart(boxes: Mapping[str, Box], units: str) -> str:
    slack = inches(2) / PPI
    owners = list(boxes)
    for number, one in enumerate(owners):
        for other in owners[number + 1 :]:
            a, b = boxes[one], boxes[other]
            across = max(a.left - b.right, b.left - a.right)
            down = max(a.top - b.bottom, b.top - a.bottom)
            if max(across, down) + slack < LEAST_GAP:
                return (
                    f"Between {one} and {other} there is {max(across, down, ZERO).both(units)}. "
                    f"Leave {GAP.both(units)}: it holds the line that says whose piece it is, and room "
                    "for the cut."
                )
    return ""


def _in_rows(boxes: Mapping[str, Box]) -> str:
    """Rows are runs of prints with a free line across before and after; in each, all lie side by side."""
    ends, row = ZERO, []
    for owner, box in sorted(boxes.items(), key=lambda each: each[1].top):
        row = [*row, (owner, box)] if row and box.top < ends else [(owner, box)]
        ends = max(box.bottom, ends) if len(row) > 1 else box.bottom
        for other, before in row[:-1]:
            if box.left < before.right and before.left < box.right:
                return (
                    f"The print of {owner} lies below that of {other}, but in the same row: the first cut "
                    "across would go through another print. Give it a row of its own, or move it up."
                )
    return ""


def _too_long(boxes: Mapping[str, Box], at: int, task: RollTask, gang: Picture) -> str:
    units = task.room.units
    used = max(box.bottom for box in boxes.values()) - min(box.top for box in boxes.values())
    if at != task.better:
        other = task.media[task.better].width.both(units)
        here = task.media[at].width.both(units)
        return (
            f"Length is not price: on the roll {here} wide a metre costs another sum than on the one "
            f"{other} wide. Lay the five out on both, as short as you can, and compare width × length."
        )
    best = task.best[at].used
    if used > best * float(WITHIN):
        more = float(used / best) - 1
        return (
            f"What is printed is {used.both(units)} long, {more:.0%} more than the best that we know. A row "
            "is as long as its longest print: put prints of like length into one row, and turn one where it "
            "then fits beside another."
        )
    medium = task.media[at]
    spare = gang.size[1] - used - medium.edges.top - medium.edges.bottom - SLUG_ROOM
    if spare > length("1/2in"):
        return (
            f"The prints end {spare.both(units)} before the file does: cut the blank end off the file, or "
            "it is printed and paid for."
        )
    return ""


def roll_handed_in(task: RollTask, folder: Path) -> Path | None:
    """The reader's file in ``folder`` that passes, or None."""
    prefix = task.stem.split("_")[0]
    files = sorted(folder.glob(f"{prefix}_*.tif"))
    if not files:
        return None
    prints = make_prints(task, folder / "prints")
    return next((file for file in files if judge_roll(file, task, prints).passed), None)
