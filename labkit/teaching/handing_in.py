"""What the lesson on handing in asks: four messy files, each with a fault and a useless name, made four
finished ones."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from labkit.errors import LabError
from labkit.files.checks.check import check
from labkit.geometry.proportion import Crop
from labkit.geometry.resolution import ppi_text
from labkit.home import make_folder
from labkit.room.rules import Room
from labkit.teaching.brief import Brief, Candidate, brief_of, chance_for
from labkit.teaching.faults.cases import good_hand_in
from labkit.teaching.faults.hand_in import Change, HandIn, having, marked, moved, stating
from labkit.teaching.faults.made import write
from labkit.teaching.judge import Judgement, judge, with_more

MESSY = "messy"
"""The folder, in the reader's own for this lesson, in which the four files lie."""
TITLES = ("Low water", "Ropes", "Lantern", "Eight past six", "Salt", "Morning ferry", "North wall")
_NAMES = ("scan 0412", "image (3)", "final FINAL", "copy of new 2", "20261014_153012", "untitled-1")
_PLACES = ("centre", "optical", "even-three")
_TOLD = {
    "centre": "in the middle of the sheet",
    "optical": "at the optical centre, with more white below than above, as 3 to 2",
    "even-three": "with the same white on the left, on the right and above",
}


@dataclass(frozen=True)
class Flaw:
    """What is wrong with a messy file: the ``code`` that the check finds, the ``ways`` to make it, what is
    to be thought of (``hint``), and how it is mended by hand (``steps``)."""

    code: str
    ways: tuple[Change, ...]
    hint: str
    steps: tuple[str, ...]


_STATE_PPI = ("Set the resolution to {ppi}, with resampling switched off: it keeps its {pixels}.",)
_LABELS = (
    Flaw(
        "resolution-label",
        (stating(72), stating(96)),
        "Count: pixels divided by the sheet's width. Is it the pixels that are wrong, or what is said of "
        "them?",
        _STATE_PPI,
    ),
    Flaw(
        "resolution-shape",
        (having(unit=1), having(unit=1, states=(4, 3))),
        "How many pixels to an inch does it say? Without that it has no size on paper.",
        _STATE_PPI,
    ),
    Flaw(
        "resolution-unequal",
        (stating(300, 150),),
        "Two figures, one across and one down: what would become of a circle?",
        _STATE_PPI,
    ),
)
_FORMS = (
    Flaw(
        "layers",
        (having(layers=True),),
        "What a switch can change, somebody will switch.",
        ("Flatten it to one layer.",),
    ),
    Flaw(
        "transparency",
        (having(mode="RGBA", clear=True),),
        "What is printed where a file says that nothing is there?",
        ("Flatten it onto white, so that no transparency is left.",),
    ),
    Flaw(
        "turned-flag",
        (having(flag=6), having(flag=8), having(flag=3)),
        "The pixels lie otherwise than you see them. Who turns them, if a program does not read the flag?",
        ("Open it, and look that it lies as you saw it: {pixels}. Saved anew, it needs no flag.",),
    ),
    Flaw(
        "several-pages",
        (having(pages=2),),
        "Which of the two would you print?",
        ("Keep the first page alone.",),
    ),
)
_SHEETS = (
    Flaw(
        "picture-without-sheet",
        (having(alone=True),),
        "It is the picture and nothing else: somebody would have to guess where it goes.",
        (
            "Make a new blank file: {pixels}, {ppi}, RGB, sRGB, 8 bits, pure white.",
            "Put the picture in as it is: its left edge at {left} pixels, its top edge at {top} pixels.",
        ),
    ),
)
_MARKS = Flaw(
    "stray-marks",
    (marked(1, 60, 40), marked(3, 24, 24)),
    "Look at the white below the picture, closely. This one needs a hand.",
    ("Cover every mark outside the picture with pure white. Touch nothing of the picture.",),
)
_BY_HAND = (
    _MARKS,
    Flaw(
        "surround",
        (having(surround=(250, 250, 250)), having(surround=(250, 249, 246))),
        "Read the colour of the paper with your editor's dropper. This one needs a hand.",
        (
            "Select everything outside the picture: {left} pixels from the left, {top} from the top, "
            "{wide} × {high} pixels are the picture.",
            "Fill what is selected with pure white, 255 255 255.",
        ),
    ),
    Flaw(
        "border",
        (moved(Fraction(1, 4)), moved(Fraction(-1, 4)), moved(Fraction(0), Fraction(1, 4))),
        "Measure all four borders, and compare them with the place that is asked for. This one needs a hand.",
        (
            "Cut the picture out, {wide} × {high} pixels, without resizing it, and fill the sheet with pure "
            "white.",
            "Put it back: its left edge at {left} pixels, its top edge at {top} pixels.",
        ),
    ),
)
GROUPS = (_LABELS, _FORMS, _SHEETS, _BY_HAND)
"""Each messy file has a fault out of one of these; those of the last are mended by hand alone."""

