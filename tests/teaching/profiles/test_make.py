"""The invented papers: sound profiles by ICC.1, that say what they are and do what they are made for."""

import struct
from datetime import datetime
from io import BytesIO

import numpy as np
import pytest
from PIL import Image, ImageCms

from labkit.files.pixels.conversion import srgb_profile
from labkit.files.pixels.difference import delta_e
from labkit.files.pixels.transform import lab_of, of_lab
from labkit.teaching.profiles import GLOSS, MATT
from labkit.teaching.profiles.make import PAPERS, main

TAGS = {"desc", "cprt", "wtpt", "A2B0", "A2B1", "A2B2", "B2A0", "B2A1", "B2A2", "gamt"}
"""ICC.1:2001-04, clause 6.3: what an output profile for RGB has to have."""

each_paper = pytest.mark.parametrize("paper", [GLOSS, MATT], ids=["gloss", "matt"])
each_intent = pytest.mark.parametrize("intent", ["perceptual", "relative", "saturation"])


def tags(profile: bytes) -> dict[str, bytes]:
    """The tags by their signatures: ICC.1:2001-04, clause 6.2."""
    entries = struct.iter_unpack(">4sII", profile[132 : 132 + 12 * len(TAGS)])
    return {name.decode(): profile[at : at + size] for name, at, size in entries}


def to_lab(device, paper, intent="relative"):
    device = np.asarray(device, np.float32).reshape(1, -1, 3)
    return lab_of(device, paper.read_bytes(), intent=intent)[0]


def to_device(lab, paper, intent="relative"):
    lab = np.asarray(lab, np.float64).reshape(1, -1, 3)
    return of_lab(lab, paper.read_bytes(), intent=intent)[0]


@pytest.mark.slow
def test_the_script_makes_the_files_that_are_there(tmp_path):
    main(["--out", str(tmp_path)])
    for paper in (GLOSS, MATT):
        assert (tmp_path / paper.name).read_bytes() == paper.read_bytes()


@each_paper
def test_the_header(paper):
    """ICC.1:2001-04, clause 6.1."""
    profile = paper.read_bytes()
    assert struct.unpack_from(">I", profile, 0) == (len(profile),)
    assert profile[8:12] == bytes.fromhex("02400000")
    assert profile[12:24] == b"prtrRGB Lab "
    assert datetime(*struct.unpack_from(">6H", profile, 24)) == datetime(2026, 1, 5)
    assert profile[36:40] == b"acsp"
    assert profile[68:80] == bytes.fromhex("0000f6d6000100000000d32d")
    assert len(profile) < 200_000


@each_paper
def test_the_tags(paper):
    """Clauses 6.2 and 6.3: what an output profile needs, each on a boundary of four and within the file."""
    profile = paper.read_bytes()
    assert struct.unpack_from(">I", profile, 128) == (len(TAGS),)
    assert set(tags(profile)) == TAGS
    for _, at, size in struct.iter_unpack(">4sII", profile[132 : 132 + 12 * len(TAGS)]):
        assert at % 4 == 0
        assert at + size <= len(profile)


@each_paper
@pytest.mark.parametrize("name", sorted(TAGS - {"desc", "cprt", "wtpt"}))
def test_a_table_is_as_long_as_its_numbers_say(paper, name):
    """lut16Type: 52 bytes, input curves, the grid, output curves, 2 bytes each number."""
    data = tags(paper.read_bytes())[name]
    kind, channels_in, channels_out, points, entries_in, entries_out = struct.unpack_from(
        ">4s4xBBBx36xHH", data
    )
    assert (kind, channels_in, channels_out) == (b"mft2", 3, 1 if name == "gamt" else 3)
    numbers = 3 * entries_in + points**3 * channels_out + channels_out * entries_out
    assert len(data) == 52 + 2 * numbers


@each_paper
def test_it_says_that_it_is_invented(paper):
    opened = ImageCms.ImageCmsProfile(BytesIO(paper.read_bytes())).profile
    assert "(invented for teaching)" in opened.profile_description
    assert "no measurement of any paper" in opened.copyright


@each_paper
@each_intent
def test_pillow_prints_with_it_too(paper, intent):
    """Bare paper for white, more ink for less light."""
    ramp = Image.fromarray(np.tile(np.arange(0, 256, 5, dtype=np.uint8)[:, None, None], (1, 1, 3)))
    source, target = (
        ImageCms.ImageCmsProfile(BytesIO(data)) for data in (srgb_profile(), paper.read_bytes())
    )
    number = ("perceptual", "relative", "saturation").index(intent)
    made = np.asarray(ImageCms.profileToProfile(ramp, source, target, renderingIntent=number))
    assert made[-1, 0].tolist() == [255, 255, 255]
    sums = made[:, 0].astype(int).sum(-1)
    assert np.all(np.diff(sums) >= 0)
    assert sums[0] < 12


