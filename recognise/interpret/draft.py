"""The draft of one puzzle: every piece of evidence becomes an item or a doubt, none is dropped."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Callable, Iterator, Sequence

from ingest.page import Box
from recognise.draft import Alternative, Doubt, Draft, Item, box_polygon
from recognise.evidence import Disc, Evidence, Fence, Glyph, Shape, Trace, Words
from recognise.geometry import disc_polygon
from recognise.grids import Boxes as SeenBoxes
from recognise.grids import thick_regions
from recognise.interpret.arrows import arrow_marks, capsule_cells, tubes_with_crossbars
from recognise.interpret.cages import cages
from recognise.interpret.called import called
from recognise.interpret.cellmarks import WHITE, cell_marks
from recognise.interpret.corners import Corner, corner_marks, take_corners
from recognise.interpret.edges import edge_marks
from recognise.interpret.filled import one_for_each_patch, outlines_as_regions, regions_called_cages
from recognise.interpret.glyphs import Sorted, clue_marks, read_given, sort_glyphs
from recognise.interpret.labels import infer_range, make_grid, texts_in_range
from recognise.interpret.line_tags import take_circled, take_tags
from recognise.interpret.lines import line_marks, trace_polygon
from recognise.interpret.looks import settled_looks
from recognise.interpret.making import Making
from recognise.interpret.mark import Left, Mark
from recognise.interpret.meaning import built
from recognise.interpret.number_frames import take_number_frames
from recognise.interpret.on_tints import in_own_colour
from recognise.interpret.outside import diagonal_sums, long_diagonals
from recognise.interpret.own_signs import take_own_signs
from recognise.interpret.places import cell_at
from recognise.interpret.regions import decide_boxes
from recognise.interpret.set_off import take_set_off
from recognise.interpret.tangles import take_tangles
from recognise.interpret.tints import take_tints, without_halos
from recognise.interpret.touching import ink_between
from recognise.interpret.undecided import take_marks
from recognise.rules import DigitRange, RuleSheet, Statement
from recognise.support import claims as trace_claims
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds import STRUCTURE, kind_named
from schema.kinds.base import Constraint
from schema.kinds.boxes import Boxes
from schema.kinds.columns import Columns
from schema.kinds.rows import Rows
from schema.marks import Seen
from schema.words import with_article

Family = Callable[[Left], Iterator[Mark]]
FAMILIES: tuple[Family, ...] = (long_diagonals, diagonal_sums, edge_marks, arrow_marks, line_marks, cell_marks)
"""In this order: what a family takes, those after it do not see. Cages and corners come before all of them, for their
characters stand where others would be taken for marks of their own."""


def interpret(
    evidence: Evidence,
    boxes: SeenBoxes,
    sheet: RuleSheet | None,
    words: Words,
    house: Sequence[Statement] = (),
    digits: DigitRange | None = None,
) -> Draft:
    """What the evidence on one grid means. `sheet` is None where the page prints no rules for it; `house` is what the
    house style says of marks, `digits` which digits the grid has where that is known and the page does not say it."""
    left = Left.of(evidence)
    left.traces = in_own_colour(left.traces, evidence.tints)
    left.fences = one_for_each_patch(left.fences, evidence.tints)
    rules = (*(sheet.statements if sheet else ()), *house)
    left.traces = tubes_with_crossbars(left.traces, rules)
    if any(rule.kind == "sum-line" for rule in rules):
        left.tags = take_tags(left) | take_circled(left)
    marks, corners = taken(left, _blocks(evidence, boxes, left), boxes.cells or ())
    sheet = regions_called_cages(sheet, marks, evidence.tints)
    making, glyphs = _begun(left, sheet, house, digits)
    fenced = [mark.seen.cells for mark in marks if mark.seen.family == "cage"]
    _structure(making, boxes, fenced)
    _givens(making, glyphs)
    marks += corner_marks(corners, making.grid)
    rules = (*(sheet.statements if sheet else ()), *house)
    marks = outlines_as_regions(marks, rules, evidence.tints, len(making.grid.digits))
    marks += clue_marks(glyphs.outside, left, [rule.mark for rule in rules])
    take_marks(making, settled_looks(marks, rules), left)
    take_tangles(making, left)
    tinted = [mark.seen.cells for mark in marks if mark.seen.family == "cage" and mark.paint != WHITE]
    _take_what_is_left(making, left, glyphs, evidence, tinted)
    _rules_alone(making)
    _sentences(making)
    return Draft(
        making.grid,
        tuple(making.items),
        words,
        tuple(making.doubts),
        tuple(making.undecided),
        tuple(making.settled),
        sheet.not_understood if sheet is not None else (),
    )


def _take_what_is_left(
    making: Making, left: Left, glyphs: Sorted, evidence: Evidence, tinted: Sequence[tuple[Cell, ...]]
) -> None:
    """Take tints, frames of numbers and signs of no name, and doubts about all that nothing takes; `tinted` are cages
    that are drawn as tinted patches."""
    left.tints = without_halos(left.tints, evidence.shapes, left.size)
    take_tints(making, left, ink_between(evidence.edges), tinted, _marked(evidence))
    take_number_frames(making, left, evidence.glyphs)
    stray = take_own_signs(making, left, evidence.stray)
    making.doubts.extend(map(Doubt, evidence.notes))
    _rest(making, left, glyphs, evidence.unexplained)
    making.doubts.extend(
        Doubt("there is ink that nothing explains", where=box_polygon(box), stray=True) for box in stray
    )


def taken(
    left: Left, blocks: Sequence[tuple[Cell, ...]] = (), boxes: Sequence[tuple[Cell, ...]] = ()
) -> tuple[list[Mark], tuple[Corner, ...]]:
    """The marks that do not depend on which digits the grid holds, taken from the evidence, and the corners, which do;
    what is left of the characters are givens and clues."""
    givens = take_set_off(left)
    marks = list(cages(left, blocks, boxes))
    corners = take_corners(left)
    for family in FAMILIES:
        marks += family(left)
    left.glyphs += givens
    return marks, corners


def characters_in_cells(evidence: Evidence) -> dict[Cell, tuple[Glyph, ...]]:
    """The characters that stand in the cells of a grid as givens do."""
    left = Left.of(evidence)
    taken(left)
    return sort_glyphs(left.glyphs, left.size).in_cells


def _marked(evidence: Evidence) -> frozenset[Cell]:
    """The cells in which lines run or circles or capsules stand."""
    on_lines = {cell for trace in evidence.traces for cell in trace.nodes}
    round_ones = {cell_at(disc.centre, (evidence.rows, evidence.columns)) for disc in evidence.discs}
    capsules = (shape for shape in evidence.shapes if shape.name == "capsule")
    joined = {cell for shape in capsules for cell in capsule_cells(shape, (evidence.rows, evidence.columns))}
    return frozenset(on_lines | joined | {cell for cell in round_ones if cell is not None})


def _blocks(evidence: Evidence, boxes: SeenBoxes, left: Left) -> tuple[tuple[Cell, ...], ...]:
    """The parts into which thick lines cut the grid where they are no boxes: they may be cages."""
    size = max(left.size)
    if boxes.cells is not None and all(len(box) == size for box in boxes.cells):
        return ()
    regions = thick_regions(evidence.edges)
    return regions if len(regions) > 1 else ()


def _begun(
    left: Left, sheet: RuleSheet | None, house: Sequence[Statement], known: DigitRange | None
) -> tuple[Making, Sorted]:
    """The grid with its digits, and the characters that no mark has taken."""
    glyphs = sort_glyphs(left.glyphs, left.size)
    size = max(left.size)
    texts = texts_in_range(((g.text, g.confidence) for group in glyphs.in_cells.values() for g in group), size)
    digits, doubt = infer_range(size, texts, (sheet.digits if sheet else None) or known)
    making = Making(make_grid(*left.size, digits), sheet, tuple(house))
    if doubt:
        making.doubts.append(Doubt(doubt, meaning=True))
    return making, glyphs


def _structure(making: Making, seen: SeenBoxes, fenced: Sequence[tuple[Cell, ...]]) -> None:
    grid = making.grid
    for whole, size in ((Rows(), grid.columns), (Columns(), grid.rows)):
        if size == len(grid.digits):
            making.items.append(Item((whole,), None, 1.0, "text" if making.sheet else "inferred"))
        else:
            making.doubts.append(
                Doubt(f"the {whole.kind} are {size} cells long, and there are {len(grid.digits)} digits", meaning=True)
            )
    boxes, confidence, doubts = decide_boxes(seen, grid, making.sheet, fenced)
    making.doubts.extend(doubts)
    if boxes is not None:
        others = tuple(Alternative((Boxes(cells=b),), 0.0) for b in seen.alternatives if b is not None)
        making.items.append(Item((Boxes(cells=boxes),), None, confidence, "shape", others))


def _givens(making: Making, glyphs: Sorted) -> None:
    for cell, group in sorted(glyphs.in_cells.items()):
        if len(group) > 1:
            for glyph in group:
                making.doubts.append(Doubt(f"several characters stand in {cell}", where=box_polygon(glyph.box)))
        glyph = max(group, key=lambda g: (g.size, g.confidence))
        item = read_given(cell, glyph, making.grid)
        if item is None:
            why = f"“{glyph.text}” in {cell} is no digit of the grid"
            making.unread("character", box_polygon(glyph.box), (cell,), why)
        else:
            making.add(item)


def _rest(making: Making, left: Left, glyphs: Sorted, unexplained: Sequence[Box]) -> None:
    """Everything that no mark, given or clue has taken: for each a mark that a person must look at."""
    grid = making.grid
    for trace in left.traces:
        why = f"a line at {', '.join(map(str, trace.nodes[:4]))}: its shape is not understood"
        making.unread("line", trace_polygon(trace), trace.nodes, why, trace_claims(trace), _seen(trace))
    for fence in left.fences:
        why = "a line around cells, and its shape is not understood"
        making.unread("cage", fence.where, fence.cells, why, sure=_seen(fence))
    for glyph in glyphs.rest:
        why = f"“{glyph.text}” stands there, and no rule says why"
        under = tuple(cells_under(glyph.box, grid))
        making.unread("small character", box_polygon(glyph.box), under, why, sure=_seen(glyph))
    for glyph in glyphs.far:
        why = f"“{glyph.text}” stands farther off than the numbers on other sides, and was taken for no clue"
        making.doubts.append(Doubt(why, where=box_polygon(glyph.box)))
    for shape in left.shapes:
        where = shape.where or box_polygon(shape.box)
        name = called(shape)
        why = f"{with_article(name)} stands there, and what it means is not known"
        making.unread(name, where, tuple(cells_under(shape.box, grid)), why, sure=_seen(shape))
    for disc in left.discs:
        where, cells = disc_polygon(disc.centre, disc.radius), tuple(cells_under(disc.box, grid))
        why = "a circle stands there, and what it means is not known"
        making.unread("circle", where, cells, why, sure=_seen(disc))
    for box in unexplained:
        making.unread("mark", box_polygon(box), tuple(cells_under(box, grid)), "there is ink that nothing explains")


def _seen(mark: Disc | Fence | Glyph | Shape | Trace) -> float:
    """How surely a mark was seen: what a PDF draws is there."""
    return 1.0 if mark.how == "vector" else mark.confidence


def cells_under(box: Box, grid: Grid, share: float = 0.12) -> Iterator[Cell]:
    """The cells that a box reaches into by more than `share` of a cell, or else those of its middle."""
    x0, y0, x1, y1 = box
    columns = range(math.floor(max(0, x0 + share)), math.floor(min(grid.columns - 1, x1 - share)) + 1)
    rows = range(math.floor(max(0, y0 + share)), math.floor(min(grid.rows - 1, y1 - share)) + 1)
    under = [Cell(r + 1, c + 1) for r, c in itertools.product(rows, columns)]
    middle = Cell(math.floor((y0 + y1) / 2) + 1, math.floor((x0 + x1) / 2) + 1)
    yield from under or ([middle] if middle in grid else [])


_SEVERAL = re.compile(
    r"\bdiagonals\b|"
    r"\b(?:each|every|either|any|all|both|no)\b(?:(?!\bdigits?\b|\bnumbers?\b|\bthe\b|[.;]).){0,60}\bdiagonal\b",
    re.IGNORECASE,
)
"""How a sentence speaks of more than one mark of a kind that stands once in each direction; `every digit` is none,
and `each row, and the red diagonal` speaks of one."""


def _rules_alone(making: Making) -> None:
    """Rules that have no mark: the text alone states them."""
    for statement in making.sheet.statements if making.sheet else ():
        kind: type[Constraint] = kind_named(statement.kind)
        drawn = id(statement) in making.used
        if statement.negated or "rule" not in kind.marks or statement.kind in STRUCTURE:
            continue
        several = len(kind.marks) > 1 and _SEVERAL.search(statement.sentence) is not None
        if drawn and not several:
            continue
        try:
            constraints = built(statement, Seen("rule"))
        except ValueError as fault:
            making.doubts.append(Doubt(f"“{statement.sentence}”: {fault}"))
            continue
        making.used.add(id(statement))
        known = {c for item in making.items if isinstance(item.value, tuple) for c in item.value}
        new = tuple(constraint for constraint in constraints if constraint not in known)
        if new:
            unclear = drawn or (len(constraints) > 1 and not several)
            asks = (f"the rules seem to speak of it, and it is not drawn: “{statement.sentence}”",) if unclear else ()
            making.add(Item(new, None, statement.confidence, "text"), *asks)


def _sentences(making: Making) -> None:
    """Account for every sentence: one not understood, or one that speaks of marks that were not found, is a query."""
    sheet = making.sheet
    if sheet is None:
        return
    making.doubts.extend(Doubt(not_understood(sentence)) for sentence in sheet.not_understood)
    making.doubts.extend(Doubt(in_the_main(sentence)) for sentence in sheet.unsure)
    for statement in sheet.statements:
        if id(statement) not in making.used and not statement.negated and statement.kind not in STRUCTURE:
            making.doubts.append(Doubt(not_found(statement)))


def not_understood(sentence: str) -> str:
    """What a person is asked of a sentence that looks like a rule and that nothing accounts for."""
    return f"this sentence of the rules is not understood: “{sentence}”"


def in_the_main(sentence: str) -> str:
    """What a person is asked of a sentence whose statements were found only by leaving words out."""
    return f"this sentence of the rules is understood only in the main: “{sentence}”"


def not_found(statement: Statement) -> str:
    """What a person is asked of a rule of whose marks none was found."""
    name = kind_named(statement.kind).name
    return f"the rules speak of {with_article(name)}, and none was found: “{statement.sentence}”"
