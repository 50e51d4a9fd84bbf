"""A proof against its source: marks that are the same, changed, missing or extra."""

from __future__ import annotations

from dataclasses import replace

from clueprint.compare import compare
from recognise.draft import box_polygon
from schema.grid import Grid
from schema.kinds import kind_named
from schema.kinds.boxes import Boxes
from schema.kinds.columns import Columns
from schema.kinds.rows import Rows
from tests.clueprint.comparing import (
    CAGE,
    CLUE,
    DOT,
    PALINDROME,
    SHORT,
    THERMOMETER,
    cells,
    differences,
    only,
    with_constraints,
)
from tests.clueprint.proofs import proof_of, read_as
from tests.clueprint.reading_pages import small


def test_a_line_one_cell_short_is_one_change():
    found = only(with_constraints(THERMOMETER), with_constraints(SHORT))
    assert (found.item, found.change) == ("/constraints/3", "changed")
    assert found.why == "the thermometer from r4c1 ends in r2c2, in the source in r1c3"


def test_a_line_the_other_way_round():
    backwards = THERMOMETER.model_copy(update={"path": THERMOMETER.path[::-1]})
    found = only(with_constraints(THERMOMETER), with_constraints(backwards))
    assert found.why == "the thermometer runs from r1c3 to r4c1, in the source from r4c1 to r1c3"


def test_a_palindrome_has_no_direction():
    other = PALINDROME.model_copy(update={"path": PALINDROME.path[::-1]})
    assert differences(with_constraints(PALINDROME), with_constraints(other)) == ()


def test_a_number_that_changed():
    other = CLUE.model_copy(update={"value": 5})
    found = only(with_constraints(CLUE), with_constraints(other))
    assert found.why == "the sandwich clue above column 3 is 5 on the proof, 2 in the source"
    assert found.expected == {"kind": "sandwich", "side": "top", "index": 3, "value": 2}


def test_a_cage_without_its_number():
    found = only(with_constraints(CAGE), with_constraints(CAGE.model_copy(update={"value": None})))
    assert found.why == "the cage at r1c1 and r1c2 is without a number on the proof, 3 in the source"


def test_a_cage_over_other_cells():
    other = CAGE.model_copy(update={"cells": cells("r1c1 r2c1")})
    found = only(with_constraints(CAGE), with_constraints(other))
    assert found.change == "changed" and "covers r2c1" in found.why and "leaves out r1c2" in found.why


def test_a_dot_of_another_kind_is_one_change():
    black = kind_named("ratio-pair")(cells=DOT.cells)
    found = only(with_constraints(DOT), with_constraints(black))
    assert found.change == "changed" and found.expected["kind"] == "consecutive-pair"


def test_even_cells_may_be_listed_together_or_alone():
    even = kind_named("even")
    together = with_constraints(even(cells=cells("r1c4 r3c3 r4c4")))
    alone = with_constraints(*(even(cells=(cell,)) for cell in cells("r4c4 r1c4 r3c3")))
    assert differences(together, alone) == () and differences(alone, together) == ()
    found = only(together, with_constraints(even(cells=cells("r1c4 r4c4"))))
    assert found.item == "/constraints/3" and found.change == "missing" and "r3c3" in found.why


def test_a_mark_of_the_proof_alone():
    found = only(small(), with_constraints(CAGE))
    assert (found.item, found.change, found.expected) == (None, "extra", None)
    assert found.why == "the cage 3 at r1c1 and r1c2 is not in the source"


def test_a_number_far_from_the_grid_is_perhaps_no_clue():
    grid = read_as(with_constraints(CLUE))
    for top, verdict in ((-0.9, "different"), (-2.5, "query")):
        away = replace(grid.draft.items[-1], where=box_polygon((2.2, top, 2.8, top + 0.6)))
        draft = replace(grid.draft, items=(*grid.draft.items[:-1], away))
        assert compare(proof_of(replace(grid, draft=draft)), small()).verdict == verdict


def test_boxes_that_run_otherwise():
    grid = small().grid
    rows = Boxes.regular(grid, 1, 4)
    printed = small().model_copy(update={"constraints": (Rows(), Columns(), rows)})
    found = only(small(), printed)
    assert (found.item, found.change) == ("/constraints/2", "changed")


def test_another_size_is_said_once():
    grid = Grid(rows=5, columns=5, digits=(1, 2, 3, 4, 5))
    printed = small().model_copy(update={"grid": grid, "constraints": (Rows(), Columns())})
    found = only(small(), printed)
    assert found.item == "/grid" and "5 rows and 5 columns" in found.why