MENDS: Mapping[str, Change] = {
    "save it as it is": having(),
    "state the room's ppi, change no pixel": having(states=None, unit=2),
    "flatten to one layer, onto white": having(layers=False, mode="RGB", clear=False),
    "keep the first page alone": having(pages=1),
    "turn the pixels, drop the flag": having(flag=1),
    "put it on its sheet, at its place": having(alone=False),
    "embed a profile": having(profile="sRGB"),
    "save it as JPEG": having(kind="JPEG", layers=False, mode="RGB", clear=False, pages=1),
}
"""What the figure can do to a file, each one thing and nothing else."""


@dataclass(frozen=True)
class Mess:
    """One of the four: the file as it came (``hand_in``), what is wrong with it, and what it is to be."""

    number: int
    hand_in: HandIn
    fault: Flaw
    brief: Brief

    @property
    def by_hand(self) -> bool:
        """Whether only an editor mends it."""
        return self.fault in _BY_HAND

    def card(self) -> tuple[str, ...]:
        """How to mend it in any editor, a step a line."""
        box = self.brief.raster.picture
        sheet = " × ".join(map(str, self.brief.raster.sheet))
        figures = {
            "ppi": ppi_text(self.brief.raster.ppi), "pixels": f"{sheet} pixels", "left": box.left,
            "top": box.top, "wide": box.width, "high": box.height,
        }  # fmt: skip
        return (
            f"Open {self.hand_in.file_name} from the folder “{MESSY}” in your folder.",
            *(step.format(**figures) for step in self.fault.steps),
            f"Save it in your folder as TIFF, LZW, {figures['ppi']}, one layer, with the profile sRGB "
            f"embedded, under the name {self.brief.stem}.tif.",
        )


@dataclass(frozen=True)
class HandingTask:
    """One reader's four messy files."""

    reader: str
    messes: tuple[Mess, ...]
    room: Room

    @property
    def picture(self) -> Path:
        """The picture on the first, for whoever needs one."""
        return self.messes[0].brief.picture

    @property
    def named(self) -> str:
        """What the reader is told of the files' names."""
        return f"The pattern is {self.room.name_pattern}, hyphens between words, and you are {self.reader}."

    def card(self) -> tuple[str, ...]:
        """How to mend all four in any editor, a step a line."""
        return tuple(f"File {mess.number}: {step}" for mess in self.messes for step in mess.card())

    def sentence(self, first: str = "in") -> str:
        """The task in words."""
        return (
            "Four of your files came back. Each has one fault and a name that says nothing. Find the fault, "
            "mend it without changing the picture, and hand each in under a name made by the room's pattern. "
            "One of them can only be mended by hand, in an editor."
        )


def handing_in_task(reader: str, pictures: Sequence[Candidate], room: Room) -> HandingTask:
    """The task for ``reader``. LabError without a name, or where no picture can be placed."""
    chance = chance_for("handing in", reader)
    titles = chance.sample(TITLES, len(GROUPS))
    names = chance.sample(_NAMES, len(GROUPS))
    groups = chance.sample(GROUPS, len(GROUPS))
    messes = [
        _mess(chance, number, chance.choice(group), (reader.strip(), title), name, pictures, room)
        for number, (group, title, name) in enumerate(zip(groups, titles, names, strict=True), 1)
    ]
    return HandingTask(reader.strip(), tuple(messes), room)


