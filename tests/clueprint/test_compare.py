"""A proof against its source, whole: what is said of any change, the grid that belongs to it, and the document."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clueprint.compare import compare
from clueprint.compare.source import is_drawn
from schema.pointers import constraint_pointer, given_pointer
from tests.clueprint.comparing import (
    CAGE,
    with_constraints,
)
from tests.clueprint.proofs import CELL, proof_of, read_as
from tests.clueprint.reading_pages import small
from tests.schema.strategies import puzzles


@st.composite
def sources(draw):
    """A puzzle, always with rules text (or what has no mark would have to be said in words)."""
    puzzle = draw(puzzles())
    kept = tuple(c for c in puzzle.constraints if c.understood)
    return puzzle.model_copy(update={"rules_text": "Solve it.", "constraints": kept})


def turned(constraint):
    """The constraint with its path or cells listed the other way, where that says the same."""
    for name in ("path", "cells"):
        value = getattr(constraint, name, None)
        if value is not None:
            other = constraint.model_copy(update={name: value[::-1]})
            if other.identity() == constraint.identity():
                return other
    return constraint


@settings(max_examples=60, deadline=None)
@given(st.data(), sources())
def test_order_does_not_matter(data, source):
    shuffled = tuple(map(turned, data.draw(st.permutations(source.constraints))))
    printed = source.model_copy(update={"constraints": shuffled, "givens": dict(reversed(source.givens.items()))})
    found = compare(proof_of(read_as(printed)), source)
    assert found.verdict == "same", list(found.told())


@settings(max_examples=60, deadline=None)
@given(st.data(), sources())
def test_any_one_given_is_found(data, source):
    cell = data.draw(st.sampled_from(list(source.grid.cells())))
    ours = source.givens.get(cell)
    theirs = data.draw(st.sampled_from([d for d in (None, *source.grid.digits) if d != ours]))
    changed = {**source.givens, cell: theirs}
    printed = source.model_copy(update={"givens": {c: d for c, d in changed.items() if d is not None}})
    # A second page with nothing on it is no rival.
    found = compare(proof_of(read_as(printed)), source)
    if found.page is None:
        return  # so little is in common that it is another puzzle
    (difference,) = found.differences
    assert difference.change == ("extra" if ours is None else "missing" if theirs is None else "changed")
    assert difference.item == (None if ours is None else given_pointer(cell))
    assert (difference.expected, difference.found) == (ours, theirs)
    left, top = cell.column * CELL, cell.row * CELL
    assert difference.where is not None
    assert {(round(x), round(y)) for x, y in difference.where} == {
        (left, top), (left + CELL, top), (left, top + CELL), (left + CELL, top + CELL)
    }  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(st.data(), sources())
def test_any_missing_mark_is_found(data, source):
    drawn = [n for n, constraint in enumerate(source.constraints) if is_drawn(constraint)]
    if not drawn:
        return
    gone = data.draw(st.sampled_from(drawn))
    left = tuple(c for n, c in enumerate(source.constraints) if n != gone)
    found = compare(proof_of(read_as(source.model_copy(update={"constraints": left}))), source)
    assert found.verdict != "same"
    if found.page is not None:
        missing = source.constraints[gone]
        said = [(f.item, f.change) for f in found.differences]
        same_kind = [constraint_pointer(n) for n in drawn if source.constraints[n].kind == missing.kind]
        assert said and all(item in same_kind and change == "missing" for item, change in said)


def test_the_grid_that_fits_is_found_among_several():
    other = small({"r1c1": 4, "r1c2": 3, "r1c3": 2, "r2c1": 2, "r2c3": 4, "r3c1": 3, "r3c2": 4})
    other = other.model_copy(update={"title": "High Tide"})
    found = compare(proof_of(read_as(other), read_as(small(), number=2)), small())
    assert (found.verdict, found.page) == ("same", 2)


def test_a_second_grid_of_the_same_puzzle_is_for_a_person():
    found = compare(proof_of(read_as(small()), read_as(small(), number=3)), small())
    assert (found.verdict, found.page) == ("query", 1) and found.queries[0].page == 3


def test_no_grid_fits():
    other = small({"r4c4": 1, "r4c3": 3}).model_copy(update={"title": "High Tide"})
    found = compare(proof_of(read_as(other)), small())
    assert found.verdict == "different" and found.page is None
    assert found.differences[0].item == "" and "another puzzle" in found.differences[0].why
    assert compare(proof_of(), small()).verdict == "query"


@pytest.mark.parametrize("change", ["missing", "extra", "changed"])
def test_the_document_has_the_keys_of_the_contract(change):
    source, printed = small(), with_constraints(CAGE)
    if change == "missing":
        source, printed = printed, source
    elif change == "changed":
        source = with_constraints(CAGE.model_copy(update={"value": 5}))
    document = compare(proof_of(read_as(printed)), source).document()
    assert document["verdict"] == "different" and document["queries"] == []
    (difference,) = document["differences"]
    assert {"item", "change", "expected", "found", "page", "where", "why"} <= set(difference)
    assert difference["change"] == change and difference["page"] == 1 and len(difference["where"]) == 4
    assert (difference["item"] is None) == (change == "extra")
