"""Where the vectors of a page lie on one grid: from page frame units to cells."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box, Frame, Page
from recognise.evidence import Lattice

Floats = npt.NDArray[np.float64]

UNEVEN = 0.01
"""In cells: lines farther than this from their even places are those of a table; rounding leaves less."""
CROOKED = 0.06
"""In cells: how far lattice points may lie off a flat grid; what a PDF draws is flat to a hundredth of that."""


@dataclass(frozen=True, slots=True)
class Placement:
    """A flat grid on a page. `homography` maps frame points to evenly spaced cells; `across` and `down` say where
    there the lattice lines run, for rows and columns of a table may be unequal by the width of its borders. `cell` is
    the side of a cell in frame units."""

    rows: int
    columns: int
    homography: Floats
    cell: float
    across: Floats | None = None
    down: Floats | None = None

    @property
    def uneven(self) -> bool:
        """Whether the lattice lines are not evenly spaced, as those of a table are not."""
        lines = [each for each in (self.across, self.down) if each is not None]
        return any(np.abs(each - np.arange(len(each))).max() > UNEVEN for each in lines)

    def to_cells(self, points: Floats) -> Floats:
        """n x 2 points of the frame as n x 2 points in cells."""
        mapped: Floats = cv2.perspectiveTransform(points.reshape(-1, 1, 2), self.homography).reshape(-1, 2)
        for axis, lines in enumerate((self.across, self.down)):
            if lines is not None:
                mapped[:, axis] = _between(mapped[:, axis], lines)
        return mapped

    def box(self, box: Box) -> Box:
        """The upright box, in cells, around a box of the frame."""
        (found,) = self.boxes([box])
        return found

    def boxes(self, boxes: Sequence[Box]) -> list[Box]:
        """The same of several."""
        if not boxes:
            return []
        sides = np.array(boxes, dtype=np.float64)
        corners = self.to_cells(sides[:, [0, 1, 2, 1, 2, 3, 0, 3]].reshape(-1, 2)).reshape(-1, 4, 2)
        found = np.concatenate([corners.min(axis=1), corners.max(axis=1)], axis=1).tolist()
        return [(left, top, right, bottom) for left, top, right, bottom in found]


def _between(values: Floats, lines: Floats) -> Floats:
    """Coordinates counted by lines: on the k-th line k; evenly between lines and beyond them."""
    inside = np.interp(values, lines, np.arange(len(lines), dtype=np.float64))
    before, behind = np.minimum(values - lines[0], 0.0), np.maximum(values - lines[-1], 0.0)
    counted: Floats = inside + before + behind
    return counted


def place(page: Page, lattice: Lattice, drawn: bool = False) -> Placement | None:
    """The placement of a lattice; None where it is too crooked to be drawn by a PDF (it is a picture's). `drawn` says
    that its points are those of drawn lines, and so exact."""
    rows, columns = lattice.rows, lattice.columns
    on_page = image_to_frame(page, lattice.points.reshape(-1, 2))
    cells = np.stack(np.meshgrid(np.arange(columns + 1.0), np.arange(rows + 1.0)), axis=-1).reshape(-1, 2)
    homography, _ = cv2.findHomography(on_page, cells)
    if homography is None:
        return None
    across = np.linalg.norm(on_page[1] - on_page[0])
    down = np.linalg.norm(on_page[columns + 1] - on_page[0])
    placement = Placement(rows, columns, homography, float(np.sqrt(across * down)))
    mapped = placement.to_cells(on_page)
    if not drawn:
        return placement if np.abs(mapped - cells).max() <= CROOKED else None
    by_point = mapped.reshape(rows + 1, columns + 1, 2)
    return replace(placement, across=by_point[..., 0].mean(axis=0), down=by_point[..., 1].mean(axis=1))


def image_to_frame(page: Page, points: Floats) -> Floats:
    """n x 2 pixels of the page's upright image as points of its frame."""
    u, v = (points / page.scale).T
    width, height = page.frame.width, page.frame.height
    x, y = ((u, v), (v, height - u), (width - u, height - v), (width - v, u))[page.turned % 4]
    return np.stack([x, y], axis=-1)


def frame_to_image(page: Page, points: Floats) -> Floats:
    """n x 2 points of the frame as pixels of the page's upright image."""
    return upright(page.frame, page.turned, points) * page.scale


def upright(frame: Frame, turned: int, points: Floats) -> Floats:
    """n x 2 points of a frame after `turned` quarter turns clockwise, still in frame units."""
    x, y = points.T
    u, v = ((x, y), (frame.height - y, x), (frame.width - x, frame.height - y), (y, frame.width - x))[turned % 4]
    return np.stack([u, v], axis=-1)
