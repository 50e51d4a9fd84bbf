"""All marks of a flattened grid, read by the lattice network and measured on its picture."""

from __future__ import annotations

import math
from collections.abc import Callable, Container, Iterable, Sequence
from dataclasses import replace
from functools import cache, partial

import numpy as np

from ingest.page import Box, Point
from recognise.evidence import Disc, Flat, Glyph, Shape, Trace
from recognise.geometry import holds
from recognise.marks.agree import agreed, faded, seen_alone
from recognise.marks.barbs import with_barbs
from recognise.marks.bits import bits
from recognise.marks.cages import Cages, find_cages
from recognise.marks.cell_spots import CELL_CIRCLE, END_CIRCLE, capsules, cell_spots
from recognise.marks.characters import Characters, read_characters
from recognise.marks.clear import PLATE, clear_of, crossed, hidden, in_the_middle, past
from recognise.marks.cores import is_of_core, with_cores
from recognise.marks.corner_tags import tags_of, walls_of_tags
from recognise.marks.diagonals import as_lines, diagonals
from recognise.marks.explained import explained
from recognise.marks.fine_lines import EVENED, STANDS
from recognise.marks.found import Marks
from recognise.marks.line_questions import faded_words
from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.network import LatticeReader
from recognise.marks.of_line import STROKE, is_dash, is_of_head, is_of_line
from recognise.marks.places import Spots, corner_spots, edge_spots
from recognise.marks.pointers import pointers, where_drawn
from recognise.marks.seen import Seen
from recognise.marks.slanted import slanted
from recognise.marks.spoken import SILENT, Spoken
from recognise.marks.strokes import Stroke, inked, measure, tip_beyond
from recognise.marks.traces import Lines, find_traces
from recognise.marks.under_diagonals import look_under_diagonals
from recognise.marks.whole_clues import clues_again
from recognise.marks.whole_givens import heard, in_part, is_ring, lost, not_there
from recognise.pixels.blobs import Pieces
from recognise.pixels.frame import Mask
from recognise.pixels.framing import frames_of_all
from recognise.pixels.glyphs import CharacterReader
from recognise.pixels.ink import Ink
from schema.cells import Cell

RIM, APART = 0.06, 0.15
"""In cells: the rim of a circle, with its blur, and how far from its middle lines that run into it stand apart."""
UNLIKE_MARKS = frozenset("2345689")
"""Figures that no dot, bar or sign looks like."""
SPOKEN_OF, LIKE_SIGNS = frozenset("VX7"), frozenset("V7")
"""Letters that print sets between cells, with the figure that only signs look like; and those of them that signs do."""


class MarkReader:
    """Finds marks by the lattice network; characters that stand with them are read by `reader`."""

    def __init__(self, reader: CharacterReader, lattice: LatticeReader | None = None, spoken: Spoken = SILENT) -> None:
        self._reader = reader
        self._lattice = lattice or LatticeReader()
        self._spoken = spoken

    def guided_by(self, spoken: Spoken) -> MarkReader:
        """A reader that knows what the rules of the page speak of."""
        return MarkReader(self._reader, self._lattice, spoken)

    def __call__(self, flat: Flat, ink: Ink, pieces: Pieces, known: Sequence[Glyph], tubes: Sequence[Trace]) -> Marks:
        """The marks of a grid; see `recognise.marks.found.MarkFinder`."""
        told, freed = look_under_diagonals(self._lattice, flat, ink)
        seen = Seen.of(told, self._spoken, flat, ink, pieces, known, freed)
        on_lattice = [edge_spots(seen.told, seen.looking, seen.spoken), corner_spots(seen.chances, seen.looking)]
        lines = _lines(seen, known, on_lattice)
        cages = find_cages(
            seen.chances,
            ink.drawn,
            ink.relative,
            seen.raster,
            ink.floor,
            seen.standing.along,
            unspoken=seen.spoken.no_cages,
            whole=seen.spoken.whole,
        )
        spots = [*on_lattice, *_in_cells_and_beside(seen, known, lines)]
        characters = read_characters(seen, spots, cages.fences, lines.traces, known, self._reader)
        return _together(seen, lines, cages, spots, characters, tubes)


