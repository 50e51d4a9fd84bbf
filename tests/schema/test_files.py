"""Puzzle files: round trips, every problem with its place, hostile bytes, whole or not at all."""

from __future__ import annotations

import json
import os
import stat

import pytest
import strategies
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from schema.files import BadDocument, BadFile, load_puzzle, puzzle_from, puzzle_text, save_puzzle
from schema.generate import schema_text
from schema.grid import Grid
from schema.kinds.rows import Rows
from schema.pointers import Problem
from schema.puzzle import Puzzle
from schema.strict_json import MOST_BYTES

GRID = {"rows": 4, "columns": 4, "digits": [1, 2, 3, 4]}
SCHEMA = Draft202012Validator(json.loads(schema_text(Puzzle)))


def document(**changes):
    whole = {"format": "clueprint/1", "grid": GRID, "givens": {}, "constraints": []}
    return {**whole, **changes}


def problems_of(content):
    data = content if isinstance(content, bytes) else json.dumps(content).encode()
    with pytest.raises(BadDocument) as caught:
        puzzle_from(data)
    return [(problem.at, problem.why) for problem in caught.value.problems]


def constraint_problems(*constraints, grid=None):
    return problems_of(document(grid=grid or GRID, constraints=list(constraints)))


@settings(max_examples=150, deadline=None)
@given(puzzle=strategies.puzzles())
def test_round_trip(puzzle):
    assert puzzle.problems() == []
    text = puzzle_text(puzzle)
    assert puzzle_from(text.encode()) == puzzle
    assert puzzle_text(puzzle_from(text.encode())) == text
    assert SCHEMA.is_valid(json.loads(text))


def test_the_contracts_example_reads():
    example = document(
        title="Harbour Lights",
        setter="Fixture Press",
        rules_text="Place 1 to 9 once in every row and column.",
        grid={"rows": 9, "columns": 9, "digits": list(range(1, 10))},
        givens={"r1c2": 5, "r4c4": 9},
        constraints=[
            {"kind": "rows"},
            {"kind": "columns"},
            {"kind": "thermometer", "path": ["r7c1", "r6c1", "r5c2"]},
            {"kind": "sandwich", "side": "top", "index": 3, "value": 23, "wrap": True},
        ],
    )
    puzzle = puzzle_from(json.dumps(example).encode())
    assert json.loads(puzzle_text(puzzle)) == example


@pytest.mark.parametrize(
    ("data", "at", "why"),
    [
        (b"", "", "it is empty"),
        (b" \n", "", "it is empty"),
        (b"{", "", "it is no JSON: expecting property name enclosed in double quotes at line 1, column 2"),
        (b"\xff\xfe{\x00}\x00", "", "it starts with a byte order mark; save it as UTF-8 without one"),
        (b"\xef\xbb\xbf{}", "", "it starts with a byte order mark; save it as UTF-8 without one"),
        ('{"title": "Fußweg"}'.encode("latin-1"), "", "it is not UTF-8 (byte 14); save it as UTF-8"),
        ("{}".encode("utf-16-le"), "", "it is no JSON: expecting property name enclosed in double quotes at line 1"),
        (b"[]", "", "an object is needed as the whole of the file"),
        (b"null", "", "an object is needed as the whole of the file"),
        (b'{"a": NaN}', "/a", "NaN is no JSON number"),
        (b'{"a": [-Infinity]}', "/a/0", "-Infinity is no JSON number"),
        (b'{"a": 1e999}', "/a", "1e999 is too large a number"),
        (b'{"a": ' + b"9" * 5000 + b"}", "/a", "999999999999... (5000 digits) is too large a number"),
        (b'{"a": {"b": 1, "b": 1}}', "/a/b", "the key stands twice"),
        (b'{"a~b/c": {"d": 1, "d": 1}}', "/a~0b~1c/d", "the key stands twice"),
        (b'{"a": "\\ud800"}', "/a", "a text holds half a character (a lone surrogate)"),
        (b"[" * 100_000, "", "it is nested more than 64 deep"),
        (b'{"a":' * 65 + b"1" + b"}" * 65, "/a" * 65, "it is nested more than 64 deep"),
        (b'{"a": "' + b"x" * MOST_BYTES + b'"}', "", "the file is larger than 8 MiB"),
    ],
)
def test_hostile_json(data, at, why):
    found = problems_of(data)
    assert len(found) == 1
    assert found[0][0] == at
    assert found[0][1].startswith(why)


