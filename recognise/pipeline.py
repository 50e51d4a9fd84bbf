"""A page to the readings of its puzzles: every step in order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import product

import numpy as np

from ingest.page import Image, Page
from recognise.doubt.bare import bare_places
from recognise.doubt.bulges import bulges
from recognise.doubt.causes import one_for_each_cause
from recognise.doubt.dirt import without_dirt
from recognise.doubt.hidden import hidden_ink
from recognise.doubt.ink import unexplained_ink, without_ground, without_own
from recognise.doubt.policy import is_clean, least_sure
from recognise.doubt.poor import lost_lines, too_poor
from recognise.doubt.proof import Proven, proven
from recognise.doubt.puzzle import as_puzzle
from recognise.doubt.ways import weighed
from recognise.draft import Doubt, Draft, Polygon, box_polygon
from recognise.evidence import Evidence, Flat, Lattice, Words
from recognise.explain import overlay
from recognise.geometry import bounds, middle, overlap
from recognise.glyphs import GlyphReader
from recognise.grids import (
    Boxes,
    boxes_from,
    explain_grids,
    find_grids,
    flatten,
    marks_on_edges,
    measure_edges,
    straightened,
)
from recognise.hand import Hand, tell_hand
from recognise.hand.digits import HandReader
from recognise.hand.reading import digit_reader
from recognise.hand.solved import in_the_light_of
from recognise.interpret import interpret
from recognise.interpret.places import cell_at
from recognise.interpret.spoken import spoken_of
from recognise.marks.read import MarkReader
from recognise.marks.spoken import Spoken
from recognise.merge import Picture, merge
from recognise.pixels import Stages, read_stages, stray_beside, with_marks, without_written
from recognise.pixels.frame import Raster
from recognise.pixels.ink import Ink
from recognise.pixels.screen import descreened
from recognise.pixels.texture import without_shade
from recognise.plausible import judge
from recognise.rules import RuleSheet, Statement
from recognise.rules.reader import read_rules
from recognise.text import page_words
from recognise.text.lying import text_turn
from recognise.upright import best_turn, is_clear, readable, told, turned
from recognise.vectors import exact, lattices_from_vectors, read_vectors
from recognise.vectors.retraced import retraced

SAME_OUTLINE = 0.25
"""In cells: how far the outline of a grid in the picture may be from that of the same grid among the vectors."""

ONLY_DRAWN = "the file draws something here that was not seen in its picture"


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


@dataclass(frozen=True, slots=True)
class Result:
    """One grid, read: what it is taken for, its proof, and whether it is clean."""

    looked: Looked
    proven: Proven
    clean: bool


@dataclass
class PageReading:
    """All that one page gave. `page` is the page the right way up; `pictures` is filled on request only."""

    page: Page
    results: list[Result] = field(default_factory=list)
    pictures: dict[str, Image] = field(default_factory=dict)


@lru_cache(maxsize=1)
def glyph_reader() -> GlyphReader:
    """The glyph network, loaded once a process."""
    return GlyphReader()


@lru_cache(maxsize=1)
def hand_reader() -> HandReader:
    """The network for handwritten digits; it is loaded when there is something to read."""
    return HandReader()


@lru_cache(maxsize=1)
def mark_reader() -> MarkReader:
    """The lattice network, loaded once a process."""
    return MarkReader(glyph_reader())


def read_page(page: Page, *, explain: bool = False, house: Sequence[Statement] = ()) -> PageReading:
    """Read every puzzle on a page, top to bottom, left to right; a page without one gives no results. `house` is what
    the house style of the publication says of marks."""
    page, looked = look_upright(page)
    reading = PageReading(page)
    for grid, words in with_words(page, looked):
        reading.results.append(_best(page, conclude(grid, words, house), words, house))
    if explain:
        reading.pictures["grids"] = explain_grids(page.image, [grid.lattice for grid in looked])
        shown = [(result.looked.flat, result.proven.draft) for result in reading.results]
        reading.pictures["reading"] = overlay(page, shown)
    return reading


def _best(page: Page, result: Result, words: Words, house: Sequence[Statement]) -> Result:
    """What a grid means. Where something in it is to be looked at, the other reader has a look at it as well: a picture
    that a program rendered is drawn again as paths, and what a PDF draws is read as a picture."""
    hand = result.looked.hand
    if result.clean or hand.pencilled or hand.doubts:
        # Drawn again, what somebody wrote would pass for print.
        return result
    if result.looked.by_vectors:
        return _or_as_picture(page, result, words, house) if _asks_about_marks(result) else result
    drawn = drawn_again(page, result.looked.lattice)
    other = conclude(drawn, words, house) if drawn is not None else result
    return min(result, other, key=_left_to_do)


def _asks_about_marks(result: Result) -> bool:
    """Whether more is in doubt than the words of the rules."""
    doubts = result.proven.draft.doubts
    return not _is_proved(result) or any(doubt.item is not None or doubt.where is not None for doubt in doubts)


def _or_as_picture(page: Page, drawn: Result, words: Words, house: Sequence[Statement]) -> Result:
    """A grid that a PDF draws in a way of its own (by hand, in many small pieces, as shapes without a name), read as
    its picture shows it, if that is proved and leaves less to look at. What the paths prove stands, unless the picture
    says the same with less doubt."""
    seen = look(replace(page, vectors=None), drawn.looked.lattice)
    if seen.hand.pencilled:
        return drawn
    pictured = conclude(seen, words, house)
    if not _is_proved(pictured) or _left_to_do(drawn) <= _left_to_do(pictured):
        return drawn
    if _is_proved(drawn):
        return pictured if _same_puzzle(pictured, drawn) else drawn
    missed = [Doubt(ONLY_DRAWN, where=where) for where in unseen(drawn.proven.draft, pictured.proven.draft)]
    return replace(
        pictured,
        proven=replace(pictured.proven, draft=pictured.proven.draft.doubting(*missed)),
        clean=pictured.clean and not missed,
    )


def unseen(drawn: Draft, pictured: Draft) -> list[Polygon]:
    """Where the one draft has a mark and the other has nothing."""
    known = [bounds(item.where) for item in pictured.items if item.where is not None]
    return [
        item.where
        for item in drawn.items
        if item.where is not None and not any(overlap(bounds(item.where), box) for box in known)
    ]


def _is_proved(result: Result) -> bool:
    proof = result.proven.proof
    return proof is not None and proof.outcome == "one"


def _same_puzzle(one: Result, other: Result) -> bool:
    """Whether two readings state the same givens and constraints, in whatever order."""
    first, second = one.proven.puzzle, other.proven.puzzle
    if first is None or second is None or first.givens != second.givens or first.grid != second.grid:
        return False
    stated = [{(c.kind, c.identity()) for c in puzzle.constraints} for puzzle in (first, second)]
    return stated[0] == stated[1]


def _left_to_do(result: Result) -> tuple[bool, bool, int]:
    """How far a reading is from being clean."""
    proof = result.proven.proof
    return not result.clean, proof is None or proof.solution is None, len(result.proven.draft.doubts)


def drawn_again(page: Page, lattice: Lattice) -> Looked | None:
    """A grid as both readers see it when its rendered picture is drawn again as paths; None where it was not rendered,
    or where these do not draw it."""
    again = retraced(page, lattice)
    vectors = read_vectors(*again, glyph_reader()) if again is not None else None
    if again is None or vectors is None:
        return None
    flat = flatten(page.image, again[1])
    return _looked(again[1], flat, read_stages(flat, measure_edges(flat), glyph_reader(), None), vectors)


def with_words(page: Page, looked: Sequence[Looked]) -> list[tuple[Looked, Words]]:
    """The grids of a page that are puzzles, each with the words that the page prints for it."""
    puzzles = [grid for grid in looked if judge(grid.evidence).is_puzzle]
    words = page_words(page, [grid.lattice.points for grid in puzzles]) if puzzles else []
    return list(zip(puzzles, words, strict=True))


def look_upright(page: Page) -> tuple[Page, list[Looked]]:
    """The page the right way up, and every grid on it as the readers saw it."""
    lattices = find_lattices(page)
    looked = [look(page, lattice) for lattice in lattices]
    puzzles = [grid for grid in looked if judge(grid.evidence).is_puzzle]
    if page.vectors is None and puzzles and not any(told(grid.evidence) for grid in looked):
        quarters = text_turn(page, [bounds(grid.lattice.points) for grid in puzzles])
        if quarters:
            page, lattices = turned(page, lattices, quarters)
            looked = [look(page, lattice) for lattice in lattices]
        if quarters is not None:
            return page, looked
    doubtful = next((grid for grid in looked if not is_clear(grid.evidence)), None)
    if doubtful is None or any(is_clear(grid.evidence) and readable(grid.evidence) for grid in looked):
        return page, looked
    best, turned_grid = best_turn(page, doubtful.lattice, look, readable(doubtful.evidence))
    if turned_grid is None:
        return page, looked
    page, lattices = turned(page, lattices, best)
    known = {index: turned_grid for index, grid in enumerate(looked) if grid is doubtful}
    return page, [known.get(index) or look(page, lattice) for index, lattice in enumerate(lattices)]


def find_lattices(page: Page) -> list[Lattice]:
    """The grids of a page: found in its picture, made exact by its vectors where it has them."""
    drawn = lattices_from_vectors(page) if page.vectors is not None else []
    found = find_grids(page.image, drawn)
    return [_as_drawn(lattice, drawn) for lattice in found]


def _as_drawn(lattice: Lattice, drawn: Sequence[Lattice]) -> Lattice:
    """The grid as the vectors draw it, also where the picture's lattice is bent inside the same outline."""
    same = exact(lattice, list(drawn))
    if same is not lattice:
        return same
    for other in drawn:
        if other.points.shape == lattice.points.shape:
            cell = float(np.ptp(other.points[..., 0])) / other.columns
            ends = [np.concatenate([p.min(axis=(0, 1)), p.max(axis=(0, 1))]) for p in (lattice.points, other.points)]
            if np.abs(ends[0] - ends[1]).max() <= SAME_OUTLINE * cell:
                return Lattice(other.points, lattice.score)
    return lattice


