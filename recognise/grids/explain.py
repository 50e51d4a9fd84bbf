"""Pictures of what was found."""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np

from ingest.page import Image
from recognise.evidence import Lattice
from recognise.grids.find import PUZZLE

SURE, UNSURE = (220, 0, 90), (240, 150, 0)
"""Ink of the overlay for grids taken for puzzles, and for those that were not."""


def explain_grids(image: Image, lattices: Sequence[Lattice]) -> Image:
    """The page (RGB) with every lattice drawn over it and its size and score written at its top left corner."""
    picture = image.copy()
    thin = max(1, round(max(image.shape) / 1500))
    for lattice in lattices:
        colour = SURE if lattice.score >= PUZZLE else UNSURE
        lines = [*lattice.points, *lattice.points.transpose(1, 0, 2)]
        paths = [np.rint(line).astype(np.int32).reshape(-1, 1, 2) for line in lines]
        cv2.polylines(picture, paths, False, colour, thin, cv2.LINE_AA)
        x, y = (int(value) for value in lattice.points[0, 0])
        label = f"{lattice.rows} x {lattice.columns}  {lattice.score:.2f}"
        cv2.putText(picture, label, (x, max(y - 4 * thin, 12)), cv2.FONT_HERSHEY_SIMPLEX, 0.5 * thin, colour, thin)
    return picture
