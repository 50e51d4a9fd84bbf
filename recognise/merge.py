"""Two readings of the same grid, by vectors and by pixels, to one: where they agree, sure; where not, doubt."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from typing import TypeVar, get_args

from ingest.page import Box, Point
from recognise.confirm import Looker
from recognise.draft import Doubt, Polygon, box_polygon
from recognise.evidence import Disc, Evidence, Fence, Glyph, Shape, Tint, Trace
from recognise.geometry import band, disc_polygon, extent, holds, middle, overlap, side_of
from recognise.interpret.line_ends import FRAMES
from recognise.merge_glyphs import merge_glyphs
from recognise.number_tiles import without_number_tiles
from recognise.picture import Picture
from recognise.pixels.outside import not_in_line
from recognise.support import claims, covered, supported
from schema.cells import Cell
from schema.grid import Side
from schema.kinds._drawing import square
from schema.words import with_article

GLYPH_PATH = "glyph-path"
"""What the vector reader calls a character drawn as a path: the pixels alone can read it, and do."""

INKED = 0.9
"""Share of places along each link of a line at which there must be ink; digits on it hide none, crossings little."""

CONFIRMED = 0.99
"""How sure a line of the PDF is made by ink all along it, next to the pixel reader's having traced it too."""

SHOWN = 0.999
"""How sure any other mark of the PDF is made by its colour's showing where it must."""

HALO = 0.8
"""As a part of its size: how far around the middle of a character its white may hide a line."""

EDGE = 0.08
"""In cells: a character reaches no further than this into a cell in which it does not stand."""

MISREAD = 0.8
"""Part of the ink of a character or line that only the pixels show which lies on marks that the PDF draws, from which
on it is a piece of these."""

THIN = 0.06
"""In cells: half the width of the band that a line from corner to corner takes up."""
FRAME = 1.6
"""How much larger than a character what is known as that character may be."""


def merge(pixels: Evidence, vectors: Evidence | None, picture: Picture) -> tuple[Evidence, tuple[Doubt, ...]]:
    """One Evidence out of both, and a Doubt for each thing on which they disagree. `vectors` is None for a page that
    has none; then the pixels alone speak.

    What is left over is told by the vectors: they know every path exactly, where the pixels have crumbs of blurred
    edges. Should the vectors explain away a mark, the guard that looks at the ink once more finds it."""
    if vectors is None:
        return pixels, ()
    glyphs, glyph_doubts = merge_glyphs(_characters(pixels, vectors, picture), vectors.glyphs, picture)
    traces, trace_doubts = _merge_traces(pixels.traces, vectors, picture)
    known = [g.box for g in glyphs]
    named = [s for s in vectors.shapes if not _accounted(s, known, pixels)]
    drawn = [*(shape.box for shape in vectors.shapes), *(disc.box for disc in vectors.discs)]
    seen = [*drawn, *known, *(glyph.box for glyph in pixels.glyphs)]
    told = without_number_tiles(named, vectors.discs, glyphs, seen, pixels)
    looker = Looker(picture.flat)
    doubts: list[Doubt] = [*glyph_doubts, *trace_doubts]
    answered = _answered(pixels, vectors)
    merged = replace(
        pixels,
        glyphs=glyphs,
        traces=traces,
        edges=vectors.edges,
        tints=_shown(vectors.tints, looker.tint, _of_tint, doubts),
        discs=_shown(told.discs, looker.disc, _of_disc, doubts),
        fences=_shown(vectors.fences, looker.fence, _of_fence, doubts),
        shapes=_shown(told.shapes, looker.shape, _of_shape, doubts),
        unexplained=tuple(b for b in vectors.unexplained if not _within_any(b, known)),
        rails=vectors.rails,
        grounds=vectors.grounds,
        strips=vectors.strips,
        number_tiles=told.tiles,
        characters=vectors.characters,
        notes=(*(note for note in pixels.notes if note not in answered), *vectors.notes),
    )
    return merged, tuple(doubts)


M = TypeVar("M", Tint, Disc, Fence, Shape)


def _shown(
    marks: Sequence[M], shows: Callable[[M], bool], place: Callable[[M], tuple[str, Polygon]], doubts: list[Doubt]
) -> tuple[M, ...]:
    """Marks as the PDF draws them, each confirmed by the picture; one that it does not show is a doubt."""
    found = []
    for mark in marks:
        seen = shows(mark)
        if not seen:
            what, where = place(mark)
            doubts.append(Doubt(f"the PDF draws {what} here that the picture does not show", where=where))
        if isinstance(mark, Tint):
            found.append(mark)
        else:
            sure = 1 - (1 - mark.confidence) * (1 - SHOWN) if seen else 0.5
            found.append(replace(mark, confidence=sure))
    return tuple(found)


def _of_tint(tint: Tint) -> tuple[str, Polygon]:
    return f"a tint in {tint.cell}", tuple(square(tint.cell))