def look(page: Page, lattice: Lattice) -> Looked:
    """Flatten one grid and have both readers look at it."""
    flat = flatten(page.image, lattice)
    if page.vectors is None:
        flat = descreened(straightened(flat))
    edges = measure_edges(flat)
    vectors = read_vectors(page, lattice, glyph_reader()) if page.vectors is not None else None
    # Where the page has vectors they say what the marks are.
    pixels, stages = read_stages(flat, edges, glyph_reader(), mark_reader() if vectors is None else None)
    return _looked(lattice, flat, (pixels, stages), vectors)


def _looked(lattice: Lattice, flat: Flat, seen: tuple[Evidence, Stages], vectors: Evidence | None) -> Looked:
    """One grid, of what the pixel reader saw and what the vectors draw."""
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
    return Looked(lattice, flat, boxes, evidence, doubts, stages.ink, hand, drawn, None if drawn else stages)


def look_again(grid: Looked, spoken: Spoken) -> Looked:
    """The same grid, its marks read by somebody who knows what the rules speak of; where a PDF draws it, and where no
    rules are printed, as it was."""
    if grid.stages is None or not (spoken.speaks or (spoken.no_cages and grid.evidence.fences)):
        return grid
    seen = with_marks(grid.flat, grid.stages, mark_reader().guided_by(spoken))
    return _looked(grid.lattice, grid.flat, seen, None)


