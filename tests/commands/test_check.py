"""The ``check`` command: files and folders, verdicts, and what is written of them."""

import csv
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image

from labkit.__main__ import main
from labkit.files.child.guarded import Guarded
from labkit.files.folder.run import check_all
from labkit.files.writing.part import parts_of
from tests.files import make, sheets

SHIPPED = sheets.shipped()

pytestmark = pytest.mark.usefixtures("warm")


@pytest.fixture
def folder(tmp_path) -> Path:
    """A folder of hand-ins: one fine, one to decide, one to stop, and what is no hand-in."""
    made = tmp_path / "hand-ins"
    (made / "late").mkdir(parents=True)
    fine = sheet(made / "Ada-Brook_Boat_letter.tif")
    Image.open(fine).save(made / "late" / "Nia-Oak_Boat_letter.png", dpi=(300, 300))
    (made / "empty.tif").write_bytes(b"")
    (made / ".hidden.tif").write_bytes(b"")
    (made / "Thumbs.db").write_bytes(b"x")
    (made / "~$letter.docx").write_bytes(b"x")
    (made / "Boat.xmp").write_bytes(b"x")
    ticket = '<!DOCTYPE html><meta charset="utf-8">\n<meta name="generator" content="labkit">'
    (made / "Ada-Brook_Boat_letter_ticket.html").write_text(ticket)
    return made


def sheet(path: Path, *, left: int = 375) -> Path:
    """A letter sheet at 300 ppi with a picture of 6 × 4 in, centred unless ``left`` says otherwise."""
    image = Image.new("RGB", (2550, 3300), "white")
    image.paste(make.drawing((1800, 1200)), (left, 1050))
    profile = make.srgb()
    image.save(path, compression="tiff_lzw", dpi=(300, 300), icc_profile=profile)
    return path


def checked(capsys, *arguments) -> tuple[int, list[dict]]:
    """The exit code and what is told of each file, as JSON."""
    code = main(["check", *map(str, arguments), "--json"])
    return code, json.loads(capsys.readouterr().out)


def test_a_folder_is_looked_over_with_all_that_lies_in_it(folder, capsys):
    code, told = checked(capsys, folder)
    assert code == 1
    assert [(Path(each["file"]).name, each["verdict"]) for each in told] == [
        ("Ada-Brook_Boat_letter.tif", "look"),
        ("empty.tif", "stop"),
        ("Nia-Oak_Boat_letter.png", "look"),
    ]
    keys = "file verdict findings pixels ppi sheet borders_in profile mode depth orientation pages"
    assert set(told[0]) == set(keys.split())
    assert told[0]["borders_in"] == {"left": 1.25, "top": 3.5, "right": 1.25, "bottom": 3.5}
    assert told[0]["sheet"] == {"name": "letter", "width_in": 8.5, "height_in": 11.0}
    assert [each["code"] for each in told[0]["findings"] if each["grade"] != "fine"] == [
        "same-picture"
    ]
    assert (told[1]["pixels"], told[1]["sheet"]) == (None, None)


def test_links_to_folders_are_followed_but_not_in_a_circle(folder, capsys):
    (folder / "late" / "again").symlink_to(folder, target_is_directory=True)
    (folder.parent / "other").mkdir()
    sheet(folder.parent / "other" / "Ada-Brook_Sea_letter.tif")
    (folder / "linked").symlink_to(folder.parent / "other", target_is_directory=True)
    told = checked(capsys, folder)[1]
    assert sorted(Path(each["file"]).name for each in told) == [
        "Ada-Brook_Boat_letter.tif",
        "Ada-Brook_Sea_letter.tif",
        "Nia-Oak_Boat_letter.png",
        "empty.tif",
    ]


def test_a_link_to_itself_stops_nothing_else(folder, capsys):
    (folder / "loop.tif").symlink_to("loop.tif")
    (folder / "up").symlink_to("../..", target_is_directory=True)
    told = checked(capsys, folder)[1]
    assert [Path(each["file"]).name for each in told].count("loop.tif") == 1
    assert len(told) == 4


