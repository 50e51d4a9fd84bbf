"""Lattice lines as drawn: which inks they are, and the thickness of every edge of every cell, exactly."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.evidence import Edges, Tint
from recognise.geometry import extent
from recognise.pixels.frame import Mask, Raster
from recognise.vectors.inks import Canvas, Ink
from recognise.vectors.patches import CELL
from recognise.vectors.pieces import ROUNDED, SHORT, Piece, at_outer_corner, pieces_of
from recognise.vectors.place import Floats

COVERED = 0.7
"""The part of an edge that a line covers at least; bars and dots on an edge cover less."""
PAINTED_OVER = 0.9
"""The part of an edge that ground must cover for no line to be there; a white bar on a line leaves its ends."""
DASHES = 0.35
"""The part that many short pieces cover at least to be a dashed line."""
MANY, SPARSE = 6, 0.15
"""So many pieces in a row on one edge are a dotted line that covers no more than this: marks are fewer."""
DASH_WIDTHS = 1.5
"""How much thicker than most dashes of a line another dash of it is at most."""
LEAST_LEFT, SAME_DASH = 2, 0.005
"""Dashes that are left of an edge at least where marks hide the rest of it, and how much, in cells, those of one line
differ in width and length: each is cut by the same pen."""
ALONG = np.linspace(0.1, 0.9, 17)
"""Where along an edge it is looked whether ground was painted over it."""
TELLS = 1.3
"""So much thicker than broken lines are solid ones that are told by their thickness."""


@dataclass(slots=True)
class LatticeLines:
    """The edges, and the indices of the inks that draw them wholly."""

    edges: Edges
    used: set[int] = field(default_factory=set)
    rails: list[Box] = field(default_factory=list)
    """Boxes, in cells, of what lines ink along each edge."""
    tints: list[Tint] = field(default_factory=list)
    """Cells whose own tiles are of another colour than most."""


def lattice_lines(inks: Sequence[Ink], canvas: Canvas) -> LatticeLines:
    """Find the lattice lines among inks. Inks on lattice lines that are too short to be one are left over."""
    by_edge = _by_edge(pieces_of(inks, canvas), inks, canvas)
    raster = canvas.raster
    horizontal, vertical = np.zeros((raster.rows + 1, raster.columns)), np.zeros((raster.rows, raster.columns + 1))
    dark_horizontal, dark_vertical = horizontal.copy(), vertical.copy()
    found = LatticeLines(Edges(horizontal, vertical, dark_horizontal, dark_vertical))
    broken = {True: np.zeros(vertical.shape, bool), False: np.zeros(horizontal.shape, bool)}
    for (upright, line, place), on_edge in by_edge.items():
        best = _thickest(on_edge, place)
        if best is None:
            continue
        thickness, dark, users, is_broken = best
        at = (place, line) if upright else (line, place)
        (vertical if upright else horizontal)[at] = thickness
        (dark_vertical if upright else dark_horizontal)[at] = dark
        broken[upright][at] = is_broken
        found.used.update(users)
        half = max(piece.reach for piece in on_edge if piece.ink in users)
        along, across = (place, place + 1), (line - half, line + half)
        (x0, x1), (y0, y1) = (across, along) if upright else (along, across)
        found.rails.append((x0, y0, x1, y1))
    dashes = _dashes(by_edge, inks, found.used)
    for (upright, line, place), on_edge in by_edge.items():
        at = (place, line) if upright else (line, place)
        rest = [piece for piece in on_edge if piece.ink not in found.used]
        if (vertical if upright else horizontal)[at] == 0 and _goes_on(rest, dashes.get((upright, line), [])):
            (vertical if upright else horizontal)[at] = rest[0].width
            (dark_vertical if upright else dark_horizontal)[at] = rest[0].darkness
            broken[upright][at] = True
            found.used.update(piece.ink for piece in rest)
    _lighten(horizontal, vertical, broken[False], broken[True])
    for index in sorted(found.used):
        found.rails.extend(_rounded_corners(inks[index], raster))
    return found


def _rounded_corners(ink: Ink, raster: Raster) -> Iterator[Box]:
    """The boxes of what a frame's round corners ink beside the lattice lines, piece by piece."""
    half = ink.width / 2
    for points in ink.outlines if ink.role == "stroke" and ink.curved else ():
        for start, end in pairwise(np.concatenate([points, points[:1]])):
            if at_outer_corner((start + end) / 2, raster) and np.abs(end - start).max() <= ROUNDED:
                (left, top), (right, bottom) = np.minimum(start, end) - half, np.maximum(start, end) + half
                yield float(left), float(top), float(right), float(bottom)


