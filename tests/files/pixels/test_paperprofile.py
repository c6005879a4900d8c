"""The facts of a paper's profile: read back from profiles whose making is known."""

from datetime import datetime

import imagecodecs
import pytest

from labkit.errors import LabError
from labkit.files.pixels.conversion import srgb_profile
from labkit.files.pixels.paperprofile import paper_profile
from labkit.teaching.profiles import GLOSS, MATT
from tests.files.sheets import cmyk_profile


@pytest.mark.parametrize(
    ("file", "white", "black"),
    [(GLOSS, (96, 0.3, -1.5), (4, 0.2, 0.3)), (MATT, (93, 0.2, 2.8), (17, 0.5, 1))],
    ids=["gloss", "matt"],
)
def test_a_papers_white_and_black_are_those_it_was_made_with(file, white, black):
    """Within what 16 bits hold of them."""
    facts = paper_profile(file)
    assert facts.white == pytest.approx(white, abs=0.01)
    assert facts.black == pytest.approx(black, abs=0.01)
    assert (facts.device_class, facts.space, facts.unfit) == ("prtr", "RGB ", "")
    assert facts.date == datetime(2026, 1, 5)
    assert facts.description.endswith("(invented for teaching)")


def test_the_darkest_colour_need_not_be_all_inks(tmp_path):
    """Green and blue changed about: what was black is now cyan, and the deepest is found all the same."""
    data = bytearray(GLOSS.read_bytes())
    at = _tag(data, b"A2B1")
    points, counts = data[at + 10], 2 * 3
    grid = at + 52 + 3 * 2 * 2
    size = points**3 * counts
    slices = [data[grid + n : grid + n + points * counts] for n in range(0, size, points * counts)]
    data[grid : grid + size] = b"".join(reversed(slices))
    (tmp_path / "turned.icc").write_bytes(data)
    facts = paper_profile(tmp_path / "turned.icc")
    assert facts.black == pytest.approx((4, 0.2, 0.3), abs=0.01)
    assert facts.white[0] < 90


def _tag(profile: bytes, signature: bytes) -> int:
    """Where a tag begins: ICC.1, the table of tags."""
    entry = profile.index(signature, 128)
    return int.from_bytes(profile[entry + 4 : entry + 8])


@pytest.mark.parametrize(
    ("profile", "told"),
    [
        (srgb_profile(), "“sRGB” is the profile of a screen, not of a printer"),
        (cmyk_profile(), "“Quillmarsh test inks” is a printer's profile for CMYK"),
        (
            bytes(36) + b"acsp" + bytes(200),
            "“unnamed profile” is the profile of no known device, not of a printer",
        ),
    ],
    ids=["screen", "CMYK", "unknown"],
)
def test_a_profile_of_something_else_says_so(tmp_path, profile, told):
    (tmp_path / "a.icc").write_bytes(profile)
    facts = paper_profile(tmp_path / "a.icc")
    assert facts.unfit.startswith(told)
    assert (facts.white, facts.black, facts.date) == (None, None, None)


WHOLE = GLOSS.read_bytes()


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"", "is no colour profile"),
        (bytes(500), "is no colour profile"),
        (WHOLE[:60], "is damaged"),
        (WHOLE[:60000], "is damaged"),
        (WHOLE.replace(b"A2B1", b"none").replace(b"A2B0", b"none"), "is damaged"),
        (WHOLE.replace(b"mft2", b"none"), "is damaged"),
    ],
    ids=["empty", "zeros", "header cut", "cut", "without tables", "unknown tables"],
)
def test_what_is_no_sound_profile_is_refused_by_name(tmp_path, data, told):
    (tmp_path / "a.icc").write_bytes(data)
    with pytest.raises(LabError, match=rf"^a\.icc {told}.*: (choose|copy) "):
        paper_profile(tmp_path / "a.icc")


def test_a_profile_that_is_not_there_is_refused(tmp_path):
    with pytest.raises(LabError, match=r"there is no profile .*gone\.icc that can be read"):
        paper_profile(tmp_path / "gone.icc")


def test_a_sound_grey_profile_is_no_papers(tmp_path):
    (tmp_path / "a.icc").write_bytes(imagecodecs.cms_profile("gray", gamma=2.2))
    assert "not of a printer" in paper_profile(tmp_path / "a.icc").unfit
