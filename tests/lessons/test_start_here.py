"""The reader's name, units and picture are kept and read back; pictures brought are kept, or refused."""

import json
from io import BytesIO

import pytest
from PIL import Image

from labkit.geometry.length import length
from labkit.home import Reader, home
from labkit.lessons import start_here
from labkit.lessons.parts.upload import LIMIT, PIECE
from labkit.lessons.sheet_sizes import sheets as sheet_sizes
from labkit.lessons.start_here import about_you, practice, print_room
from labkit.teaching.pictures import demo_pictures
from labkit.teaching.progress import LESSONS
from tests.lessons.hands import choose, is_right, said, slide, words


@pytest.fixture
def about():
    return about_you()


def picture(colour="teal", size=(60, 40), kind="PNG") -> bytes:
    made = BytesIO()
    Image.new("RGB", size, colour).save(made, kind)
    return made.getvalue()


def bring(about, name: str, content: bytes, size: int | None = None) -> list[int | None]:
    """Bring a file, as the script does; how much of it had arrived after each piece."""
    said = {"name": name, "size": len(content) if size is None else size}
    answers = []
    about.upload.send = lambda told: answers.append(told["arrived"])
    for start in range(0, len(content) or 1, PIECE):
        piece = memoryview(content[start : start + PIECE])
        about.upload._handle_custom_msg({**said, "start": start}, [piece])
    return answers


def uploads() -> list[str]:
    return sorted(each.name for each in home().uploads.glob("*"))


def test_the_room_in_words():
    told = print_room().sentence
    assert told.startswith("Quillmarsh College Print Room. Cut sheets: letter, 8.5 × 11 in")
    assert "Files are made at 300 ppi." in told
    assert "up to 20 in (508 mm) long: at least 300 ppi, seen from 30 cm (11.81 in)." in told


def test_the_room_on_cards():
    cards = [child.value for child in print_room().children[1].children]
    told = "\n".join(cards)
    assert told.count('class="labkit-card"') == 5
    for line in (
        "13 × 19 in (330.2 × 482.6 mm)",
        "44 in (1117.6 mm) wide",
        "pearl 260: pearl, a soft shine, 260 g/m²",
        "Bittern, sheet feed, does not reach: left 5 mm (0.2 in), top 5 mm (0.2 in), "
        "right 5 mm (0.2 in), bottom 12 mm (0.47 in)",
    ):
        assert line in told


def test_nothing_is_kept_before_something_is_said(about, own_folder):
    assert about.entry.value == ""
    assert not (own_folder / "reader.json").exists()


def test_what_is_said_is_kept_and_read_back(about):
    about.entry.value = "Nia Oak "
    about.units.value = "mm"
    about.picture.value = str(demo_pictures()[1].file)
    assert said(about).startswith(
        f"Kept in {home().folder}. clock-tower.jpg: JPEG, 3000 × 4000 pixels"
    )
    assert is_right(about)
    kept = json.loads((home().folder / "reader.json").read_text(encoding="utf-8"))
    picture = str(demo_pictures()[1].file)
    assert kept == {"name": "Nia Oak", "units": "mm", "picture": picture, "large": False}
    again = about_you()
    assert (again.entry.value, again.units.value) == ("Nia Oak", "mm")
    assert again.picture.value == str(demo_pictures()[1].file)
    assert practice().units == "mm"
    assert practice().picture.path == demo_pictures()[1].file


def test_a_picture_brought_is_kept_chosen_and_used(about):
    bring(about, "boat.png", picture())
    assert said(about).startswith(f"Kept in {home().folder}. boat.png: PNG, 60 × 40 pixels")
    assert uploads() == ["boat.png"]
    assert about.picture.label == "yours: boat.png"
    assert home().reader().picture == str(home().uploads / "boat.png")
    assert practice().picture.pixels == (60, 40)
    assert about_you().picture.label == "yours: boat.png"


