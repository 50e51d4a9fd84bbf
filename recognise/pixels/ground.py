"""The ground: the colour of the paper at every pixel, and the cells that carry a tint.

A tint begins and ends on lattice lines; light does not. So the tint of a cell is found from the steps of colour across
the lattice lines alone, integrated over the grid (the idea of retinex: E. H. Land and J. J. McCann, Lightness and
Retinex Theory, J. Opt. Soc. Am. 61, 1971), and what is left is light and paper, which change smoothly.
"""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from recognise.evidence import Flat, Tint
from recognise.pixels.frame import Colours, Raster
from recognise.pixels.quilt import even_steps, is_quilt, of_one_colour_each, on_paper, quilt_boxes
from schema.cells import Cell

Floats = npt.NDArray[np.float64]

BLUR = 0.02
"""Smoothing in cells before colours are taken: evens out halftone dots and noise, keeps lattice lines apart."""
STRIP = (0.06, 0.18)
"""How far from a lattice line, in cells, the ground beside it is looked at: past the thickest frame, before the
middle of the cell where digits and tubes are."""
BRIGHT = (0.7, 0.92)
"""The part of a strip's pixels, by rank of brightness, that is ground: tubes and digits cover the darker rest, and the
very brightest are noise."""
STEP_FLOOR = 0.02
"""The smallest step of log colour that can be a tint: a 2 % grey is as pale as print gets."""
STEP_NOISE = 5.0
"""A step counts above this many times the typical one of lattice lines that have none."""
QUIET = 0.25
"""The part of the lattice lines that surely has no step: where tints show the boxes, nearly half of them have one."""
QUARTILE_TO_MEDIAN = 2.12
"""By how much the median size of noise is larger than its lower quartile, where it is normal."""
PALE = 0.035
"""The palest tint in log colour. Half-way between none and the palest grey in print, 5 to 6 %."""
PAGE_EDGE = 0.12
"""Light changes less than this (log colour) from one cell of paper to the next; at the page's edge it does not."""
UNSURE = 0.5
"""What a step counts that differs between the whole edge and its ends: a mark or a white plate stands there."""
SOLVES = 6
"""Rounds of reweighting; the sum of absolute misfits settles in four or five."""


@dataclass(frozen=True, slots=True)
class Ground:
    """`colour` is the ground at each pixel (height x width x 3, 0 to 255, RGB), `tints` the coloured cells with colours
    as on white paper; `is_quilt` where these are what shows the boxes (recognise/pixels/quilt.py)."""

    colour: Colours
    tints: tuple[Tint, ...]
    is_quilt: bool = False


@dataclass(frozen=True, slots=True)
class Steps:
    """Steps of log colour between neighbours, as the `whole` of their shared edge shows them and its `ends`."""

    whole: Floats
    ends: Floats

    def told(self, *, of_noise: bool) -> tuple[Floats, Floats]:
        """The steps, the smaller of both, and how much each counts; with those that noise may have made, or without."""
        whole, ends = (each if of_noise else _significant(each) for each in (self.whole, self.ends))
        smaller = np.abs(whole).max(axis=-1) <= np.abs(ends).max(axis=-1)
        alike = np.abs(whole - ends).max(axis=-1) <= STEP_FLOOR
        return np.where(smaller[..., None], whole, ends), np.where(alike, 1.0, UNSURE)


def measure_ground(flat: Flat) -> Ground:
    """The ground of a flattened grid, with its tints and its light."""
    raster = Raster.of(flat)
    smooth = cv2.GaussianBlur(flat.image, (0, 0), BLUR * flat.cell)
    ground, inner = _cell_ground(smooth, raster)
    right, down = (_steps(cells, raster.cell) for cells in _both_ways(_blocks(smooth, raster)))
    quilt = _quilt_levels(down, right, ground, inner, raster)
    levels = quilt
    if levels is None:
        levels = _checked(_tint_levels(down, right, raster), ground[inner], _corner_ground(smooth, raster))
    light = _light(ground, inner, levels, raster, smooth.shape)
    inside = np.repeat(np.repeat(np.exp(levels), raster.cell, axis=0), raster.cell, axis=1)
    light[raster.grid_slices()] *= inside.astype(np.float32)
    return Ground(np.clip(light, 1, 255), _tints(levels), quilt is not None)


