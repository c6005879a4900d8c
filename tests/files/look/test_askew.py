"""Pictures turned on their sheet by so many degrees, and straight ones, told again."""

from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw

from labkit.files.look.locate import locate
from labkit.files.pixels.decode import Pixels
from tests.properties import a_few

HARBOUR = Path(__file__).parents[3] / "images" / "harbour.jpg"
TURNS = [0.1, 0.5, 2, 9, -0.3, -6]


@pytest.fixture(scope="module")
def picture() -> Image.Image:
    with Image.open(HARBOUR) as opened:
        return opened.convert("RGB").resize((1500, 1000))


def sheet(picture: Image.Image, turn: float = 0, paper="white") -> Image.Image:
    turned = picture.rotate(-turn, Image.Resampling.BICUBIC, expand=True, fillcolor=paper)
    made = Image.new("RGB", (2550, 1950), paper)
    made.paste(turned, (500, 400))
    return made


def askew(made: Image.Image, *, is_lossy: bool = False) -> float:
    return locate(Pixels(np.asarray(made), 1), is_lossy=is_lossy).askew


def as_jpeg(made: Image.Image, quality: int = 85) -> Image.Image:
    packed = BytesIO()
    made.save(packed, "JPEG", quality=quality)
    return Image.open(packed).convert("RGB")


def as_scanned(made: Image.Image) -> Image.Image:
    noise = np.random.default_rng(1).normal(0, 3, (made.height, made.width, 1))
    values = np.asarray(made) * (0.95, 0.94, 0.91) + noise
    return Image.fromarray(np.clip(values, 0, 255).astype(np.uint8))


@pytest.mark.parametrize("turn", a_few(TURNS))
def test_the_turn_is_told_within_a_twentieth_of_a_degree(picture, turn):
    """A pixel in the length of the longer side is 0.04 degrees."""
    made = sheet(picture, turn)
    assert askew(made) == pytest.approx(turn, abs=0.05)
    assert askew(as_jpeg(made), is_lossy=True) == pytest.approx(turn, abs=0.08)
    assert askew(as_scanned(made)) == pytest.approx(turn, abs=0.08)


def test_a_straight_picture_is_not_askew(picture):
    assert askew(sheet(picture)) == 0
    for quality in (95, 85, 60):
        assert askew(as_jpeg(sheet(picture), quality), is_lossy=True) == 0
    assert askew(as_scanned(sheet(picture))) == 0


def test_what_has_no_straight_edges_is_not_askew(picture):
    made = Image.new("RGB", (2550, 1950), "white")
    mask = Image.new("L", picture.size)
    ImageDraw.Draw(mask).ellipse((0, 0, *picture.size), fill=255)
    made.paste(picture, (500, 400), mask)
    assert askew(made) == 0
    drawing = Image.new("RGB", (2550, 1950), "white")
    pen = ImageDraw.Draw(drawing)
    for at in range(0, 1000, 40):
        pen.line((500 + at, 500, 2000 - at, 1500), fill="black", width=9)
    assert askew(drawing) == 0


def test_one_slanting_side_alone_is_not_askew(picture):
    values = np.asarray(sheet(picture)).copy()
    for column in range(1500):
        values[400 : 400 + column // 30, 500 + column] = 255
    assert askew(Image.fromarray(values)) == 0
