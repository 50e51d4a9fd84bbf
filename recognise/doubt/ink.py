"""Explain all the ink: what stands on the flattened grid that the puzzle as understood does not account for.

It looks at the ink once more, whatever the readers made of it: the lattice and everything that an item claims are taken
away, and whatever is left is a place that a person must look at. Along a side on which outside clues stand, the ring in
which they stand is looked at too.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import cv2
import numpy as np
import numpy.typing as npt

from ingest import channels
from ingest.page import Box, Colour
from recognise.doubt.pale import pale_characters
from recognise.doubt.plates import without_plates
from recognise.draft import Polygon
from recognise.evidence import Flat, Shape, Tint, Trace
from recognise.geometry import band, bounds, disc_polygon, filled, within
from recognise.pixels.frame import Raster
from recognise.pixels.glyphs import CharacterReader
from recognise.pixels.printed import printed_things, rectangle_of
from recognise.pixels.residual import UNDER_FRAME, along_frame
from recognise.pixels.sides import Sides
from recognise.pixels.standout import Kind

Mask = npt.NDArray[np.uint8]
Grey = npt.NDArray[np.float32]

LEAST_EXTENT = 0.08
"""In cells: what is left of an antialiased edge is smaller than this in both directions."""
CLAIM = 0.06
"""In cells: how far ink may stand outside the polygon that claims it (blur and rounding)."""
BORDER = 0.05
"""In cells: ink nearer than this to a lattice line is a rest of the line, unless it goes on into the cell."""
ROUNDED = 0.005
"""In cells: a third of a pixel."""
BLUR = 0.025
"""In cells: how far a line's ink reaches beyond it in the picture of a PDF's page."""
ROUNDING = 8
"""Grey levels by which a picture of a PDF's page shows a colour otherwise than the file says."""
OPEN = 0.48
"""A pattern that paints no more of its cell leaves most of it paper."""
ONE_COLOUR = 0.5
"""The part of a line that shows its colour; of a gradient less does, and taking that out would leave the rest as a
mark upon it."""
NEARLY_ALL = 0.85
"""The part of a translucent line upon its own disc that shows one colour: only its rim may not."""
CORNERS = 4
"""Of the outline of an area at least."""
FIGURE, LARGEST_CLUE = 0.75, 0.6
"""As a part of its height, the room of a figure; and in cells the height of a clue: with a ring it is more."""
SLIT = 0.12
"""In cells: a gap between a lattice line and what is claimed, or between two claims, that is narrower than this holds
the blur of both and no mark."""


def unexplained_ink(
    level: Grey,
    floor: float,
    flat: Flat,
    claimed: Sequence[Polygon],
    characters: Sequence[Box] = (),
    lattice: npt.NDArray[np.bool_] | None = None,
    reader: CharacterReader | None = None,
    spots: Sequence[Kind] = (),
) -> list[Box]:
    """Boxes, in cells, of ink that no polygon in `claimed` explains. `level` is ink from 0 to 1 in the pixels of
    `flat` without the lattice's lines and shade, `floor` what paper and noise reach at least, `lattice` the pixels that
    its lines cover, which are more in a blurred picture.

    The ink is held against the paper of the page itself (recognise/pixels/standout.py), and, where they are given,
    against the `characters` that are printed on it: what has not their sharp sides is no print. What is too faint for
    that counts where the `reader` sees a digit in it, or where it looks like one of the page's own `spots`."""
    taken = _grown(filled(flat, claimed), CLAIM, flat)
    looked_at = _looked_at(flat, claimed)
    raster = Raster.of(flat)
    if lattice is not None:
        level = without_plates(level, _rings(flat, claimed), raster)
    sides = Sides(level, looked_at & (taken == 0), raster, characters, flat.screened)
    free = looked_at & (_without_slits(taken, flat, lattice) == 0)
    frame = np.zeros_like(free) if lattice is None else along_frame(raster, free.shape) & lattice
    found: list[Box] = []
    for (y, x), thing in printed_things(level, free, raster, floor, sides, spots):
        under_frame = frame[y : y + thing.shape[0], x : x + thing.shape[1]][thing]
        if under_frame.mean() > UNDER_FRAME:
            continue
        rectangle = rectangle_of((y, x), thing)
        if max(rectangle[2:]) >= LEAST_EXTENT * flat.cell:
            found.append(raster.box(*rectangle))
    if lattice is not None:
        found += pale_characters(level, free, raster, floor, sides, reader)
    return list(_merged(found if lattice is None else _without_rests(found)))


