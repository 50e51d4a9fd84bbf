"""The draft of one puzzle: every piece of evidence becomes an item or a doubt, none is dropped."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from ingest.page import Box
from recognise.doubt.calibration import calibrated
from recognise.draft import Alternative, Doubt, Draft, Given, Item, Polygon, box_polygon
from recognise.evidence import Evidence, Glyph, How, Shape, Words
from recognise.grids import Boxes as SeenBoxes
from recognise.interpret.glyphs import WORTH_NAMING, Sorted, read_given, sort_glyphs
from recognise.interpret.labels import infer_range, make_grid
from recognise.interpret.lines import line_seen, trace_polygon
from recognise.interpret.meaning import Meaning, fields_for, meaning_of
from recognise.interpret.regions import decide_boxes
from recognise.rules import RuleSheet, Statement
from recognise.support import claims as trace_claims
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds import kind_named
from schema.kinds.base import Constraint
from schema.kinds.boxes import Boxes
from schema.kinds.columns import Columns
from schema.kinds.rows import Rows
from schema.kinds.unread_mark import UnreadMark
from schema.marks import Seen

STRUCTURE = ("rows", "columns", "boxes")
"""Kinds that the lattice itself shows; every other kind has a mark or a sentence of its own."""


@dataclass
class _Making:
    """A draft while it grows."""

    grid: Grid
    sheet: RuleSheet | None
    items: list[Item] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    used: set[int] = field(default_factory=set)
    """`id` of each statement that gave a constraint."""

    def add(self, item: Item, *why: str) -> None:
        """Take an item, with what a person must look at about it."""
        self.doubts.extend(Doubt(words, item=len(self.items)) for words in why)
        self.items.append(item)


def interpret(evidence: Evidence, boxes: SeenBoxes, sheet: RuleSheet | None, words: Words) -> Draft:
    """What the evidence on one grid means. `sheet` is None where the page prints no rules for it."""
    glyphs = sort_glyphs(evidence)
    texts = (g.text for group in glyphs.in_cells.values() for g in group)
    digits, doubt = infer_range(max(evidence.rows, evidence.columns), texts, sheet.digits if sheet else None)
    making = _Making(make_grid(evidence.rows, evidence.columns, digits), sheet)
    if doubt:
        making.doubts.append(Doubt(doubt))
    _structure(making, boxes)
    _givens(making, glyphs)
    for trace in evidence.traces:
        seen = line_seen(trace)
        where = trace_polygon(trace)
        _mark(
            making, seen, where, trace.nodes, "line", trace.confidence, trace.how, trace.ambiguous, trace_claims(trace)
        )
    for clue, glyph in glyphs.outside:
        _clue(making, clue, glyph)
    making.doubts.extend(map(Doubt, evidence.notes))
    _rest(making, evidence, glyphs)
    _tints(making, evidence)
    _rules_alone(making)
    _sentences(making)
    return Draft(making.grid, tuple(making.items), words, tuple(making.doubts))


def _structure(making: _Making, seen: SeenBoxes) -> None:
    grid = making.grid
    for whole, size in ((Rows(), grid.columns), (Columns(), grid.rows)):
        if size == len(grid.digits):
            making.items.append(Item((whole,), None, 1.0, "text" if making.sheet else "inferred"))
        else:
            making.doubts.append(
                Doubt(f"the {whole.kind} are {size} cells long, and there are {len(grid.digits)} digits")
            )
    boxes, confidence, doubts = decide_boxes(seen, grid, making.sheet)
    making.doubts.extend(doubts)
    if boxes is not None:
        others = tuple(Alternative((Boxes(cells=b),), 0.0) for b in seen.alternatives if b is not None)
        making.items.append(Item((Boxes(cells=boxes),), None, confidence, "shape", others))


def _givens(making: _Making, glyphs: Sorted) -> None:
    for cell, group in sorted(glyphs.in_cells.items()):
        if len(group) > 1:
            for glyph in group:
                making.doubts.append(Doubt(f"several characters stand in {cell}", where=box_polygon(glyph.box)))
        glyph = max(group, key=lambda g: (g.size, g.confidence))
        item = read_given(cell, glyph, making.grid)
        if item is None:
            _unread(
                making,
                "character",
                box_polygon(glyph.box),
                (cell,),
                f"“{glyph.text}” in {cell} is no digit of the grid",
            )
        else:
            making.add(item)


def _clue(making: _Making, clue: Seen, glyph: Glyph) -> None:
    where = box_polygon(glyph.box)
    meaning = _meaning(making, clue)
    if not meaning.constraints:
        place = f"{clue.side} of {'column' if clue.side in ('top', 'bottom') else 'row'} {clue.index}"
        making.doubts.append(Doubt(f"“{clue.text}” at the {place}: {_why_not(meaning)}", where=where))
        return
    others = []
    for guess in glyph.guesses[1:]:
        if guess.probability > WORTH_NAMING:
            other = meaning_of(Seen(clue.family, text=guess.text, side=clue.side, index=clue.index), making.sheet)
            others.append(Alternative(other.constraints, guess.probability))
    sure = calibrated(glyph.confidence) if glyph.how == "shape" else glyph.confidence
    making.add(Item(meaning.constraints, where, sure, glyph.how, tuple(others)))


def _mark(
    making: _Making,
    seen: Seen | None,
    where: Polygon,
    cells: Sequence[Cell],
    name: str,
    confidence: float,
    how: How,
    ambiguous: Iterable[str] = (),
    claimed: tuple[Polygon, ...] | None = None,
) -> None:
    meaning = _meaning(making, seen) if seen else Meaning((), why_not="its shape is not understood")
    if not meaning.constraints:
        _unread(making, name, where, cells, f"a {name} at {', '.join(map(str, cells[:4]))}: {_why_not(meaning)}")
        return
    unsaid = () if meaning.statements or making.sheet is None else (_unsaid(meaning),)
    making.add(Item(meaning.constraints, where, confidence, how, claims=claimed), *ambiguous, *unsaid)


def _unsaid(meaning: Meaning) -> str:
    name = meaning.constraints[0].name
    return f"it is drawn as a {name}, and the printed rules do not speak of one"


def _meaning(making: _Making, seen: Seen) -> Meaning:
    meaning = meaning_of(seen, making.sheet)
    making.used.update(id(statement) for statement in meaning.statements)
    return meaning


def _why_not(meaning: Meaning) -> str:
    if meaning.others:
        return f"{meaning.why_not} ({', '.join(kind.name for kind in meaning.others)})"
    return meaning.why_not


def _tints(making: _Making, evidence: Evidence) -> None:
    """Tints that show no boxes: a mark that a person must look at, because the ground is no ink and no other guard sees
    it. Boxes explain them where each box is tinted as a whole or not at all."""
    tinted = {tint.cell for tint in evidence.tints if tint.cell in making.grid}
    boxes = [box for item in making.items if not isinstance(item.value, Given) for box in _boxes_of(item.value)]
    if not tinted or (boxes and all(tinted.issuperset(box) or tinted.isdisjoint(box) for box in boxes)):
        return
    why = "cells are tinted, and what that means is not known"
    _unread(making, "tint", box_polygon(_around(tinted)), sorted(tinted), why, claims=())


def _boxes_of(value: tuple[Constraint, ...]) -> tuple[tuple[Cell, ...], ...]:
    return tuple(box for constraint in value if isinstance(constraint, Boxes) for box in constraint.cells)


def _around(cells: Iterable[Cell]) -> Box:
    columns, rows = zip(*((cell.column, cell.row) for cell in cells), strict=True)
    return min(columns) - 1, min(rows) - 1, max(columns), max(rows)


def _unread(
    making: _Making,
    shape: str,
    where: Polygon,
    cells: Sequence[Cell],
    why: str,
    claims: tuple[Polygon, ...] | None = None,
) -> None:
    inside = tuple(sorted({cell for cell in cells if cell in making.grid}))
    if not inside:
        making.doubts.append(Doubt(why, where=where))
        return
    mark = UnreadMark(shape=shape, cells=inside)
    if any(item.value == (mark,) for item in making.items):
        making.doubts.append(Doubt(why, where=where))
    else:
        making.add(Item((mark,), where, 1.0, "shape", claims=claims), why)


def _rest(making: _Making, evidence: Evidence, glyphs: Sorted) -> None:
    """Everything that is neither given, clue nor line: for each a mark that a person must look at."""
    for glyph in glyphs.rest:
        cells = tuple(cells_under(glyph.box, making.grid))
        _unread(
            making,
            "small character",
            box_polygon(glyph.box),
            cells,
            f"“{glyph.text}” stands there, and no rule says why",
        )
    for shape in evidence.shapes:
        where = shape.where or box_polygon(shape.box)
        _unread(making, shape.name, where, tuple(cells_under(shape.box, making.grid)), _shape_why(shape))
    for disc in evidence.discs:
        (x, y), r = disc.centre, disc.radius
        box = (x - r, y - r, x + r, y + r)
        why = "a circle stands there, and what it means is not known"
        _unread(making, "circle", box_polygon(box), tuple(cells_under(box, making.grid)), why)
    for box in evidence.unexplained:
        cells = tuple(cells_under(box, making.grid))
        _unread(making, "mark", box_polygon(box), cells, "there is ink that nothing explains")


def _shape_why(shape: Shape) -> str:
    return f"a {shape.name} stands there, and what it means is not known"


def cells_under(box: Box, grid: Grid, share: float = 0.12) -> Iterator[Cell]:
    """The cells that a box reaches into by more than `share` of a cell, or else those of its middle."""
    x0, y0, x1, y1 = box
    columns = range(int(max(0, x0 + share)), int(min(grid.columns - 1, x1 - share)) + 1)
    rows = range(int(max(0, y0 + share)), int(min(grid.rows - 1, y1 - share)) + 1)
    under = [Cell(r + 1, c + 1) for r, c in itertools.product(rows, columns)]
    middle = Cell(int((y0 + y1) / 2) + 1, int((x0 + x1) / 2) + 1)
    yield from under or ([middle] if middle in grid else [])


def _rules_alone(making: _Making) -> None:
    """Rules that have no mark: the text alone states them."""
    for statement in making.sheet.statements if making.sheet else ():
        kind: type[Constraint] = kind_named(statement.kind)
        used = id(statement) in making.used or statement.kind in STRUCTURE
        if statement.negated or "rule" not in kind.marks or used:
            continue
        try:
            constraints = kind.from_mark(Seen("rule"), fields_for(kind, statement))
        except ValueError as fault:
            making.doubts.append(Doubt(f"“{statement.sentence}”: {fault}"))
        else:
            making.used.add(id(statement))
            making.add(Item(constraints, None, statement.confidence, "text"))


def _sentences(making: _Making) -> None:
    """Account for every sentence: one not understood, or one that speaks of marks that were not found, is a query."""
    sheet = making.sheet
    if sheet is None:
        return
    making.doubts.extend(Doubt(f"this sentence of the rules is not understood: “{s}”") for s in sheet.not_understood)
    for statement in sheet.statements:
        if id(statement) not in making.used and not statement.negated and statement.kind not in STRUCTURE:
            making.doubts.append(Doubt(_not_found(statement)))


def _not_found(statement: Statement) -> str:
    name = kind_named(statement.kind).name
    return f"the rules speak of a {name}, and none was found: “{statement.sentence}”"