@settings(max_examples=300, deadline=None)
@given(data=st.binary(max_size=200) | st.recursive(st.none() | st.booleans() | st.integers() | st.text(max_size=5),
       lambda inner: st.lists(inner, max_size=3) | st.dictionaries(
           st.sampled_from(["format", "grid", "givens", "constraints", "kind", "rows", "r1c1", "path", "cells"]),
           inner, max_size=4)).map(lambda value: json.dumps(value).encode()))  # fmt: skip
def test_rubbish_is_told_and_never_crashes(data):
    with pytest.raises(BadDocument) as caught:
        puzzle_from(data)
    assert caught.value.problems


@settings(max_examples=200, deadline=None)
@given(puzzle=strategies.puzzles(), data=st.data())
def test_a_spoilt_file_is_read_or_told(puzzle, data):
    """One value anywhere in a good file replaced by another: never anything but a puzzle or BadDocument."""
    whole = json.loads(puzzle_text(puzzle))
    holder, key = data.draw(st.sampled_from(list(_places(whole))))
    holder[key] = data.draw(st.sampled_from([None, True, -1, 10**30, 1.5, "", "r99c99", [], {}, ["r1c1", "r1c1"]]))
    try:
        read = puzzle_from(json.dumps(whole).encode())
    except BadDocument as error:
        assert error.problems
    else:
        assert read.problems() == []


def _places(value):
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, inner in items:
        yield value, key
        yield from _places(inner)


def test_all_problems_at_once_in_the_order_of_the_file():
    assert problems_of(
        {
            "grid": GRID,
            "givens": {"r0c1": 3, "r1c1": "4", "r9c9": 7},
            "constraints": [
                {"kind": "rows"},
                {"kind": "rows"},
                {"kind": "rainbow"},
                {"path": []},
                {"kind": "thermometer", "path": ["r1c1", "r1c3"], "strict": 1, "colour": "red"},
                {"kind": "greater", "less": "r1c1"},
                {"kind": "sandwich", "side": "top", "index": 9, "value": 3},
            ],
            "colour": 1,
        }
    ) == [
        ("", "the key 'format' is missing"),
        ("/givens/r0c1", "'r0c1' is no cell; write a cell as r3c7"),
        ("/givens/r1c1", "a whole number is needed, not '4'"),
        ("/givens/r9c9", "r9c9 is not on the grid of 4 rows and 4 columns"),
        ("/givens/r9c9", "7 is not one of the grid's digits"),
        ("/constraints/1", "says the same as /constraints/0"),
        ("/constraints/2/kind", "unknown kind 'rainbow'"),
        ("/constraints/3", "the key 'kind' is missing"),
        ("/constraints/4/colour", "unknown key"),
        ("/constraints/4/strict", "true or false is needed, not 1"),
        ("/constraints/5", "the key 'greater' is missing"),
        ("/constraints/6/index", "there is no column 9; the last is 4"),
        ("/colour", "unknown key"),
    ]


def test_another_version_is_named():
    assert problems_of(document(format="clueprint/2")) == [("/format", "must be 'clueprint/1', not 'clueprint/2'")]


@pytest.mark.parametrize(
    ("grid", "at", "why"),
    [
        ({"rows": 0}, "/grid/rows", "must be at least 1, not 0"),
        ({"rows": 26}, "/grid/rows", "must be at most 25, not 26"),
        ({"columns": 9.0}, "/grid/columns", "a whole number is needed, not 9.0"),
        ({"digits": []}, "/grid/digits", "needs 1 or more entries, and has 0"),
        ({"digits": [1, 2, 2, 3]}, "/grid/digits/2", "digit 2 is listed twice"),
        ({"labels": {"5": "A"}}, "/grid/labels/5", "'5' is not one of the grid's digits"),
        ({"labels": {"4": "3"}}, "/grid/labels", "digits 3 and 4 are both printed as '3'"),
        ({"labels": {"4": "."}}, "/grid/labels/4", "'.' cannot be a label; a label is printed without blanks"),
        ({"labels": {"4": ""}}, "/grid/labels/4", "needs 1"),
    ],
)
def test_grids(grid, at, why):
    ((found_at, found_why),) = problems_of(document(grid={**GRID, **grid}))
    assert found_at == at
    assert why in found_why or found_at == "/grid/labels/4"