def _without_rests(boxes: Sequence[Box]) -> list[Box]:
    """Boxes without the rests of lattice lines that lean or bow: thin ink along one side of a line. What lies along
    both sides is a bar on it."""
    sides = [_side_of_line(box) for box in boxes]

    def is_rest(index: int) -> bool:
        side = sides[index]
        if side is None:
            return False
        axis, line, above = side
        low, high = boxes[index][1 - axis], boxes[index][3 - axis]
        beyond = (box for box, other in zip(boxes, sides, strict=True) if other == (axis, line, not above))
        return not any(box[1 - axis] < high and low < box[3 - axis] for box in beyond)

    return [box for index, box in enumerate(boxes) if not is_rest(index)]


def _side_of_line(box: Box) -> tuple[int, int, bool] | None:
    """Along which line (axis 0 for x, its number) a box lies, nowhere farther from it than BORDER, and whether on its
    lower side; None where it lies along none."""
    for axis in (0, 1):
        low, high = box[axis], box[axis + 2]
        line = round((low + high) / 2)
        if max(abs(low - line), abs(high - line)) <= BORDER + ROUNDED and (low >= line or high <= line):
            return axis, line, high <= line
    return None


def without_ground(
    drawn: Grey, flat: Flat, tints: Sequence[Tint], rails: Sequence[Box], grounds: Iterable[Colour] = ()
) -> Grey:
    """The ink without what a PDF paints under all marks: what shows the very colour of a tint in its cell, for bits of
    white under marks leave odd pieces of it; beside the grid, what shows the very colour of an area on which all of it
    stands (`grounds`); and `rails`, what its lattice lines ink, for a picture's lattice is taken away as single solid
    lines, and they may be double or dotted."""
    left = drawn.copy()
    for x0, y0, x1, y1 in rails:
        _fill(left, flat, (x0 - BLUR, y0 - BLUR, x1 + BLUR, y1 + BLUR), 0)
    for tint in tints:
        x0, y0, x1, y1 = (
            round((v + flat.margin) * flat.cell)
            for v in (tint.cell.column - 1, tint.cell.row - 1, tint.cell.column, tint.cell.row)
        )
        shown = flat.image[y0:y1, x0:x1]
        own = _off(shown, tint.colour) <= ROUNDING
        if tint.how == "vector" and tint.share <= OPEN:
            own |= _is_between(shown, tint.colour)
        left[y0:y1, x0:x1][own] = 0.0
    beside = np.ones(left.shape, np.bool_)
    edge = round(flat.margin * flat.cell)
    beside[edge : left.shape[0] - edge, edge : left.shape[1] - edge] = False
    for colour in grounds:
        off = _off(flat.image, colour)
        left[beside & (off <= ROUNDING)] = 0.0
    return left


