"""Finished print files for the tests: every pixel another, so that a shift by one would show."""

from pathlib import Path

import numpy as np
import tifffile

from tests.files.make import srgb


def finished(
    folder: Path,
    name: str,
    size: tuple[int, int],
    *,
    ppi: int = 50,
    seed: int = 0,
    profile: bytes | None = None,
    depth: int = 8,
) -> Path:
    """A TIFF as ``prepare`` makes them, of ``size`` in inches at ``ppi``."""
    shape = (size[1] * ppi, size[0] * ppi, 3)
    values = np.random.default_rng(seed).integers(0, 2**depth - 1, shape)
    file = folder / f"{name}.tif"
    tifffile.imwrite(
        file,
        values.astype(f"u{depth // 8}"),
        photometric="rgb",
        compression="lzw",
        predictor=True,
        rowsperstrip=7,
        resolution=(ppi, ppi),
        resolutionunit="inch",
        iccprofile=profile or srgb(),
        metadata=None,
    )
    return file