def _of_disc(disc: Disc) -> tuple[str, Polygon]:
    return "a circle", disc_polygon(disc.centre, disc.radius)


def _of_fence(fence: Fence) -> tuple[str, Polygon]:
    return f"a cage at {min(fence.cells)}", fence.where or tuple(square(min(fence.cells)))


def _of_shape(shape: Shape) -> tuple[str, Polygon]:
    return with_article(shape.name), box_polygon(shape.box)


def _characters(pixels: Evidence, vectors: Evidence, picture: Picture) -> list[Glyph]:
    """The characters that the pixels show, without pieces of marks that they took for some: the PDF draws a mark there,
    and nothing that may be a character. Nor those beside the grid that stand in the words of a heading or a text."""
    unclear = [shape.box for shape in vectors.shapes if _maybe_text(shape)] + list(vectors.unexplained)
    unclear += [glyph.box for glyph in vectors.glyphs]
    share = covered(picture.drawn, picture.floor, picture.flat, _outlines(vectors))
    return [
        glyph
        for glyph in pixels.glyphs
        if _is_on(glyph.box, pixels) or not any(holds(box, glyph.centre) for box in vectors.phrases)
        if any(_one_place(glyph.box, box) for box in unclear) or share([box_polygon(glyph.box)]) < MISREAD
    ]


def _answered(pixels: Evidence, vectors: Evidence) -> set[str]:
    """What the pixel reader asks about the sides on which all that it took for numbers are words or numbers of the text
    layer, and nothing is drawn that may be a character: of a text layer all that may be a clue is accounted for."""
    written = [*vectors.phrases, *(glyph.box for glyph in vectors.glyphs)]
    bare = (shape for shape in vectors.shapes if _maybe_text(shape) and not _frames(shape, vectors))
    unclear = {_side(shape.box, pixels) for shape in bare}
    unclear |= {_side(box, pixels) for box in vectors.unexplained}
    unknown = {
        _side(glyph.box, pixels) for glyph in pixels.glyphs if not any(_one_place(box, glyph.box) for box in written)
    }
    return {not_in_line(side) for side in get_args(Side) if side not in unclear | unknown}


def _frames(shape: Shape, vectors: Evidence) -> bool:
    """Whether a shape is drawn around a number of the text layer."""
    return any(holds(shape.box, glyph.centre) and _is_frame(shape.box, glyph.box) for glyph in vectors.glyphs)


def _side(box: Box, grid: Evidence) -> Side | None:
    return side_of(middle(box), grid.rows, grid.columns)


def _one_place(one: Box, other: Box) -> bool:
    return holds(one, middle(other)) or holds(other, middle(one))


def _outlines(vectors: Evidence) -> list[Polygon]:
    """What the marks cover that the PDF draws, characters aside."""
    outlines = [polygon for fence in vectors.fences for polygon in fence.claims]
    outlines += [disc_polygon(disc.centre, disc.radius) for disc in vectors.discs]
    outlines += [stroke for tint in vectors.tints for stroke in tint.strokes]
    outlines += [polygon for trace in vectors.traces for polygon in claims(trace)]
    size = (float(vectors.columns), float(vectors.rows))
    return outlines + [_outline(shape, size) for shape in vectors.shapes if not _maybe_text(shape)]


def _outline(shape: Shape, size: tuple[float, float]) -> Polygon:
    if shape.name != "diagonal":
        return box_polygon(shape.box)
    (left, top), (right, bottom) = (0.0, 0.0), size
    return (
        band((left, top), (right, bottom), THIN)
        if shape.direction == "down"
        else band((left, bottom), (right, top), THIN)
    )


def _maybe_text(shape: Shape) -> bool:
    return shape.name in (GLYPH_PATH, "mark")


def _accounted(shape: Shape, known: Sequence[Box], grid: Evidence) -> bool:
    """Whether what the vectors could not name is known otherwise. A character drawn as a path must have been read in
    every cell that it reaches into: the guard that looks at the ink cannot find one that stands on a line, because the
    line claims its ink. Beside the grid the pixels tell clues from the page's other text."""
    if not _maybe_text(shape):
        return False
    if shape.name != GLYPH_PATH:
        # What is much larger than the character in it is a frame round that.
        return _within_any(shape.box, [box for box in known if not _is_frame(shape.box, box)])
    x0, y0, x1, y1 = shape.box
    columns = range(max(0, math.floor(x0 + EDGE)), min(grid.columns, math.ceil(x1 - EDGE)))
    rows = range(max(0, math.floor(y0 + EDGE)), min(grid.rows, math.ceil(y1 - EDGE)))
    # A given elsewhere in the cell is another character than a small one in its corner.
    on_it = [box for box in known if overlap(box, shape.box)]
    if not _is_on(shape.box, grid):
        return True
    if not (rows and columns):
        return bool(on_it)  # a small one across a line reaches into no cell
    reached = ((column, row, column + 1.0, row + 1.0) for row in rows for column in columns)
    return all(any(overlap(box, cell) for box in on_it) for cell in reached)