def _lines(seen: Seen, known: Sequence[Glyph], on_lattice: Sequence[Spots]) -> Lines:
    """The lines, each measured where neither digits nor the marks `on_lattice` hide it."""
    ink, raster = seen.ink, seen.raster
    middles = in_the_middle(known, raster, seen.chances)

    def part(one: Cell, other: Cell) -> tuple[float, float]:
        ways = (one, other), (other, one)
        start, end = (max(clear_of(way[0], seen.chances), past(way, middles.get(way[0]))) for way in ways)
        return start, 1 - end

    def under(one: Cell, other: Cell) -> float:
        return max(hidden(one, other, on_lattice), crossed(one, other, seen.chances))

    def stroke(one: Cell, other: Cell) -> Stroke:
        own, hides = part(one, other), under(one, other)
        looked_at = seen.freed if seen.freed and frozenset((one, other)) in seen.freed.links else ink
        return measure((one, other), own, looked_at.drawn, looked_at.relative, raster, ink.floor, hides)

    def fine(one: Cell, other: Cell) -> Stroke:
        least, own, hides = STANDS * ink.floor, part(one, other), under(one, other)
        return measure((one, other), own, ink.level, ink.relative, raster, least, hides, evened=EVENED)

    def radius(cell: Cell) -> float | None:
        sizes = (CELL_CIRCLE, END_CIRCLE)  # the digits of a page are larger than the least circles of its lines
        found = (seen.looking.round_at(cell.centre, size, on_lattice=False) for size in sizes)
        return next((circle.radius for circle in found if circle), None)

    def tip(before: Cell, last: Cell) -> float:
        return tip_beyond(before, last, ink.drawn, raster, ink.floor)

    within = _ink_in_circles(seen, radius, middles)
    lines = find_traces(seen.chances, stroke, radius, seen.standing.between, raster, seen.spoken, tip, fine, within)
    return replace(lines, traces=tuple(with_barbs(trace, ink.drawn, raster, ink.floor) for trace in lines.traces))


def _ink_in_circles(
    seen: Seen, radius: Callable[[Cell], float | None], middles: Container[Cell]
) -> Callable[[Cell, Cell], float | None]:
    """On how much of the way from near the middle of a cell to the rim of its circle, towards another cell, ink stands;
    None where a digit stands in it, or the circles of the page are too small to tell."""
    ink = seen.ink

    @cache
    def rim() -> float:
        circled = (cell for cell in seen.chances.cells() if seen.chances.node(cell, "CIRCLE") > DRAWN)
        return float(np.median([size for cell in circled if (size := radius(cell))] or [0.0])) - RIM

    def within(cell: Cell, other: Cell) -> float | None:
        if cell in middles or rim() < APART + RIM:
            return None
        way = math.dist(cell.centre, other.centre)
        return inked((cell, other), (APART / way, rim() / way), ink.drawn, seen.raster, ink.floor)

    return within


def _in_cells_and_beside(seen: Seen, known: Iterable[Glyph], lines: Lines) -> list[Spots]:
    """What stands in cells, the circles of lines aside, goes across the grid, or points into it from beside."""
    chances, spoken = seen.chances, seen.spoken
    numbers = any(seen.raster.cell_of(*glyph.centre) is None for glyph in known)

    def pointed(row: int, column: int, way: str) -> bool:
        return chances.at("pointer", row, column)[way] > DRAWN

    measured = slanted(seen.pieces, seen.raster, known, pointed) if spoken.arrowed else ()
    weight = spoken.unspoken if spoken.bare and not spoken.arrowed else 1.0
    return [
        cell_spots(chances, seen.looking, lines.circled, spoken, lines.faded),
        capsules(chances, seen.looking, spoken, lines.faded),
        diagonals(chances, seen.ink, seen.raster, spoken),
        pointers(
            chances,
            numbers,
            measured,
            weight,
            all_pointed=spoken.arrowed and not spoken.bare,
            as_print=seen.looking.as_print,
        ),
    ]


