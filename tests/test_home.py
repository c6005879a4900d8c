"""The reader's own folder: where it is, what is kept in it, and that nothing lands anywhere else."""

import json
import os
from pathlib import Path

import pytest

from labkit.errors import LabError
from labkit.home import Home, Reader, home, make_folder
from labkit.room.rules import load_room, new_room
from tests.geometry.refused import refusal

VARIABLE = "LABKIT_HOME"


def test_every_test_has_an_empty_folder_of_its_own(own_folder):
    assert home().folder == own_folder
    assert list(own_folder.iterdir()) == []


def test_the_folder_named_by_the_variable(monkeypatch, tmp_path):
    monkeypatch.setenv(VARIABLE, str(tmp_path / "mine"))
    assert home() == Home(tmp_path / "mine")
    assert home().exports == tmp_path / "mine" / "exports"
    assert home().uploads == tmp_path / "mine" / "uploads"
    assert not (tmp_path / "mine").exists()


def test_the_variable_may_begin_at_home(monkeypatch, tmp_path):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv(VARIABLE, "~/prints")
    assert home().folder == Path("~/prints").expanduser() != Path("~/prints")


@pytest.mark.parametrize("value", [None, ""])
def test_without_the_variable_it_is_labkit_at_home(monkeypatch, tmp_path, value):
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    monkeypatch.delenv(VARIABLE)
    if value is not None:
        monkeypatch.setenv(VARIABLE, value)
    assert home().folder == tmp_path / "labkit"


def test_what_the_reader_said_is_remembered(own_folder):
    said = Reader("Zoë 柳", "mm", "boat.jpg")
    home().keep(said)
    assert home().reader() == said
    assert [path.name for path in own_folder.iterdir()] == ["reader.json"]
    assert json.loads((own_folder / "reader.json").read_text(encoding="utf-8"))["name"] == "Zoë 柳"
    home().keep(Reader("Ada"))
    assert home().reader() == Reader("Ada", "", "")


@pytest.mark.parametrize(
    ("kept", "said"),
    [
        (None, Reader()),
        (b"", Reader()),
        (b"{", Reader()),
        (b"[1, 2]", Reader()),
        (b"\xff\xfe", Reader()),
        (b"{}", Reader()),
        (b'{"name": "Ada", "from": "another version"}', Reader("Ada")),
        (b'{"name": 7}', Reader("7")),
    ],
)
def test_what_cannot_be_read_counts_as_nothing_said(own_folder, kept, said):
    if kept is not None:
        (own_folder / "reader.json").write_bytes(kept)
    assert home().reader() == said


def test_the_readers_own_room_comes_before_the_one_shipped(own_folder):
    assert home().room() == load_room()
    own = new_room(own_folder / "room.toml")
    text = own.read_text(encoding="utf-8")
    own.write_text(text.replace("working_ppi = 300", "working_ppi = 360"), encoding="utf-8")
    assert (home().room().working_ppi, load_room().working_ppi) == (360, 300)


def test_a_room_with_a_mistake_is_told_and_not_passed_over(own_folder):
    (own_folder / "room.toml").write_text("working_ppi = 240\n")
    with pytest.raises(LabError, match=r"room\.toml"):
        home().room()


def test_a_folder_is_made_with_those_above_it(tmp_path):
    folder = tmp_path / "a" / "b"
    assert make_folder(folder) == folder
    assert make_folder(folder).is_dir()


def test_a_folder_that_cannot_be_made(tmp_path):
    (tmp_path / "file").write_bytes(b"")
    folder = tmp_path / "file" / "below"
    told = refusal(make_folder, folder)
    assert told == f"the folder {folder} cannot be made (not a directory): choose another."


@pytest.mark.skipif(not os.path.isdir("/proc/self"), reason="this system has no /proc")
def test_a_folder_in_a_place_that_takes_none():
    assert "cannot be made (" in refusal(make_folder, Path("/proc/prints"))


def test_what_cannot_be_remembered_is_told(monkeypatch, tmp_path):
    (tmp_path / "file").write_bytes(b"")
    monkeypatch.setenv(VARIABLE, str(tmp_path / "file"))
    assert "cannot be made" in refusal(home().keep, Reader("Ada"))
