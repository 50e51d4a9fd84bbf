"""A page as its readers see it: the right way up, every grid on it found, flattened and looked at."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from types import MappingProxyType

import numpy as np

from ingest.page import Page, Point
from recognise.draft import Doubt
from recognise.evidence import Evidence, Flat, Lattice, Shape, Tint, Trace
from recognise.geometry import bounds, middle
from recognise.glyphs import GlyphReader
from recognise.grids import (
    Boxes,
    boxes_from,
    closed_up,
    flatten,
    inked,
    marks_on_edges,
    measure_edges,
    straightened,
    without_others,
)
from recognise.grids.behind_rules import without_neighbours
from recognise.grids.clue_cells import without_clue_cells
from recognise.grids.clue_tiles import with_dark_numbers
from recognise.grids.find import PUZZLE
from recognise.grids.find import find_lattices as lattices_in
from recognise.hand import Hand, tell_hand
from recognise.hand.digits import HandReader
from recognise.hand.reading import digit_reader
from recognise.marks.lines import MIDDLING
from recognise.marks.network import LatticeReader
from recognise.marks.read import MarkReader
from recognise.marks.spoken import SILENT, Spoken
from recognise.merge import Picture, merge
from recognise.pixels import Stages, read_stages, stray_beside, with_marks, without_written
from recognise.pixels.frame import Raster
from recognise.pixels.ink import Ink
from recognise.pixels.names_beside import without_names
from recognise.pixels.patterned import as_patterned, patterned, stands_clear
from recognise.pixels.screen import descreened
from recognise.plausible import judge
from recognise.text.lying import layer_turn, text_turn
from recognise.upright import best_turn, is_clear, readable, told, turned
from recognise.vectors import exact, lattices_from_vectors, read_vectors
from recognise.vectors.retraced import retraced
from schema.cells import Cell

SAME_OUTLINE = 0.25
"""In cells: how far the outline of a grid in the picture may be from that of the same grid among the vectors."""

PATTERN = (200, 200, 200)
"""What a ground of black dots or strokes looks like from afar."""

IN_MIDDLE = 0.25
"""In cells: a mark so near to the middle of a cell stands in it; one on an edge leaves the far side of it bare."""

NONE_YET: Mapping[int, Looked] = MappingProxyType({})

WIDE_LINE = 0.2
"""In cells: a thinner line through the middle of a cell stays, with its blur, in the middle one of the three parts of
it that a pattern is told by."""


@dataclass(frozen=True, slots=True)
class Looked:
    """One grid as the readers saw it."""

    lattice: Lattice
    flat: Flat
    boxes: Boxes
    evidence: Evidence
    disagreements: tuple[Doubt, ...]
    ink: Ink
    hand: Hand = field(default_factory=Hand)
    by_vectors: bool = False
    """Whether a PDF draws it: then no photograph is to blame, and nobody has written in it."""
    stages: Stages | None = None
    """What the pixel reader saw before it looked for marks, for another look."""
    spoken: Spoken = SILENT
    """What the reader of marks knew of the rules."""


@lru_cache(maxsize=1)
def glyph_reader() -> GlyphReader:
    """The glyph network, loaded once a process."""
    return GlyphReader()


@lru_cache(maxsize=1)
def hand_reader() -> HandReader:
    """The network for handwritten digits; it is loaded when there is something to read."""
    return HandReader()


@lru_cache(maxsize=1)
def lattice_reader() -> LatticeReader:
    """The lattice network, loaded once a process."""
    return LatticeReader()


@lru_cache(maxsize=1)
def mark_reader() -> MarkReader:
    """The reader of marks, which asks the lattice network."""
    return MarkReader(glyph_reader(), lattice_reader())


def drawn_again(page: Page, lattice: Lattice) -> Looked | None:
    """A grid as both readers see it when its rendered picture is drawn again as paths; None where it was not rendered,
    or where these do not draw it."""
    again = retraced(page, lattice)
    vectors = read_vectors(*again, glyph_reader()) if again is not None else None
    if again is None or vectors is None:
        return None
    flat = flatten(page.image, again[1])
    return _looked(again[1], flat, read_stages(flat, measure_edges(flat), glyph_reader(), leftover=False), vectors)


def look_upright(page: Page) -> tuple[Page, list[Looked]]:
    """The page the right way up, and every grid on it as the readers saw it."""
    lattices = find_lattices(page)
    looked = _look_at_each(page, lattices)
    puzzles = [grid for grid in looked if judge(grid.evidence).is_puzzle]
    doubtful = _perhaps_turned(looked)
    if puzzles and (doubtful or (page.vectors is None and not any(told(grid.evidence) for grid in looked))):
        quarters = _turn_of_text(page, puzzles)
        if quarters:
            page, lattices = turned(page, lattices, quarters)
            looked = _look_at_each(page, lattices)
        if quarters is not None:
            return page, looked
    if doubtful is None:
        return page, looked
    best, turned_grid = best_turn(page, doubtful.lattice, look, doubtful.evidence)
    if turned_grid is None:
        return page, looked
    page, lattices = turned(page, lattices, best)
    known = {index: turned_grid for index, grid in enumerate(looked) if grid is doubtful}
    return page, _look_at_each(page, lattices, known)


def _look_at_each(page: Page, lattices: Sequence[Lattice], known: Mapping[int, Looked] = NONE_YET) -> list[Looked]:
    """The puzzle grids of a page as the readers see them, those that are `known` (by their index) as they are; in a
    picture each without what stands in the other grids and tables of the page."""

    def alone(lattice: Lattice) -> Page:
        return page if page.vectors else replace(page, image=without_others(page.image, lattice, lattices))

    puzzles = [lattice for lattice in lattices if lattice.score >= PUZZLE]
    return [known.get(index) or look(alone(lattice), lattice) for index, lattice in enumerate(puzzles)]


def _turn_of_text(page: Page, puzzles: Sequence[Looked]) -> int | None:
    """The quarter turns clockwise that bring the page's text upright; None where there is too little of it to tell. It
    is read in less time than a grid is looked at once more, and a text layer need not be read."""
    known = layer_turn(page)
    return known if known is not None else text_turn(page, [bounds(grid.lattice.points) for grid in puzzles])


def _perhaps_turned(looked: Sequence[Looked]) -> Looked | None:
    """A grid in which things stand that do not read as they are; None where another grid reads well."""
    if any(is_clear(grid.evidence) and readable(grid.evidence) for grid in looked):
        return None
    return next((grid for grid in looked if not is_clear(grid.evidence)), None)


def find_lattices(page: Page) -> list[Lattice]:
    """The grids of a page, its tables among them: found in its picture, made exact by its vectors where it has them."""
    drawn = lattices_from_vectors(page) if page.vectors is not None else ()
    found = lattices_in(page.image, drawn)
    return [_as_drawn(lattice, drawn) for lattice in found]


def _as_drawn(lattice: Lattice, drawn: Sequence[Lattice]) -> Lattice:
    """The grid as the vectors draw it, also where the picture's lattice is bent inside the same outline."""
    same = exact(lattice, drawn)
    if same is not lattice:
        return same
    for other in drawn:
        if other.points.shape == lattice.points.shape:
            cell = float(np.ptp(other.points[..., 0])) / other.columns
            ends = [np.concatenate([p.min(axis=(0, 1)), p.max(axis=(0, 1))]) for p in (lattice.points, other.points)]
            if np.abs(ends[0] - ends[1]).max() <= SAME_OUTLINE * cell:
                return replace(lattice, points=other.points, broken=False)
    return lattice


