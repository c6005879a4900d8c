"""07-roll-paper: a class's prints that the reader lays on a roll, and the computer's answer beside it."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from labkit.drawing.roll import Shown, Strip, draw_strip
from labkit.geometry.box import Box
from labkit.geometry.length import ZERO, Length, inches, size_text
from labkit.geometry.packing.loose import Loose, Lying
from labkit.home import home
from labkit.lessons.parts.figure import ChoiceControl, Drag, FigureApp, MenuControl, Reading
from labkit.lessons.parts.placing import STEPS
from labkit.room.laying import rolls_of
from labkit.teaching.by_hand import ByHand, begun

HELP = (
    "The roll, lying on its side, with the prints on it. N chooses the next print and P the one before. "
    "Arrow keys move the chosen print by the smallest step; with Shift they take it to the next place where "
    "it snaps: beside another print, in line with one, or at the edge of what can be printed. T turns it a "
    "quarter. Prints can also be dragged, and then snap. The figures say what is wrong."
)


def by_hand() -> FigureApp:
    """A class's prints to be laid on one length of roll by hand; the computer's answer when asked for."""
    room = home().room()
    media = rolls_of(room)
    start = begun(media[min(1, len(media) - 1)], room)
    longest = start.loose.paper.height
    names = [(each.name, at) for at, each in enumerate(start.loose.prints)]
    return FigureApp(
        start,
        [
            MenuControl("chosen", "print", options=names, when=lambda state: not state.is_theirs),
            ChoiceControl(
                "turned", "it lies",
                shown=lambda state: state.loose.prints[state.chosen].turned,
                made=lambda state, _: _turned(state),
                when=lambda state: state.medium.turn and not state.is_theirs,
                options=[("as it is", False), ("turned a quarter", True)],
            ),
            ChoiceControl(
                "is_theirs", "drawn is",
                made=lambda state, theirs: replace(state, is_theirs=theirs, is_asked=True),
                options=[("your layout", False), ("the computer's answer", True)],
            ),
        ],
        draw=lambda state, units: draw_strip(
            _strip(state),
            list(_shown(state, units)), (), units=units, prefix="by-hand", longest=longest,
            title=f"{len(names)} prints on a {state.medium.name}", words=_sentence(state, units),
            off="overlaps, or is not printed whole",
        ),
        tell=_sentence,
        read=readings,
        units=room.units,
        drag=_DRAG,
    )  # fmt: skip


def _strip(state: ByHand) -> Strip:
    medium = state.medium
    runs = (state.drawn.paper.height,)
    return Strip(medium.width, runs, medium.edges, medium.leader, medium.tail)


def _turned(state: ByHand) -> ByHand:
    return replace(state, loose=state.own().loose.turned(state.chosen))


def _shown(state: ByHand, units: str) -> Iterator[Shown]:
    """The chosen print last, so that it lies on top; of the computer's layout none is chosen or moved."""
    loose = state.drawn
    off = {*loose.outside, *(at for pair in loose.overlapping for at in pair)}
    for at in sorted(range(len(loose.prints)), key=lambda at: at == state.chosen):
        drawn = _piece(state, loose.prints[at], units)
        if state.is_theirs:
            yield drawn
        else:
            yield replace(drawn, off=at in off, thing=str(at), chosen=at == state.chosen)


def _piece(state: ByHand, own: Lying, units: str) -> Shown:
    across, along, box = state.medium.edges.left, state.loose.roll.margins.top, own.box
    at = Box(box.left + across, box.top + along, box.width, box.height)
    return Shown(at, own.name, _size(own, units))


def _size(own: Lying, units: str) -> str:
    size = size_text((own.piece.width, own.piece.height), units).split(" (")[0]
    return f"{size}, turned" if own.turned else size


def readings(state: ByHand, units: str) -> list[Reading]:
    """What comes off and its waste, what is wrong, where the chosen print lies; once asked for, how the
    computer's layout compares; while that is drawn, its own figures first."""
    loose, own = state.loose, state.loose.prints[state.chosen]
    if state.is_theirs:
        theirs = state.theirs
        return [
            *_taken(theirs, units),
            ("the room's trimmer", _trimmer(theirs)),
            ("yours takes", loose.paper.height.both(units)),
            ("yours is", _compared(state, units)),
        ]
    told = _taken(loose, units)
    if state.is_asked:
        told += [
            ("the computer's takes", state.theirs.paper.height.both(units)),
            ("yours is", _compared(state, units)),
        ]
    return [
        *told,
        ("overlap", _pairs(state, loose.overlapping)),
        ("not printed whole", state.names(loose.outside) if loose.outside else "none"),
        (f"nearer than {loose.gap.said(units)}", _pairs(state, loose.close)),
        ("straight cuts part", _parted(state)),
        ("the room's trimmer", _trimmer(loose)),
        ("chosen", f"{own.name}, {_size(own, units)}"),
        ("it begins", f"{own.top.said(units)} along, {own.left.said(units)} across"),
        ("it stands", "; ".join(_touched(loose, state.chosen)) or "free"),
    ]


def _taken(loose: Loose, units: str) -> list[Reading]:
    return [
        ("comes off the roll", loose.paper.height.both(units)),
        ("no print on", f"{float(loose.waste):.0%} of it"),
    ]


