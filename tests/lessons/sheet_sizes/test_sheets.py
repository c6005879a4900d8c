"""Series, names, questions and exercise of the lesson on sheet sizes."""

import pytest

from labkit.geometry.folding import SERIES
from labkit.geometry.holding import area
from labkit.geometry.paper import find_sheet
from labkit.lessons.sheet_sizes import sheets as sheet_sizes
from tests.geometry.refused import refusal
from tests.lessons.hands import choose, is_right, said


def fold(app, times):
    app.controls["folds"]._slider.value = times


# Folding


@pytest.mark.parametrize(
    ("series", "folds", "piece", "size", "ratio", "area", "pieces"),
    [
        ("A", 0, "A0", "841 × 1189 mm (33.11 × 46.81 in)", "1.414", "1550 sq in (1 m²)", "1"),
        ("A", 4, "A4", "210 × 297 mm (8.27 × 11.69 in)", "1.414", "96.7 sq in (0.0624 m²)", "16"),
        ("A", 10, "A10", "26 × 37 mm (1.02 × 1.46 in)", "1.423", "1.49 sq in (0.000962 m²)", "1024"),
        ("B", 4, "B4", "250 × 353 mm (9.84 × 13.9 in)", "1.412", "137 sq in (0.0883 m²)", "16"),
        ("ANSI", 4, "letter", "8.5 × 11 in (215.9 × 279.4 mm)", "1.294", "93.5 sq in (0.0603 m²)", "16"),
        ("ANSI", 5, "statement", "5.5 × 8.5 in (139.7 × 215.9 mm)", "1.545", "46.8 sq in (0.0302 m²)", "32"),
        ("ARCH", 5, "6 × 9 in", "6 × 9 in (152.4 × 228.6 mm)", "1.5", "54 sq in (0.0348 m²)", "32"),
    ],
)  # fmt: skip
def test_folding(series, folds, piece, size, ratio, area, pieces):
    app = sheet_sizes.fold()
    choose(app, "series", series)
    fold(app, folds)
    told = app.readings
    assert [told[key] for key in ("piece", "size", "long side ÷ short side", "area")] == [
        piece,
        size,
        ratio,
        area,
    ]
    assert told[f"pieces out of one {SERIES[series]}"] == pieces
    assert size in app.sentence


def test_letter_is_told_as_a_ratio_of_small_numbers():
    app = sheet_sizes.fold("ANSI")
    assert app.readings["as a ratio"] == "22 : 17"
    fold(app, 1)
    assert app.readings["as a ratio"] == "17 : 11"
    assert app.sentence.startswith("ANSI E, folded once: ANSI D, ")


def test_jis_b_stands_beside_iso_b():
    """257 × 364 mm and 250 × 353 mm: 364 ÷ 353 = 1.0312, the root of 1.5/√2 = 1.0299 to a millimetre."""
    app = sheet_sizes.fold("JIS B")
    assert app.readings["JIS is longer, times"] == "1.0297"  # 1456 ÷ 1414
    fold(app, 4)
    assert app.readings["B4 of ISO 216"] == "250 × 353 mm (9.84 × 13.9 in)"
    assert app.readings["JIS is longer, times"] == "1.0312"
    assert "B4 of ISO 216" not in sheet_sizes.fold("B").readings


def test_each_fold_and_each_series_changes_sentence_drawing_and_figures():
    app = sheet_sizes.fold()
    seen = {(app.sentence, app.still, str(app.readings))}
    for times in range(1, 11):
        fold(app, times)
        seen.add((app.sentence, app.still, str(app.readings)))
    for series in list(SERIES)[1:]:
        choose(app, "series", series)
        seen.add((app.sentence, app.still, str(app.readings)))
    for part in zip(*seen, strict=True):
        assert len(set(part)) == 15


def test_two_of_them_on_a_page_have_ids_of_their_own():
    assert 'id="fold-A-0"' in sheet_sizes.fold().still
    assert 'id="fold-JIS-B-0"' in sheet_sizes.fold("JIS B").still


def test_a_series_nobody_knows():
    assert refusal(sheet_sizes.fold, "C") == (
        "no series is called “C”: use one of A, B, JIS B, ANSI, ARCH."
    )


# Names


def test_a_name_with_three_sizes():
    """329 × 483, 330.2 × 482.6 and 305 × 457 mm: 330.2 less 305, and 483 less 457."""
    app = sheet_sizes.names()
    assert app.readings == {
        "meaning 1": "329 × 483 mm (12.95 × 19.02 in)",
        "meaning 2": "13 × 19 in (330.2 × 482.6 mm)",
        "meaning 3": "305 × 457 mm (12.01 × 17.99 in)",
        "apart in width": "0.992 in (25.2 mm)",
        "apart in height": "26 mm (1.02 in)",
    }
    assert app.sentence.endswith("Our own tools refuse the name and ask for the size.")


def test_the_same_sheet_lying_two_ways():
    app = sheet_sizes.names()
    choose(app, "name", "ledger")
    assert app.readings["meaning 1"] == "11 × 17 in (279.4 × 431.8 mm)"
    assert app.readings["meaning 2"] == "17 × 11 in (431.8 × 279.4 mm)"
    assert app.readings["apart in width"] == "6 in (152.4 mm)"