def conclude(grid: Looked, words: Words, house: Sequence[Statement] = ()) -> Result:
    """What one grid means, with every guard applied."""
    sheet = sheet_of(grid, words)
    spoken = spoken_of(sheet, house)
    grid = look_again(grid, spoken)
    draft = interpret(grid.evidence, grid.boxes, sheet, words, house)
    poor = fault_of_picture(grid)
    if poor is not None:
        return Result(grid, Proven(draft.doubting(Doubt(poor)), None, None), clean=False)
    draft = draft.doubting(*grid.disagreements, *ink_doubts(grid, draft), *lost_lines(grid.lattice))
    outcome = proven(draft)
    proved = outcome.proof is not None and outcome.proof.outcome == "one"
    if proved and not grid.by_vectors and not spoken.speaks:
        written = [pencilled.cell for pencilled in grid.hand.pencilled]
        draft = without_dirt(outcome.draft, grid.ink.level, Raster.of(grid.flat), written)
        outcome = Proven(draft, as_puzzle(draft), outcome.proof)
    draft = asking_about_unsure(weighed(outcome.draft) if proved else outcome.draft)
    outcome = Proven(one_for_each_cause(draft), outcome.puzzle, outcome.proof)
    if outcome.proof is not None and outcome.proof.solution is not None:
        grid = replace(grid, hand=in_the_light_of(outcome.proof.solution, grid.hand))
    clean = outcome.proof is not None and is_clean(draft, outcome.proof.outcome)
    return Result(grid, outcome, clean)


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
    marked = {cell for trace in seen.traces for cell in trace.nodes}
    # A blurred digit is easily taken for a mark of no kind: such marks count as what was not read.
    places = [middle(shape.box) for shape in seen.shapes if shape.name == "square"]
    # A disc on a border stands in all the cells that meet there.
    for disc in seen.discs:
        places += product(disc.box[::2], disc.box[1::2])
    marked |= {cell for point in places if (cell := cell_at(point, (seen.rows, seen.columns)))}
    written = {pencilled.cell for pencilled in grid.hand.pencilled}
    return too_poor(grid.evidence, grid.ink, grid.lattice, Raster.of(grid.flat), written | marked)


