"""What lies behind a rule beside a grid in a picture, painted over: numbers there are no clues of it.

A photo or scan often shows a part of what is printed beside a puzzle: half a table, some columns of a crossword. What
is whole is found as a grid (`recognise.grids.alone`), what the edge of the picture cuts off is not. But its own border
stands between it and the grid, with bare paper in front: a clue stands next to the cells that it is of. Only the left
and right side are looked at, for lines of small words above and below a grid look like rules. Cells for clues that are
printed apart from their grid have such a border as well, and go on in step with its rows; a frame round a grid and all
that belongs to it has one on the other side too."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import cv2
import numpy as np
import numpy.typing as npt

from ingest import channels
from recognise.evidence import Flat
from recognise.pixels.frame import Grey, Mask

FROM, CLEAR = 0.3, 0.2
"""In cells from the outline of a grid: where a rule may run at the nearest, and how far a thick frame reaches."""
LONG = 4
"""Cells beside which a rule runs at least: no stroke of a number is so long, nor the wall of the cell that it is in."""
ALL_ALONG, STRAY = 0.85, 0.002
"""The part of its length along which a rule is dark; the ink, in square cells, that dust leaves before it in a row."""
GRAIN = 0.12
"""In cells: over so much along a rule the picture is averaged, for the grain of photos is as dark as a fine line."""
AS_DARK, PALEST = 0.4, 0.1
"""How dark a rule is at least as a part of the lattice lines, and how dark these are at least to tell."""
BENDS = 0.12
"""In cells: by how much a rule is off its place a row farther on, at most."""
BEHIND, NEXT, THICK = (0.08, 0.35), 0.1, 0.15
"""In cells: from where to where it is looked behind a rule whether that is a line, not the edge of the paper or of a
picture; over how much of that, which may lean, lines end in it; and how thick these are at most."""
OPEN, IN_STEP, OFF = 0.5, 0.6, 0.1
"""The part of what is behind a rule that is dark at most; of the lines that end in it so many lie no farther, in cells,
from lines of the grid where they are its own."""
ALIKE = 0.15
"""In cells: by how much two sides of a frame differ in their distance from the grid at most."""
WIDTH = 2
"""Pixels by which a rule is wider than where it is dark: blur."""
BEYOND = 1.0
"""In cells: how far beyond the rows that a rule was followed along things behind it are painted over."""


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule left of a grid: its first row of cells, and how far left of the grid, in pixels, it runs in each row."""

    first: int
    away: tuple[int, ...]


def without_neighbours(flat: Flat) -> Flat:
    """The flattened grid of a picture with what lies behind rules beside it in the colour of the paper before these."""
    grey = np.asarray(channels.mean(flat.image), np.float32)
    dark = _darkness_of_lines(grey, flat)
    if dark < PALEST:
        return flat
    beside = list(_darkness_beside(grey, flat, AS_DARK * dark))
    one, other = rules = [_rule(side, flat.rows, flat.cell) for side in beside]
    if one is not None and other is not None and _is_frame(one, other, flat.cell):
        return flat
    image, found = flat.image.copy(), False
    for side, rule, picture in zip(beside, rules, (image, image[::-1, ::-1]), strict=True):
        if rule is not None and not _in_step(side, rule, flat.cell):
            _paint_behind(picture, rule, flat)
            found = True
    return replace(flat, image=image) if found else flat


def _origin(flat: Flat) -> int:
    return round(flat.margin * flat.cell)


