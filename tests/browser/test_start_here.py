"""The first lesson: who is reading, and a picture of their own."""

import json

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

BRING = "Bring a picture of your own"


@pytest.fixture
def about(start):
    return start.app("about_you()").show()


@pytest.fixture
def noise(tmp_path):
    """A picture of so many megabytes, which no compression makes smaller."""

    def make(name: str, megabytes: float):
        side = int((megabytes * 1e6 / 3) ** 0.5)
        pixels = np.random.default_rng(1).integers(0, 256, (side, side, 3), dtype=np.uint8)
        Image.fromarray(pixels).save(tmp_path / name)
        assert (tmp_path / name).stat().st_size >= megabytes * 0.99e6
        return tmp_path / name

    return make


def bring(about, file) -> None:
    with about.root.page.expect_file_chooser() as chooser:
        about.root.get_by_role("button", name=BRING).click()
    chooser.value.set_files(file)


def kept(lab) -> dict:
    return json.loads((lab.home / "reader.json").read_text(encoding="utf-8"))


def test_the_room_is_shown_on_cards(start):
    cards = start.app("print_room()").show().root.locator(".labkit-card")
    expect(cards).to_have_count(5)
    border = cards.first.evaluate("card => getComputedStyle(card).borderTopStyle")
    assert border == "solid"


def test_a_name_typed_is_kept_and_the_folder_said(start, about, lab):
    start.call_me("Ada Brook")
    expect(about.message).to_contain_text(f"Kept in {lab.home}")
    expect(about.message).to_have_attribute("role", "status")
    assert kept(lab)["name"] == "Ada Brook"


@pytest.mark.parametrize(("name", "megabytes"), [("small.png", 0.3), ("large.png", 15)])
def test_a_picture_brought_is_kept_and_chosen(about, lab, noise, name, megabytes):
    """The larger one is beyond what a notebook's server takes in one message: 10 MiB."""
    sent = noise(name, megabytes)
    bring(about, sent)
    expect(about.message).to_contain_text(f"{name}: PNG", timeout=30_000)
    assert (lab.home / "uploads" / name).read_bytes() == sent.read_bytes()
    assert kept(lab)["picture"] == str(lab.home / "uploads" / name)
    expect(about.root.get_by_role("progressbar")).to_be_hidden()
    expect(about.root.get_by_role("button", name=BRING)).to_be_focused()
    chosen = about.menu("picture")
    told = chosen.evaluate("menu => menu.selectedOptions[0].label")
    assert told.replace("\xa0", " ") == f"yours: {name}"


def test_what_is_no_picture_is_refused_in_words(about, lab, tmp_path):
    (tmp_path / "notes.png").write_text("no picture")
    bring(about, tmp_path / "notes.png")
    expect(about.message).to_contain_text("notes.png")
    expect(about.message).not_to_contain_text("Kept in")
    assert not (lab.home / "uploads" / "notes.png").exists()


def test_how_much_has_arrived_is_shown_while_it_comes(about, noise):
    """The bar is seen before the kernel has answered, and named."""
    about.root.evaluate(
        """app => {
            const bar = app.querySelector("progress");
            new MutationObserver(() => bar.hidden || (app.dataset.shown = bar.max))
                .observe(bar, { attributes: true });
        }"""
    )
    sent = noise("arriving.png", 9)
    bring(about, sent)
    expect(about.message).to_contain_text("arriving.png: PNG", timeout=30_000)
    assert int(about.root.evaluate("app => app.dataset.shown")) == sent.stat().st_size
