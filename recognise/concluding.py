"""What one grid means: its rules, its draft, its proof, and all that is doubted."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import product

from ingest.page import Box
from recognise.doubt.bare import bare_places
from recognise.doubt.beside import unread_beside, with_sides, without_accounted
from recognise.doubt.bleached import bleached
from recognise.doubt.broken import bare_gaps, broken_edges
from recognise.doubt.bulb_spots import without_bulb_spots
from recognise.doubt.bulges import bulges, own_ends, straight_lines
from recognise.doubt.causes import one_for_each_cause
from recognise.doubt.crossed import without_crossed
from recognise.doubt.darker_alone import darker_alone
from recognise.doubt.dirt import without_dirt
from recognise.doubt.excluded import without_excluded
from recognise.doubt.faded import without_faded
from recognise.doubt.faded_cells import without_faded_in_cells
from recognise.doubt.faded_pairs import without_faded_pairs
from recognise.doubt.figures import lost_figures
from recognise.doubt.half_marks import half_marks
from recognise.doubt.hidden import hidden_ink
from recognise.doubt.idle import idle_lines
from recognise.doubt.ink import on_strips, unexplained_ink, without_areas, without_ground, without_own
from recognise.doubt.ledger import not_accounted_for, unexplained
from recognise.doubt.line_kinds import without_kinds
from recognise.doubt.lone import lone_numbers
from recognise.doubt.lost_rules import unread_rules
from recognise.doubt.mirrored import without_mirrored
from recognise.doubt.numberless import without_numberless
from recognise.doubt.of_pattern import not_of_pattern
from recognise.doubt.on_narrow import figures_on_lines
from recognise.doubt.other_side import without_other_side
from recognise.doubt.own_lines import is_of_line, runs_on, without_own_lines
from recognise.doubt.palest import pale_spots
from recognise.doubt.placed import placed
from recognise.doubt.pointed import without_pointed
from recognise.doubt.policy import is_clean, least_sure
from recognise.doubt.poor import lost_lines, too_poor
from recognise.doubt.proof import Proven, proven
from recognise.doubt.puzzle import as_puzzle
from recognise.doubt.refuted import without_refuted
from recognise.doubt.sentence_marks import with_marks_named
from recognise.doubt.sentences import without_proved
from recognise.doubt.shaded import without_shaded
from recognise.doubt.taken import without_taken
from recognise.doubt.telling import without_told
from recognise.doubt.tinted_cells import without_tints
from recognise.doubt.tips import own_tips
from recognise.doubt.under_lines import under_lines
from recognise.doubt.unseen_tints import unseen_tints
from recognise.doubt.unshown_boxes import without_unshown_boxes
from recognise.doubt.unspoken import without_unspoken
from recognise.doubt.upon_lines import upon_lines
from recognise.doubt.waved import without_waves
from recognise.doubt.ways import weighed
from recognise.draft import Doubt, Draft, Polygon, box_polygon
from recognise.evidence import Evidence, Trace, Words
from recognise.geometry import middle, overlap
from recognise.hand.solved import in_the_light_of
from recognise.interpret import interpret
from recognise.interpret.places import cell_at
from recognise.interpret.spoken import spoken_of
from recognise.looking import Looked, glyph_reader, lattice_reader, look_again, look_before_rules, with_patterns
from recognise.marks.cores import core_bands
from recognise.marks.spoken import Spoken
from recognise.own_words import not_of_words, without_own_numbers
from recognise.pixels.blobs import beside_grid
from recognise.pixels.frame import Raster
from recognise.pixels.patterned import patterned
from recognise.pixels.texture import without_shade
from recognise.rules import RuleSheet, Statement
from recognise.rules.reader import read_rules
from recognise.support import claims
from schema.cells import Cell

IN_CELLS = ("square", "diamond")
"""Names of shapes that mark a cell, and are no characters."""


@dataclass(frozen=True, slots=True)
class Result:
    """One grid, read: what it is taken for, its proof, and whether it is clean."""

    looked: Looked
    proven: Proven
    clean: bool


def conclude(grid: Looked, words: Words, house: Sequence[Statement] = ()) -> Result:
    """What one grid means, with every guard applied."""
    sheet = sheet_of(grid, words)
    spoken = spoken_of(sheet, house)
    grid = look_again(look_before_rules(grid, spoken), spoken)
    if sheet is not None and any(s.mark.shape == "tint" and not s.negated for s in sheet.statements):
        grid = with_patterns(grid)
    grid = replace(grid, evidence=without_own_numbers(_without_patterns(grid), words, spoken))
    draft = interpret(grid.evidence, grid.boxes, sheet, words, house)
    if grid.stages is not None:
        draft = with_sides(draft, grid.stages.unsettled, spoken)
    poor = fault_of_picture(grid)
    if poor is not None:
        return Result(grid, Proven(draft.doubting(Doubt(poor)), None, None), clean=False)
    if not grid.by_vectors:
        draft = _without_numberless(draft, grid)
    if grid.stages is not None and grid.stages.unsettled:
        draft = without_accounted(draft, grid.stages.unsettled, partial(ink_doubts, grid))
    draft = draft.doubting(*grid.disagreements, *ink_doubts(grid, draft), *idle_lines(draft), *unread_rules(draft))
    if not grid.by_vectors:
        draft = without_other_side(without_own_lines(draft, grid.flat), grid.ink, Raster.of(grid.flat))
        draft = draft.doubting(*_hardly_printed(grid, draft, spoken, sheet))
        draft = without_mirrored(draft, grid.ink, grid.flat, glyph_reader())
    draft = draft.doubting(*lost_lines(grid.lattice, spoken))
    outcome = proven(draft)
    if outcome.is_unique and not grid.by_vectors and not spoken.speaks:
        written = [pencilled.cell for pencilled in grid.hand.pencilled]
        draft = without_dirt(outcome.draft, grid.ink.level, Raster.of(grid.flat), written)
        outcome = Proven(draft, as_puzzle(draft), outcome.proof)
    draft = outcome.draft
    if outcome.proof is not None and outcome.is_unique:
        solution = outcome.proof.solution or {}
        draft = without_proved(without_kinds(without_excluded(without_crossed(draft))), solution, sheet)
        draft = without_pointed(without_taken(without_told(draft, solution, sheet), solution))
        draft = without_faded(without_unspoken(without_unshown_boxes(draft, sheet), solution), solution)
        draft = without_faded_pairs(without_faded_in_cells(draft, solution, sheet), solution, sheet)
        draft = without_tints(draft, solution, sheet)
        if not grid.by_vectors:
            draft = _without_numberless(draft, grid)
            draft = without_refuted(draft, solution, grid.ink.level, Raster.of(grid.flat), glyph_reader())
        draft = weighed(draft, solution)
    draft = asking_about_unsure(draft)
    draft = with_marks_named(placed(one_for_each_cause(draft), grid.evidence.notes), sheet)
    outcome = Proven(draft, outcome.puzzle, outcome.proof)
    if outcome.proof is not None and outcome.proof.solution is not None:
        grid = replace(grid, hand=in_the_light_of(outcome.proof.solution, grid.hand))
    clean = outcome.proof is not None and is_clean(draft, outcome.proof.outcome)
    return Result(grid, outcome, clean)


def _without_numberless(draft: Draft, grid: Looked) -> Draft:
    seen = grid.evidence
    return without_numberless(draft, seen.fences, seen.glyphs, grid.ink.level, Raster.of(grid.flat))


def sheet_of(grid: Looked, words: Words) -> RuleSheet | None:
    """What the rules say that are printed for a grid; None where none are."""
    size = max(grid.lattice.rows, grid.lattice.columns)
    text = words.rules_text
    return read_rules(text, (1, size), words.confidence) if text else None


def fault_of_picture(grid: Looked) -> str | None:
    """What is wrong with a picture of which hardly anything can be read; handwriting and cells with marks in them need
    not be read as characters."""
    if grid.by_vectors:
        return None
    seen = grid.evidence
    marked = {cell for trace in seen.traces for cell in _crossed(trace)}
    # A blurred digit is easily taken for a mark of no kind: such marks count as what was not read.
    places = [middle(shape.box) for shape in seen.shapes if shape.name in IN_CELLS]
    # A disc or a sign on a border stands in all the cells that meet there.
    for box in (*(disc.box for disc in seen.discs), *(shape.box for shape in seen.shapes if shape.name == "sign")):
        places += product(box[::2], box[1::2])
    marked |= {cell for point in places if (cell := cell_at(point, (seen.rows, seen.columns)))}
    marked |= _hatched(grid)
    written = {pencilled.cell for pencilled in grid.hand.pencilled}
    return too_poor(grid.evidence, grid.ink, grid.lattice, Raster.of(grid.flat), written | marked)


def _hatched(grid: Looked) -> frozenset[Cell]:
    """The tinted cells whose tint is a pattern of dots or strokes: these are no characters."""
    tinted = {tint.cell for tint in grid.evidence.tints}
    if not tinted:
        return frozenset()
    written = [glyph.box for glyph in grid.evidence.glyphs]
    return patterned(grid.ink.drawn, grid.ink.floor, Raster.of(grid.flat), written) & tinted


def _without_patterns(grid: Looked) -> Evidence:
    """The evidence of a grid without ink that nothing explains and that is the pattern of tinted cells."""
    seen = grid.evidence
    if grid.by_vectors:
        return seen
    unexplained, stray = (tuple(_no_patterns(grid, boxes)) for boxes in (seen.unexplained, seen.stray))
    return replace(seen, unexplained=unexplained, stray=stray)


def _no_patterns(grid: Looked, boxes: Iterable[Box]) -> list[Box]:
    """The boxes of ink that hold more than the pattern of tinted cells, in pictures."""
    left = list(boxes)
    cells = _hatched(grid) if left else ()
    written = [glyph.box for glyph in grid.evidence.glyphs]
    return not_of_pattern(left, cells, grid.ink.level, Raster.of(grid.flat), written) if cells else left


def _crossed(trace: Trace) -> Iterator[Cell]:
    """The cells that a line goes through, and those of which a diagonal step takes the corners."""
    yield from trace.nodes
    for a, b in trace.links:
        one, other = trace.nodes[a], trace.nodes[b]
        yield Cell(one.row, other.column)
        yield Cell(other.row, one.column)


def ink_doubts(grid: Looked, draft: Draft) -> tuple[Doubt, ...]:
    """A doubt for every place where there is ink that no item accounts for."""
    claimed = [polygon for item in draft.items for polygon in item.claimed]
    claimed += [doubt.where for doubt in draft.doubts if doubt.where is not None]
    claimed += grid.evidence.number_tiles
    claimed += [box_polygon(pencilled.box) for pencilled in grid.hand.pencilled]
    left = _left_in_drawing(grid, claimed) if grid.by_vectors else _left_in_picture(grid, draft, claimed)
    why = "there is ink here that the puzzle does not explain"
    found = [Doubt(why, where=box_polygon(box), stray=True) for box in left]
    if not grid.by_vectors:
        found += _unlike_others(grid, draft, claimed)
    found += map(unexplained, not_accounted_for(draft, grid.evidence))
    for cell, box in sorted(_on_marks(grid, draft).items()):
        why = f"something stands on a mark in {cell}, and no digit was read there"
        found.append(Doubt(why, where=box_polygon(box)))
    return tuple(found)


def _left_in_drawing(grid: Looked, claimed: Sequence[Polygon]) -> list[Box]:
    """Where ink is left that a PDF draws: it is as soft as its author wanted it, and its lattice lines are as wide as
    he drew them."""
    seen = grid.evidence
    ink = without_ground(grid.ink.unsifted, grid.flat, seen.tints, seen.rails, seen.grounds)
    ink = on_strips(without_shade(ink, Raster.of(grid.flat)), grid.flat, seen.strips)
    return unexplained_ink(ink, grid.ink.floor, grid.flat, claimed, [], None, glyph_reader(), ())


def _left_in_picture(grid: Looked, draft: Draft, claimed: list[Polygon]) -> list[Box]:
    """The same of a picture; what lines take at their tips and ends is put to what is `claimed`."""
    raster, ink, floor, lattice = Raster.of(grid.flat), grid.ink.level, grid.ink.floor, grid.ink.grid
    claimed += own_tips(grid.evidence.traces, ink, raster)
    lines = straight_lines(ink, floor, grid.evidence.traces, raster)
    claimed += own_ends(lines)
    characters = [glyph.box for glyph in grid.evidence.glyphs if glyph.text]
    spots = pale_spots(ink, draft, raster)
    left = unexplained_ink(ink, floor, grid.flat, claimed, characters, lattice, glyph_reader(), spots)
    beside = bulges(lines, grid.flat, claimed, lattice)
    left += [box for box in beside if not any(overlap(box, other) for other in left)]
    left += upon_lines(ink, grid.flat, claimed, grid.evidence.traces)
    left += lone_numbers(ink, claimed, raster)
    stated = [polygon for item in draft.items for polygon in item.claimed]
    left += (box for box in broken_edges(grid.ink, grid.flat, claimed) if not runs_on(box, grid.flat, stated))
    left += lost_figures(draft, grid.evidence.glyphs, grid.ink.all, lattice, raster)
    left = not_of_words(left, grid.evidence, draft.words, grid.spoken)
    left = [box for box in _no_patterns(grid, left) if not is_of_line(box, grid.flat, stated)]
    left = without_waves(left, lines, ink, raster)
    left = without_shaded(left, ink, floor, claimed, lattice, grid.flat)
    # A gap is no ink that could be a line's own.
    gaps = bare_gaps(grid.ink, grid.flat, claimed)
    return left + [box for box in gaps if not any(overlap(box, other) for other in left)]


def _unlike_others(grid: Looked, draft: Draft, claimed: Sequence[Polygon]) -> Iterator[Doubt]:
    """Doubts about marks of a picture that are not as the others of their kind."""
    raster = Raster.of(grid.flat)
    yield from under_lines(draft, grid.evidence.edges, grid.ink.level, raster)
    for where in darker_alone(grid.evidence.discs, raster):
        yield Doubt("this circle is darker than all others: is it a stain?", where=where)
    for box in bare_places(grid.flat, grid.evidence.tints, claimed):
        yield Doubt("the tint is bare here: is something missing?", where=box_polygon(box))
    for where in half_marks(draft, grid.evidence, grid.ink.relative, grid.flat):
        yield Doubt("this looks like a part of a mark that other cells have", where=where)


def _on_marks(grid: Looked, draft: Draft) -> dict[Cell, Box]:
    """The cells in which something stands on a mark, and where."""
    traces = grid.evidence.traces
    drawn = [trace for trace in traces if trace.how == "vector" and trace.where]
    broken = [trace.where for trace in drawn if trace.dashed or trace.outlined or trace.cored]
    broken += core_bands(trace for trace in traces if trace.how == "shape")
    unsifted = without_own(grid.ink.unsifted, grid.flat, drawn)
    unsifted = without_areas(unsifted, grid.flat, grid.evidence.shapes)
    dashed = [way for trace in traces if trace.dashed and trace.how == "shape" for way in claims(trace)]
    on_marks = dict(hidden_ink(unsifted, grid.flat, draft, broken, grid.by_vectors, dashed))
    if grid.by_vectors:
        return on_marks
    on_marks = without_bulb_spots(on_marks, traces, grid.ink.unsifted, Raster.of(grid.flat))
    return dict(figures_on_lines(grid.ink.level, grid.flat, draft, traces)) | on_marks


def _hardly_printed(grid: Looked, draft: Draft, spoken: Spoken, sheet: RuleSheet | None) -> Iterator[Doubt]:
    """Doubts about marks, tints and numbers of a picture that are too pale or broken to be read."""
    look = lattice_reader().look
    yield from bleached(grid.flat, grid.ink.relative, draft, look)
    yield from unseen_tints(draft, sheet, look(grid.flat))
    pieces = beside_grid(grid.ink, Raster.of(grid.flat)).blobs
    yield from unread_beside(draft, (piece.box(Raster.of(grid.flat)) for piece in pieces), spoken)


def asking_about_unsure(draft: Draft) -> Draft:
    """A doubt for each of the least sure items, until the rest carries less than the risk of a clean reading."""
    asked = {doubt.item for doubt in draft.doubts}
    doubts = [Doubt("it was hard to read", item=index) for index in least_sure(draft) if index not in asked]
    return draft.doubting(*doubts)
