"""Previews are made once for all tests here: each takes a child process."""

import pytest


@pytest.fixture(scope="session")
def previews(tmp_path_factory):
    return tmp_path_factory.mktemp("previews")


@pytest.fixture(autouse=True)
def kept_previews(own_folder, previews, warm):
    (own_folder / "previews").symlink_to(previews, target_is_directory=True)
