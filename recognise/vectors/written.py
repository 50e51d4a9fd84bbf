"""Characters that are drawn as paths and belong to the grid; bare strokes and bars that are characters among them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

from ingest.page import Box
from recognise.evidence import Disc, Glyph, Guess, Shape
from recognise.geometry import beside, extent, in_circle, middle, within
from recognise.picture import Reader
from recognise.pixels.frame import Raster
from recognise.vectors.beside import is_centred
from recognise.vectors.characters import APART, SEEN, read_paths
from recognise.vectors.inks import Canvas, Ink, darkness, near
from recognise.vectors.leftover import is_outside
from recognise.vectors.marks import disc
from recognise.vectors.numbers import BESIDE_ARROW

AS_HIGH, SLENDER = 0.06, 0.3
"""As a part of their height: so much figures of one fount differ in height, and so wide is a bare stroke, at most."""
ROOMY = 1.2
"""A tag is so many times as large as the number in it at least."""
UPPER = 0.42
"""In cells from the top of its cell: the middle of a total stands above this, that of a given below."""
DARK = 0.4
"""Darkness of a disc on which figures are white at least."""
IN_MIDDLE, BARE_ONE = 0.2, 0.995
"""In cells: how far from the middle of its cell a given stands, and as a part of a number's height, how far from its
middle a minus; and how sure a bare stroke among figures is a 1."""


def written_characters(
    inks: Sequence[Ink],
    shapes: Sequence[Shape],
    others: Sequence[Ink],
    tags: Sequence[Box],
    raster: Raster,
    reader: Reader | None,
) -> tuple[list[Glyph], list[Shape]]:
    """The characters among left-over paths, and the shapes that are none; `reader` reads them. `others` are paths that
    may be figures too, though no shapes are left of them; `tags` what numbers beside the grid stand in."""
    pointers = [s.box for s in shapes if s.name == "arrow"]
    as_paths = {s.box for s in shapes if s.name == "glyph-path" and _is_read(s.box, pointers, tags, raster)}
    written = read_paths([*(ink for ink in inks if ink.box in as_paths), *others], raster, reader) if reader else []
    written = [_with_minus(glyph, shapes) for glyph in written]
    written += _ones(shapes, written)
    read = [glyph.box for glyph in written]
    left = [s for s in shapes if s.name not in ("glyph-path", "bar") or not any(within(s.box, box) for box in read)]
    return written, left


def light_figures(canvas: Canvas, discs: Sequence[Disc]) -> list[Ink]:
    """The areas of the ground's colour that stand on dark discs as white figures do."""
    dark = [each for each in discs if each.fill is not None and darkness(each.fill) >= DARK]
    return [
        ink
        for ink in canvas.paper
        if ink.role == "fill"
        and disc(ink) is None
        and _is_seen(ink, canvas)
        and any(in_circle(ink.box, d.centre, d.radius) for d in dark)
    ]


def clue_tags(shapes: Sequence[Shape], discs: Sequence[Disc], canvas: Canvas) -> list[Box]:
    """The boxes of outlines and circles beside a grid, those of paper on a panel too, that stand in line with a row or
    column each."""
    circles = [*discs, *(found for ink in canvas.paper if (found := disc(ink)) is not None)]
    frames = (shape for shape in shapes if shape.name == "outline" or (shape.name == "square" and not shape.filled))
    boxes = [*(shape.box for shape in frames), *(each.box for each in circles)]
    return [box for box in boxes if _is_in_line(box, canvas.raster)]


def named_plates(shapes: Iterable[Shape], numbers: Sequence[Glyph], raster: Raster) -> list[Shape]:
    """The shapes, of which those beside the grid that pass for characters, but in which a number stands with room
    around it, are called by what they are: the plates of clues."""
    return [
        replace(shape, name="plate")
        if shape.name == "glyph-path"
        and is_outside(shape.box, raster)
        and any(_is_held(number.box, shape.box) for number in numbers)
        else shape
        for shape in shapes
    ]


def low_noughts(inks: Sequence[Ink], tags: Sequence[Box]) -> list[Ink]:
    """The areas in tags that are rings: an old-style nought is as round as a letter o."""
    rings = [ink for ink in inks if ink.role == "fill" and (found := disc(ink)) is not None and found.fill is None]
    return [ink for ink in rings if any(_is_held(ink.box, tag) for tag in tags)]


def _is_held(box: Box, tag: Box) -> bool:
    """Whether a figure stands in a tag, with room around it."""
    return within(box, tag) and extent(tag) >= ROOMY * extent(box)


def _is_seen(ink: Ink, canvas: Canvas) -> bool:
    tops = canvas.top_order[ink.whole.window][ink.whole.mask]
    return tops.size > 0 and bool((tops == ink.order).mean() >= SEEN)


def _ones(shapes: Iterable[Shape], written: Sequence[Glyph]) -> list[Glyph]:
    """The bars that are figures 1: in some founts it is no more. Only in the middle of cells, and where figures of its
    height and colour are drawn as paths too; elsewhere a bar is a mark."""
    found = []
    for bar in shapes:
        (x, y), (left, top, right, bottom) = middle(bar.box), bar.box
        high = bottom - top
        in_middle = max(abs(x % 1 - 0.5), abs(y % 1 - 0.5)) <= IN_MIDDLE and right - left <= SLENDER * high
        peers = (g for g in written if abs(g.size - high) <= AS_HIGH * high and near(g.colour, bar.colour))
        if bar.name == "bar" and bar.filled and in_middle and any(peers):
            found.append(Glyph(bar.box, (Guess("1", BARE_ONE),), high, bar.colour, "shape"))
    return found


def _with_minus(number: Glyph, shapes: Iterable[Shape]) -> Glyph:
    """A number in the corner of a cell with the minus behind it, if one is drawn as a path of its own: a level bar in
    half its height."""
    x0, y0, x1, y1 = number.box
    if (y0 + y1) / 2 % 1 > UPPER:
        return number
    for bar in shapes:
        left, top, right, bottom = bar.box
        behind = right <= math.ceil(x1) and 0 <= left - x1 <= APART * number.size and right - left <= number.size
        level = abs((top + bottom) / 2 - (y0 + y1) / 2) <= IN_MIDDLE * number.size
        if bar.name == "bar" and bar.filled and behind and level and right - left > bottom - top:
            guesses = tuple(replace(guess, text=f"{guess.text}-") for guess in number.guesses)
            return replace(number, box=(x0, min(y0, top), right, max(y1, bottom)), guesses=guesses)
    return number


def _is_read(box: Box, arrows: Sequence[Box], tags: Sequence[Box], raster: Raster) -> bool:
    """Whether a character drawn as a path belongs to the grid: beside it that is sure only of those with an arrow or in
    a tag; the reader of the picture tells others from the page's text."""
    near = (math.dist(middle(box), middle(arrow)) <= BESIDE_ARROW for arrow in arrows)
    return not is_outside(box, raster) or any(near) or any(_is_held(box, tag) for tag in tags)


def _is_in_line(box: Box, raster: Raster) -> bool:
    """Whether a thing beside the grid stands in line with one of its rows or columns."""
    at = beside(middle(box), raster.rows, raster.columns)
    return at is not None and is_centred(at)
