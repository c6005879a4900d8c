"""How finished files get their names, all of them or none, and what is cleared away."""

import os
import subprocess
import sys

import pytest

from labkit.errors import LabError
from labkit.files.writing.part import is_part, parts_of, publish
from tests.geometry.refused import refusal


@pytest.fixture
def part(tmp_path):
    path = tmp_path / "a.tif.1.part"
    path.write_bytes(b"new")
    return path


@pytest.fixture
def target(tmp_path):
    return tmp_path / "a.tif"


def no_links(*_):
    raise OSError("this file system has no hard links")


@pytest.fixture(params=["with hard links", "without"])
def any_disk(request, monkeypatch):
    if request.param == "without":
        monkeypatch.setattr(os, "link", no_links)


def test_a_finished_part_gets_its_name(part, target, any_disk):
    publish([(part, target)], replace=False)
    assert target.read_bytes() == b"new"
    assert not part.exists()


def test_an_existing_file_is_left_alone(part, target, any_disk):
    target.write_bytes(b"old")
    told = refusal(publish, [(part, target)], replace=False)
    assert told == (
        f"a.tif already exists in {target.parent}: nothing was overwritten. "
        "Give another folder, or ask to replace it."
    )
    assert target.read_bytes() == b"old"
    assert part.read_bytes() == b"new"


def test_one_to_be_replaced_is(part, target, tmp_path, any_disk):
    target.write_bytes(b"old")
    publish([(part, target)], replace=True)
    assert target.read_bytes() == b"new"
    assert list(tmp_path.iterdir()) == [target]


def test_of_two_at_once_one_is_refused(part, target, tmp_path, any_disk):
    other = tmp_path / "a.tif.2.part"
    other.write_bytes(b"other")
    publish([(part, target)], replace=False)
    with pytest.raises(LabError):
        publish([(other, target)], replace=False)
    assert target.read_bytes() == b"new"


@pytest.mark.parametrize("replace", [True, False])
def test_where_the_second_cannot_be_named_all_is_as_it_was(
    part, target, tmp_path, any_disk, replace
):
    """A folder stands where the ticket should be."""
    if replace:
        target.write_bytes(b"old")
    ticket, in_the_way = tmp_path / "ticket.part", tmp_path / "a.html"
    ticket.write_bytes(b"ticket")
    (in_the_way / "kept").mkdir(parents=True)
    with pytest.raises((OSError, LabError)):
        publish([(part, target), (ticket, in_the_way)], replace=replace)
    assert (target.read_bytes() if target.exists() else None) == (b"old" if replace else None)
    assert not [each for each in tmp_path.iterdir() if "-old" in each.name]


def test_parts_are_named_for_what_writes_them_and_removed(target):
    with parts_of(target) as (part,):
        part.write_bytes(b"half")
        assert is_part(part)
        assert part.parent == target.parent
    assert not part.exists()


def test_a_disk_that_takes_nothing_more_hides_no_refusal(target, monkeypatch):
    """What is removed at the end cannot be, and that is not what is told."""

    def read_only(*_, **__):
        raise OSError(30, "Read-only file system")

    def write():
        with parts_of(target) as (part,):
            part.write_bytes(b"half")
            monkeypatch.setattr(os, "unlink", read_only)
            raise LabError("this is why it ended.")

    assert refusal(write) == "this is why it ended."


def test_what_a_process_that_is_gone_left_is_cleared(target, tmp_path):
    program = (
        "import os, sys\nfrom pathlib import Path\nfrom labkit.files.writing.part import parts_of\n"
        "with parts_of(Path(sys.argv[1])) as (part,):\n    part.write_bytes(b'half')\n    os._exit(9)"
    )
    subprocess.run([sys.executable, "-c", program, target], check=False)
    (left,) = tmp_path.iterdir()
    assert is_part(left)
    other = tmp_path / "film.mp4.part"
    other.write_bytes(b"a stranger's")
    elsewhere = tmp_path / "a.tif.ffffffff-1.part"
    elsewhere.write_bytes(b"another machine's")
    with parts_of(target) as (part,):
        part.write_bytes(b"at work")
        with parts_of(tmp_path / "b.tif"):
            assert set(tmp_path.iterdir()) == {part, other, elsewhere}


@pytest.mark.parametrize("name", ["a.tif", "a.part", "a.tif.4711.part", "4711.part"])
def test_a_name_like_it_is_no_part_of_ours(tmp_path, name):
    assert not is_part(tmp_path / name)
