"""What folders and a jobs.csv say is wanted of each file."""

from datetime import date

import pytest

from labkit.errors import LabError
from labkit.files.folder.jobs import read_jobs
from tests.files.sheets import shipped


@pytest.fixture
def folder(tmp_path):
    for name in (
        "boat.tif",
        "pearl-260/tide.tif",
        "Nia Oak/rag board 450/ropes.tif",
        "Nia Oak/low.tif",
    ):
        file = tmp_path / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.touch()
    return tmp_path


def jobs(folder, table: str | None = None):
    if table is not None:
        (folder / "jobs.csv").write_text(table, encoding="utf-8")
    found, missing = read_jobs([folder], shipped())
    return {job.file.name: job for job in found}, missing


def test_nothing_is_needed_and_sub_folders_tell_paper_and_student(folder):
    found, missing = jobs(folder)
    assert {name: (job.paper, job.student, job.copies) for name, job in found.items()} == {
        "boat.tif": (None, "", 1),
        "tide.tif": ("pearl 260", "", 1),
        "ropes.tif": ("rag board 450", "Nia Oak", 1),
        "low.tif": (None, "Nia Oak", 1),
    }
    assert missing == []


def test_a_table_says_more_and_its_paper_comes_before_the_folders(folder):
    table = "File;Copies;Due;Course;Paper\ntide.tif;3;2031-05-14;Photo 2;Plain 120\nNia Oak\\low.tif;;;;\n"
    found, _ = jobs(folder, table)
    tide = found["tide.tif"]
    assert (tide.paper, tide.copies, tide.course) == ("plain 120", 3, "Photo 2")
    assert tide.due == date(2031, 5, 14)
    assert found["low.tif"].copies == 1
    assert "jobs.csv" not in found


def test_one_file_may_be_wanted_on_two_papers(folder):
    (folder / "jobs.csv").write_text("file,paper\nboat.tif,pearl 260\nboat.tif,plain 120\n")
    found, _ = read_jobs([folder], shipped())
    boats = [job.paper for job in found if job.file.name == "boat.tif"]
    assert boats == ["pearl 260", "plain 120"]


def test_a_row_whose_file_is_not_there_is_told_and_the_rest_goes_on(folder):
    found, (told,) = jobs(folder, "file,copies,paper\ngull.tif,2,pearl 260\nboat.tif,4,\n")
    assert told.endswith(
        "jobs.csv, line 2: there is no file “gull.tif”, of which 2 prints are wanted on pearl 260. "
        "Ask for it, or mend the name."
    )
    assert found["boat.tif"].copies == 4


@pytest.mark.parametrize(
    ("table", "told"),
    [
        ("", "has no column file: its first line names the columns"),
        (
            "name,copies\n",
            "a column is called “name”; the columns are file, paper, copies, course and due",
        ),
        (
            "file,copies\nboat.tif,two\n",
            "line 2: copies is “two”: write a whole number from 1 to 999.",
        ),
        ("file,copies\nboat.tif,0\n", "line 2: copies is “0”"),
        ("file,paper\nboat.tif,velvet\n", "line 2: no paper here is called “velvet”: use one of"),
        ("file,due\nboat.tif,14.5.31\n", "line 2: due is “14.5.31”, which is no date"),
        ("file,due\nboat.tif,2031-02-30\n", "line 2: due is “2031-02-30”, which is no date"),
        ("file,copies\n,3\n", "line 2: no file is named"),
        ("file\nboat.tif\nboat.tif\n", "line 3: “boat.tif” stands twice on the same paper"),
    ],
)
def test_a_table_that_cannot_be_followed_is_refused_with_the_line(folder, table, told):
    with pytest.raises(LabError) as refused:
        jobs(folder, table)
    assert told in str(refused.value)


def test_all_mistakes_are_told_at_once(folder):
    with pytest.raises(LabError) as refused:
        jobs(folder, "file,copies,due\nboat.tif,x,\ntide.tif,,soon\n")
    assert ["line 2" in line or "line 3" in line for line in str(refused.value).splitlines()] == [
        True
    ] * 2


def test_a_name_that_two_files_have_must_be_told_apart(folder):
    (folder / "Tam Reed").mkdir()
    (folder / "Tam Reed" / "low.tif").touch()
    with pytest.raises(LabError, match=r"may be “Nia Oak/low\.tif” and “Tam Reed/low\.tif”"):
        jobs(folder, "file\nlow.tif\n")


def test_a_table_in_another_coding_is_refused(folder):
    (folder / "jobs.csv").write_bytes("file\nÜbersee.tif\n".encode("latin-1"))
    with pytest.raises(LabError, match="not UTF-8"):
        read_jobs([folder], shipped())