@pytest.mark.parametrize(
    ("constraint", "expected"),
    [
        (
            {"kind": "thermometer", "path": ["r1c1", "r3c1"]},
            [("/path/1", "r3c1 does not touch r1c1, the cell before it")],
        ),
        ({"kind": "palindrome", "path": ["r1c1"]}, [("/path", "needs 2 or more entries, and has 1")]),
        ({"kind": "run-line", "path": ["r1c1", "r1c2", "r1c1"]}, [("/path/2", "r1c1 is on the path twice")]),
        ({"kind": "gap-line", "path": ["r1c1", "r1c2"], "gap": 0}, [("/gap", "must be at least 1, not 0")]),
        (
            {"kind": "between-line", "path": ["r4c4", "r5c4"]},
            [("/path/1", "r5c4 is not on the grid of 4 rows and 4 columns")],
        ),
        (
            {"kind": "box-sum-line", "path": ["r1c1", "r1c2"]},
            [("", "a box-sum line needs boxes, and the puzzle has none")],
        ),
        ({"kind": "cage", "cells": ["r1c1", "r1c1"], "value": 3}, [("/cells/1", "r1c1 is listed twice")]),
        (
            {"kind": "cage", "cells": ["r1c1"], "value": 3, "operation": "difference"},
            [("/operation", "a difference needs two cells or more")],
        ),
        ({"kind": "cage", "cells": []}, [("/cells", "needs 1 or more entries, and has 0")]),
        ({"kind": "consecutive-pair", "cells": ["r1c1", "r2c2"]}, [("/cells", "r1c1 and r2c2 do not share a side")]),
        ({"kind": "greater", "greater": "r1c1", "less": "r1c1"}, [("", "r1c1 and r1c1 do not share a side")]),
        (
            {"kind": "corner-digits", "cells": ["r1c1", "r1c2", "r2c1", "r3c2"], "digits": [1, 7]},
            [
                ("/cells", "r1c1, r1c2, r2c1 and r3c2 are not the four cells around one corner"),
                ("/digits/1", "7 is not one of the grid's digits"),
            ],
        ),
        (
            {"kind": "arrow", "circle": ["r1c1", "r2c2"], "shaft": ["r4c4", "r1c1"]},
            [
                ("/circle", "the cells of a circle stand side by side in one row or column"),
                ("/shaft/0", "r4c4 does not touch the circle"),
                ("/shaft/1", "r1c1 does not touch r4c4, the cell before it"),
                ("/shaft/1", "r1c1 is in the circle already"),
            ],
        ),
        (
            {"kind": "boxes", "cells": [["r1c1", "r1c2", "r2c1", "r2c2"], ["r1c3", "r1c4", "r2c3", "r2c2"]]},
            [
                ("/cells", "9 cells are in no box"),
                ("/cells/1/3", "r2c2 is in box 1 already"),
            ],
        ),
        (
            {"kind": "skyscraper", "side": "left", "index": 5, "value": 1},
            [("/index", "there is no row 5; the last is 4")],
        ),
        (
            {"kind": "diagonal-sum", "start": "r2c2", "direction": "down-right", "value": 9},
            [("/start", "r2c2 is not where a diagonal that goes down-right begins")],
        ),
        ({"kind": "all-marked", "of": "sum-pair"}, [("/of", "no sum-pair of the puzzle says which sum is meant")]),
        (
            {"kind": "all-marked", "of": "greater"},
            [("/of", "must be 'consecutive-pair', 'ratio-pair' or 'sum-pair', not 'greater'")],
        ),
        ({"kind": "even", "cells": ["r1c5"]}, [("/cells/0", "r1c5 is not on the grid of 4 rows and 4 columns")]),
        ({"kind": "unread-mark", "shape": "", "cells": []}, [("/shape", "")]),
    ],
)
def test_what_the_table_implies(constraint, expected):
    found = constraint_problems(constraint)
    assert [at.removeprefix("/constraints/0") for at, _ in found] == [at for at, _ in expected]
    assert all(told == why for (_, told), (_, why) in zip(found, expected, strict=True) if why)