def look(page: Page, lattice: Lattice, spoken: Spoken = SILENT) -> Looked:
    """Flatten one grid and have both readers look at it, the one of marks knowing what the rules speak of, if they
    speak of any."""
    spoken = spoken if spoken.speaks else SILENT
    light = lattice.light and page.vectors is None
    flat = flatten(inked(page.image, lattice) if light else page.image, lattice)
    if page.vectors is None:
        flat = closed_up(flat) if lattice.apart else flat
        flat = with_dark_numbers(descreened(straightened(flat)))
    flat = without_clue_cells(flat)
    if page.vectors is None:
        flat = without_names(flat, glyph_reader())
    edges = measure_edges(flat)
    vectors = read_vectors(page, lattice, glyph_reader()) if page.vectors is not None else None
    # Where the page has vectors they say what the marks are.
    marks = mark_reader().guided_by(spoken) if vectors is None else None
    seen = read_stages(flat, edges, glyph_reader(), marks, leftover=vectors is None)
    return _looked(lattice, flat, seen, vectors, spoken)


def _looked(
    lattice: Lattice, flat: Flat, seen: tuple[Evidence, Stages], vectors: Evidence | None, spoken: Spoken = SILENT
) -> Looked:
    """One grid, of what the pixel reader saw, who knew what the rules speak of, and what the vectors draw."""
    pixels, stages = seen
    evidence, disagreements = merge(
        pixels, vectors, Picture(stages.ink.unsifted, stages.ink.floor, flat, glyph_reader())
    )
    hand = Hand()
    if vectors is None:
        evidence, hand = tell_hand(evidence, stages.ink, Raster.of(flat), digit_reader(glyph_reader()), hand_reader())
        if hand.pencilled:
            written = {pencilled.cell for pencilled in hand.pencilled}
            evidence = without_written(written, evidence, stages, Raster.of(flat), glyph_reader())
        if hand.pencilled and evidence.stray:
            left = stray_beside([pencilled.box for pencilled in hand.pencilled], evidence, stages, flat)
            evidence = replace(evidence, stray=left)
    # What a PDF draws under a mark is known.
    boxes = boxes_from(evidence.edges, evidence.tints, marks_on_edges(evidence) if vectors is None else ())
    doubts = disagreements + hand.doubts
    drawn = vectors is not None
    return Looked(lattice, flat, boxes, evidence, doubts, stages.ink, hand, drawn, None if drawn else stages, spoken)


