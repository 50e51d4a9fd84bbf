"""Tints of which the rules speak and none was found."""

from __future__ import annotations

import pytest

from fixtures.training.lattice_labels import Labels, Node
from recognise.doubt.unseen_tints import unseen_tints
from recognise.draft import Doubt, Draft, box_polygon
from recognise.evidence import Words
from recognise.interpret.draft import not_found
from recognise.rules.reader import read_rules
from schema.cells import Cell
from schema.grid import Grid
from tests.recognise.chances_maker import sure

RULES = "Place the digits 1 to 6 once in each row and column. Digits do not repeat in a shaded region."
SHEET = read_rules(RULES, (1, 6))
(REGION,) = (statement for statement in SHEET.statements if statement.kind == "extra-region")


@pytest.mark.parametrize(
    ("seen", "missed", "asked"),
    [
        ("r1c1 r1c2 r2c2 r5c5", True, ["r1c1, r1c2, r2c2", "r5c5"]),
        ("r1c1 r1c2", True, []),
        ("r1c1 r1c2 r2c2", False, []),
    ],
    ids=["asked", "stains", "some were found"],
)
def test_areas_that_the_network_sees_are_shown_where_none_was_found(seen: str, missed: bool, asked: list[str]) -> None:
    labels = Labels.empty(6, 6)
    for cell in map(Cell.parse, seen.split()):
        labels.node[cell.row, cell.column] |= Node.TINT
    known = (Doubt(not_found(REGION)),) * missed
    draft = Draft(Grid(rows=6, columns=6, digits=(1, 2, 3, 4, 5, 6)), (), Words(rules_text=RULES), known)
    doubts = list(unseen_tints(draft, SHEET, sure(labels)))
    assert [doubt.why for doubt in doubts] == [f"perhaps {cells} are tinted" for cells in asked]
    assert not doubts or doubts[0].where == box_polygon((0.0, 0.0, 2.0, 2.0))
    assert not list(unseen_tints(draft, None, sure(labels)))
