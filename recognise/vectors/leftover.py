"""What the paths left over are: signs, arrows, characters, or marks without a name."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from ingest.page import Box
from recognise.evidence import Disc, Shape
from recognise.pixels.frame import Raster
from recognise.vectors.around import take_around
from recognise.vectors.characters import characters_of
from recognise.vectors.inks import Canvas, Ink
from recognise.vectors.marks import shape, without_rims
from recognise.vectors.signs import Compound, compounds, is_figure, is_letter, pointing, take_arrows

SENTENCE = 4
"""So many characters drawn as paths close together on one line beside a grid are running text."""
FIGURES = 2
"""Of a number beside an arrow, at most."""
LETTER_GAP = 0.5
"""As a part of their height: the widest gap between letters of running text; clues stand a cell apart."""


def left_over(
    inks: Iterable[Ink], explained: set[tuple[int, int]], canvas: Canvas, discs: Iterable[Disc] = ()
) -> tuple[list[Shape], set[Box]]:
    """Left-over paths under a name, once where fill and stroke are left; and the boxes of those of the `discs` that are
    letters of running text. `explained` are order and part of paths whose other ink is a line."""
    raster = canvas.raster
    left = [ink for ink in inks if (ink.order, ink.part) not in explained]
    around, alone = take_around(compounds(left), raster)
    marks = [each for mark in alone for each in _named(mark, raster)]
    # Where signs point other ways too, what looks like a V is one of them.
    signs = any(found and found.name == "sign" and found.direction != "down" for _, found in marks)
    shapes = list(around)
    for mark, found in marks:
        if found in shapes:
            continue  # drawn twice
        if found and (found.name != "sign" or found.direction != "down" or signs or not is_letter(mark)):
            shapes.append(found)
        else:
            shapes += _each(mark, raster)
    # Of letters that nearly touch, two may look like an arrow; by a real one stands a number of two figures.
    outside = {s.box: s.name for s in shapes if s.name in ("glyph-path", "arrow") and is_outside(s.box, raster)}
    outside |= {disc.box: "glyph-path" for disc in discs if is_outside(disc.box, raster)}
    lines = ((line, [outside[box] for box in line].count("glyph-path")) for line in _lines(sorted(outside)))
    running = {box for line, letters in lines if len(line) >= SENTENCE and letters > FIGURES for box in line}
    return without_rims([s for s in shapes if s.box not in running]), running


def _named(mark: Compound, raster: Raster) -> list[tuple[Compound, Shape | None]]:
    """What a mark is; where nothing is known of it as a whole, of each path in it, for two signs may touch."""
    whole = pointing(mark, raster)
    alone = len(mark.paths()) == 1
    if alone or (whole is not None and whole.name != "arrow"):
        return [(mark, whole)]
    arrows, paths = take_arrows(mark, raster)
    # An arrow with its number, the two together, may look like an arrow the other way.
    if whole is not None and not (arrows and paths and all(map(is_figure, paths))):
        return [(mark, whole)]
    return [*arrows, *((path, pointing(path, raster)) for path in paths)]


def _each(mark: Compound, raster: Raster) -> Iterator[Shape]:
    """A shape for each path: its fill where it has one."""
    by_path: dict[tuple[int, int], Ink] = {}
    for ink in mark.inks:
        known = by_path.get((ink.order, ink.part))
        if known is None or known.role == "stroke":
            by_path[ink.order, ink.part] = ink
    for ink in by_path.values():
        found = shape(ink, raster)
        left, top, right, bottom = found.box
        # Beside the grid no mark is an upright bar, but the figure 1 of some founts is.
        is_figure = found.name == "bar" and ink.role == "fill" and bottom - top > right - left
        # Nor is a line of text that is drawn as one path.
        is_text = found.name == "mark" and ink.role == "fill" and len(characters_of(ink.outlines)) >= SENTENCE
        outside = is_outside(found.box, raster)
        yield replace(found, name="glyph-path") if outside and (is_figure or is_text) else found


def _lines(boxes: Sequence[Box]) -> list[list[Box]]:
    """Boxes of characters, from left to right, as lines of text: close together and abreast."""
    lines: list[list[Box]] = []
    for box in boxes:
        line = next((line for line in lines if _follows(line[-1], box)), None)
        if line is None:
            lines.append([box])
        else:
            line.append(box)
    return lines


def _follows(one: Box, other: Box) -> bool:
    height = max(one[3] - one[1], other[3] - other[1])
    shared = min(one[3], other[3]) - max(one[1], other[1])
    return shared > 0 and other[0] - one[2] <= LETTER_GAP * height


def is_outside(box: Box, raster: Raster) -> bool:
    """Whether a box, in cells, stands beside the grid."""
    return box[2] <= 0 or box[3] <= 0 or box[0] >= raster.columns or box[1] >= raster.rows