def on_strips(ink: Grey, flat: Flat, strips: Iterable[tuple[Box, Colour]]) -> Grey:
    """The ink of a PDF's page (0 to 1) with that of `strips` beside its grid, boxes in cells of one colour each, as it
    is on them: what shows another colour, light figures on a dark ground too. Along their rims there is none."""
    left = ink.copy()
    for (x0, y0, x1, y1), colour in strips:
        rows, columns = (
            slice(max(0, round((low + flat.margin) * flat.cell)), max(0, round((high + flat.margin) * flat.cell)))
            for low, high in ((y0 - BLUR, y1 + BLUR), (x0 - BLUR, x1 + BLUR))
        )
        on_it = _off(flat.image[rows, columns], colour).astype(np.float32) / 255
        on_it[on_it <= ROUNDING / 255] = 0.0
        rim = 2 * max(1, round(BLUR * flat.cell))
        if min(on_it.shape) > 2 * rim:
            left[rows, columns] = 0.0
            left[rows, columns][rim:-rim, rim:-rim] = on_it[rim:-rim, rim:-rim]
    return left


def _is_between(pixels: npt.NDArray[np.uint8], colour: Colour) -> npt.NDArray[np.bool_]:
    """Which pixels of a cell (h x w x 3) show a mixture of its paper, which most of them show, and a colour, as the
    rims of the fine strokes of a pattern do, and all of strokes that are thinner than a pixel."""
    paper = np.median(pixels.reshape(-1, 3), axis=0)
    way = np.asarray(colour, np.float64) - paper
    apart = float(way @ way)
    if apart <= ROUNDING**2:
        return np.zeros(pixels.shape[:2], np.bool_)
    share = np.clip((pixels - paper) @ way / apart, 0.0, 1.0)
    rest: npt.NDArray[np.float64] = np.abs(pixels - paper - share[..., None] * way).max(axis=-1)
    return np.asarray(rest <= ROUNDING, np.bool_)


def without_own(drawn: Grey, flat: Flat, traces: Iterable[Trace]) -> Grey:
    """The ink without what shows the very colour of a line that a PDF draws, within its outline: where a circle hides
    part of it, that is no other ink than the rest."""
    left = drawn.copy()
    for trace in traces:
        _take_own(left, flat, trace.where, trace.colour)
        for overlap, beside in _overlaps(trace, flat):
            shown, tone = flat.image[overlap].astype(np.int16), np.median(flat.image[overlap], axis=0)
            twice = np.abs(shown - tone).max(axis=-1) <= ROUNDING
            differs = not beside.any() or np.abs(np.median(flat.image[beside], axis=0) - tone).max() > ROUNDING
            if differs and twice.mean() >= NEARLY_ALL:
                left[overlap] *= ~twice
    return left


def without_areas(drawn: Grey, flat: Flat, shapes: Iterable[Shape]) -> Grey:
    """The same without what shows the very colour of an area that a PDF draws, such as the square bulb of a tube: what
    is no tube beside one is no other ink."""
    left = drawn.copy()
    for shape in shapes:
        if shape.how == "vector" and shape.filled and len(shape.where) >= CORNERS:
            _take_own(left, flat, shape.where, shape.colour)
    return left


def _take_own(left: Grey, flat: Flat, outline: Polygon, colour: Colour) -> None:
    """Blank the pixels within an outline that show its colour, if most of them do."""
    inside = filled(flat, [outline]) > 0
    own = _off(flat.image[inside], colour) <= ROUNDING
    if own.size and own.mean() >= ONE_COLOUR:
        left[inside] *= ~own


def _off(pixels: npt.NDArray[np.uint8], colour: Colour) -> npt.NDArray[np.int16]:
    """How far each pixel is from a colour, in the channel in which it is farthest."""
    return channels.most(np.abs(pixels.astype(np.int16) - np.asarray(colour, np.int16)))


def _overlaps(trace: Trace, flat: Flat) -> Iterator[tuple[npt.NDArray[np.bool_], npt.NDArray[np.bool_]]]:
    """Where a line lies over its own disc, and the rest of that: what is translucent shows a colour of its own there,
    and all of one."""
    half = trace.width / 2
    bands = [band(trace.nodes[a].centre, trace.nodes[b].centre, half) for a, b in trace.links]
    ends = [disc_polygon(trace.nodes[node].centre, half) for node, _ in trace.discs]
    line = filled(flat, [*bands, *ends]) > 0
    for node, radius in trace.discs:
        disc = filled(flat, [disc_polygon(trace.nodes[node].centre, radius)]) > 0
        if (line & disc).any():
            yield line & disc, disc & ~line


