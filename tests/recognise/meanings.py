"""What tests of interpretation share: evidence interpreted, and what came of it in short."""

from recognise.draft import Draft
from recognise.evidence import Words
from recognise.grids import Boxes as SeenBoxes
from recognise.interpret import interpret
from recognise.rules import RuleSheet, Statement
from schema.cells import Cell
from schema.kinds.base import Constraint
from tests.recognise.evidence_maker import evidence

BASIC = (Statement("rows"), Statement("columns"), Statement("boxes"))
NINE = tuple(tuple(Cell(r + i, c + j) for i in range(3) for j in range(3)) for r in (1, 4, 7) for c in (1, 4, 7))
SEEN = SeenBoxes(NINE, "regular", 0.9999)


def drafted(*statements: Statement, boxes: SeenBoxes = SEEN, **parts) -> Draft:
    return interpret(evidence(**parts), boxes, RuleSheet((*BASIC, *statements)), Words())


def stated(draft: Draft, kind: str) -> list[Constraint]:
    return [c for c in draft.constraints if c.kind == kind]


def reasons(draft: Draft) -> list[str]:
    return [doubt.why for doubt in draft.doubts]


def parsed(text: str) -> tuple[Cell, ...]:
    return tuple(map(Cell.parse, text.split()))
