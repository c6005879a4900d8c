"""From profile to profile at 16 bits and as floats, against another library and littleCMS's own tool."""

import subprocess

import colour
import imagecodecs
import numpy as np
import pytest

from labkit.errors import LabError
from labkit.files.pixels.conversion import srgb_profile
from labkit.files.pixels.difference import delta_e
from labkit.files.pixels.transform import lab_of, of_lab, transform
from labkit.teaching.profiles import GLOSS, MATT
from tests.peers import find_program

SRGB = srgb_profile()
RGB = np.random.default_rng(3).random((40, 50, 3)).astype(np.float32)


def lab_of_srgb(rgb):
    """By colour-science: IEC 61966-2-1, Bradford to D50."""
    space = colour.RGB_COLOURSPACES["sRGB"]
    d50 = colour.XYZ_to_xy(np.array((0.9642, 1, 0.8249)))
    xyz = colour.RGB_to_XYZ(
        rgb,
        space,
        illuminant=d50,
        chromatic_adaptation_transform="Bradford",
        apply_cctf_decoding=True,
    )
    return colour.XYZ_to_Lab(xyz, d50)


def test_lab_of_srgb_by_another_library():
    lab = lab_of(RGB, SRGB)
    assert delta_e(lab, lab_of_srgb(RGB)).max() < 0.02
    assert of_lab(lab, SRGB) == pytest.approx(RGB, abs=1e-4)


@pytest.mark.parametrize("gamma", [461 / 256, 563 / 256])  # as ICC.1 stores 1.8 and 2.2
def test_from_one_curve_to_another_at_16_bits(gamma):
    """colour-science, ``eotf_inverse_sRGB`` of the light of a power: within 2 counts of 65535."""
    primaries = [0.64, 0.33, 1, 0.30, 0.60, 1, 0.15, 0.06, 1]
    power = imagecodecs.cms_profile(
        "rgb", gamma=gamma, whitepoint=[0.3127, 0.3290, 1], primaries=primaries
    )
    grey = np.arange(65536, dtype=np.uint16).reshape(256, 256)
    made = transform(np.dstack([grey] * 3), power, SRGB, dtype="u2")
    wanted = colour.models.eotf_inverse_sRGB((grey / 65535) ** gamma) * 65535
    assert np.abs(made - wanted[..., None]).max() <= 2


@pytest.mark.parametrize("paper", [GLOSS, MATT], ids=["gloss", "matt"])
@pytest.mark.parametrize("black_point", [False, True], ids=["", "with black point"])
@pytest.mark.parametrize(
    ("intent", "number"), [("perceptual", 0), ("relative", 1), ("saturation", 2), ("absolute", 3)]
)
def test_every_intent_as_the_tool_of_littlecms_has_it(tmp_path, paper, intent, number, black_point):
    """``transicc`` (Debian's liblcms2-utils): numbers from 0 to 255, from sRGB to a paper.

    It is of version 2.14, and where black points are to be found, versions from 2.18 find others.
    """
    (tmp_path / "srgb.icc").write_bytes(SRGB)
    options = ["-v0", "-n", "-c0", f"-t{number}", *(["-b"] if black_point else [])]
    profiles = ["-i", tmp_path / "srgb.icc", "-o", paper]
    colours = RGB[0, :20]
    asked = "\n".join(f"{part * 255:.5f}" for part in colours.ravel())
    command = [find_program("transicc"), *options, *profiles]
    run = subprocess.run(command, input=asked, capture_output=True, text=True)
    told = np.array([float(word) for word in run.stdout.split()]).reshape(-1, 3)
    rules = {"intent": intent, "black_point": black_point}
    made = transform(colours[None], SRGB, paper.read_bytes(), **rules)
    within = 1.3 if black_point and intent == "relative" else 0.02
    assert made[0] * 255 == pytest.approx(told, abs=within)


def test_a_profile_that_cannot_be_used_is_refused():
    for profile in (b"", SRGB[:200], SRGB.replace(b"RGB ", b"HSV ", 1)):
        with pytest.raises(LabError, match=r"^a colour profile cannot be used"):
            transform(RGB, profile, SRGB)
