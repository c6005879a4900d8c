"""Papers compared for a picture: the shares against a proof made here, the advice, and what it costs."""

import shutil
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from labkit.__main__ import main
from labkit.files.pixels.conversion import srgb_profile
from labkit.files.pixels.proof import proof
from labkit.teaching.papers import paper
from labkit.teaching.profiles import GLOSS, MATT
from tests.files import make


@pytest.fixture
def picture(tmp_path) -> Path:
    """Half of it is black, which the matt paper cannot show; the rest is a pale grey, which any can."""
    values = np.full((200, 300, 3), 200, np.uint8)
    values[:, :150] = 0
    Image.fromarray(values).save(tmp_path / "half.png", dpi=(50, 50), icc_profile=make.srgb())
    return tmp_path / "half.png"


@pytest.fixture
def room_with(tmp_path):
    """A room file in which the settings of two papers name these profiles."""

    def made(cotton: Path, pearl: Path) -> Path:
        main(["room", "new", str(tmp_path / "room.toml")])
        text = (tmp_path / "room.toml").read_text(encoding="utf-8")
        for name, profile in (("cotton matt 300", cotton), ("pearl 260", pearl)):
            if profile.parent != tmp_path:
                shutil.copy(profile, tmp_path)
            head, *settings = text.split("[[settings]]")
            settings = [
                each.replace('profile = ""', f'profile = "{profile.name}"')
                if f'paper = "{name}"' in each
                else each
                for each in settings
            ]
            text = "[[settings]]".join([head, *settings])
        (tmp_path / "room.toml").write_text(text, encoding="utf-8")
        return tmp_path / "room.toml"

    return made


def papers(*words) -> int:
    return main(["papers", *map(str, words)])


def test_the_paper_that_shows_more_is_recommended_with_reason_and_cost(
    picture, room_with, capsys, tmp_path
):
    room, page = room_with(MATT, GLOSS), tmp_path / "page.html"
    words = ["--picture", picture, "--room", room, "--sheet", "13x19in"]
    assert papers(*words, "--report", page) == 0
    said = capsys.readouterr().out
    values = np.asarray(Image.open(picture))
    lost = {name: proof(values, srgb_profile(), paper(name)).share for name in ("matt", "gloss")}
    assert lost == {"matt": pytest.approx(0.5, abs=0.02), "gloss": pytest.approx(0, abs=0.02)}
    (cotton,) = (line for line in said.splitlines() if line.startswith("cotton matt 300"))
    white, black = paper("matt").white[0], paper("matt").black[0]
    assert cotton.split()[-5:] == [f"{white:.0f}", f"{black:.0f}", "50%", "50%", "£6.20"]
    assert "Take pearl 260: " in said
    assert "50% on cotton matt 300, the next." in said
    assert "A print costs £4.20, £2.15 more than on plain 120, the cheapest." in said
    told = page.read_text(encoding="utf-8")
    assert "Take pearl 260: " in told
    assert told.count("<figure>") == 3
    assert papers(*words, "--report", page) == 2
    assert "page.html is there already: give another name" in capsys.readouterr().err
    assert page.read_text(encoding="utf-8") == told


def test_of_papers_that_show_as_much_the_cheaper_is_recommended(picture, room_with, capsys):
    assert papers("--picture", picture, "--room", room_with(GLOSS, GLOSS)) == 0
    assert "Take pearl 260: cotton matt 300 would show as much" in capsys.readouterr().out


def test_without_profiles_nothing_is_recommended_and_prices_are_told(picture, capsys):
    assert papers("--picture", picture) == 0
    said = capsys.readouterr().out
    assert "Nothing is recommended" in said
    assert "pearl 260: its setting names no profile." in said


def test_a_profile_that_is_no_printers_is_said(picture, room_with, tmp_path, capsys):
    screen = tmp_path / "screen.icc"
    screen.write_bytes(srgb_profile())
    assert papers("--picture", picture, "--room", room_with(screen, GLOSS)) == 0
    said = capsys.readouterr().out
    assert "is the profile of a screen, not of a printer" in said
    assert "Nothing is recommended" in said


def test_a_page_is_of_a_picture(tmp_path, capsys):
    assert papers("--report", tmp_path / "page.html") == 2
    assert "--picture" in capsys.readouterr().err