def test_files_of_one_name_and_long_ones_in_the_table(tmp_path, capsys):
    for name in ("a/x.tif", "b/x.tif", "b/" + "y" * 60 + ".tif"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_bytes(b"")
    main(["check", str(tmp_path)])
    table = capsys.readouterr().out.split("\n\n")[0].splitlines()
    assert [line.split()[1] for line in table[1:]] == [
        str(Path("a/x.tif")),
        str(Path("b/x.tif")),
        str(Path("b/")) + "/" + "y" * 22 + "…" + "y" * 20 + ".tif",
    ]


def test_without_a_stop_the_exit_code_is_0(tmp_path, capsys):
    code, [told] = checked(capsys, sheet(tmp_path / "Ada-Brook_Boat_letter.tif"))
    assert (code, told["verdict"]) == (0, "fine")


def test_the_table_tells_verdicts_reasons_and_what_it_takes(folder, capsys):
    assert main(["check", str(folder), "--full"]) == 1
    told = capsys.readouterr().out
    assert "stop  empty.tif" in told
    assert "the file is empty (0 bytes)" in told.replace("The file", "the file")
    assert "3 files: 0 fine, 2 look, 1 stop." in told
    assert "Heron, sheet feed  cotton matt 300, letter  2 prints  2 sheets" in told
    assert "£4.80" in told  # twice 2.40
    assert "fine  place: The picture is centred." in told
    assert f"prepare {folder / 'late' / 'Nia-Oak_Boat_letter.png'} --sheet letter --whole" in told


def test_rows_for_a_spreadsheet(folder, tmp_path, capsys):
    file = tmp_path / "found.csv"
    main(["check", str(folder), "--csv", str(file)])
    rows = list(csv.DictReader(file.open(encoding="utf-8", newline="")))
    assert {row["verdict"] for row in rows} == {"look", "stop"}
    assert "empty" in {row["code"] for row in rows}


def test_a_cell_is_never_a_formula(tmp_path, capsys):
    (tmp_path / "=1+1.tif").write_bytes(b"")
    file = tmp_path / "found.csv"
    here = os.getcwd()
    os.chdir(tmp_path)
    try:
        main(["check", "=1+1.tif", "--csv", str(file)])
    finally:
        os.chdir(here)
    assert "\n'=1+1.tif,stop," in file.read_text(encoding="utf-8").replace("\r", "")


def test_the_report_is_written_whole_and_is_no_hand_in(folder, capsys):
    file = folder / "report.html"
    main(["check", str(folder), "--report", str(file)])
    text = file.read_text(encoding="utf-8")
    assert text.rstrip().endswith("</html>")
    assert "data:image/jpeg;base64," in text
    capsys.readouterr()
    _, told = checked(capsys, folder)
    assert "report.html" not in {Path(each["file"]).name for each in told}


def test_nothing_is_overwritten_unless_asked_for(folder, tmp_path, capsys):
    file = tmp_path / "found.csv"
    file.write_text("file,verdict,code,grade,found,expected,why,remedy\nmine")
    assert main(["check", str(folder), "--csv", str(file)]) == 2
    assert capsys.readouterr().err == (
        f"labkit: {file} is there already: give another name, or say --replace.\n"
    )
    assert file.read_text().endswith("mine")
    main(["check", str(folder), "--csv", str(file), "--replace"])
    assert "mine" not in file.read_text()


@pytest.mark.parametrize("option", ["--report", "--csv"])
def test_a_hand_in_is_never_replaced_by_what_is_told_of_it(folder, tmp_path, capsys, option):
    handed_in = folder / "Ada-Brook_Boat_letter.tif"
    page = tmp_path / f"mine.{'html' if option == '--report' else 'csv'}"
    page.write_text("<p>my own page")
    for file in (handed_in, page):
        before = file.read_bytes()
        assert main(["check", str(folder), option, str(file), "--replace"]) == 2
        assert file.read_bytes() == before
    assert "is no report or table of this program's: give another name" in capsys.readouterr().err


@pytest.mark.skipif(sys.platform != "linux", reason="other systems take only text for names")
def test_a_name_that_is_no_text_is_told_all_the_same(tmp_path):
    name = os.fsdecode(b"caf\xe9.tif")
    (tmp_path / name).write_bytes(b"")
    run = [sys.executable, "-m", "labkit", "check", str(tmp_path)]
    told = subprocess.run([*run, "--json", "--csv", str(tmp_path / "a.csv")], capture_output=True)
    assert told.returncode == 1
    assert json.loads(told.stdout.decode("utf-8"))[0]["verdict"] == "stop"
    assert "caf" in (tmp_path / "a.csv").read_text(encoding="utf-8")
    with open("/dev/full", "w") as full:
        told = subprocess.run(run, stdout=full, stderr=subprocess.PIPE, text=True)
    assert told.returncode == 2
    assert told.stderr.startswith("labkit: what is told here cannot be read or written (")


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (["no-such.tif"], "there is no file or folder no-such.tif: look at the spelling."),
        (["{empty}"], "there is no file to check in what was given: name files, or a folder."),
        (
            ["{fine}", "--paper", "birch bark"],
            "no paper here is called “birch bark”: use one of cotton matt 300, pearl 260, plain 120, rag "
            "board 450.",
        ),
        (
            ["{fine}", "--csv", "{empty}/no/found.csv"],
            "there is no folder {empty}/no to put found.csv in: make it first.",
        ),
    ],
)
def test_what_cannot_be_done_is_one_sentence(tmp_path, capsys, arguments, sentence):
    empty, fine = tmp_path / "empty", tmp_path / "a.tif"
    empty.mkdir()
    fine.write_bytes(b"x")
    names = {"empty": empty, "fine": fine}
    assert main(["check", *(each.format(**names) for each in arguments)]) == 2
    assert capsys.readouterr().err == f"labkit: {sentence.format(**names)}\n"


