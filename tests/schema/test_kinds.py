"""Guards that hold for every kind: none can be added without a sample, a passing and a failing grid, a way through the
file, a drawing and a posting."""

from __future__ import annotations

import json
from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest
from drawing import LAYERS, NotePen
from jsonschema import Draft202012Validator
from ortools.sat.python import cp_model

import schema.kinds
from checker.board import CpBoard
from schema.cells import Cell
from schema.files import puzzle_from, puzzle_text
from schema.generate import schema_text
from schema.kinds import KINDS, kind_named
from schema.kinds import _calculation as calculation
from schema.kinds.base import Setting
from schema.puzzle import Puzzle

CONTRACT = [
    "rows",
    "columns",
    "boxes",
    "diagonal",
    "extra-region",
    "thermometer",
    "arrow",
    "palindrome",
    "gap-line",
    "run-line",
    "between-line",
    "box-sum-line",
    "sum-line",
    "cage",
    "consecutive-pair",
    "ratio-pair",
    "sum-pair",
    "greater",
    "corner-digits",
    "even",
    "odd",
    "sandwich",
    "skyscraper",
    "x-sum",
    "diagonal-sum",
    "all-marked",
    "knight-apart",
    "king-apart",
    "neighbours-not-consecutive",
    "unread-mark",
]
"""The names in the contract's table, and `sum-line`, which came later: permanent."""

PUZZLE_SCHEMA = Draft202012Validator(json.loads(schema_text(Puzzle)))

every_kind = pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.model_fields["kind"].default)
understood = pytest.mark.parametrize(
    "kind", [kind for kind in KINDS if kind.understood], ids=lambda kind: kind.model_fields["kind"].default
)


def filled(rows):
    return {Cell(r, c): digit for r, row in enumerate(rows, 1) for c, digit in enumerate(row, 1) if digit}


def sample_of(kind):
    sample = kind.sample()
    return sample, Setting(sample.grid, (sample.constraint, *sample.extra))


def sample_puzzle(kind):
    sample = kind.sample()
    return Puzzle(grid=sample.grid, givens={}, constraints=(sample.constraint, *sample.extra))


def test_the_contracts_kinds_in_its_order():
    assert [kind.model_fields["kind"].default for kind in KINDS] == CONTRACT


def test_every_module_is_a_listed_kind():
    folder = Path(schema.kinds.__file__).parent
    modules = {path.stem for path in folder.glob("*.py") if not path.stem.startswith("_")} - {"base"}
    assert modules == {name.replace("-", "_") for name in CONTRACT}
    for kind in KINDS:
        assert kind.__module__ == f"schema.kinds.{kind.model_fields['kind'].default.replace('-', '_')}"


def test_an_unknown_kind_has_no_name():
    with pytest.raises(KeyError):
        kind_named("rainbow")


@every_kind
def test_found_by_name_and_named_for_people(kind):
    assert kind_named(kind.model_fields["kind"].default) is kind
    assert kind.name
    assert kind.__doc__


@every_kind
def test_sample_fits_its_grid(kind):
    assert sample_puzzle(kind).problems() == []


@every_kind
def test_obeyed(kind):
    sample, setting = sample_of(kind)
    assert len(filled(sample.obeyed)) == sample.grid.rows * sample.grid.columns
    assert sample.constraint.broken(setting, filled(sample.obeyed)) == []
    assert sample.constraint.broken(setting, {}) == []


@understood
def test_broken_in_words(kind):
    sample, setting = sample_of(kind)
    reasons = sample.constraint.broken(setting, filled(sample.broken))
    assert reasons
    assert all(reason.strip() and "\n" not in reason for reason in reasons)


def test_what_is_not_understood_is_never_broken():
    unknown = [kind for kind in KINDS if not kind.understood]
    assert [kind.model_fields["kind"].default for kind in unknown] == ["unread-mark"]
    sample, setting = sample_of(unknown[0])
    assert sample.constraint.broken(setting, filled(sample.obeyed)) == []


@every_kind
def test_through_the_file(kind):
    puzzle = sample_puzzle(kind)
    data = puzzle_text(puzzle).encode()
    assert puzzle_from(data) == puzzle
    assert puzzle_text(puzzle_from(data)).encode() == data


@every_kind
def test_schema_takes_the_sample_and_no_other_key(kind):
    document = json.loads(puzzle_text(sample_puzzle(kind)))
    assert PUZZLE_SCHEMA.is_valid(document)
    for spoilt in ({"colour": "red"}, {"kind": "rainbow"}):
        document["constraints"][0].update(spoilt)
        assert not PUZZLE_SCHEMA.is_valid(document)


@every_kind
def test_drawn_near_the_grid(kind):
    sample = kind.sample()
    for shape in ("", *kind.shapes):
        pen = NotePen(sample.grid)
        sample.constraint.draw(pen, replace(kind.look, shape=shape))
        assert bool(pen.points) == (kind.marks != ("rule",) or kind is kind_named("boxes"))
        assert pen.layers <= LAYERS
        assert all(-1 <= x <= sample.grid.columns + 1 and -1 <= y <= sample.grid.rows + 1 for x, y in pen.points)


@every_kind
def test_solver_takes_the_obeyed_grid(kind):
    sample, setting = sample_of(kind)
    assert _solved(sample, setting, sample.obeyed) in (cp_model.OPTIMAL, cp_model.FEASIBLE)


@understood
def test_solver_refuses_the_broken_grid(kind):
    sample, setting = sample_of(kind)
    assert _solved(sample, setting, sample.broken) == cp_model.INFEASIBLE


def _solved(sample, setting, rows):
    board = CpBoard(setting)
    sample.constraint.post(board)
    for cell, digit in filled(rows).items():
        board.fix(cell, digit)
    return cp_model.CpSolver().solve(board.model)


@every_kind
def test_modules_stay_small(kind):
    lines = Path(schema.kinds.__file__).with_name(f"{kind.__module__.rpartition('.')[2]}.py").read_text().splitlines()
    assert len(lines) <= 150


def test_rows_that_make_a_total_are_listed_once_for_all_totals() -> None:
    calculation._rows.cache_clear()
    digits = tuple(range(1, 10))
    made = {total: calculation._rows("sum", digits, 3, True).get(total, []) for total in range(31)}
    assert calculation._rows.cache_info().misses == 1
    for total, rows in made.items():
        assert rows == [row for row in product(digits, repeat=3) if len(set(row)) == 3 and sum(row) == total]