def _is_frame(box: Box, of: Box) -> bool:
    """Whether what is drawn around a character is much larger than it, or much higher: numbers are broad."""
    return extent(box) > FRAME * extent(of) or box[3] - box[1] > FRAME * (of[3] - of[1])


def _is_on(box: Box, grid: Evidence) -> bool:
    return overlap(box, (0.0, 0.0, float(grid.columns), float(grid.rows)))


def _merge_traces(
    pixels: Sequence[Trace], drawn_by: Evidence, picture: Picture
) -> tuple[tuple[Trace, ...], tuple[Doubt, ...]]:
    """Lines as the PDF draws them, each confirmed by the picture: because the pixel reader traced the same, or because
    there is ink all along it. A line that the picture shows and the PDF does not draw is a doubt."""
    traced = {_links(t): t for t in pixels}
    vectors = drawn_by.traces
    merged = []
    doubts = []
    for trace in vectors:
        partner = traced.get(_links(trace))
        upon = [*_hiding(drawn_by), *_crossings(trace, vectors)]
        inked = supported(picture.drawn, picture.floor, picture.flat, trace, upon) >= INKED
        seen = max(CONFIRMED if inked else 0.0, partner.confidence if partner else 0.0)
        if not seen:
            doubts.append(_trace_doubt("the PDF draws a line here that the picture does not show", trace))
        merged.append(replace(trace, confidence=1 - (1 - trace.confidence) * (1 - seen), extent=None))
    drawn = frozenset[frozenset[Cell]]().union(*map(_links, vectors))
    texts = [box_polygon(glyph.box) for glyph in drawn_by.glyphs]
    share = covered(picture.drawn, picture.floor, picture.flat, [*_outlines(drawn_by), *texts])
    for trace in pixels:
        # What else the picture shows lies on lines that are drawn, or it is a doubt.
        if not (_links(trace) <= drawn or _on_drawn_cells(trace, vectors) or share(claims(trace)) >= MISREAD):
            doubts.append(_trace_doubt("the picture shows a line here that the PDF does not draw", trace))
            merged.append(trace)
    return tuple(merged), tuple(doubts)


def _hiding(vectors: Evidence) -> list[tuple[Point, float]]:
    """What may lie upon a line, as middles and radii: discs, bits of white, and characters, which print sets on one."""
    discs = [(disc.centre, disc.radius) for disc in vectors.discs if disc.fill is not None]
    discs += [(trace.nodes[node].centre, radius) for trace in vectors.traces for node, radius in trace.discs]
    discs += [(middle(box), extent(box) / 2) for box in vectors.patches]
    empty = (shape.box for shape in vectors.shapes if shape.name in FRAMES and not shape.filled)
    discs += [(middle(box), extent(box) / math.sqrt(2)) for box in empty]
    return discs + [(glyph.centre, HALO * glyph.size) for glyph in vectors.glyphs]


def _crossings(trace: Trace, others: Sequence[Trace]) -> list[tuple[Point, float]]:
    """Where other lines cross a line between four cells, and half of their width: a hollow one parts its walls."""
    own = {middle((*start.centre, *end.centre)) for start, end in _steps(trace)}
    return [
        (place, other.width / 2)
        for other in others
        if other is not trace
        for start, end in _steps(other)
        if (place := middle((*start.centre, *end.centre))) in own
    ]


def _steps(trace: Trace) -> Iterator[tuple[Cell, Cell]]:
    """The steps of a line from corner to corner of its cells."""
    for a, b in trace.links:
        if trace.nodes[a].row != trace.nodes[b].row and trace.nodes[a].column != trace.nodes[b].column:
            yield trace.nodes[a], trace.nodes[b]


def _on_drawn_cells(trace: Trace, vectors: Sequence[Trace]) -> bool:
    drawn = {cell for other in vectors for cell in other.nodes}
    return drawn.issuperset(trace.nodes)


def _links(trace: Trace) -> frozenset[frozenset[Cell]]:
    """The links as pairs of cells, with the cells that carry a disc as single ones: equal for equal drawings."""
    links = {frozenset((trace.nodes[a], trace.nodes[b])) for a, b in trace.links}
    return frozenset(links | {frozenset((trace.nodes[i],)) for i, _ in trace.discs})


def _trace_doubt(why: str, trace: Trace) -> Doubt:
    xs = [c.centre[0] for c in trace.nodes]
    ys = [c.centre[1] for c in trace.nodes]
    return Doubt(why, where=box_polygon((min(xs) - 0.4, min(ys) - 0.4, max(xs) + 0.4, max(ys) + 0.4)))


def _within_any(box: Box, known: Iterable[Box]) -> bool:
    """Whether a box lies, by its middle, within one that is accounted for."""
    return any(holds(other, middle(box)) for other in known)


__all__ = ["Picture", "merge"]