def _together(
    seen: Seen, lines: Lines, cages: Cages, spots: Sequence[Spots], characters: Characters, tubes: Sequence[Trace]
) -> Marks:
    """All marks, what is told twice once; `tubes` are the wide lines that the tracer found by thresholds."""
    pale = faded(seen_alone(lines, tubes, seen.chances), lines.traces, seen.chances)
    tubes = [tube for tube in tubes if tube not in pale]
    traces = agreed(lines, tubes, seen.chances, tubed=not seen.spoken.links or "TUBE" in seen.spoken.links)
    traces = with_cores(traces, seen.ink.drawn, seen.raster)
    own = {trace.nodes[node].centre for trace in traces for node, _ in trace.discs}
    discs = tuple(disc for found in spots for disc in found.discs if disc.centre not in own)

    glyphs = tuple(glyph for glyph in characters.glyphs if not _is_piece(glyph, traces, seen))
    drawn = [shape for found in spots for shape in found.shapes]
    drawn += [shape for found in spots for place, shape in found.unless_written if not _is_written(place, glyphs)]
    size = seen.ink.drawn.shape[0], seen.ink.drawn.shape[1]
    of_marks = partial(explained, traces, cages.fences, discs, drawn, (), seen.raster, size)
    replaced = _replaced(characters, drawn, traces, discs, of_marks, seen)
    left = [glyph for glyph in characters.known if glyph not in replaced]
    again = [*_givens_again(left, traces, discs, seen), *clues_again([*left, *glyphs], seen)]
    before = [own for own, _ in again]
    replaced = (*replaced, *before)
    # What was read anew may equal what it replaces, and stays.
    glyphs = (*(glyph for glyph in glyphs if glyph not in before), *(after for _, after in again))
    read = [g for g in (*characters.known, *glyphs) if not (characters.is_small(g) or is_ring(g, discs))]
    glyphs = (*glyphs, *lost(read, traces, seen))
    # A ring is told by the network, with what stands in it.
    framed = frames_of_all(characters.on_edges, seen.ink.all, seen.ink.relative, seen.raster, seen.ink.floor)
    frames = [frame for frame in framed if isinstance(frame, Shape)]
    standing = [*(glyph for glyph in characters.known if glyph not in replaced), *glyphs]
    shapes = tuple(where_drawn(shape, standing, seen.pieces, seen.raster) for shape in (*drawn, *frames))

    boxes = [frame.box for frame in frames]
    answered = [glyph for glyph in glyphs if _is_plainly_text(glyph, boxes, seen.spoken)]
    unread = [words for found in spots for place, words in found.unless_read if not _is_written(place, answered)]
    of_spots = [*(note for found in spots for note in found.notes), *unread]
    notes = (*lines.notes, *(faded_words(tube.nodes) for tube in pale), *cages.notes, *of_spots, *characters.notes)

    tint = {cell: seen.chances.node(cell, "TINT") for cell in seen.chances.cells()}
    tags = tags_of(glyphs, seen.ink, seen.raster)
    written = (*(glyph.box for glyph in glyphs), *(tag.box for tag in tags))
    mask = explained(traces, cages.fences, discs, shapes, written, seen.raster, size)
    walls = tuple(walls_of_tags(tags))
    return Marks(traces, cages.fences, discs, shapes, glyphs, replaced, tint, notes, mask, walls)


def _givens_again(
    known: Sequence[Glyph], traces: Sequence[Trace], discs: Sequence[Disc], seen: Seen
) -> list[tuple[Glyph, Glyph]]:
    """Givens that count otherwise in the light of the network of short texts, before and after."""
    whole = in_part(known, _cells_of(traces, discs, seen), seen)
    return [*whole, *heard([glyph for glyph in known if all(glyph is not before for before, _ in whole)], seen)]