def test_a_file_is_checked_once_however_often_it_is_named(tmp_path, capsys):
    file = sheet(tmp_path / "Ada-Brook_Boat_letter.tif")
    assert len(checked(capsys, file, tmp_path, file)[1]) == 1


def test_one_bad_file_never_ends_the_run(tmp_path, monkeypatch):
    good, bad = sheet(tmp_path / "Ada-Brook_Boat_letter.tif"), tmp_path / "bad.tif"
    bad.write_bytes(b"II*\0")

    def fails(file, **options):
        raise RuntimeError("no such thing")

    assert [each.verdict for each in check_all([good, bad], SHIPPED)] == ["fine", "stop"]
    monkeypatch.setattr("labkit.files.folder.run.check", fails)
    [found] = check_all([good], SHIPPED)
    assert found.verdict == "stop"
    assert "the check of it failed (RuntimeError: no such thing)" in found.items[0].found


def test_progress_is_told(tmp_path):
    files = [sheet(tmp_path / f"Ada-Brook_Boat-{n}_letter.tif", left=300 + n) for n in range(3)]
    done = []
    check_all(files, SHIPPED, progress=done.append)
    assert done == [1, 2, 3]


def test_originals_are_left_as_they_are(folder, capsys):
    before = {file: file.read_bytes() for file in folder.rglob("*") if file.is_file()}
    main(["check", str(folder)])
    assert {file: file.read_bytes() for file in folder.rglob("*") if file.is_file()} == before


