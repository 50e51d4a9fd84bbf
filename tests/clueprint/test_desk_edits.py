"""What a person changes on the desk: every state is a sound puzzle with its reading, and what is not is refused."""

from __future__ import annotations

import json

import pytest

from clueprint.desk import edits
from clueprint.desk.edits import Refused, State
from clueprint.desk.kinds import kinds_view
from schema.cells import Cell
from schema.files import constraint_document, puzzle_from, puzzle_text
from schema.kinds import KINDS
from schema.puzzle import Puzzle
from schema.reading import Frame, Query, Reading, Source, reading_from, reading_text
from tests.clueprint.desk_asking import R1C1, state_of

SOURCE = Source(file="x.png", sha256="0" * 64, page=1)
FRAME = Frame(width=600, height=600, unit="px")


def test_every_state_is_a_sound_puzzle_with_its_reading(folder):
    state = state_of(folder)
    for changed in (
        edits.accept(state, 0),
        edits.accept(state, 1),
        edits.choose(state, R1C1, 0),
        edits.put_given(state, Cell.parse("r1c1"), None),
        edits.put_given(state, Cell.parse("r4c4"), 1),
        edits.delete(state, "/constraints/0"),
    ):
        assert puzzle_from(puzzle_text(changed.puzzle).encode()) == changed.puzzle
        assert reading_from(reading_text(changed.reading).encode()) == changed.reading
        document = json.loads(puzzle_text(changed.puzzle))
        for item in changed.reading.items:
            _, part, key = item.item.split("/")
            assert document[part][int(key) if part == "constraints" else key] is not None


def test_accepting_makes_an_item_sure_and_its_query_goes(folder):
    changed = edits.accept(state_of(folder), 0)
    item = next(item for item in changed.reading.items if item.item == R1C1)
    assert item.confidence == 1 and changed.puzzle == state_of(folder).puzzle
    assert [query.why for query in changed.reading.queries] == ["there is ink here"]


def test_an_alternative_takes_the_place_of_what_was_read(folder):
    changed = edits.choose(state_of(folder), R1C1, 0)
    assert changed.puzzle.givens[Cell.parse("r1c1")] == 4
    item = next(item for item in changed.reading.items if item.item == R1C1)
    assert (item.how, item.confidence) == ("inferred", 1)


def test_a_given_that_was_overlooked_stands_where_its_cell_is(folder):
    changed = edits.put_given(state_of(folder), Cell.parse("r4c4"), 1)
    item = changed.reading.items[-1]
    assert item.item == "/givens/r4c4"
    corners = changed.reading.corners
    assert item.where[2] == pytest.approx(corners[2], abs=0.02)


def test_pointers_follow_when_a_constraint_goes(folder):
    state = state_of(folder)
    thermometers = [{"kind": "thermometer", "path": path} for path in (["r1c1", "r2c2"], ["r3c3", "r4c4"])]
    state = edits.change(state, "/constraints/0", [{"kind": "rows"}, *thermometers])
    query = Query(item="/constraints/2", why="is it one?")
    state = State(state.puzzle, state.reading.model_copy(update={"queries": (query,)}), state.answered)
    changed = edits.delete(state, "/constraints/1")
    assert changed.reading.queries[0].item == "/constraints/1"
    assert changed.puzzle.constraints[1].path[0] == Cell.parse("r3c3")
    assert "/constraints/1" in changed.answered
    assert edits.delete(changed, "/constraints/1").reading.queries == ()


@pytest.mark.parametrize(
    ("pointer", "document"),
    [
        ("/constraints/0", {"kind": "thermometer", "path": ["r1c1", "r3c3"]}),
        ("/constraints/0", {"kind": "columns"}),
        ("/constraints/0", {"kind": "wormhole"}),
        ("/constraints/9", {"kind": "rows"}),
        ("/givens/r1c1", {"kind": "rows"}),
    ],
)
def test_what_leaves_no_sound_puzzle_is_refused(folder, pointer, document):
    with pytest.raises(Refused):
        edits.change(state_of(folder), pointer, [document])