@each_paper
def test_what_comes_out_is_the_model_whose_tables_it_holds(paper):
    device = np.random.default_rng(7).random((3000, 3))
    off = delta_e(to_lab(device, paper), PAPERS[paper.name].inkjet.lab(device))
    assert off.max() < 0.5


@each_paper
@each_intent
def test_there_and_back(paper, intent):
    """Colours the paper shows come out as asked, but for what a grid of 17 points rounds at the edge."""
    asked = to_lab(np.random.default_rng(7).random((3000, 3)), paper, intent)
    off = delta_e(to_lab(to_device(asked, paper, intent), paper, intent), asked)
    assert off.mean() < 0.25
    assert np.percentile(off, 95) < 1
    assert off.max() < 3.5


@each_paper
def test_white_is_bare_paper_by_every_relative_intent(paper):
    for intent in ("perceptual", "relative", "saturation"):
        assert to_lab([1, 1, 1], paper, intent)[0] == pytest.approx([100, 0, 0], abs=0.01)
        assert to_device([100, 0, 0], paper, intent)[0] == pytest.approx([1, 1, 1], abs=1e-4)


@pytest.mark.parametrize(
    ("paper", "white", "black"),
    [(GLOSS, (96, 0.3, -1.5), (4, 0.2, 0.3)), (MATT, (93, 0.2, 2.8), (17, 0.5, 1))],
    ids=["gloss", "matt"],
)
def test_white_and_black_as_an_instrument_would_read_them(paper, white, black):
    lab = to_lab([[1, 1, 1], [0, 0, 0]], paper, "absolute")
    assert lab == pytest.approx(np.array((white, black)), abs=0.01)


def printed(lab, paper, intent):
    """What comes out, relative to the paper, of a colour sent by an intent."""
    return to_lab(to_device(lab, paper, intent), paper)


@each_paper
def test_perceptual_keeps_dark_greys_apart_that_relative_runs_together(paper):
    black = PAPERS[paper.name].darkest
    darks = [[black * share, 0, 0] for share in (0.2, 0.5, 0.8)]
    relative, perceptual = (
        np.ptp(printed(darks, paper, intent)[:, 0]) for intent in ("relative", "perceptual")
    )
    assert 2 * relative < perceptual > 0.3 * black


@each_paper
def test_relative_keeps_what_the_paper_shows_and_perceptual_draws_it_in(paper):
    green = [[60, -35, 20]]
    assert delta_e(printed(green, paper, "relative"), green) < 1
    chroma = np.hypot(*printed(green, paper, "perceptual")[0, 1:])
    assert chroma < 0.93 * np.hypot(-35, 20)


@each_paper
def test_strong_colours_stay_apart_by_perceptual(paper):
    strong = [[25, 30, -75], [25, 40, -100]]
    relative, perceptual = (
        delta_e(*printed(strong, paper, intent)) for intent in ("relative", "perceptual")
    )
    assert relative < 0.8 * perceptual


@each_paper
def test_saturation_lifts_the_darks_and_leaves_colours_strong(paper):
    dark, green = [5, 0, 0], [60, -35, 20]
    lifted = printed([dark, green], paper, "saturation")
    assert lifted[0, 0] > printed([dark], paper, "relative")[0, 0]
    assert np.hypot(*lifted[1, 1:]) > np.hypot(*printed([green], paper, "perceptual")[0, 1:])


@each_paper
def test_the_gamut_tag_tells_what_the_paper_shows(paper):
    """gamutTag: 0 inside, anything else outside; read at points of its grid."""
    data = tags(paper.read_bytes())["gamt"]
    points, entries = data[10], struct.unpack_from(">H", data, 48)[0]
    grid = np.frombuffer(data[52 + 6 * entries :], ">u2", points**3).reshape([points] * 3)
    grey = grid[:, points // 2, points // 2]
    assert grey[-1] == 0  # paper white
    assert grey[0] == 65535  # darker than its black
    assert grid[points // 2, 0, 0] == 65535  # a = b = -128


def test_gloss_shows_more_than_matt():
    rgb = np.random.default_rng(2).random((1, 3000, 3)).astype(np.float32)
    lab = lab_of(rgb, srgb_profile())[0]
    lost = {
        paper: np.mean(delta_e(printed(lab, paper, "relative"), lab) > 3) for paper in (GLOSS, MATT)
    }
    assert 0.02 < lost[GLOSS] < 0.6 * lost[MATT]