def _mess(
    chance: Random,
    number: int,
    fault: Flaw,
    said: tuple[str, str],
    name: str,
    pictures: Sequence[Candidate],
    room: Room,
) -> Mess:
    place = chance.choice(_PLACES)
    owner, title = said
    good = replace(good_hand_in(chance, place, pictures, room), owner=owner, title=title)
    demo, pixels = next(each for each in pictures if each[0].file == good.picture)
    box, sheet = good.box, good.layout.sheet
    part = (*good.start, box.width, box.height)
    crop = Crop(*(Fraction(side, pixels[at % 2]) for at, side in enumerate(part)))
    asked = (
        f"File {number}: “{title}”, on {sheet}, the picture ", good.layout.picture.width, " wide and ",
        good.layout.picture.height, f" high, {_TOLD[place]}. In a name the sheet is called {sheet.label}.",
    )  # fmt: skip
    known = [each for group in GROUPS for each in group]
    hints = {each.code: each.hint for each in known if each.code != "border" or each is fault}
    brief = brief_of(
        owner, (replace(demo, title=title), pixels), asked, replace(good.layout, crop=crop), room, hints
    )  # fmt: skip
    sought = frozenset(each.code for each in known if each.code != "border")
    messy = replace(chance.choice(fault.ways)(good), name=name)
    return Mess(number, messy, fault, replace(brief, sought=sought))


def make_messes(task: HandingTask, folder: Path) -> list[Path]:
    """The four messy files in ``folder``/:data:`MESSY`, made where they are not there yet."""
    place = make_folder(folder / MESSY)
    made = []
    for mess in task.messes:
        file = place / mess.hand_in.file_name
        made.append(file if file.exists() else _whole(mess.hand_in, place))
    return made


def _whole(hand_in: HandIn, folder: Path) -> Path:
    """The file, made elsewhere and given its name when it is all there."""
    with TemporaryDirectory(dir=folder) as aside:
        return write(hand_in, Path(aside)).replace(folder / hand_in.file_name)


def mend(mess: Mess, how: str, name: str, folder: Path, *, again: bool = False) -> Path:
    """The messy file with one of :data:`MENDS` done to it, saved in ``folder`` under ``name``.

    LabError for a name that cannot be a file's, and for one that is taken, unless ``again``.
    """
    stem = name.strip().removesuffix(".tif")
    if not stem or set(stem) & set('/\\:*?"<>|') or stem.startswith("."):
        raise LabError(
            f"“{name}” cannot be the name of a file: take letters, digits, hyphens and underscores."
        )
    mended = MENDS[how](replace(mess.hand_in, name=stem))
    file = make_folder(folder) / mended.file_name
    if file.exists() and not again:
        raise LabError(
            f"{file.name} is there already: tick “replace my earlier try”, or name it otherwise."
        )
    return _whole(mended, folder)


def judge_mess(file: str | Path, mess: Mess, room: Room) -> Judgement:
    """Judge a file against what that one of the four is to be, whatever made it; marks that were left on the
    paper too, for which the judge of other exercises does not look."""
    judgement = judge(file, mess.brief, room)
    if judgement.findings.layout is None:
        return judgement
    left = [item for item in check(file, room=room).items if item.code == "stray-marks"]
    return with_more(judgement, [f"{_sentence(item.found)} {_MARKS.hint}" for item in left])


def _sentence(found: str) -> str:
    return f"{found[:1].upper()}{found[1:]}."


def finished(task: HandingTask, folder: Path) -> dict[int, Path]:
    """The reader's files in ``folder`` that pass, by the number of the messy one."""
    done = {}
    for mess in task.messes:
        file = folder / f"{mess.brief.stem}.tif"
        if file.exists() and judge_mess(file, mess, task.room).passed:
            done[mess.number] = file
    return done


def handed_in(task: HandingTask, folder: Path) -> Path | None:
    """The last of the four finished files, once all four pass."""
    done = finished(task, folder)
    return done[len(task.messes)] if len(done) == len(task.messes) else None