def test_a_name_in_two_standards():
    app = sheet_sizes.names()
    choose(app, "name", "B4")
    assert app.readings["meaning 1, ISO 216"] == "250 × 353 mm (9.84 × 13.9 in)"
    assert app.readings["meaning 2, JIS P 0138"] == "257 × 364 mm (10.12 × 14.33 in)"
    assert app.sentence.endswith("Our own tools take the first: say JIS B4 for the other.")
    choose(app, "units", "mm")
    assert app.readings["apart in height"] == "11 mm (0.43 in)"


@pytest.mark.parametrize("name", sheet_sizes.MEANINGS)
def test_our_tools_do_with_a_name_what_is_said(name):
    """Refused, with every size in the refusal, or taken for the first."""
    sizes = sheet_sizes.MEANINGS[name]
    if name == "B4":
        first, second = (find_sheet(size) for size in sizes)
        assert find_sheet(name).same_size(first, first.width * 0)
        assert find_sheet("JIS B4").same_size(second, first.width * 0)
        return
    told = refusal(find_sheet, name)
    assert "give the size" in told
    assert all(size.split("x")[0] in told for size in sizes[:1])


def test_each_name_is_drawn_and_told_anew():
    app = sheet_sizes.names()
    seen = set()
    for name in sheet_sizes.MEANINGS:
        choose(app, "name", name)
        seen.add((app.sentence, app.still, str(app.readings)))
    for part in zip(*seen, strict=True):
        assert len(set(part)) == len(sheet_sizes.MEANINGS)


# Questions


@pytest.mark.parametrize(
    ("typed", "right", "told"),
    [
        ("297mm", True, "Its long side is 297 mm"),
        ("11.69in", True, "Its long side is 297 mm"),
        ("210mm", False, "its short side"),
        ("148.5mm", False, "a quarter of 594"),
        ("148mm", False, "a quarter of 594"),
        ("420mm", False, "after one fold"),
        ("198mm", False, "a third of 594"),
        ("594mm", False, "what you began with"),
        ("300mm", False, "is too much"),
    ],
)
def test_how_long(typed, right, told):
    question = sheet_sizes.how_long()
    question.entry.value = typed
    question.answer(question._check)()
    assert told in said(question)
    assert is_right(question) is right


def sheet_of(name):
    return find_sheet(name.replace(" ", "").replace("×", "x"))


def answer(question, order):
    for entry, name in zip(question.entries, order, strict=True):
        entry.value = name
    question.answer(question._check)()


def test_which_smaller_is_right_by_the_areas():
    question = sheet_sizes.which_smaller()
    sheets = {name: sheet_of(name) for name in question._right}
    ordered = sorted(sheets, key=lambda name: area(sheets[name].width, sheets[name].height))
    answer(question, ordered)
    assert is_right(question)


def test_every_pair_the_wrong_way_round_has_a_word_of_its_own():
    question = sheet_sizes.which_smaller()
    right, told = question._right, set()
    for low in range(5):
        for high in range(low + 1, 5):
            order = list(right)
            order.insert(low, order.pop(high))  # the larger one straight before the smaller one
            answer(question, order)
            assert not is_right(question)
            told.add(question._slips[(right[high], right[low])])
            assert said(question) in question._slips.values()
    assert len(told) == 10


@pytest.mark.parametrize(
    ("chosen", "right", "told"),
    [
        ("slimmer: 1.545", True, "5.5 × 8.5 in"),
        ("the same: 1.294", False, "That holds for A4"),
        ("stouter: 1.1", False, "half of 11 in"),
        ("twice as slim: 2.588", False, "once you turn it"),
    ],
)
def test_half_a_letter(chosen, right, told):
    question = sheet_sizes.half_a_letter()
    assert chosen in question.entry.options
    question.entry.value = chosen
    question.answer(question._check)()
    assert told in said(question)
    assert is_right(question) is right
    half = find_sheet("statement")  # 5.5 × 8.5 in
    assert float(half.height / half.width) == pytest.approx(1.545, abs=5e-4)


def test_a_question_does_not_tell_its_answer():
    for question, answer in (
        (sheet_sizes.how_long(), "297"),
        (sheet_sizes.which_smaller(), "1247"),
        (sheet_sizes.half_a_letter(), "1.545"),
    ):
        assert answer not in question.sentence


# The exercise


def test_the_exercise_begins_elsewhere_and_can_be_done_on_its_figure():
    for name in ("Nia Oak", "Ada Brook", "Ivo"):
        task = sheet_sizes.exercise(name)
        wanted = task.brief.layout
        assert task.app.layout_now.picture.width < wanted.picture.width
        choose(task.app, "sheet", find_sheet(wanted.sheet.name))
        choose(task.app, "turn", wanted.sheet.is_turned)
        task.app.put(task.app.placing.resized(wanted.picture.width))
        choose(task.app, "at", "centre")
        assert task.app.layout_now == wanted