def bright(pixels: npt.NDArray[np.uint8]) -> Floats:
    """Log colour of the ground among `pixels` (... x n x 3): the mean over the bright part by rank; shape ... x 3."""
    order = np.argsort(pixels.sum(axis=-1, dtype=np.int32), axis=-1)
    first, last = (int(share * pixels.shape[-2]) for share in BRIGHT)
    chosen = np.take_along_axis(pixels, order[..., first:last, None], axis=-2)
    return np.asarray(np.log(np.maximum(chosen.mean(axis=-2), 1.0)), np.float64)


def _blocks(image: npt.NDArray[np.uint8], raster: Raster) -> npt.NDArray[np.uint8]:
    """The cells of the grid as an array rows x columns x cell x cell x 3."""
    inside = image[raster.grid_slices()]
    parts = inside.reshape(raster.rows, raster.cell, raster.columns, raster.cell, 3)
    return parts.swapaxes(1, 2)


def _tint_levels(down: Steps, right: Steps, raster: Raster) -> Floats:
    """Log colour of each cell's tint, 0 for none; rows x columns x 3."""
    (lower, lower_counts), (next_to, counts) = (steps.told(of_noise=False) for steps in (down, right))
    return _from_paper(_integrate((lower.swapaxes(0, 1), next_to), (lower_counts.T, counts), raster))


def _quilt_levels(
    down: Steps, right: Steps, ground: Floats, inner: tuple[slice, slice], raster: Raster
) -> Floats | None:
    """The same where the grid is a quilt, None elsewhere."""
    lower, next_to = (steps.told(of_noise=True)[0] for steps in (down, right))
    lower = lower.swapaxes(0, 1)
    boxes = quilt_boxes(lower, next_to)
    if boxes is None or boxes.cells is None:
        return None
    counts = np.ones(lower.shape[:2]), np.ones(next_to.shape[:2])
    levels = _integrate(even_steps(boxes.cells, lower, next_to), counts, raster)
    levels = on_paper(of_one_colour_each(boxes.cells, levels), ground, inner)
    return levels if is_quilt(boxes, levels) else None


def _both_ways(cells: npt.NDArray[np.uint8]) -> tuple[npt.NDArray[np.uint8], npt.NDArray[np.uint8]]:
    """The cells as they stand, and with rows for columns."""
    return cells, cells.transpose(1, 0, 3, 2, 4)


def _steps(cells: npt.NDArray[np.uint8], size: int) -> Steps:
    """Steps of log colour from each cell to the next along axis 1, of an array n x m x size x size x 3. Looked at along
    the whole shared edge and near its two ends: a tint shows in both, a mark in the cell not in both."""
    near, far = (round(share * size) for share in STRIP)
    wide = far - near
    ends = np.r_[near:far, size - far : size - near]
    whole = np.arange(near, size - near)
    steps = []
    for along in (whole, ends):
        before, further_before = (_strip(cells[:, :-1], along, size - far - off, wide) for off in (0, wide))
        after, further_after = (_strip(cells[:, 1:], along, near + off, wide) for off in (0, wide))
        # Light changes across the line as it does on both sides of it: a shadow's edge is no tint's.
        light = (before - further_before + further_after - after) * (2 * near + wide) / (2 * wide)
        steps.append(_less(after - before, light))
    return Steps(*steps)


def _strip(cells: npt.NDArray[np.uint8], along: npt.NDArray[np.int64], first: int, wide: int) -> Floats:
    """Log colour of the ground in a strip of each cell, `wide` pixels from `first` on."""
    part = cells[:, :, along, first : first + wide]
    return bright(part.reshape(*part.shape[:2], -1, 3))


