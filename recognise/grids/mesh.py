"""Lattice points to a tenth of a pixel: each edge of the lattice is found where it is, and the mesh bends to fit."""

from __future__ import annotations

from functools import lru_cache

import cv2
import numpy as np
import numpy.typing as npt
from scipy.linalg import solveh_banded

from recognise.grids.ink import Contrast, across_columns, across_rows, odd
from recognise.grids.warp import Points, Pyramid, extended, mesh_maps

CELL = 24
"""Pixels a cell while refining: lines of a twentieth of a cell are still a pixel wide."""
PASSES = (0.34, 0.22, 0.14)
"""How far, in cells, an edge is sought from where it should be, pass by pass."""
ALONG = 0.15
"""Share of an edge left out at either end, where the crossing line runs."""
STIFF = 0.6
"""Weight of smoothness against one fully inked edge; paper bends gently from cell to cell."""
TRUST = 0.05
"""An edge that strays further than this (cells) from its neighbours' idea of it is half believed."""
BENDS = 3
"""Degree of the surface that all edges of one direction agree on before single ones are believed: a page that curls
and lies in perspective bends like a cubic at most; what a fold adds is found pass by pass."""
AGREE = 0.06
"""An edge further than this (cells) from that surface is half believed: digits stand a quarter of a cell beside it."""
ROUNDS = 6
"""Rounds of reweighting after which that surface has let go of the digits taken for edges."""
CLEAR = 0.15
"""An edge that stands out by this contrast is fully trusted."""
BRIDGE = 5
"""Pixels along an edge that a gap between dots may be long: a fifth of a cell."""
STRONG = 0.5
"""Contrast is cut off here: a thick black line pulls no harder than a clear grey one."""


def refine(pyramid: Pyramid, points: Points, reach: float = 1) -> Points:
    """The lattice with every point moved onto the printed lines, sought `reach` times as far as usual."""
    for radius in PASSES:
        points = _pass(pyramid, points, radius * reach)
    return points


def _pass(pyramid: Pyramid, points: Points, radius: float) -> Points:
    margin = 0.5
    x, y = mesh_maps(points, CELL, margin)
    flat = pyramid.sample(x, y, step(points) / CELL)
    reach = odd(0.45 * CELL)
    down, down_weight = edge_offsets(across_rows(flat, reach), margin, radius)
    along, along_weight = edge_offsets(np.ascontiguousarray(across_columns(flat, reach).T), margin, radius)
    dy = _smooth(down, down_weight)
    dx = _smooth(along, along_weight).T
    return _moved(points, dx, dy)


def step(points: Points) -> float:
    """The mean side of a cell in page pixels."""
    across = np.linalg.norm(np.diff(points, axis=1), axis=-1).mean()
    down = np.linalg.norm(np.diff(points, axis=0), axis=-1).mean()
    return float((across + down) / 2)


def _moved(points: Points, dx: Points, dy: Points) -> Points:
    """Points moved by (dx, dy) cells along the local lattice directions."""
    net = extended(points, 1)
    right = (net[1:-1, 2:] - net[1:-1, :-2]) / 2
    down = (net[2:, 1:-1] - net[:-2, 1:-1]) / 2
    return np.asarray(points + dx[..., None] * right + dy[..., None] * down, np.float64)


def edge_offsets(contrast: Contrast, margin: float, radius: float) -> tuple[Points, Points]:
    """For each edge along the rows of a flattened contrast image, shape (lines, cells): how far below its place it
    lies, in cells, and how surely (0 to 1)."""
    pad = round(margin * CELL)
    lines = (contrast.shape[0] - 2 * pad) // CELL + 1
    cells = (contrast.shape[1] - 2 * pad) // CELL
    cut = round(ALONG * CELL)

    def cut_out(ink: Contrast) -> Contrast:
        """Rows x cells x pixels along."""
        return np.asarray(ink[:, pad : pad + cells * CELL].reshape(-1, cells, CELL)[:, :, cut:-cut], np.float32)

    ink = np.minimum(contrast, STRONG)
    half = round(radius * CELL)
    offsets = np.arange(-half - 1, half + 1)
    rows = pad + CELL * np.arange(lines)[:, None] + offsets
    window = cut_out(ink).mean(axis=2)[rows]  # lines x offsets x cells
    place = (offsets + 0.5) / CELL
    nearby = np.exp(-0.5 * (place / radius) ** 2)[None, :, None]
    smooth = _unbroken(cut_out(_bridged(ink)))[rows]
    top = (smooth * nearby).argmax(axis=1)
    near = np.abs(np.arange(len(offsets))[None, :, None] - top[:, None, :]) <= 2
    base = np.median(window, axis=1, keepdims=True)
    mass = np.where(near, np.maximum(window - base, 0), 0)
    total = mass.sum(axis=1)
    offset = (mass * place[None, :, None]).sum(axis=1) / np.maximum(total, 1e-6)
    clear = (np.take_along_axis(smooth, top[:, None], 1)[:, 0] - base[:, 0]) / CLEAR
    sure = np.where(total > 1e-6, np.clip(clear, 0, 1), 0)
    return offset.astype(np.float64), sure.astype(np.float64)


