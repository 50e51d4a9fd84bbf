"""The ink of a flattened grid seen closer by, for the small characters in it: totals of cages, numbers in circles.

What is known from the flat picture (the colour of the paper, which ink is the lattice's, shade or texture) is carried
over, so that only the sampling is new."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from ingest import channels
from recognise.evidence import Flat
from recognise.grids import closer
from recognise.pixels.frame import Colours, Grey, Raster
from recognise.pixels.ink import Ink

MARGIN = 1.25
"""In cells: as far from the grid small numbers with little arrows reach."""
NO_INK = 0.02
"""Where there is less ink than this in the flat picture, nothing is known of what it is."""


@dataclass(frozen=True, slots=True)
class Close:
    """Ink as in `recognise.pixels.ink.Ink`, at the scale of `raster`."""

    whole: Grey
    drawn: Grey
    relative: Colours
    raster: Raster


def look_closer(flat: Flat, ink: Ink) -> Close | None:
    """The ink of the grid at a larger scale; None where its page has no more to show."""
    near = closer(flat, MARGIN)
    if near is None:
        return None
    raster, size = Raster.of(near), (near.image.shape[1], near.image.shape[0])
    window = Raster.of(flat).grid_slices(round(MARGIN * flat.cell))
    kept = np.where(ink.all > NO_INK, ink.drawn / np.maximum(ink.all, NO_INK), 1).astype(np.float32)
    relative = np.minimum(near.image / _enlarged(ink.paper[window], size), 1.0).astype(np.float32)
    whole = np.ascontiguousarray(1.0 - channels.least(relative), np.float32)
    drawn = whole * np.minimum(_enlarged(kept[window], size), 1.0)
    return Close(whole, drawn.astype(np.float32), relative, raster)


def _enlarged(picture: npt.NDArray[np.float32], size: tuple[int, int]) -> npt.NDArray[np.float32]:
    return np.asarray(cv2.resize(picture, size, interpolation=cv2.INTER_LINEAR), np.float32)