def _darkness_of_lines(grey: Grey, flat: Flat) -> float:
    """How much darker than the paper beside them most lattice lines are, as a part of it."""
    cell, origin = flat.cell, _origin(flat)
    near = max(1, cell // 16)
    found = []
    for picture, lines, cells in ((grey, flat.columns, flat.rows), (grey.T, flat.rows, flat.columns)):
        inside = picture[origin : origin + cells * cell].reshape(cells, cell, -1)
        profile = inside[:, cell // 5 : -(cell // 5)].mean(axis=1)
        for line in range(1, lines):
            at = origin + line * cell
            darkest = profile[:, at - near : at + near + 1].min(axis=1)
            paper = np.median(profile[:, at - cell // 3 : at + cell // 3], axis=1)
            found.append(1 - darkest / np.maximum(paper, 1))
    return float(np.median(np.concatenate(found))) if found else 0.0


def _darkness_beside(grey: Grey, flat: Flat, least: float) -> Iterator[Mask]:
    """Where it is dark left of a grid, and right of it in the picture turned upside down: row by row of pixels, the
    nearest column first, beyond the frame. What is no page any more counts as dark."""
    origin, cell = _origin(flat), flat.cell
    even_grain = cv2.blur(grey, (1, round(GRAIN * cell) | 1))
    if flat.beyond is not None:
        even_grain[flat.beyond] = 0
    for picture in (even_grain, even_grain[::-1, ::-1]):
        beside = picture[origin : origin + flat.rows * cell, : origin - round(CLEAR * cell)][:, ::-1]
        paper = np.median(beside[:, : max(1, round((FROM - CLEAR) * cell))], axis=1, keepdims=True)
        even = cv2.blur(np.ascontiguousarray(paper, np.float32), (1, cell // 2 | 1))
        yield np.asarray(beside < (1 - least) * even, np.bool_)


def _rule(dark: Mask, rows: int, cell: int) -> Rule | None:
    """The rule left of a grid, by where it is dark there; None where none is."""
    ways = [_in_row(row, cell) for row in np.split(dark, rows)]
    for start, stop in _runs(ways, cell):
        rule = Rule(start, tuple(way for way in ways[start:stop] if way is not None))
        if stop - start >= LONG and _is_open(dark, rule, cell):
            return rule
    return None


def _in_row(dark: Mask, cell: int) -> int | None:
    """How far beyond the frame the first thing beside a row of cells is, where that is a rule; None where it is not."""
    wide = cv2.dilate(dark.astype(np.uint8), np.ones((1, 3), np.uint8))
    ruled = np.flatnonzero(wide.mean(axis=0) >= ALL_ALONG)
    ruled = ruled[ruled >= round((FROM - CLEAR) * cell)]
    if not len(ruled):
        return None
    before = max(0, int(ruled[0]) - 1)
    return before if np.count_nonzero(dark[:, :before]) <= STRAY * cell**2 else None


def _runs(ways: list[int | None], cell: int) -> Iterator[tuple[int, int]]:
    """First and one past the last row of each run of rows beside which one rule runs."""
    start = 0
    for at in range(1, len(ways) + 1):
        one, other = ways[at - 1], ways[at] if at < len(ways) else None
        if one is None:
            start = at
        elif other is None or abs(one - other) > BENDS * cell:
            yield start, at
            start = at


def _behind(dark: Mask, rule: Rule, cell: int) -> Iterator[Mask]:
    """What is behind a rule, row by row of cells, the nearest column first."""
    near, far = (round(at * cell) for at in BEHIND)
    for row, away in enumerate(rule.away, rule.first):
        yield dark[row * cell : (row + 1) * cell, away + near : away + far]


def _is_open(dark: Mask, rule: Rule, cell: int) -> bool:
    parts = [part.mean() for part in _behind(dark, rule, cell) if part.size]
    return bool(parts) and float(np.mean(parts)) <= OPEN


def _in_step(dark: Mask, rule: Rule, cell: int) -> bool:
    """Whether the lines that end in a rule from behind go on those of the grid."""
    near = max(1, round(NEXT * cell))
    inked = np.concatenate([part[:, :near].mean(axis=1) for part in _behind(dark, rule, cell)]) >= ALL_ALONG
    places = np.flatnonzero(inked)
    lines = np.split(places, np.flatnonzero(np.diff(places) > 1) + 1)
    at = np.array([line.mean() / cell for line in lines if 0 < len(line) <= THICK * cell])
    return bool(len(at) and (np.abs(at - np.rint(at)) <= OFF).mean() >= IN_STEP)


def _is_frame(one: Rule, other: Rule, cell: int) -> bool:
    """Whether two rules beside a grid are the sides of one frame round it."""
    return bool(abs(np.median(one.away) - np.median(other.away)) <= ALIKE * cell)


def _paint_behind(image: npt.NDArray[np.uint8], rule: Rule, flat: Flat) -> None:
    """Paint over what lies behind a rule left of the grid, in a picture that is changed in place: each row of pixels
    with the paper before the rule there, or at the rule's nearer end."""
    cell, beyond = flat.cell, round(BEYOND * flat.cell)
    edge, top = _origin(flat) - round(CLEAR * cell), _origin(flat) + rule.first * cell
    last = len(rule.away) * cell - 1
    for y in range(max(0, top - beyond), min(len(image), top + last + beyond)):
        at = min(max(0, y - top), last)
        away = rule.away[at // cell]
        image[y, : edge - away + WIDTH] = np.median(image[top + at, edge - away + WIDTH : edge], axis=0)
