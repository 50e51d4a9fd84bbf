"""Frames of two lines: one of them draws the outline of the lattice, the other marks nothing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ingest.page import Box
from recognise.pixels.frame import Raster
from recognise.vectors.inks import Ink

REACH = 0.2
"""In cells: how far from the outline of the grid the second line runs."""
THIN, LEAST = 0.1, 0.3
"""In cells: how thick it is at most, and how long each of its pieces at least."""
LEVEL = 0.03
"""In cells: how far the pieces of one side, or its sides from the outline, differ at most."""
ALL_ALONG = 0.9
"""The part of each side that it runs along."""

Piece = tuple[int, int, float, float, float]
"""Index of its ink, side of the grid, how far inside of it, and from where to where it runs along it."""


def second_frame(inks: Iterable[tuple[int, Ink]], raster: Raster) -> set[int]:
    """The indices of the inks that draw a second line beside the outline of a grid, all round, at one distance."""
    pieces = [piece for index, ink in inks for piece in _pieces(index, ink.box, raster)]
    for inside in sorted({piece[2] for piece in pieces}):
        level = [piece for piece in pieces if 0 <= piece[2] - inside <= LEVEL]
        if all(_is_lined(level, side, raster) for side in range(4)):
            return {piece[0] for piece in level}
    return set()


def _pieces(index: int, box: Box, raster: Raster) -> Iterator[Piece]:
    """The sides, counted from the left clockwise, along which a straight bar runs: one or none."""
    left, top, right, bottom = box
    across, down = right - left, bottom - top
    if min(across, down) > THIN or max(across, down) < LEAST:
        return
    if down > across:
        x = (left + right) / 2
        ways = ((0, x, top, bottom), (2, raster.columns - x, top, bottom))
    else:
        y = (top + bottom) / 2
        ways = ((1, y, left, right), (3, raster.rows - y, left, right))
    yield from ((index, *way) for way in ways if abs(way[1]) <= REACH)


def _is_lined(pieces: Iterable[Piece], side: int, raster: Raster) -> bool:
    """Whether pieces run all along a side."""
    length, end, covered = (raster.columns if side % 2 else raster.rows), 0.0, 0.0
    for _, _, _, start, stop in sorted((piece for piece in pieces if piece[1] == side), key=lambda piece: piece[3]):
        covered += max(0.0, min(stop, length) - max(start, end))
        end = max(end, stop)
    return covered >= ALL_ALONG * length
