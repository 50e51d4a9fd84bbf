"""Evidence and rules to a draft, in one call."""

from recognise.draft import Draft
from recognise.evidence import Words
from recognise.grids import Boxes as SeenBoxes
from recognise.interpret import interpret
from recognise.interpret.regions import usual_boxes
from recognise.rules import RuleSheet, Statement
from schema.cells import Cell
from schema.grid import Grid
from tests.recognise.evidence_maker import evidence

NINE = Grid(rows=9, columns=9, digits=tuple(range(1, 10)))
SEEN = SeenBoxes(usual_boxes(NINE), "lines", 0.999)
PLAIN = SeenBoxes(None, "none", 0.9)
BASIC = (Statement("rows"), Statement("columns"), Statement("boxes"))


def drafted(sheet: RuleSheet | None = None, boxes: SeenBoxes = SEEN, **parts) -> Draft:
    return interpret(evidence(**parts), boxes, sheet, Words())


def cells_in(text: str) -> tuple[Cell, ...]:
    return tuple(map(Cell.parse, text.split()))


def of_kind(draft: Draft, kind: type) -> list:
    return [c for c in draft.constraints if isinstance(c, kind)]