def test_the_same_name_twice_keeps_both(about):
    first, second = picture("teal"), picture("maroon")
    bring(about, "boat.png", first)
    bring(about, "boat.png", second)
    assert uploads() == ["boat-2.png", "boat.png"]
    assert (home().uploads / "boat.png").read_bytes() == first
    assert (home().uploads / "boat-2.png").read_bytes() == second
    assert about.picture.label == "yours: boat-2.png"
    bring(about, "boat.png", picture("olive"))
    assert uploads() == ["boat-2.png", "boat-3.png", "boat.png"]


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("notes.png", b"no picture at all"),
        ("empty.jpg", b""),
        ("page.html", b"<html><img src='boat.png'></html>"),
    ],
)
def test_what_is_no_picture_is_refused_and_removed(about, name, content):
    chosen = about.picture.value
    bring(about, name, content)
    assert name in said(about)
    assert not is_right(about)
    assert uploads() == []
    assert about.picture.value == chosen


def test_a_refused_file_leaves_the_earlier_one_of_that_name(about):
    bring(about, "boat.png", picture())
    bring(about, "boat.png", b"broken")
    assert uploads() == ["boat.png"]
    assert (home().uploads / "boat.png").read_bytes() == picture()


def test_a_name_with_folders_stays_in_the_readers_folder(about):
    bring(about, "../../outside.png", picture())
    assert uploads() == ["outside.png"]
    assert not (home().folder.parent / "outside.png").exists()


@pytest.mark.slow
def test_a_large_picture_arrives_whole_piece_by_piece(about):
    noise = Image.effect_noise((4000, 4000), 100)
    made = BytesIO()
    noise.save(made, "PNG")
    content = made.getvalue()
    pieces = -(-len(content) // PIECE)
    assert pieces > 2
    assert bring(about, "large.png", content) == [PIECE * n for n in range(1, pieces)] + [None]
    assert (home().uploads / "large.png").read_bytes() == content


def test_what_is_too_large_to_bring_is_refused_with_the_limit(about):
    assert bring(about, "wall.tif", b"", LIMIT + 10**6) == [None]
    assert said(about) == (
        "wall.tif has 1,001 MB, and 1,000 MB are the most that can be brought: save a smaller copy of "
        "the picture and bring that."
    )
    assert uploads() == []
    bring(about, "boat.png", picture())
    assert uploads() == ["boat.png"]


def test_a_picture_brought_again_after_half_of_it_was_lost(about):
    content = picture()
    about.upload.send = lambda told: None
    about.upload._handle_custom_msg(
        {"name": "boat.png", "size": len(content), "start": 0}, [memoryview(content[:20])]
    )
    assert uploads() == []
    bring(about, "boat.png", content)
    assert (home().uploads / "boat.png").read_bytes() == content


def test_a_full_disk_is_said(about, monkeypatch):
    class Full:
        def write(self, piece):
            raise OSError(28, "No space left on device")

    monkeypatch.setattr("labkit.lessons.parts.upload.TemporaryFile", Full)
    assert bring(about, "boat.png", picture()) == [None]
    assert (
        said(about) == "boat.png could not be brought (no space left on device): make room for it."
    )


def test_the_first_sheet_to_try():
    sheet = practice()
    assert list(sheet.controls) == ["width", "left", "top"]
    slide(sheet, "left", length("1in"))
    assert sheet.readings["right border"] == "2 in (50.8 mm)"
    choose(sheet, "units", "mm")
    assert sheet.readings["right border"] == "50.8 mm (2 in)"
    assert about_you().units.value == "mm"


def test_nobody_has_done_anything_yet():
    app = start_here.how_far()
    minutes = sum(lesson.minutes for lesson in LESSONS)
    assert app.sentence.startswith(f"0 of {len(LESSONS)} exercises done. Still to do: Resolution, ")
    assert app.sentence.endswith(f"about {minutes} minutes.")


def test_an_exported_file_that_passes_is_seen_when_looked_for_again():
    home().keep(Reader(name="Nia Oak"))
    app = start_here.how_far()
    task = sheet_sizes.exercise()
    wanted = task.brief.layout
    task.app.put(task.app.placing.on(wanted.sheet).resized(wanted.picture.width))
    task.export.click()
    assert "exercises done" in app.sentence
    assert app.sentence.startswith("0 of")
    app.children[2].click()
    assert app.sentence.startswith(f"1 of {len(LESSONS)} exercises done.")
    assert "Sheet sizes" not in app.sentence
    assert f"done: {task.brief.stem}.tif" in words(app._table.value)