def _bridged(ink: Contrast) -> Contrast:
    """Ink with the gaps of dotted lines closed, and thick enough for lines that lean to stay in one row."""
    closed = cv2.morphologyEx(ink, cv2.MORPH_CLOSE, np.ones((1, BRIDGE), np.uint8))
    return np.asarray(cv2.blur(cv2.dilate(closed, np.ones((3, 1), np.uint8)), (1, 3)), np.float32)


def _unbroken(ink: Contrast) -> Contrast:
    """The ink of the palest half along each edge: lines are there all along, text is not."""
    return np.asarray(np.sort(ink, axis=2)[:, :, : ink.shape[2] // 2].mean(axis=2), np.float32)


def _smooth(offset: Points, weight: Points) -> Points:
    """Offsets of the lattice points (lines, cells + 1) from those of the edges (lines, cells): weighted least squares
    with second differences held small, edges that stray weighed down."""
    lines, cells = offset.shape
    bend = _bending(lines, cells + 1)
    weight = weight * _agreement(offset, weight)
    trust = weight
    solution = np.zeros((lines, cells + 1))
    for _ in range(3):
        normal = bend.copy()
        normal[0] += _at_ends(trust / 4).ravel()
        normal[1] += np.pad(trust / 4, ((0, 0), (0, 1))).ravel()
        pull = _at_ends(trust * offset / 2).ravel()
        solution = solveh_banded(normal, pull, lower=True).reshape(lines, cells + 1)
        stray = (solution[:, 1:] + solution[:, :-1]) / 2 - offset
        trust = weight / (1 + (stray / TRUST) ** 2)
    return np.asarray(solution, np.float64)


def _agreement(offset: Points, weight: Points) -> Points:
    """How far each edge agrees with all others (0 to 1): the weights of a robust fit of a low surface to the offsets.
    Without it a stem of a digit beside a pale line pulls the mesh away, and the smoothing alone spreads the error."""
    lines, cells = offset.shape
    basis = _surface(lines, cells)
    agreed = np.ones_like(offset)
    for _ in range(ROUNDS):
        root = np.sqrt(weight * agreed + 1e-6).ravel()
        fitted = np.linalg.lstsq(basis * root[:, None], offset.ravel() * root, rcond=None)[0]
        agreed = 1 / (1 + ((offset - (basis @ fitted).reshape(offset.shape)) / AGREE) ** 2)
    return np.asarray(agreed, np.float64)


@lru_cache(maxsize=16)
def _surface(lines: int, cells: int) -> Points:
    """The polynomials of two variables up to degree BENDS at the middle of each edge, (lines * cells, terms)."""
    y, x = np.meshgrid(np.linspace(-1, 1, lines), np.linspace(-1, 1, cells), indexing="ij")
    terms = [x**i * y**j for i in range(BENDS + 1) for j in range(BENDS + 1 - i)]
    return np.stack([term.ravel() for term in terms], axis=1)


def _at_ends(edges: Points) -> Points:
    """What each lattice point gets of the edges on both sides of it."""
    return np.asarray(np.pad(edges, ((0, 0), (0, 1))) + np.pad(edges, ((0, 0), (1, 0))), np.float64)


@lru_cache(maxsize=16)
def _bending(lines: int, points: int) -> Points:
    """The squared second differences along both axes (with a trace of a pull to zero, so that the system always has a
    solution), as a symmetric band matrix: row k holds the k-th diagonal below the main one."""
    along, across = (second.T @ second for second in (_second(points), _second(lines)))
    band = np.zeros((2 * points + 1, lines * points))
    for k in range(3):
        band[k] += np.tile(np.pad(np.diag(along, -k), (0, k)), lines)
        band[k * points] += np.repeat(np.pad(np.diag(across, -k), (0, k)), points)
    band *= STIFF
    band[0] += STIFF * 1e-4
    return band


def _second(count: int) -> npt.NDArray[np.float64]:
    return np.eye(count - 2, count) - 2 * np.eye(count - 2, count, 1) + np.eye(count - 2, count, 2)
