"""What shows only across files: names that collide, one picture twice, older versions."""

import os
import random
import unicodedata
from fractions import Fraction
from io import BytesIO
from itertools import combinations, permutations
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageEnhance

from labkit.files.checks.findings import Findings
from labkit.files.folder.alike import findings_across
from labkit.files.header.picture import Picture
from labkit.files.look.fingerprint import are_alike, fingerprint
from labkit.files.look.locate import locate
from labkit.files.pixels.decode import Pixels
from labkit.geometry.layout import lay_out
from labkit.geometry.length import inches
from labkit.geometry.paper import find_sheet
from labkit.geometry.pixelbox import PixelBox
from tests.files.sheets import shipped
from tests.properties import examples

ROOM = shipped()
IMAGES = Path(__file__).parents[3] / "images"


def picture_of(name: str) -> Image.Image:
    """A demo picture, 800 pixels long."""
    with Image.open(IMAGES / f"{name}.jpg") as opened:
        made = opened.convert("RGB")
    made.thumbnail((800, 800), Image.Resampling.LANCZOS)
    return made


HARBOUR, TOWER = picture_of("harbour"), picture_of("clock-tower")


def print_of(image: Image.Image) -> str:
    """The fingerprint of an image with no sheet round it."""
    return fingerprint(Pixels(np.asarray(image.convert("RGB")), 1), PixelBox(0, 0, *image.size))


def print_on_sheet(image: Image.Image, sheet: tuple[int, int], left: int, top: int) -> str:
    made = Image.new("RGB", sheet, "white")
    made.paste(image, (left, top))
    return fingerprint(Pixels(np.asarray(made), 1), PixelBox(left, top, *image.size))


def jpeg(image: Image.Image, quality: int = 85) -> Image.Image:
    packed = BytesIO()
    image.save(packed, "JPEG", quality=quality)
    return Image.open(BytesIO(packed.getvalue()))


def resized(image: Image.Image, factor: float) -> Image.Image:
    return image.resize([round(side * factor) for side in image.size], Image.Resampling.BICUBIC)


def cropped(image: Image.Image, share: float) -> Image.Image:
    width, height = image.size
    across_, down = round(width * share), round(height * share)
    return image.crop((across_, down, width - across_, height - down))


def with_boat(image: Image.Image, share: float = 0.1) -> Image.Image:
    """The same view with something in it that was not there before."""
    made = image.copy()
    left, top = image.width // 3, image.height // 2
    right, bottom = (
        round(at + side * share) for at, side in zip((left, top), image.size, strict=True)
    )
    made.paste((190, 40, 30), (left, top, right, bottom))
    return made


# The same picture


@pytest.mark.parametrize("image", [HARBOUR, TOWER], ids=["harbour", "tower"])
@pytest.mark.parametrize(
    "change",
    [
        jpeg,
        lambda image: jpeg(image, 50),
        lambda image: resized(image, 0.5),
        lambda image: jpeg(resized(image, 1.37)),
        lambda image: jpeg(jpeg(resized(image, 0.8)), 70),
        lambda image: image.crop((1, 0, image.width, image.height - 1)),  # an edge told a pixel off
    ],
    ids=["jpeg 85", "jpeg 50", "half the ppi", "more ppi, jpeg", "saved twice", "a pixel off"],
)
def test_the_same_picture_is_known_again(image, change):
    assert are_alike(print_of(image), print_of(change(image)))


@pytest.mark.parametrize("image", [HARBOUR, TOWER], ids=["harbour", "tower"])
@pytest.mark.parametrize("at", [(200, 150), (0, 0), (51, 31)])
def test_the_same_picture_is_known_again_on_another_sheet(image, at):
    assert are_alike(print_of(image), print_on_sheet(image, (1200, 1300), *at))


def test_it_is_known_again_where_its_place_had_to_be_found():
    """On a sheet packed as JPEG, and on one resampled besides."""
    sheet = Image.new("RGB", (1100, 800), "white")
    sheet.paste(HARBOUR, (123, 77))
    for saved in (jpeg(sheet), jpeg(resized(sheet, 0.9)), jpeg(resized(sheet, 1.2))):
        pixels = Pixels(np.asarray(saved), 1)
        assert are_alike(fingerprint(pixels, locate(pixels).box), print_of(HARBOUR))


