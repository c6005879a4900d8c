"""What ``room check`` tells of the profiles that settings name, and of jobs printed with others."""

import shutil
from datetime import date
from pathlib import Path

import pytest

from labkit.__main__ import main
from labkit.files.pixels.conversion import srgb_profile
from labkit.files.record.entry import Entry
from labkit.files.record.record import add_to_record
from labkit.job.log import profile_mark
from labkit.teaching.profiles import GLOSS, MATT


@pytest.fixture
def check(tmp_path, capsys):
    """Check a room in which the first setting, cotton matt 300 on Heron, names a profile ``paper.icc``."""

    def run(profile: bytes, *printed: str) -> tuple[int, str]:
        (tmp_path / "paper.icc").write_bytes(profile)
        room, record = tmp_path / "room.toml", tmp_path / "record.csv"
        main(["room", "new", str(room)])
        text = room.read_text(encoding="utf-8").replace('profile = ""', 'profile = "paper.icc"', 1)
        room.write_text(text, encoding="utf-8")
        lines = [
            Entry(
                job=f"3105{number:02}-AAAAA", date=date(2031, 5, number), file="boat.tif",
                fingerprint="0" * 16, paper="cotton matt 300", printer="Heron", profile=mark,
            )
            for number, mark in enumerate(printed, 1)
        ]  # fmt: skip
        add_to_record(record, lines)
        capsys.readouterr()
        code = main(["room", "check", str(room), "--record", str(record)])
        return code, capsys.readouterr().out

    return run


def test_a_printers_profile_is_told_with_its_date_white_and_black(check):
    """The figures are those of the invented paper: its header's date, its measured white and black."""
    code, said = check(MATT.read_bytes())
    assert code == 0
    assert "cotton matt 300 on Heron, sheet feed: paper.icc is a printer's RGB profile" in said
    assert "made on 2026-01-05. White L* 93, deepest black L* 17." in said
    assert "nothing to mend" in said
    assert "job" not in said


def test_jobs_printed_with_another_profile_are_listed(check, tmp_path):
    shutil.copy(MATT, tmp_path / "paper.icc")
    now = profile_mark(tmp_path / "paper.icc")
    shutil.copy(GLOSS, tmp_path / "paper.icc")
    code, said = check(MATT.read_bytes(), profile_mark(tmp_path / "paper.icc"), now, "")
    assert code == 0
    assert "2 jobs of the record were printed with another profile or with none" in said
    assert "310501-AAAAA (2031-05-01), 310503-AAAAA (2031-05-03)." in said


def _cmyk(profile: bytes) -> bytes:
    return profile[:16] + b"CMYK" + profile[20:]


@pytest.mark.parametrize(
    ("profile", "told"),
    [
        (srgb_profile(), "is the profile of a screen, not of a printer"),
        (_cmyk(MATT.read_bytes()), "is a printer's profile for CMYK"),
        (MATT.read_bytes()[:3000], "paper.icc is damaged"),
    ],
)
def test_one_that_does_not_serve_is_something_to_mend(check, profile, told):
    code, said = check(profile)
    assert code == 1
    assert told in said
    assert "nothing to mend" not in said


def test_a_room_without_profiles_has_nothing_told(tmp_path, capsys):
    room = Path(tmp_path / "room.toml")
    main(["room", "new", str(room)])
    capsys.readouterr()
    assert main(["room", "check", str(room)]) == 0
    assert capsys.readouterr().out == f"{room}: nothing to mend.\n"
