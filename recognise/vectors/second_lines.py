"""Lattice lines drawn twice, not quite in one place: a program rules all cells with a thin pen and the boxes with a
thick one, and its rounding, or the room that a table's rules take, lets the two drift apart. The thick line is the
lattice line; the thin one beside it marks nothing."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from ingest.page import Colour
from recognise.pixels.frame import Raster
from recognise.vectors.edges import LatticeLines
from recognise.vectors.inks import Ink
from recognise.vectors.runs import union

REACH = 0.12
"""In cells: how far beside a lattice line the second one runs at most."""
SLANT = 0.02
"""In cells: how far a straight piece of it leaves its direction at most: the two systems drift against each other."""
THIN = 0.1
"""In cells: how thick it is at most."""
ALL_ALONG = 0.98
"""The part of the lattice line that it runs along. The walls of cages stop short of the lines that they cross."""
LEAST_OTHERS = 2
"""Other lattice lines, at least, that the same pen draws: the lines of a mark have a pen of their own."""

Pen = tuple[str, Colour, float]
"""How an ink is drawn, its colour and its width in hundredths of a cell."""
Line = tuple[bool, int]
"""A lattice line: whether it is upright, and its number."""


@dataclass(frozen=True, slots=True)
class _Piece:
    index: int
    line: Line
    start: float
    end: float
    pen: Pen


def second_lines(inks: Sequence[Ink], lines: LatticeLines, left: Collection[int], raster: Raster) -> set[int]:
    """The indices of those inks, of the ones in `left`, that draw inner lattice lines a second time, from side to
    side, with a pen that draws other lattice lines as well."""
    pieces = [piece for index, ink in enumerate(inks) for piece in _pieces(index, ink, raster)]
    ruled: defaultdict[Pen, set[Line]] = defaultdict(set)
    by_line: defaultdict[tuple[Line, Pen], list[_Piece]] = defaultdict(list)
    for piece in pieces:
        by_line[piece.line, piece.pen].append(piece)
        if piece.index in lines.used:
            ruled[piece.pen].add(piece.line)
    return {
        piece.index
        for (line, pen), its in by_line.items()
        if len(ruled[pen] - {line}) >= LEAST_OTHERS and _is_drawn(line, lines) and _runs_along(its, raster)
        for piece in its
        if piece.index in left
    }


def _pieces(index: int, ink: Ink, raster: Raster) -> Iterator[_Piece]:
    """The straight piece beside an inner lattice line that an ink is: one or none."""
    left, top, right, bottom = ink.box
    across, down = right - left, bottom - top
    upright = down > across
    thick = min(across, down)
    width = ink.width if ink.role == "stroke" else thick
    if ink.dashed or len(ink.outlines) != 1 or thick > THIN or thick - width > SLANT:
        return
    middle, start, end = ((left + right) / 2, top, bottom) if upright else ((top + bottom) / 2, left, right)
    number = round(middle)
    if abs(middle - number) <= REACH and 0 < number < (raster.columns if upright else raster.rows):
        yield _Piece(index, (upright, number), start, end, (ink.role, ink.colour, round(100 * width)))


def _is_drawn(line: Line, lines: LatticeLines) -> bool:
    """Whether another line draws all edges of a lattice line."""
    upright, number = line
    edges = lines.edges.vertical[:, number] if upright else lines.edges.horizontal[number]
    return bool((edges > 0).all())


def _runs_along(pieces: Sequence[_Piece], raster: Raster) -> bool:
    length = raster.rows if pieces[0].line[0] else raster.columns
    ends = np.clip([(piece.start, piece.end) for piece in pieces], 0, length)
    return union(ends[:, 0], ends[:, 1]) >= ALL_ALONG * length
