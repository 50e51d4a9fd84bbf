"""Two readings of the same grid, by vectors and by pixels, to one: where they agree, sure; where not, doubt."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.draft import Doubt, box_polygon
from recognise.evidence import Evidence, Flat, Glyph, Guess, Shape, Trace
from recognise.support import supported
from schema.cells import Cell

OTHER_CHARACTERS = 8
"""Two readers that err independently seldom err the same way: the characters that an error may fall on."""

PIXELS_SURE = 0.99
"""From here on, what the pixels show has the word over the PDF's text layer, which may map glyphs to wrong letters."""

GLYPH_PATH = "glyph-path"
"""What the vector reader calls a character drawn as a path: the pixels alone can read it, and do."""

INKED = 0.9
"""Share of places along each link of a line at which there must be ink; digits on it hide none, crossings little."""

CONFIRMED = 0.99
"""How sure a line of the PDF is made by ink all along it, next to the pixel reader's having traced it too."""

EDGE = 0.08
"""In cells: a character reaches no further than this into a cell in which it does not stand."""

ALONE = 0.9
"""How far a character of the text layer is believed where the pixels show none."""


@dataclass(frozen=True, slots=True)
class Picture:
    """The ink of a flattened grid, for looking whether a line is there: 0 to 1, without the lattice; `floor` is what
    paper and noise reach."""

    drawn: npt.NDArray[np.float32]
    floor: float
    flat: Flat


def merge(pixels: Evidence, vectors: Evidence | None, picture: Picture) -> tuple[Evidence, tuple[Doubt, ...]]:
    """One Evidence out of both, and a Doubt for each thing on which they disagree. `vectors` is None for a page that
    has none; then the pixels alone speak.

    What is left over is told by the vectors: they know every path exactly, where the pixels have crumbs of blurred
    edges. Should the vectors explain away a mark, the guard that looks at the ink once more finds it."""
    if vectors is None:
        return pixels, ()
    glyphs, glyph_doubts = _merge_glyphs(pixels.glyphs, vectors.glyphs)
    traces, trace_doubts = _merge_traces(pixels.traces, vectors.traces, picture)
    known = [g.box for g in glyphs]
    shapes = tuple(s for s in vectors.shapes if not _accounted(s, known, pixels))
    unexplained = tuple(b for b in vectors.unexplained if not _covered(b, known))
    merged = replace(
        pixels,
        glyphs=glyphs,
        traces=traces,
        edges=vectors.edges,
        tints=vectors.tints,
        discs=vectors.discs,
        shapes=shapes,
        unexplained=unexplained,
    )
    return merged, glyph_doubts + trace_doubts


def _accounted(shape: Shape, known: Sequence[Box], grid: Evidence) -> bool:
    """Whether what the vectors could not name is known otherwise. A character drawn as a path must have been read in
    every cell that it reaches into: the guard that looks at the ink cannot find one that stands on a line, because the
    line claims its ink. Beside the grid the pixels tell clues from the page's other text."""
    if shape.name != GLYPH_PATH:
        return _covered(shape.box, known)
    x0, y0, x1, y1 = shape.box
    columns = range(max(0, math.floor(x0 + EDGE)), min(grid.columns, math.ceil(x1 - EDGE)))
    rows = range(max(0, math.floor(y0 + EDGE)), min(grid.rows, math.ceil(y1 - EDGE)))
    middles = [((box[0] + box[2]) / 2, (box[1] + box[3]) / 2) for box in known]
    read = {(math.floor(y), math.floor(x)) for x, y in middles}
    return all((row, column) in read for row in rows for column in columns)