@pytest.mark.parametrize(
    "recipe",
    [
        pytest.param(["--sheet", "letter", "--width", "6in"], marks=pytest.mark.slow),
        pytest.param(
            ["--sheet", "letter", "--width", "6in", "--at", "optical"], marks=pytest.mark.slow
        ),
        pytest.param(
            ["--sheet", "letter", "--width", "6in", "--left", "1in", "--top", "2in"],
            marks=pytest.mark.slow,
        ),
        pytest.param(["--sheet", "letter", "--fit", "--turn"], marks=pytest.mark.slow),
        ["--sheet", "13x19in", "--trim", "8x10in"],
        pytest.param(["--sheet", "24x30in", "--width", "5in"], marks=pytest.mark.slow),
        pytest.param(["--sheet", "7x7in", "--width", "5in"], marks=pytest.mark.slow),
        pytest.param(
            ["--sheet", "13x19in", "--width", "10in", "--resample", "400"], marks=pytest.mark.slow
        ),
    ],
    ids=" ".join,
)
def test_what_prepare_made_has_nothing_to_mend(tmp_path, capsys, recipe):
    picture = make.picture(tmp_path / "boat.png", size=(3600, 3600))
    told = ["--owner", "Ada Brook", "--title", "Boat", "--out", str(tmp_path / "out")]
    assert main(["prepare", str(picture), *recipe, *told]) == 0
    capsys.readouterr()
    code, [found] = checked(capsys, tmp_path / "out")
    assert (code, found["verdict"]) == (0, "fine"), found["findings"]


def test_a_whole_sheet_is_mended_in_its_form_alone(tmp_path, capsys):
    """A finished sheet with a wrong label and an alpha channel: every pixel stays where it is."""
    image = Image.open(sheet(tmp_path / "a.tif")).convert("RGBA")
    handed_in = tmp_path / "Ada-Brook_Boat_letter.png"
    image.save(handed_in, dpi=(72, 72))
    _, [found] = checked(capsys, handed_in)
    commands = {each["command"] for each in found["findings"] if each["command"]}
    assert commands == {f"labkit prepare {handed_in} --sheet letter --whole"}
    [command] = commands
    main([*command.split()[1:], "--out", str(tmp_path / "out")])
    capsys.readouterr()
    _, [mended] = checked(capsys, tmp_path / "out" / "Ada-Brook_Boat_letter.tif")
    assert mended["verdict"] == "fine"
    made = Image.open(mended["file"])
    assert made.tobytes() == image.convert("RGB").tobytes()


def test_no_command_is_offered_that_leaves_another_fault(tmp_path, capsys):
    """The picture runs into an edge that the printer cannot reach, so to mend the form is not enough."""
    image = Image.open(sheet(tmp_path / "a.tif", left=0))
    handed_in = tmp_path / "Ada-Brook_Boat_letter.png"
    image.save(handed_in, dpi=(300, 300))
    _, [found] = checked(capsys, handed_in)
    told = {each["code"]: each["command"] for each in found["findings"]}
    assert {"format", "unprintable"} <= set(told)
    assert not any(told.values())


def test_what_the_system_refuses_is_one_sentence(tmp_path, capsys, monkeypatch):
    def refuses(asked):
        raise PermissionError(13, "Permission denied", str(tmp_path))

    monkeypatch.setattr("labkit.commands.check.run", refuses)
    monkeypatch.setattr("sys.stdout", sys.stdout)
    assert main(["check", str(tmp_path)]) == 2
    expected = f"labkit: {tmp_path} cannot be read or written (permission denied).\n"
    assert capsys.readouterr().err == expected


def test_no_command_is_offered_where_a_picture_may_be_damaged(tmp_path, capsys):
    """It would hide the damage in a file in which nothing is left to mend."""
    image = Image.open(sheet(tmp_path / "whole.tif"))
    handed_in = tmp_path / "Ada-Brook_Boat_letter.jpg"
    image.save(handed_in, dpi=(300, 300), icc_profile=make.srgb(), quality=92)
    data = handed_in.read_bytes()
    assert [each["command"] != "" for each in found(capsys, handed_in, "format")] == [True]
    handed_in.write_bytes(data[:-2] + bytes(range(1, 40)) + b"\xff\xd9")
    assert [each["command"] for each in found(capsys, handed_in, "format")] == [""]
    [doubt] = found(capsys, handed_in, "damage-signs")
    assert doubt["grade"] == "look"
    assert doubt["found"].startswith("some data are left over at the end of the JPEG")