def _touched(loose: Loose, at: int) -> Iterator[str]:
    """What a print stands on along the roll, and across it."""
    for along in (True, False):
        yield from [each.told for each in loose.snapped(at) if each.along == along][:1]


def _compared(state: ByHand, units: str) -> str:
    if not state.loose.is_sound:
        return "not to be cut so yet"
    over = state.loose.used - state.theirs.used
    if over == ZERO:
        return "exactly as long"
    return f"{abs(over).both(units)} {'longer' if over > ZERO else 'shorter'}"


def _pairs(state: ByHand, pairs: Sequence[tuple[int, int]]) -> str:
    return "; ".join(map(state.names, pairs)) or "none"


def _parted(state: ByHand) -> str:
    stuck = state.loose.parting.stuck
    return f"not {state.names(stuck)}" if stuck else "all of them"


def _trimmer(loose: Loose) -> str:
    parting = loose.parting
    if parting.stuck:
        return "waits for straight cuts"
    if parting.refused:
        return f"cannot make them: {parting.refused}"
    return f"can make all {len(parting.cuts)} cuts"


def _sentence(state: ByHand, units: str) -> str:
    loose, medium = state.loose, state.medium
    if state.is_theirs:
        least = " No layout that straight cuts part is shorter." if state.answer.proven else ""
        return (
            f"The computer's layout of the same prints on a {medium.name}: "
            f"{state.theirs.paper.height.both(units)} of paper come off.{least}"
        )
    told = (
        f"{len(loose.prints)} prints laid by hand on a {medium.name}: {loose.paper.height.both(units)} of "
        f"paper come off, {float(loose.waste):.0%} of it no print."
    )
    own = loose.prints[state.chosen]
    faults = " ".join(_faults(state, units)) or "It can be printed and cut as it lies."
    return f"{told} {faults} Chosen is {own.name}, {_size(own, units)}."


def _faults(state: ByHand, units: str) -> Iterator[str]:
    loose, parting = state.loose, state.loose.parting
    if loose.overlapping:
        yield f"On one another: {_pairs(state, loose.overlapping)}."
    if loose.outside:
        yield f"Not printed whole: {state.names(loose.outside)}."
    if loose.close:
        yield f"Nearer than {loose.gap.both(units)}: {_pairs(state, loose.close)}."
    if parting.stuck:
        yield f"Straight cuts do not part {state.names(parting.stuck)}."
    if parting.refused:
        yield f"The trimmer cannot make the cuts: {parting.refused}"


def _place(state: ByHand, at: int) -> tuple[float, float]:
    """A print's left and top on the drawing, in inches: along the roll is to the right, across it upwards."""
    box = state.loose.boxes[at]
    return float(box.top + state.loose.roll.margins.top), float(_far_side(state) - box.right)


def _far_side(state: ByHand) -> Length:
    """Where printing begins across, measured from the drawing's upper edge of the paper."""
    return state.medium.width - state.medium.edges.left


def _move(state: ByHand, left: float, top: float, by: str, units: str) -> ByHand:
    """The chosen print there ("drag", "key"), on its next guide ("leap"), or turned; or another chosen."""
    loose, at, count = state.own().loose, state.chosen, len(state.loose.prints)
    now_left, now_top = _place(state, at)
    if by in ("next", "before"):
        return replace(state, chosen=(at + (1 if by == "next" else -1)) % count)
    if by == "turn":
        return _turned(state)
    if by == "leap":
        along = abs(left - now_left) > abs(top - now_top)
        onward = left > now_left if along else top < now_top
        return replace(state, loose=loose.leapt(at, along=along, onward=onward))
    box = loose.boxes[at]
    along = box.top if left == now_left else inches(left) - loose.roll.margins.top
    across = box.left if top == now_top else _far_side(state) - inches(top) - box.width
    moved = loose.moved(at, across, along, step=STEPS[units], snap=by == "drag")
    return replace(state, loose=moved)


def _snaps(state: ByHand) -> list[dict]:
    """The guides that the chosen print stands on, as the script wants them."""
    if state.is_theirs:
        return []
    loose, told = state.loose, []
    left, top = _place(state, state.chosen)
    begin, far = loose.roll.margins.top, _far_side(state)
    for guide in loose.snapped(state.chosen):
        axis, at, line = (
            ("x", left, begin + guide.line) if guide.along else ("y", top, far - guide.line)
        )
        told.append({"axis": axis, "at": at, "line": float(line), "label": guide.told})
    return told


_DRAG = Drag(
    place=lambda state: _place(state, state.chosen),
    move=_move,
    step=lambda units: float(STEPS[units]),
    snaps=_snaps,
    help=HELP,
    things=lambda state: {
        str(at): _place(state, at) for at in range(len(state.loose.prints)) if not state.is_theirs
    },
    pick=lambda state, thing: replace(state.own(), chosen=int(thing)),
    keys={
        "n": "next", "p": "before", "t": "turn",
        **{f"Shift+Arrow{way}": "leap" for way in ("Left", "Right", "Up", "Down")},
    },
)  # fmt: skip
