"""`broken()` and the solver posting of every kind against a second statement of the contract's table (meaning.py)."""

from __future__ import annotations

from itertools import product

import meaning
import pytest
import strategies
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from checker.board import CpBoard
from schema.files import constraint_document
from schema.kinds import kind_named
from schema.kinds._apart import Apart
from schema.kinds.base import Setting
from schema.kinds.boxes import Boxes

EMPTY = 4
"""Cells left open in a partly filled grid: few enough to try everything."""
SLOW_START = [HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large]


def names(filled):
    return {str(cell): digit for cell, digit in filled.items()}


@st.composite
def fillings(draw, grid, rule):
    """A whole grid: by chance, or in even steps with a few cells changed, which rules of the whole grid often allow,
    or box by box."""
    cells = list(grid.cells())
    if isinstance(rule, Boxes) and draw(st.booleans()):
        ordered = [cell for box in rule.cells for cell in box]
        digits = [digit for _ in rule.cells for digit in draw(st.permutations(grid.digits))]
        return dict(zip(ordered, digits, strict=True))
    if draw(st.booleans()):
        return {cell: draw(st.sampled_from(grid.digits)) for cell in cells}
    down, across = draw(st.integers(0, 4)), draw(st.integers(0, 4))
    filled = {cell: grid.digits[(down * cell.row + across * cell.column) % len(grid.digits)] for cell in cells}
    changes = st.dictionaries(st.sampled_from(cells), st.sampled_from(grid.digits), max_size=2)
    return {**filled, **draw(changes)}


@st.composite
def filled_grids(draw, name, empty):
    """A rule set, a grid filled at random except for some cells, and all completions that the other rules of whole
    lines allow."""
    grid, rules = draw(strategies.rule_sets(name))
    setting = Setting(grid, rules)
    cells = list(grid.cells())
    filled = draw(fillings(grid, rules[0]))
    spoken = list(rules[0].cells_of(grid)) or cells
    once = setting.holds_each_once(spoken) and name in ("sandwich", "skyscraper", "x-sum")
    if once:
        order = draw(st.permutations(grid.digits))
        filled.update(zip(spoken, order, strict=True))
    open_cells = draw(st.lists(st.sampled_from(spoken), unique=True, max_size=empty)) if empty else []
    partly = {cell: digit for cell, digit in filled.items() if cell not in open_cells}
    completions = []
    for digits in product(grid.digits, repeat=len(open_cells)):
        whole = {**partly, **dict(zip(open_cells, digits, strict=True))}
        if not once or len({whole[cell] for cell in spoken}) == len(spoken):
            completions.append(whole)
    return setting, partly, completions


def obeyed(setting, filled):
    grid = setting.grid.model_dump(mode="json")
    documents = [constraint_document(rule) for rule in setting.constraints]
    return meaning.obeys(documents[0], grid, names(filled), documents)


def solvable(setting, filled, with_lines):
    board = CpBoard(setting)
    for rule in setting.constraints[: None if with_lines else 1]:
        rule.post(board)
    for cell, digit in filled.items():
        board.fix(cell, digit)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    return solver.solve(board.model) in (cp_model.OPTIMAL, cp_model.FEASIBLE)


@pytest.mark.parametrize("name", strategies.NAMES)
@settings(max_examples=60, deadline=None, suppress_health_check=SLOW_START)
@given(data=st.data())
def test_whole_grids(name, data):
    setting, filled, _ = data.draw(filled_grids(name, 0))
    assert (setting.constraints[0].broken(setting, filled) == []) == obeyed(setting, filled)


@pytest.mark.parametrize("name", strategies.NAMES)
@settings(max_examples=60, deadline=None, suppress_health_check=SLOW_START)
@given(data=st.data())
def test_partly_filled_grids_break_a_rule_when_no_completion_is_left(name, data):
    setting, filled, completions = data.draw(filled_grids(name, EMPTY))
    reasons = setting.constraints[0].broken(setting, filled)
    if issubclass(kind_named(name), Apart):
        # Exact would be a colouring problem; what is told must be true.
        assume(reasons)
    assert (reasons == []) == any(obeyed(setting, whole) for whole in completions)


@pytest.mark.parametrize("name", strategies.NAMES)
@settings(max_examples=20, deadline=None, suppress_health_check=SLOW_START)
@given(data=st.data())
def test_solver_agrees(name, data):
    setting, filled, completions = data.draw(filled_grids(name, EMPTY))
    lines = {cell for cell in setting.grid.cells() if cell in setting.constraints[0].cells_of(setting.grid)}
    narrowed = {cell: digit for cell, digit in filled.items() if cell in lines}
    if name in ("sandwich", "skyscraper", "x-sum") and len(setting.constraints) > 1:
        # The other lines are free, so that Rows and Columns together can be obeyed around this one.
        assert solvable(setting, narrowed, True) == any(obeyed(setting, whole) for whole in completions)
    else:
        assert solvable(setting, filled, False) == any(obeyed(setting, whole) for whole in completions)