def look_again(grid: Looked, spoken: Spoken) -> Looked:
    """The same grid, its marks read by somebody who knows what the rules speak of; where a PDF draws it, where no rules
    are printed, and where whoever read them knew it, as it was."""
    if grid.stages is None or grid.spoken == spoken:
        return grid
    if not (spoken.speaks or (spoken.no_cages and grid.evidence.fences)):
        return grid
    seen = with_marks(grid.flat, grid.stages, mark_reader().guided_by(spoken))
    return _looked(grid.lattice, grid.flat, seen, None, spoken)


def look_before_rules(grid: Looked, spoken: Spoken) -> Looked:
    """The same grid of a picture without what stands behind rules beside it, where all rules are understood and speak
    of no numbers beside the grid: part of a table or crossword, whose numbers pass for clues."""
    # Either of the first two says that the rules state something.
    told = spoken.whole and (spoken.no_cages or spoken.no_diagonals) and not (spoken.bare or spoken.arrowed)
    flat = without_neighbours(grid.flat) if told and grid.stages is not None else grid.flat
    if flat is grid.flat:
        return grid
    seen = read_stages(flat, measure_edges(flat), glyph_reader(), mark_reader().guided_by(spoken))
    return _looked(grid.lattice, flat, seen, None, spoken)


def _in_a_cell(place: Point) -> bool:
    """Whether a mark stands in a cell, not between cells."""
    return all(abs(at % 1 - 0.5) <= IN_MIDDLE for at in place)


def _circles(evidence: Evidence) -> Iterator[tuple[Point, float]]:
    """The circles in cells, with those in which lines end: their middles and radii."""
    for disc in evidence.discs:
        if _in_a_cell(disc.centre):
            yield disc.centre, disc.radius
    for trace in evidence.traces:
        yield from ((trace.nodes[node].centre, radius) for node, radius in trace.discs)


def _may_fill(trace: Trace) -> Iterable[Cell]:
    """The cells of which a line may leave no part bare: all of a wide one, and those in which it has a bulb."""
    return trace.nodes if trace.width >= WIDE_LINE else [trace.nodes[node] for node, _ in trace.discs]


def with_patterns(grid: Looked) -> Looked:
    """The same grid with cells that a pattern of dots or strokes fills taken for tinted, and asked about where they are
    not told from all others; as it was where a PDF draws it, or tints were seen elsewhere. Of a cell with a ring in it
    what is around that tells. A filled square leaves no part of its cell bare either, nor, where no other cell is full,
    a wide line that bends or ends in a bulb there; but the strokes of a pattern with a line round it may look like a
    square, and unlike the others of the page. Which cells have it is certain where most of every other cell is bare."""
    if grid.by_vectors or any(tint.certain for tint in grid.evidence.tints):
        return grid
    raster = Raster.of(grid.flat)
    hollow = _unlike_the_filled(grid.evidence.shapes)
    marks = [middle(shape.box) for shape in grid.evidence.shapes if shape.name == "square" and shape not in hollow]
    marked = {raster.cell_of(*place) for place in marks if _in_a_cell(place)}
    written = [glyph.box for glyph in grid.evidence.glyphs]
    seen_as = grid.ink.drawn, grid.ink.floor, raster, written, list(_circles(grid.evidence))
    full = patterned(*seen_as)
    cells = sorted((full | as_patterned(full, grid.ink.level, *seen_as[1:])) - marked)
    lined = {cell for trace in grid.evidence.traces for cell in _may_fill(trace)}
    tinted = {tint.cell for tint in grid.evidence.tints}
    if lined.issuperset(cells) or not tinted.issubset(cells) or (tinted == set(cells) and not tinted <= full):
        return grid  # the last where what strokes do not surely show was seen as a tint all the same
    of_pattern = [shape for shape in hollow if raster.cell_of(*middle(shape.box)) in cells]
    answered = [
        f"whether a square stands in {raster.cell_of(*middle(shape.box))} was hard to tell" for shape in of_pattern
    ]
    notes = [note for note in grid.evidence.notes if note not in answered]
    if not stands_clear(cells, *seen_as):
        notes.append("dots or strokes fill cells, and were taken for a tint")
    certain = stands_clear(cells, *seen_as, mostly=True)
    seen = replace(
        grid.evidence,
        tints=tuple(Tint(cell, PATTERN, 1.0, certain=certain) for cell in cells),
        shapes=tuple(shape for shape in grid.evidence.shapes if shape not in of_pattern),
        notes=tuple(notes),
    )
    return replace(grid, evidence=seen)


def _unlike_the_filled(shapes: Sequence[Shape]) -> list[Shape]:
    """Squares in doubt with paper inside, where those of the page that are not are filled."""
    squares = [shape for shape in shapes if shape.name == "square"]
    sure = [square.filled for square in squares if square.confidence >= MIDDLING[1]]
    doubtful = [square for square in squares if square.confidence < MIDDLING[1] and not square.filled]
    return doubtful if sure and all(sure) else []