def test_whole_lines_need_as_many_cells_as_digits():
    grid = {"rows": 4, "columns": 5, "digits": [1, 2, 3, 4]}
    found = constraint_problems({"kind": "rows"}, {"kind": "diagonal", "direction": "up"}, grid=grid)
    assert found == [
        ("/constraints/0", "a row has 5 cells, so it cannot hold each of 4 digits once"),
        ("/constraints/1", "a grid of 4 rows and 5 columns has no long diagonal"),
    ]


def test_the_same_rule_twice_in_other_words():
    found = constraint_problems(
        {"kind": "cage", "cells": ["r1c1", "r1c2"], "value": 3},
        {"kind": "cage", "cells": ["r1c2", "r1c1"], "value": 3, "operation": "sum"},
        {"kind": "palindrome", "path": ["r1c1", "r1c2", "r1c3"]},
        {"kind": "palindrome", "path": ["r1c3", "r1c2", "r1c1"]},
        {"kind": "thermometer", "path": ["r1c1", "r1c2"]},
        {"kind": "thermometer", "path": ["r1c2", "r1c1"]},
        {"kind": "unread-mark", "shape": "star", "cells": []},
        {"kind": "unread-mark", "shape": "star", "cells": []},
    )
    assert found == [
        ("/constraints/1", "says the same as /constraints/0"),
        ("/constraints/3", "says the same as /constraints/2"),
    ]


def test_boxes_are_stated_once():
    halves = [["r1c1", "r1c2", "r2c1", "r2c2"], ["r1c3", "r1c4", "r2c3", "r2c4"]]
    lower = [["r3c1", "r3c2", "r4c1", "r4c2"], ["r3c3", "r3c4", "r4c3", "r4c4"]]
    rows = [[f"r{r}c{c}" for c in range(1, 5)] for r in range(1, 5)]
    found = constraint_problems({"kind": "boxes", "cells": halves + lower}, {"kind": "boxes", "cells": rows})
    assert found == [("/constraints/1", "a puzzle has boxes once; see /constraints/0")]


def small_puzzle(**changes):
    return Puzzle(
        **{"grid": Grid(rows=4, columns=4, digits=(1, 2, 3, 4)), "givens": {}, "constraints": (Rows(),), **changes}
    )


def test_saved_and_loaded(tmp_path):
    path = tmp_path / "harbour.puzzle.json"
    save_puzzle(small_puzzle(title="Harbour Lights"), path)
    assert load_puzzle(path) == small_puzzle(title="Harbour Lights")
    assert [entry.name for entry in tmp_path.iterdir()] == ["harbour.puzzle.json"]
    mask = os.umask(0)
    os.umask(mask)
    assert stat.S_IMODE(path.stat().st_mode) == 0o666 & ~mask


def test_a_failed_save_leaves_the_old_file(tmp_path, monkeypatch):
    path = tmp_path / "harbour.puzzle.json"
    save_puzzle(small_puzzle(title="Old"), path)

    def full(_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space left"):
        save_puzzle(small_puzzle(title="New"), path)
    assert load_puzzle(path).title == "Old"
    assert [entry.name for entry in tmp_path.iterdir()] == ["harbour.puzzle.json"]


def test_an_unsound_puzzle_is_not_saved(tmp_path):
    path = tmp_path / "bad.puzzle.json"
    with pytest.raises(BadFile) as caught:
        save_puzzle(small_puzzle(constraints=(Rows(), Rows())), path)
    assert caught.value.problems == [Problem("/constraints/1", "says the same as /constraints/0")]
    assert not path.exists()


def test_a_bad_file_in_one_line(tmp_path):
    path = tmp_path / "bad.puzzle.json"
    path.write_text('{"format": "clueprint/1"}')
    with pytest.raises(BadFile) as caught:
        load_puzzle(path)
    assert str(caught.value) == f"{path}: no puzzle file: the key 'grid' is missing (and 2 more problems)"
    assert caught.value.exit_status == 2


@pytest.mark.parametrize("make", [lambda path: None, lambda path: path.mkdir()])
def test_what_cannot_be_opened(tmp_path, make):
    path = tmp_path / "gone.puzzle.json"
    make(path)
    with pytest.raises(BadFile, match="it cannot be opened"):
        load_puzzle(path)