def unmarked(kind, grid):
    """The worked sample of a kind as a person would put it on a blank grid."""
    sample = kind.sample()
    return State(
        Puzzle(grid=sample.grid, givens={}, constraints=sample.extra),
        Reading(
            puzzle="x.puzzle.json", source=SOURCE, frame=FRAME, corners=grid, verdict="query", items=(), queries=()
        ),
    ), sample.constraint


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_every_kind_is_added_by_the_fields_that_the_page_is_told_of(kind):
    state, wanted = unmarked(kind, ((100, 100), (500, 100), (500, 500), (100, 500)))
    told = next(view for view in kinds_view() if view["kind"] == wanted.kind)
    fields = {field["name"]: field for field in told["fields"]}
    document = constraint_document(wanted)
    assert document.keys() - {"kind"} <= fields.keys()
    assert {name for name, field in fields.items() if field["required"]} <= document.keys()
    changed = edits.add(state, [document])
    added = changed.puzzle.constraints[-1]
    assert type(added) is kind and constraint_document(added) == document
    pointers = [item.item for item in changed.reading.items]
    number = len(changed.puzzle.constraints) - 1
    assert pointers == ([f"/constraints/{number}"] if told["drawn"] else [])
    assert edits.delete(changed, f"/constraints/{number}").puzzle == state.puzzle


def test_the_form_of_each_field_is_that_of_its_model():
    forms = {view["kind"]: {f["name"]: f for f in view["fields"]} for view in kinds_view()}
    cage = forms["cage"]
    assert [cage[name]["form"] for name in ("cells", "value", "operation", "repeats")] == [
        "cells", "number", "choice", "switch",
    ]  # fmt: skip
    assert cage["operation"]["default"] == "sum" and "product" in cage["operation"]["options"]
    assert not cage["cells"]["ordered"] and forms["thermometer"]["path"]["ordered"]
    assert forms["sum-pair"]["cells"]["most"] == 2 and forms["gap-line"]["gap"]["most"] == 99
    assert forms["boxes"]["cells"]["form"] == "groups" and forms["greater"]["less"]["form"] == "cell"
    assert forms["corner-digits"]["digits"]["form"] == "numbers" and forms["unread-mark"]["shape"]["form"] == "text"


def test_what_is_added_or_moved_stands_where_our_drawing_has_it(folder):
    state = state_of(folder)
    (left, top), _, (right, bottom), _ = state.reading.corners
    cell = (right - left) / 4
    changed = edits.add(state, [{"kind": "skyscraper", "side": "left", "index": 2, "value": 2}])
    where = changed.reading.items[-1].where
    assert all(x < left and top + cell < y < top + 2 * cell for x, y in where)
    changed = edits.add(state, [{"kind": "cage", "cells": ["r1c1", "r1c2"]}])
    moved = edits.change(changed, "/constraints/3", [{"kind": "cage", "cells": ["r4c3", "r4c4"]}])
    assert all(y > bottom - cell for _, y in moved.reading.items[-1].where)
    numbered = edits.change(moved, "/constraints/3", [{"kind": "cage", "cells": ["r4c3", "r4c4"], "value": 3}])
    assert numbered.reading.items[-1].where == moved.reading.items[-1].where
    ruled = edits.change(numbered, "/constraints/3", [{"kind": "knight-apart"}])
    assert "/constraints/3" not in [item.item for item in ruled.reading.items]


@pytest.mark.parametrize(
    ("document", "why"),
    [
        ({"kind": "gap-line", "path": ["r1c1", "r1c2"]}, "the key 'gap' is missing"),
        ({"kind": "cage", "cells": [], "value": "six"}, "cells: needs 1 or more.*; value: a whole number is needed"),
        ({"kind": "thermometer", "path": ["r1c1", "r3c3"]}, "thermometer from r1c1 to r3c3: r3c3 does not touch r1c1"),
        ({"kind": "rows"}, "rows: says the same as rows"),
        ({"kind": "all-marked", "of": "sum-pair"}, "no sum-pair of the puzzle"),
    ],
)
def test_what_is_refused_is_told_in_words_without_pointers(folder, document, why):
    with pytest.raises(Refused, match=why) as refused:
        edits.add(state_of(folder), [document])
    assert "/constraints" not in str(refused.value)