def found(capsys, file: Path, code: str) -> list[dict]:
    """The findings of that code in a file."""
    [told] = checked(capsys, file)[1]
    return [each for each in told["findings"] if each["code"] == code]


def test_a_picture_saved_again_after_it_lost_its_end(tmp_path, capsys):
    image = Image.open(sheet(tmp_path / "whole.tif"))
    image.paste((128, 128, 128), (375, 1650, 2175, 2250))
    handed_in = tmp_path / "Ada-Brook_Boat_letter.tif"
    image.save(handed_in, compression="tiff_lzw", dpi=(300, 300), icc_profile=make.srgb())
    [sign] = found(capsys, handed_in, "damage-signs")
    assert sign["found"] == "one flat mid-grey fills 50% of the picture, towards the bottom"


def test_a_note_beside_the_prints_is_no_reason_to_stop(tmp_path, capsys):
    sheet(tmp_path / "Ada-Brook_Boat_letter.tif")
    (tmp_path / "please read.txt").write_text("Two copies, please.")
    code, told = checked(capsys, tmp_path)
    assert (code, [each["verdict"] for each in told]) == (0, ["fine", "look"])
    assert told[1]["findings"][0]["code"] == "text-note"


def test_a_file_kept_elsewhere_is_told_though_it_is_hidden(tmp_path, capsys):
    sheet(tmp_path / "Ada-Brook_Boat_letter.tif")
    (tmp_path / ".Nia-Oak_Boat_letter.tif.icloud").write_bytes(b"bplist00\0\0")
    code, told = checked(capsys, tmp_path)
    assert (code, len(told)) == (1, 2)
    assert "a link to something kept elsewhere" in str(told)


def test_parts_of_files_not_yet_written_are_passed_over(tmp_path, capsys):
    fine = sheet(tmp_path / "Ada-Brook_Boat_letter.tif")
    with parts_of(fine) as (part,):
        part.write_bytes(b"half")
        (tmp_path / f"{fine.name}.0a1b2c3d-99999999.part").write_bytes(
            b"half, and nobody writes on"
        )
        code, told = checked(capsys, tmp_path)
    assert (code, [Path(each["file"]).name for each in told]) == (0, [fine.name])


@pytest.mark.parametrize("option", ["--report", "--csv"])
def test_a_report_that_cannot_be_written_does_not_lose_the_table(
    tmp_path, capsys, monkeypatch, option
):
    """The disk turns read-only, also for what is cleared away at the end."""
    fine = sheet(tmp_path / "Ada-Brook_Boat_letter.tif")

    def read_only(*_, **__):
        raise OSError(30, "Read-only file system", "a.part")

    file = tmp_path / ("r.html" if option == "--report" else "r.csv")
    with monkeypatch.context() as disk:
        disk.setattr(Path, "write_text", read_only)
        disk.setattr(os, "unlink", read_only)
        assert main(["check", str(fine), option, str(file)]) == 2
    said = capsys.readouterr()
    assert "1 files: 1 fine" in said.out or "1 file: 1 fine" in said.out
    assert said.err == (
        f"labkit: {file} cannot be written (read-only file system): choose another folder.\n"
    )
    assert not file.exists()


def test_where_no_child_can_be_started_the_table_says_so(tmp_path, capsys, monkeypatch):
    fine = sheet(tmp_path / "Ada-Brook_Boat_letter.tif")
    monkeypatch.setattr("labkit.files.child.crew.Guarded", Guarded)
    monkeypatch.setattr(sys, "executable", str(tmp_path / "python"))
    assert main(["check", str(fine)]) == 1
    told = " ".join(capsys.readouterr().out.split())
    assert "not-looked-at: The program that reads pictures could not be started" in told
    assert "(no such file or directory)" in told
