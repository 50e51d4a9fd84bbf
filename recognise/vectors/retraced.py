"""A rendered picture of a grid drawn again as paths: areas of one colour, the lines of its lattice, and every stroke by
itself, so that the reader of vectors can look at it.

Areas go on under the strokes upon them; of a lattice line and what crosses it, each is whole."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Colour, Page, VectorPath, Vectors
from recognise.evidence import Lattice
from recognise.geometry import bounds
from recognise.grids import flatten
from recognise.grids.warp import homography, project
from recognise.pixels.frame import Mask
from recognise.vectors.layers import CELL, MARGIN, UNDER, Layer, by_ink, nearest, pieces_of, without_text
from recognise.vectors.outlining import contours_of, filled_path, outlined
from recognise.vectors.place import Floats, image_to_frame
from recognise.vectors.rails import Rail, rails_of, without_rails, zone_of
from recognise.vectors.rendered import PAPER, STROKE, areas_of, is_rendered

THICK = 0.05
"""In cells: half of the thickness from which on a colour is one of areas, and not of strokes."""
OF_AREAS = 0.3
"""The part of a colour's pixels that lies so deep, if it is one of areas."""
CORNER, MOSTLY, THREE = 0.12, 0.5, 3
"""In cells, from both sides of a cell: of the four places there so many have the colour of its ground, and so much of
the cell has it."""


def retraced(page: Page, lattice: Lattice) -> tuple[Page, Lattice] | None:
    """The page with the vectors that one of its grids would be drawn with, and where these have the grid; None where no
    program rendered it."""
    x0, y0, x1, y1 = (int(v) for v in bounds(lattice.points.reshape(-1, 2)))
    if not is_rendered(page.image[max(0, y0) : y1 : 2, max(0, x0) : x1 : 2]):
        return None
    even = _evened(lattice)
    flat = flatten(page.image, even, cell=CELL, margin=MARGIN)
    areas = areas_of(flat.image, CELL)
    if areas is None:
        return None
    labels = areas.labels
    thick = [index for index in range(1, len(areas.colours)) if _is_of_areas(labels == index)]
    strokes = (labels != PAPER) & ~np.isin(labels, thick)
    under = _under(labels, strokes)
    layers = [Layer(areas.colours[index], (labels == index) | (under == index)) for index in thick]
    layers.sort(key=lambda layer: -sum(layer.colour))
    rails = rails_of(strokes, np.isin(labels, thick), flat, CELL)
    whole = without_text(without_rails(strokes, rails, CELL), even)
    own = np.where(zone_of(strokes, rails) | ~whole, STROKE, labels)
    pieces = [
        piece
        for mask in by_ink(whole, own, flat.image, areas.colours)
        for piece in pieces_of(mask, flat.image, areas.colours)
    ]
    to_frame = _to_frame(page, even)
    paths = [path for layer in layers for path in _painted(layer, even, to_frame)]
    paths += [_bar(rail, flat.image, to_frame) for rail in rails]
    for piece in pieces:
        paths += [*_grounds(piece, labels == PAPER, areas.colours[PAPER], to_frame), *outlined(piece, to_frame)]
    paths = [replace(path, order=order) for order, path in enumerate(paths)]
    return replace(page, vectors=Vectors(tuple(paths), (), ())), even


def _evened(lattice: Lattice) -> Lattice:
    """The lattice with its points where the homography of all has them: what is rendered is flat."""
    rows, columns = lattice.points.shape[:2]
    flat = np.stack(np.meshgrid(np.arange(float(columns)), np.arange(float(rows))), axis=-1)
    return Lattice(project(homography(lattice.points), flat), lattice.score)


def _is_of_areas(mask: Mask) -> bool:
    reach = 2 * round(THICK * CELL) + 1
    deep = cv2.erode(mask.astype(np.uint8), np.ones((reach, reach), np.uint8))
    return bool(np.count_nonzero(deep) >= OF_AREAS * np.count_nonzero(mask))


def _under(labels: npt.NDArray[np.int16], strokes: Mask) -> npt.NDArray[np.int16]:
    """For each pixel of a stroke the label of the area next to it; elsewhere STROKE."""
    away, places = nearest(~strokes)
    found = labels.ravel()[places]
    return np.where(strokes & (away <= UNDER * CELL), found, STROKE).astype(np.int16)


def _to_frame(page: Page, lattice: Lattice) -> Floats:
    """The homography from cells to the frame of a page."""
    matrix = homography(lattice.points)
    cells = np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]) * (lattice.columns, lattice.rows)
    corners = image_to_frame(page, project(matrix, cells))
    found = cv2.getPerspectiveTransform(cells.astype(np.float32), corners.astype(np.float32))
    return np.asarray(found, np.float64)


def _painted(layer: Layer, lattice: Lattice, to_frame: Floats) -> Iterator[VectorPath]:
    """A colour of areas: whole cells where it is their ground, whatever stands on it, and what else there is of it."""
    rest = layer.mask.copy()
    origin = round(MARGIN * CELL)
    for row in range(lattice.rows):
        for column in range(lattice.columns):
            window = tuple(slice(origin + at * CELL, origin + (at + 1) * CELL) for at in (row, column))
            if _is_ground(layer.mask[window]):
                rest[window] = False
                square = np.array([(column, row), (column + 1, row), (column + 1, row + 1), (column, row + 1)], float)
                yield filled_path([square], layer.colour, to_frame)
    yield from outlined(replace(layer, mask=rest), to_frame)


def _is_ground(cell: Mask) -> bool:
    """Whether a colour is the ground of a cell: most of it, up to three of its corners at least."""
    spots = [round(CORNER * CELL), round((1 - CORNER) * CELL)]
    return bool(cell.mean() >= MOSTLY and cell[np.ix_(spots, spots)].sum() >= THREE)


def _bar(rail: Rail, image: npt.NDArray[np.uint8], to_frame: Floats) -> VectorPath:
    """A piece of a lattice line."""
    left, top, right, bottom = rail.box
    pixels = image[top:bottom, left:right].reshape(-1, 3)
    red, green, blue = (int(v) for v in np.median(pixels, axis=0))
    corners = np.array([(left, top), (right, top), (right, bottom), (left, bottom)]) / CELL - MARGIN
    return filled_path([corners], (red, green, blue), to_frame)


def _grounds(piece: Layer, paper: Mask, colour: Colour, to_frame: Floats) -> Iterator[VectorPath]:
    """The paper within the holes of a stroke: what a ring or a frame hides of the lattice is not drawn there."""
    mask = piece.mask
    window = slice(piece.y, piece.y + mask.shape[0]), slice(piece.x, piece.x + mask.shape[1])
    outside = np.pad(mask, 1).astype(np.uint8)
    cv2.floodFill(outside, None, (0, 0), 1)
    hole = (outside[1:-1, 1:-1] == 0) & ~mask
    if hole.any() and (paper[window][hole]).mean() > 0.9:
        for contour in contours_of(cv2.dilate(hole.astype(np.uint8), np.ones((3, 3), np.uint8)) > 0, piece.x, piece.y):
            yield filled_path([contour], colour, to_frame)
