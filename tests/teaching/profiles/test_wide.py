"""The invented wide RGB: a sound profile, wider than sRGB, grey staying grey."""

import numpy as np

from labkit.files.header.profile import sound_profile
from labkit.files.pixels.conversion import serves, srgb_profile
from labkit.files.pixels.transform import lab_of, transform
from labkit.teaching.profiles.wide import GAMMA, NAME, PRIMARIES, wide_profile


def test_it_is_a_profile_of_a_screens_kind_for_rgb():
    """ICC.1: class at byte 12, colour space at 16, connection space at 20, “acsp” at 36."""
    data = wide_profile()
    assert int.from_bytes(data[:4]) == len(data)
    assert (data[12:16], data[16:20], data[20:24]) == (b"mntr", b"RGB ", b"XYZ ")
    assert serves(data, "RGB")
    assert sound_profile(data)[1:] == (NAME, "")


def test_white_and_greys_are_neutral_and_follow_the_power():
    values = np.array([[[1, 1, 1], [0.5, 0.5, 0.5], [0.2, 0.2, 0.2]]], np.float32)
    lab = lab_of(values, wide_profile())[0]
    assert np.abs(lab[:, 1:]).max() < 0.05
    light = np.array([1, 0.5, 0.2]) ** (round(GAMMA * 256) / 256)
    wanted = 116 * np.cbrt(light) - 16  # CIE 15
    assert np.abs(lab[:, 0] - wanted).max() < 0.05


def test_its_primaries_are_where_they_are_said_to_be():
    from labkit.files.pixels.lab import xyz_of_lab

    xyz = xyz_of_lab(lab_of(np.eye(3, dtype=np.float32)[None], wide_profile()))[0]
    assert np.abs(xyz[:, :2] / xyz.sum(1, keepdims=True) - PRIMARIES).max() < 1e-3


def test_all_of_srgb_lies_inside_it():
    steps = np.linspace(0, 1, 9, dtype=np.float32)
    colours = np.stack(np.meshgrid(steps, steps, steps), -1).reshape(1, -1, 3)
    there = transform(colours, srgb_profile(), wide_profile())
    assert there.min() > -1e-3
    assert there.max() < 1 + 1e-3