@pytest.mark.parametrize("image", [HARBOUR, TOWER], ids=["harbour", "tower"])
@pytest.mark.parametrize(
    "change",
    [
        lambda image: cropped(image, 0.02),
        lambda image: image.crop((image.width // 20, 0, *image.size)),
        with_boat,
        lambda image: image.transpose(Image.Transpose.FLIP_LEFT_RIGHT),
        lambda image: image.transpose(Image.Transpose.ROTATE_180),
        lambda image: image.convert("L"),
        lambda image: ImageEnhance.Brightness(image).enhance(1.1),
    ],
    ids=["nearer", "aside", "a boat came in", "mirrored", "upside down", "grey", "lighter"],
)
def test_another_picture_of_the_scene_is_another(image, change):
    assert not are_alike(print_of(image), print_of(change(image)))


def test_two_pictures():
    assert not are_alike(print_of(HARBOUR), print_of(TOWER))


@pytest.mark.parametrize("colour", ["white", "black", (200, 30, 40)])
def test_one_colour_tells_nothing(colour):
    """Even with the noise of a scan on it."""
    flat = Image.new("RGB", (160, 120), colour)
    noise = np.random.default_rng(1).integers(-6, 7, (120, 160, 3))
    noisy = Image.fromarray(np.clip(np.asarray(flat) + noise, 0, 255).astype(np.uint8))
    assert print_of(flat) == print_of(noisy) == ""
    assert not are_alike("", "")
    assert not are_alike(print_of(HARBOUR), "")


def test_faint_pictures_are_held_apart_more_strictly():
    """Two slopes hardly to be seen differ by as little as a bright picture saved twice."""
    slope = np.tile(np.linspace(200, 216, 160).round().astype(np.uint8), (120, 1))
    one, other = (Image.fromarray(levels) for levels in (slope, slope + np.uint8(1)))
    assert are_alike(print_of(one), print_of(jpeg(one)))
    assert not are_alike(print_of(one), print_of(other))


def test_the_figures_of_a_fingerprint():
    """Halves of two colours: 16 by 16 patches of three channels, a row at a time."""
    halves = Image.new("RGB", (64, 32), (255, 0, 16))
    halves.paste((0, 1, 2), (32, 0, 64, 32))
    assert print_of(halves) == ("ff0010" * 8 + "000102" * 8) * 16


def test_a_picture_of_fewer_pixels_than_patches():
    tiny = HARBOUR.resize((9, 6))
    assert are_alike(print_of(tiny), print_of(tiny))


# Findings by hand


class Run:
    """Hand-ins of one run, each with what a check would have found."""

    def __init__(self, folder: Path):
        self.folder, self.checked = folder, []

    def add(
        self, name: str, *, saved: float = 0, print_: str = "", ppi=None, profile="sRGB", **placed
    ):
        file = self.folder / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.touch()
        os.utime(file, (1_700_000_000 + saved,) * 2)
        ratio = ppi and (Fraction(ppi), Fraction(ppi))
        facts = Picture(file, "TIFF", (3000, 2000), b"", profile, mode="RGB", ppi=ratio)
        layout = None
        if placed:
            sheet = find_sheet(placed.pop("on"))
            layout = lay_out((3000, 2000), sheet, **{k: inches(v) for k, v in placed.items()})
        seen = SimpleNamespace(fingerprint=print_, kind="")
        self.checked.append(Findings(file, (), layout, facts, seen))
        return file

    def told(self, checked=None) -> dict[str, dict[str, str]]:
        """What was found by the name of the file and code."""
        found = findings_across(self.checked if checked is None else checked, ROOM)
        assert all(found.values())
        return {
            file.relative_to(self.folder).as_posix(): {one.code: one.found for one in findings}
            for file, findings in found.items()
        }


@pytest.fixture
def run(tmp_path) -> Run:
    return Run(tmp_path)


def test_nothing_to_tell(run):
    assert run.told() == {}
    run.add("Nia-Oak_boat_A3.tif", print_=print_of(HARBOUR))
    run.add("Nia-Oak_tower_A3.tif", print_=print_of(TOWER))
    run.add("beach.tif")
    run.add("beach.jpg")
    assert run.told() == {}


def test_what_could_not_be_opened_is_compared_by_name(run):
    for name in ("a/boat.tif", "b/Boat.tif"):
        run.checked.append(Findings(run.folder / name, ()))
    assert {code for found in run.told().values() for code in found} == {"name-case"}


# Names


def test_names_that_differ_in_case_or_the_form_of_an_accent(run):
    run.add("a/Möwe.tif")
    run.add(unicodedata.normalize("NFD", "b/MÖWE.TIF"))
    run.add("b/Mowe.tif")
    told = run.told()
    assert set(told) == {"a/Möwe.tif", unicodedata.normalize("NFD", "b/MÖWE.TIF")}
    other = unicodedata.normalize("NFD", "b/MÖWE.TIF")
    assert told["a/Möwe.tif"]["name-case"] == (
        f"its name is also that of “{other}”, if capitals and ways of writing accents do not count"
    )


def test_the_same_name_in_two_folders_collides_and_no_more_than_three_are_named(run):
    for folder in "abcde":
        run.add(f"{folder}/boat.tif")
    told = run.told()
    assert len(told) == 5
    named = ", ".join(f"“{folder}/boat.tif”" for folder in "abd")
    assert f"that of {named} and 1 more, if" in told["c/boat.tif"]["name-case"]


def test_full_case_folding(run):
    """Unicode, CaseFolding.txt: the sharp s folds to ss."""
    run.add("straße.tif")
    run.add("STRASSE.tif")
    assert "“STRASSE.tif”" in run.told()["straße.tif"]["name-case"]


# The same picture


def test_the_same_picture_under_two_names(run):
    run.add("Nia-Oak_boat_A3.tif", print_=print_of(HARBOUR))
    run.add("Leo-Ash_sea_A3.tif", print_=print_of(jpeg(HARBOUR)))
    run.add("Leo-Ash_tower_A3.tif", print_=print_of(TOWER))
    assert run.told() == {
        "Nia-Oak_boat_A3.tif": {"same-picture": "the same picture is also in “Leo-Ash_sea_A3.tif”"},
        "Leo-Ash_sea_A3.tif": {"same-picture": "the same picture is also in “Nia-Oak_boat_A3.tif”"},
    }


def test_three_of_one_picture_name_each_other(run):
    for at, quality in enumerate((90, 70, 50)):
        run.add(f"{at}.jpg", print_=print_of(jpeg(HARBOUR, quality)))
    assert run.told()["1.jpg"]["same-picture"] == "the same picture is also in “0.jpg” and “2.jpg”"


def test_blank_and_flat_files_are_not_the_same_picture(run):
    for at in range(3):
        run.add(f"{at}.tif", print_=print_of(Image.new("RGB", (60, 40), "grey")))
    assert run.told() == {}


def test_a_version_of_the_same_work_is_told_once(run):
    for at, name in enumerate(("Nia-Oak_boat_A3.tif", "nia oak_Boat_A4.tif")):
        run.add(name, saved=at * 60, print_=print_of(HARBOUR))
    run.add("0412.tif", print_=print_of(HARBOUR))
    told = run.told()
    assert set(told["Nia-Oak_boat_A3.tif"]) == {"same-picture", "older-version"}
    assert told["Nia-Oak_boat_A3.tif"]["same-picture"] == "the same picture is also in “0412.tif”"
    assert set(told["nia oak_Boat_A4.tif"]) == {"same-picture"}


@given(st.lists(st.integers(0, 60), min_size=1, max_size=25), st.integers(0, 99))
@examples(60)
def test_every_pair_that_is_alike_is_found(shifts, seed):
    """Pictures that are a little lighter each, compared one by one."""
    noise = np.random.default_rng(seed).integers(0, 160, (16, 16, 3))
    prints = [(noise + shift).astype(np.uint8).tobytes().hex() for shift in shifts]
    files = [Path(f"{at}.tif") for at in range(len(prints))]
    checked = [
        Findings(file, (), seen=SimpleNamespace(fingerprint=print_, kind=""))
        for file, print_ in zip(files, prints, strict=True)
    ]
    alike = {
        at
        for pair in combinations(range(len(files)), 2)
        for at in pair
        if are_alike(*(prints[i] for i in pair))
    }
    assert set(findings_across(checked, ROOM)) == {files[at] for at in alike}


# Versions


def test_the_newest_counts_and_the_older_are_told(run):
    run.add("Nia-Oak_Boat_A3.tif", saved=0, ppi=240, on="A3", width=9, print_=print_of(HARBOUR))
    run.add("late/NIA oak_bóat_13x19in.tif", saved=3600, ppi=300, on="13x19in", width=12,
            profile="a wider one", print_=print_of(TOWER))  # fmt: skip
    newer = "late/NIA oak_bóat_13x19in.tif"
    assert run.told() == {
        "Nia-Oak_Boat_A3.tif": {
            "older-version": f"“{newer}” has the same owner and title and is newer; what differs is its size "
            "(A3 here, 13x19in there), its resolution (240 ppi here, 300 ppi there), its profile (sRGB here, "
            "a wider one there), its borders and the picture itself"
        }
    }
    (older,) = findings_across(run.checked, ROOM)[run.folder / "Nia-Oak_Boat_A3.tif"]
    assert older.grade == "look"
    assert older.remedy == "The newer one counts, so leave this one out unless both are meant."


def test_only_what_differs_is_told(run):
    placed = {"ppi": 300, "on": "13x19in", "width": 12, "print_": print_of(HARBOUR)}
    run.add("a/Nia-Oak_boat_13x19in.tif", **placed | {"left": Fraction(1, 2), "top": 3})
    run.add(
        "b/Nia-Oak_boat_13x19in (2).tif", saved=60, **placed | {"left": Fraction(1, 2), "top": 4}
    )
    assert run.told()["a/Nia-Oak_boat_13x19in.tif"]["older-version"].endswith(
        "; what differs is its borders"
    )


@pytest.mark.parametrize("apart", [0, 1.5, 2])
def test_saved_at_the_same_time_both_are_asked_about(run, apart):
    """Two seconds are one step of the time in a ZIP archive (from memory)."""
    run.add("Nia-Oak_boat_A3.tif", saved=100)
    run.add("Nia-Oak_boat_A3 (1).tif", saved=100 + apart)
    run.add("Nia-Oak_boat_A4.tif", saved=0)
    told = run.told()
    tie = "has the same owner and title and was saved at the same time; no difference was found"
    assert told["Nia-Oak_boat_A3.tif"]["older-version"] == f"“Nia-Oak_boat_A3 (1).tif” {tie}"
    assert told["Nia-Oak_boat_A3 (1).tif"]["older-version"] == f"“Nia-Oak_boat_A3.tif” {tie}"
    assert "and is newer" in told["Nia-Oak_boat_A4.tif"]["older-version"]
    remedies = {
        file.name: found[-1].remedy for file, found in findings_across(run.checked, ROOM).items()
    }
    assert remedies["Nia-Oak_boat_A3.tif"] == "Say which one counts."


def test_a_little_later_is_newer(run):
    run.add("Nia-Oak_boat_A3.tif", saved=100)
    run.add("Nia-Oak_boat_A3 (1).tif", saved=102.5)
    assert set(run.told()) == {"Nia-Oak_boat_A3.tif"}


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("Zoë-Oak_Möwe", "zoe oak_MOWE", True),
        ("Nia-Oak_low-tide", "NiaOak_LowTide", True),
        ("Nia-Oak_boat", "Nia-Ash_boat", False),
        ("Nia-Oak_boat", "Nia-Oak_boats", False),
        ("さくら_かき", "さくら_がき", False),  # a voicing mark is no accent
        ("नीता_कल", "नीता_काल", False),  # a vowel sign is none either
    ],
)
def test_whose_and_what_without_case_spaces_and_accents(run, one, other, same):
    run.add(f"a/{one}_A3.tif")
    run.add(f"b/{other}_A4.tif", saved=60)
    assert ("older-version" in run.told().get(f"a/{one}_A3.tif", {})) is same