def _looked_at(flat: Flat, claimed: Sequence[Polygon]) -> npt.NDArray[np.bool_]:
    """The grid, and the rings in which clues stand."""
    looked_at = np.zeros(flat.image.shape[:2], np.uint8)
    _fill(looked_at, flat, (BORDER, BORDER, flat.columns - BORDER, flat.rows - BORDER), 1)
    for ring in _rings(flat, claimed):
        _fill(looked_at, flat, ring, 1)
    return looked_at.view(np.bool_)


def _grown(mask: Mask, by: float, flat: Flat) -> Mask:
    reach = max(1, round(by * flat.cell))
    return np.asarray(cv2.dilate(mask, np.ones((2 * reach + 1, 2 * reach + 1), np.uint8)), np.uint8)


def _without_slits(taken: Mask, flat: Flat, lattice: npt.NDArray[np.bool_] | None) -> Mask:
    """What is claimed, with the slits between claims and lattice lines."""
    lines = np.zeros_like(taken) if lattice is None else lattice.astype(np.uint8)
    size = 2 * max(1, round(SLIT / 2 * flat.cell)) + 1
    for column in range(flat.columns + 1):
        _fill(lines, flat, (column - BORDER, 0, column + BORDER, flat.rows), 1)
    for row in range(flat.rows + 1):
        _fill(lines, flat, (0, row - BORDER, flat.columns, row + BORDER), 1)
    # Closed along each axis by itself: a slit is open at its ends, the corner between two claims is none.
    both = taken | lines
    closed = [cv2.morphologyEx(both, cv2.MORPH_CLOSE, np.ones(shape, np.uint8)) for shape in ((size, 1), (1, size))]
    return np.asarray(taken | np.where(lines > 0, 0, closed[0] | closed[1]), np.uint8)


def _rings(flat: Flat, claimed: Sequence[Polygon]) -> Iterator[Box]:
    """The strip along each side in which claimed clues stand, as deep as they reach, and beside a clue to the left or
    right of the grid as much as another figure of it takes up."""
    boxes = [bounds(polygon) for polygon in claimed]
    above = [b for b in boxes if b[3] <= 0]
    below = [b for b in boxes if b[1] >= flat.rows]
    left = [b for b in boxes if b[2] <= 0]
    right = [b for b in boxes if b[0] >= flat.columns]
    if above:
        yield 0, min(b[1] for b in above), flat.columns, max(b[3] for b in above)
    if below:
        yield 0, min(b[1] for b in below), flat.columns, max(b[3] for b in below)
    if left:
        yield min(b[0] for b in left), 0, max(b[2] for b in left), flat.rows
        yield from ((b[0] - _figure(b), b[1], min(b[2] + _figure(b), -BORDER), b[3]) for b in left)
    if right:
        yield min(b[0] for b in right), 0, max(b[2] for b in right), flat.rows
        yield from ((max(b[0] - _figure(b), flat.columns + BORDER), b[1], b[2] + _figure(b), b[3]) for b in right)


def _figure(clue: Box) -> float:
    """How much room the next figure of a clue takes up."""
    return FIGURE * min(clue[3] - clue[1], LARGEST_CLUE)


def _merged(boxes: Sequence[Box]) -> Iterator[Box]:
    """Boxes without those that lie within another."""
    for index, box in enumerate(boxes):
        if not any(within(box, other) for n, other in enumerate(boxes) if n != index and (n < index or other != box)):
            yield box


def _fill(mask: Mask | Grey, flat: Flat, box: Box, value: int) -> None:
    x0, y0, x1, y1 = (max(0, round((v + flat.margin) * flat.cell)) for v in box)
    mask[y0:y1, x0:x1] = value