def _merge_glyphs(pixels: Sequence[Glyph], vectors: Sequence[Glyph]) -> tuple[tuple[Glyph, ...], tuple[Doubt, ...]]:
    merged: list[Glyph] = []
    doubts: list[Doubt] = []
    left = list(pixels)
    for glyph in vectors:
        partners = (p for p in left if p.text and _same_place(p, glyph))
        partner = min(partners, key=lambda p: _distance(p, glyph), default=None)
        if partner is None:
            merged.append(_believed(glyph, ALONE))
            doubts.append(
                _glyph_doubt(f"the PDF's text says “{glyph.text}”, the picture shows no such character", glyph)
            )
            continue
        left.remove(partner)
        joined = _joined(partner, glyph)
        merged.append(joined)
        if partner.text != glyph.text:
            why = f"the PDF's text says “{glyph.text}”, the picture shows “{partner.text}”"
            doubts.append(_glyph_doubt(why, joined))
    # A spot where the pixels found no character, and the text layer a clear one, is spoken of above already.
    left = [p for p in left if p.text or not any(_same_place(p, glyph) for glyph in vectors)]
    return (*merged, *left), tuple(doubts)


def _joined(pixels: Glyph, vectors: Glyph) -> Glyph:
    if pixels.text == vectors.text:
        both_wrong = (1 - pixels.confidence) * (1 - vectors.confidence) / OTHER_CHARACTERS
        others = tuple(replace(g, probability=g.probability * (1 - vectors.confidence)) for g in pixels.guesses[1:])
        return replace(vectors, guesses=(Guess(pixels.text, 1 - both_wrong), *others))
    first, second = (pixels, vectors) if pixels.confidence >= PIXELS_SURE else (vectors, pixels)
    guesses = (Guess(first.text, 0.6), Guess(second.text, 0.4))
    return replace(vectors, guesses=guesses, how=first.how)


def _believed(glyph: Glyph, probability: float) -> Glyph:
    return replace(glyph, guesses=tuple(Guess(g.text, min(g.probability, probability)) for g in glyph.guesses))


def _glyph_doubt(why: str, glyph: Glyph) -> Doubt:
    return Doubt(why, where=box_polygon(glyph.box))


def _merge_traces(
    pixels: Sequence[Trace], vectors: Sequence[Trace], picture: Picture
) -> tuple[tuple[Trace, ...], tuple[Doubt, ...]]:
    """Lines as the PDF draws them, each confirmed by the picture: because the pixel reader traced the same, or because
    there is ink all along it. A line that the picture shows and the PDF does not draw is a doubt."""
    traced = {_links(t): t for t in pixels}
    merged = []
    doubts = []
    for trace in vectors:
        partner = traced.get(_links(trace))
        seen = partner.confidence if partner else CONFIRMED
        if partner is None and supported(picture.drawn, picture.floor, picture.flat, trace) < INKED:
            doubts.append(_trace_doubt("the PDF draws a line here that the picture does not show", trace))
            seen = 0.0
        merged.append(replace(trace, confidence=1 - (1 - trace.confidence) * (1 - seen)))
    drawn = frozenset[frozenset[Cell]]().union(*map(_links, vectors))
    for trace in pixels:
        # What else the picture shows lies on lines that are drawn, or it is a doubt.
        if not _links(trace) <= drawn and not _on_drawn_cells(trace, vectors):
            doubts.append(_trace_doubt("the picture shows a line here that the PDF does not draw", trace))
            merged.append(trace)
    return tuple(merged), tuple(doubts)


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


def _same_place(a: Glyph, b: Glyph) -> bool:
    return _inside(a.centre, b.box) or _inside(b.centre, a.box)


def _inside(point: tuple[float, float], box: Box) -> bool:
    return box[0] <= point[0] <= box[2] and box[1] <= point[1] <= box[3]


def _distance(a: Glyph, b: Glyph) -> float:
    return abs(a.centre[0] - b.centre[0]) + abs(a.centre[1] - b.centre[1])


def _covered(box: Box, known: Iterable[Box]) -> bool:
    """Whether a box lies, by its middle, within one that is accounted for."""
    middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
    return any(_inside(middle, other) for other in known)