def test_names_that_do_not_tell_whose_and_what_are_no_versions(run):
    run.add("Nia_Oak_boat.tif")
    run.add("Nia_Oak_tower.tif", saved=60)
    assert run.told() == {}


def test_a_file_that_has_gone_is_not_the_newest(run):
    run.add("Nia-Oak_boat_A3.tif").unlink()
    run.add("Nia-Oak_boat_A4.tif", saved=60)
    assert set(run.told()) == {"Nia-Oak_boat_A3.tif"}


# A whole run


def test_the_order_of_files_does_not_matter(run):
    run.add("a/Nia-Oak_boat_A3.tif", saved=0, print_=print_of(HARBOUR))
    run.add("b/nia-oak_Boat_A3.tif", saved=1, print_=print_of(jpeg(HARBOUR)))
    run.add("Nia-Oak_boat_A4.tif", saved=-60, print_=print_of(TOWER))
    run.add("0412.jpg", print_=print_of(jpeg(HARBOUR, 50)))
    told = findings_across(run.checked, ROOM)
    assert len(told) == 4
    assert all(findings_across(order, ROOM) == told for order in permutations(run.checked))


def test_two_thousand_files():
    """A hundred scenes of twenty slightly different savings each, and every name twice."""
    draw = np.random.default_rng(7)
    scenes = draw.integers(20, 230, (100, 16 * 16 * 3))
    prints = [
        (scenes[at % 100] + draw.integers(-1, 2, 768)).astype(np.uint8).tobytes().hex()
        for at in range(2000)
    ]
    checked = [
        Findings(
            Path(f"{at % 2}/hand-in {at // 2}.tif"),
            (),
            seen=SimpleNamespace(fingerprint=print_, kind=""),
        )
        for at, print_ in enumerate(prints)
    ]
    random.Random(7).shuffle(checked)
    told = findings_across(checked, ROOM)
    assert len(told) == 2000
    first = {one.code: one.found for one in told[Path("0/hand-in 0.tif")]}
    assert set(first) == {"name-case", "same-picture"}
    assert first["same-picture"].endswith(" and 16 more")