def _dashes(
    by_edge: dict[tuple[bool, int, int], list[Piece]], inks: Sequence[Ink], used: set[int]
) -> dict[tuple[bool, int], list[Piece]]:
    """The short pieces of which the broken lines consist, line by line."""
    found: dict[tuple[bool, int], list[Piece]] = {}
    for (upright, line, _), on_edge in by_edge.items():
        short = (p for p in on_edge if p.ink in used and extent(inks[p.ink].box) < SHORT)
        found.setdefault((upright, line), []).extend(short)
    return found


def _goes_on(rest: Sequence[Piece], dashes: Sequence[Piece]) -> bool:
    """Whether what is left of an edge are dashes of the broken line that runs along the edges beside it, cut short or
    whole: marks upon it hide the others."""
    if len(rest) < LEAST_LEFT or not dashes:
        return False
    # Dashes of the lines that cross it are among them.
    dash = sorted(dashes, key=lambda piece: piece.width)[len(dashes) // 2]
    longest = max(piece.end - piece.start for piece in dashes if abs(piece.width - dash.width) <= SAME_DASH)
    return all(
        abs(piece.width - dash.width) <= SAME_DASH
        and piece.darkness == dash.darkness
        and piece.end - piece.start <= longest + SAME_DASH
        for piece in rest
    )


def _lighten(horizontal: Floats, vertical: Floats, across: Mask, down: Mask) -> None:
    """Broken lines as half as thick where the solid ones are no thicker: it is by that that they are told apart."""
    inner = np.concatenate([horizontal[1:-1].ravel(), vertical[:, 1:-1].ravel()])
    is_broken = np.concatenate([across[1:-1].ravel(), down[:, 1:-1].ravel()])
    drawn = inner > 0
    if not (is_broken & drawn).any() or not (~is_broken & drawn).any():
        return
    if np.median(inner[drawn & ~is_broken]) < TELLS * np.median(inner[drawn & is_broken]):
        horizontal[across] *= 0.5
        vertical[down] *= 0.5


def _by_edge(pieces: Sequence[Piece], inks: Sequence[Ink], canvas: Canvas) -> dict[tuple[bool, int, int], list[Piece]]:
    """The pieces that run along each edge, but for those that ground covers there."""
    raster = canvas.raster
    by_edge: dict[tuple[bool, int, int], list[Piece]] = {}
    for piece in pieces:
        length = raster.rows if piece.vertical else raster.columns
        first, last = max(0, int(piece.start)), min(length - 1, int(np.ceil(piece.end)) - 1)
        for place in range(first, last + 1):
            if not _painted_over(piece, place, inks[piece.ink], canvas):
                by_edge.setdefault((piece.vertical, piece.line, place), []).append(piece)
    return by_edge


def _painted_over(piece: Piece, place: int, ink: Ink, canvas: Canvas) -> bool:
    """Whether ground was painted over a piece along most of an edge; the bit of white under a mark leaves its ends."""
    along = canvas.raster.origin + np.round((place + ALONG) * CELL).astype(int)
    across = canvas.raster.origin + piece.line * CELL
    rows, columns = (along, across) if piece.vertical else (across, along)
    orders: npt.NDArray[np.int32] = np.atleast_1d(canvas.ground_order[rows, columns])
    return bool((orders > ink.order).mean() > PAINTED_OVER)


def _thickest(pieces: list[Piece], place: int) -> tuple[float, float, set[int], bool] | None:
    """Thickness and darkness of an edge, the inks that make it, and whether it is a broken line: the thickest pieces
    that cover it together. Thin pieces under a thick line, and lines drawn twice, are explained too."""
    ranked = sorted(pieces, key=lambda piece: -piece.width)
    taken: list[Piece] = []
    for piece in ranked:
        taken.append(piece)
        if _cover(taken, place) >= COVERED:
            users = {other.ink for other in ranked if _belongs(other, piece, place)}
            return piece.width, piece.darkness, users, piece.dashed
    usual = ranked[len(ranked) // 2].width if ranked else 0.0
    # A thicker bar upon a broken line is a mark.
    dashes = [piece for piece in ranked if piece.width <= usual * DASH_WIDTHS]
    if len(dashes) > 2 and _cover(dashes, place) >= (SPARSE if len(dashes) >= MANY else DASHES):
        return dashes[0].width, dashes[0].darkness, {piece.ink for piece in dashes}, True
    return None


def _belongs(other: Piece, line: Piece, place: int) -> bool:
    """Whether a piece on the same edge is part of the line there: a short one that is thicker is a mark upon it, and
    so is a dashed one upon a solid line, unless it cannot be seen."""
    within = other.width <= line.width * 1.01
    if other.dashed and not line.dashed:
        return within and (other.ink < line.ink or other.darkness == line.darkness)
    return within or min(other.end, place + 1) - max(other.start, place) >= SHORT


def _cover(pieces: Sequence[Piece], place: int) -> float:
    total, reach = 0.0, float(place)
    for first, last in sorted((piece.start, piece.end) for piece in pieces):
        start, end = max(first, reach), min(last, place + 1.0)
        if end > start:
            total += end - start
            reach = end
    return total