def _replaced(
    characters: Characters,
    drawn: Sequence[Shape],
    traces: Sequence[Trace],
    discs: Sequence[Disc],
    of_marks: Callable[[], Mask],
    seen: Seen,
) -> tuple[Glyph, ...]:
    """What passed for characters and is marks, which take up the pixels `of_marks`, or a part of them."""
    ways = [*traces, *as_lines(drawn, seen.chances.rows)]
    replaced = (*characters.replaced(drawn), *(glyph for glyph in characters.known if _is_drawn(glyph, ways, seen)))
    left = [glyph for glyph in characters.known if glyph not in replaced]
    ends = [glyph for glyph in left if _may_be_of_mark(glyph, traces, discs, seen)]
    replaced = (*replaced, *not_there(ends, seen))
    return (*replaced, *bits([glyph for glyph in characters.known if glyph not in replaced], of_marks, seen))


def _cells_of(traces: Iterable[Trace], discs: Iterable[Disc], seen: Seen) -> frozenset[Cell]:
    """The cells of lines, and those in which circles stand."""
    of_lines = {cell for trace in traces for cell in trace.nodes}
    return frozenset({*of_lines, *(cell for disc in discs if (cell := seen.raster.cell_of(*disc.centre)))})


def _is_piece(glyph: Glyph, traces: Sequence[Trace], seen: Seen) -> bool:
    """Whether what passes for a character beside marks is a dash of a line, or of its core."""
    return is_of_core(glyph, traces) or is_dash(glyph, traces, seen.ink.drawn, seen.raster, seen.ink.floor)


def _is_drawn(glyph: Glyph, traces: Sequence[Trace], seen: Seen) -> bool:
    """Whether what passes for a character is a part of a line."""
    ink = seen.ink
    of_line = is_of_line(glyph, traces, seen.chances, ink.drawn, seen.raster, ink.floor)
    return is_of_core(glyph, traces) or of_line or is_of_head(glyph, traces, seen.chances, seen.raster)


def _may_be_of_mark(glyph: Glyph, traces: Sequence[Trace], discs: Sequence[Disc], seen: Seen) -> bool:
    """Whether what passes for a given may be a part of a mark: the end of a line, or, where rules speak of marks, what
    stands on a line or in a circle. Of what is written by hand neither network knows, on pages that speak of none."""
    if _is_end(glyph, traces, seen):
        return True
    return seen.spoken.speaks and seen.raster.cell_of(*glyph.centre) in _cells_of(traces, discs, seen)


def _is_end(glyph: Glyph, traces: Sequence[Trace], seen: Seen) -> bool:
    """Whether what passes for a given may be the end of a line: a 1 that lies along it as a whole, or what stands where
    an arrow has its head."""
    ink, cell = seen.ink, seen.raster.cell_of(*glyph.centre)
    if any(trace.nodes[head] == cell for trace in traces for head in trace.heads):
        return True
    return glyph.text == STROKE and is_of_line(
        glyph, traces, seen.chances, ink.drawn, seen.raster, ink.floor, denied=True
    )


def _is_written(place: Point, glyphs: Iterable[Glyph]) -> bool:
    """Whether any characters were read at a place on an edge."""
    return any(math.dist(glyph.centre, place) <= PLATE for glyph in glyphs)


def _is_plainly_text(glyph: Glyph, framed: Iterable[Box], spoken: Spoken) -> bool:
    """Whether what was read on an edge can be no dot, bar or sign, which may look like one figure or letter: a longer
    text, another figure, one in a frame, or a letter or 7 where the rules speak of text there and of nothing that looks
    like it."""
    told = SPOKEN_OF - LIKE_SIGNS if "sign" in spoken.edges else SPOKEN_OF
    unlike = glyph.text in UNLIKE_MARKS or ("text" in spoken.edges and glyph.text in told)
    plain = len(glyph.text) > 1 or unlike or any(holds(box, glyph.centre) for box in framed)
    return plain and glyph.confidence >= MIDDLING[1]