def _less(steps: Floats, light: Floats) -> Floats:
    """Steps less what light explains of them; light never makes a step larger."""
    left = np.maximum(np.abs(steps) - np.maximum(np.sign(steps) * light, 0.0), 0.0)
    return np.asarray(np.sign(steps) * left, np.float64)


def _significant(steps: Floats) -> Floats:
    """Steps with those set to 0 that noise or light may have made."""
    size = np.abs(steps).max(axis=-1)
    if size.size == 0:
        return steps
    typical = min(float(np.median(size)), QUARTILE_TO_MEDIAN * float(np.quantile(size, QUIET)))
    bound = max(STEP_FLOOR, STEP_NOISE * min(typical, STEP_FLOOR))
    return np.where((size > bound)[..., None], steps, 0.0)


def _integrate(steps_of: tuple[Floats, Floats], counts_of: tuple[Floats, Floats], raster: Raster) -> Floats:
    """Levels whose differences fit the steps (down, then right) with the least sum of absolute misfits, each as much
    as it counts, by reweighted least squares."""
    down, right = steps_of
    count = raster.rows * raster.columns
    if not down.any() and not right.any():
        return np.zeros((raster.rows, raster.columns, 3))
    index = np.arange(count).reshape(raster.rows, raster.columns)
    first = np.concatenate([index[:-1].ravel(), index[:, :-1].ravel()])
    second = np.concatenate([index[1:].ravel(), index[:, 1:].ravel()])
    steps = np.concatenate([down.reshape(-1, 3), right.reshape(-1, 3)])
    counts = np.concatenate([each.ravel() for each in counts_of])
    weights = counts
    levels: Floats = np.zeros((count, 3))
    for _ in range(SOLVES):
        matrix = np.zeros((count, count))
        np.add.at(matrix, (first, first), weights)
        np.add.at(matrix, (second, second), weights)
        np.add.at(matrix, (first, second), -weights)
        np.add.at(matrix, (second, first), -weights)
        target = np.zeros((count, 3))
        np.add.at(target, second, weights[:, None] * steps)
        np.add.at(target, first, -weights[:, None] * steps)
        levels = np.asarray(np.linalg.solve(matrix + np.eye(count) * 1e-6, target), np.float64)
        misfit = np.abs(levels[second] - levels[first] - steps).max(axis=-1)
        weights = counts / np.maximum(misfit, STEP_FLOOR / 4)
    return levels.reshape(raster.rows, raster.columns, 3)


def _from_paper(levels: Floats) -> Floats:
    """Levels relative to the brightest one that more than a stray cell has; those too pale for a tint become 0."""
    brightness = levels.mean(axis=-1)
    ordered = np.sort(brightness, axis=None)[::-1]
    stray = max(1, round(0.06 * ordered.size))
    top = ordered[min(stray, ordered.size - 1)]
    paper = np.median(levels[brightness > top - PALE / 2], axis=0)
    relative = levels - paper
    tinted = relative.min(axis=-1) < -PALE
    return np.where(tinted[..., None], np.minimum(relative, 0.0), 0.0)


def _cell_ground(image: npt.NDArray[np.uint8], raster: Raster) -> tuple[Floats, tuple[slice, slice]]:
    """Log colour of the ground of every whole cell of the picture, margin included, and where in it the grid is."""
    size, shift = raster.cell, raster.origin % raster.cell
    high, wide = (image.shape[0] - shift) // size, (image.shape[1] - shift) // size
    cut = image[shift : shift + high * size, shift : shift + wide * size]
    cells = cut.reshape(high, size, wide, size, 3).swapaxes(1, 2)
    near, far = (round(share * size) for share in STRIP)
    ring = np.zeros((size, size), dtype=bool)
    ring[near : size - near : 2, near : size - near : 2] = True
    ring[far : size - far, far : size - far] = False
    first = raster.origin // size
    inner = (slice(first, first + raster.rows), slice(first, first + raster.columns))
    return bright(cells[:, :, ring]), inner


