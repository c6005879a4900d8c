"""Every packing gives back what was put in, and knows what was never packed."""

import zlib

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.files.writing.packing import PACKINGS, differenced

each_packing = pytest.mark.parametrize("name", PACKINGS)


@each_packing
@given(
    shape=st.tuples(st.integers(1, 9), st.integers(1, 30)),
    depth=st.sampled_from([np.uint8, np.uint16]),
    seed=st.integers(0, 2**16),
)
def test_there_and_back(name, shape, depth, seed):
    rows = np.random.default_rng(seed).integers(0, np.iinfo(depth).max, (*shape, 3), depth, True)
    packed = PACKINGS[name]
    raw = differenced(rows)
    assert packed.decode(packed.encode(raw), raw.nbytes) == raw.tobytes()
    assert np.array_equal(np.cumsum(raw, 1, dtype=depth), rows)


@each_packing
def test_noise_grows_no_more_than_is_reckoned_with(name):
    rows = np.random.default_rng(1).integers(0, 65536, (40, 3000, 3), np.uint16)
    packed = PACKINGS[name]
    assert len(packed.encode(differenced(rows))) <= rows.nbytes * packed.worst


@pytest.mark.parametrize("stored", [b"", b"\xff" * 40, zlib.compress(bytes(200))])
def test_what_is_no_strip_of_deflate_is_told(stored):
    """Nothing, no zlib stream, and one that holds more than a strip does."""
    with pytest.raises(ValueError, match=r"^$"):
        PACKINGS["Deflate"].decode(stored, 100)


def test_deflate_is_what_zlib_reads():
    """Compression 8 holds a zlib stream (RFC 1950)."""
    rows = np.arange(3000, dtype=np.uint16).reshape(10, 100, 3)
    packed = PACKINGS["Deflate"]
    assert zlib.decompress(packed.encode(differenced(rows))) == differenced(rows).tobytes()