def ink_doubts(grid: Looked, draft: Draft) -> tuple[Doubt, ...]:
    """A doubt for every place where there is ink that no item accounts for."""
    claimed = [polygon for item in draft.items for polygon in item.claimed]
    claimed += [doubt.where for doubt in draft.doubts if doubt.where is not None]
    claimed += [box_polygon(pencilled.box) for pencilled in grid.hand.pencilled]
    ink, characters = grid.ink.level, [glyph.box for glyph in grid.evidence.glyphs if glyph.text]
    if grid.by_vectors:
        seen = grid.evidence
        ink = without_ground(grid.ink.unsifted, grid.flat, seen.tints, seen.rails)
        ink = without_shade(ink, Raster.of(grid.flat))
        # What a PDF draws is as soft as its author wanted it, and its lattice lines are as wide as he drew them.
        characters = []
    lattice = None if grid.by_vectors else grid.ink.grid
    left = unexplained_ink(ink, grid.ink.floor, grid.flat, claimed, characters, lattice, glyph_reader())
    if lattice is not None:
        beside = bulges(ink, grid.ink.floor, grid.flat, grid.evidence.traces, claimed, lattice)
        left += [box for box in beside if not any(overlap(box, other) for other in left)]
    why = "there is ink here that the puzzle does not explain"
    found = [Doubt(why, where=box_polygon(box), stray=True) for box in left]
    if not grid.by_vectors:
        bare = bare_places(grid.flat, grid.evidence.tints, claimed)
        found += [Doubt("the tint is bare here: is something missing?", where=box_polygon(box)) for box in bare]
    drawn = [trace for trace in grid.evidence.traces if trace.how == "vector" and trace.where]
    broken = [trace.where for trace in drawn if trace.dashed or trace.outlined or trace.cored]
    unsifted = without_own(grid.ink.unsifted, grid.flat, drawn)
    for cell, box in hidden_ink(unsifted, grid.flat, draft, broken, grid.by_vectors):
        why = f"something stands on a mark in {cell}, and no digit was read there"
        found.append(Doubt(why, where=box_polygon(box)))
    return tuple(found)


def asking_about_unsure(draft: Draft) -> Draft:
    """A doubt for each of the least sure items, until the rest carries less than the risk of a clean reading."""
    asked = {doubt.item for doubt in draft.doubts}
    doubts = [Doubt("it was hard to read", item=index) for index in least_sure(draft) if index not in asked]
    return draft.doubting(*doubts)