def _corner_ground(image: npt.NDArray[np.uint8], raster: Raster) -> Floats:
    """Log colour of the ground of each cell of the grid in the second brightest of its four corners: a tube leaves two
    of them bare at least, and the white plate of a sign or a number on an edge reaches none; rows x columns x 3."""
    near, far = (round(share * raster.cell) for share in STRIP)
    beside = (slice(near, far), slice(raster.cell - far, raster.cell - near))
    cells = _blocks(image, raster)
    patches = np.stack([cells[:, :, y, x].reshape(*cells.shape[:2], -1, 3) for y in beside for x in beside], axis=2)
    corners = bright(patches)
    order = np.argsort(-corners.sum(axis=-1), axis=2)
    return np.asarray(np.take_along_axis(corners, order[:, :, 1:2, None], axis=2)[:, :, 0], np.float64)


def _checked(levels: Floats, ground: Floats, corners: Floats) -> Floats:
    """Levels put right where the cell itself is brighter than its level says, in its `corners` too: a tube had covered
    its borders. A cell without a tint that is brighter than those around it has more light, and is no paper for the
    others."""
    light = cv2.medianBlur((ground - levels).astype(np.float32), 3)
    own = ground - light
    brighter = [np.max(seen - light - levels, axis=-1) > PALE / 2 for seen in (ground, corners)]
    wrong = levels.any(axis=-1) & brighter[0] & brighter[1]
    return _from_paper(np.where(wrong[..., None], own, levels))


def _light(
    ground: Floats, inner: tuple[slice, slice], levels: Floats, raster: Raster, shape: tuple[int, ...]
) -> Colours:
    """The colour of untinted paper at each pixel: cell by cell, stray cells evened out, interpolated."""
    paper = ground.astype(np.float32)
    paper[inner] = cv2.medianBlur(paper[inner] - levels.astype(np.float32), 3)
    _keep_on_page(paper, inner)
    size, shift = raster.cell, raster.origin % raster.cell
    high, wide = ground.shape[0] * size, ground.shape[1] * size
    whole = cv2.resize(np.exp(paper), (wide, high), interpolation=cv2.INTER_LINEAR)
    bottom, right = shape[0] - shift - high, shape[1] - shift - wide
    return np.asarray(cv2.copyMakeBorder(whole, shift, bottom, shift, right, cv2.BORDER_REPLICATE), np.float32)


def _keep_on_page(paper: npt.NDArray[np.float32], inner: tuple[slice, slice]) -> None:
    """Where the margin leaves the page, or a picture covers it, carry on the light of the cell nearer to the grid."""
    rows, columns = (range(part.start, part.stop) for part in inner)
    places = [(y, x) for y in range(paper.shape[0]) for x in range(paper.shape[1])]
    for y, x in sorted(places, key=lambda place: _steps_off(place, rows, columns)):
        nearer = _towards(y, rows), _towards(x, columns)
        if nearer != (y, x) and np.abs(paper[y, x] - paper[nearer]).max() > PAGE_EDGE:
            paper[y, x] = paper[nearer]


def _steps_off(place: tuple[int, int], rows: range, columns: range) -> int:
    return max(abs(place[0] - _clamped(place[0], rows)), abs(place[1] - _clamped(place[1], columns)))


def _clamped(at: int, inside: range) -> int:
    return min(max(at, inside.start), inside.stop - 1)


def _towards(at: int, inside: range) -> int:
    """One step towards the grid, or the same place when beside or on it."""
    return at + int(np.sign(_clamped(at, inside) - at))


def _tints(levels: Floats) -> tuple[Tint, ...]:
    """One Tint for each cell whose level is not 0."""
    found = []
    for row, column in zip(*np.nonzero(levels.any(axis=-1)), strict=True):
        red, green, blue = (int(value) for value in np.rint(255 * np.exp(levels[row, column])))
        found.append(Tint(Cell(int(row) + 1, int(column) + 1), (red, green, blue), 1.0))
    return tuple(found)
