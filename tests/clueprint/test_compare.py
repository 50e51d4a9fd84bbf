"""A proof against its source, without pages: what is the same, what differs, and what is left in doubt."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clueprint.compare import compare
from clueprint.compare.source import is_drawn
from clueprint.compare.tags import Tags
from clueprint.compare.texts import same_words, text_changes
from recognise.draft import Alternative, Doubt, Given, Reading, Undecided, box_polygon
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds import kind_named
from schema.kinds.boxes import Boxes
from schema.kinds.columns import Columns
from schema.kinds.knight_apart import KnightApart
from schema.kinds.rows import Rows
from schema.kinds.unread_mark import UnreadMark
from schema.pointers import constraint_pointer, given_pointer
from schema.puzzle import Puzzle
from tests.clueprint.proofs import CELL, proof_of, read_as
from tests.clueprint.reading_pages import small
from tests.schema.strategies import puzzles


def cells(text: str) -> tuple[Cell, ...]:
    return tuple(map(Cell.parse, text.split()))


def with_constraints(*more, **fields) -> Puzzle:
    puzzle = small()
    return puzzle.model_copy(update={"constraints": (*puzzle.constraints, *more), **fields})


THERMOMETER = kind_named("thermometer")(path=cells("r4c1 r3c1 r2c2 r1c3"))
SHORT = THERMOMETER.model_copy(update={"path": THERMOMETER.path[:-1]})
PALINDROME = kind_named("palindrome")(path=cells("r4c1 r3c1 r2c2"))
CAGE = kind_named("cage")(cells=cells("r1c1 r1c2"), value=3)
CLUE = kind_named("sandwich")(side="top", index=3, value=2)
DOT = kind_named("consecutive-pair")(cells=cells("r1c1 r1c2"))


def differences(source: Puzzle, printed: Puzzle):
    found = compare(proof_of(read_as(printed)), source)
    assert found.queries == ()
    return found.differences


def only(source: Puzzle, printed: Puzzle):
    (one,) = differences(source, printed)
    return one


# ------------------------------------------------------------------------------------------------ properties


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


# ------------------------------------------------------------------------------------------------ marks


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
    assert found.why == "the cage at r1c1 and r1c2 is not in the source"


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


# ------------------------------------------------------------------------------------------------ words


def test_case_blanks_and_hyphens_are_no_differences():
    printed = small().model_copy(
        update={
            "title": "LOW  TIDE",
            "setter": "fixture-press",
            "rules_text": "Place the digits 1 to 4 once\nin every row, col-\numn and box",
        }
    )
    assert differences(small(), printed) == ()


def test_a_changed_word_of_the_rules_is_quoted():
    printed = small().model_copy(update={"rules_text": "Place the digits 1 to 5 once in every row, column and box."})
    found = only(small(), printed)
    assert found.item == "/rules_text" and "“5” on the proof, “4” in the source" in found.why


def test_a_sentence_that_is_missing_and_one_that_is_extra():
    text = f"{small().rules_text} Along a thermometer digits rise from the bulb."
    longer = small().model_copy(update={"rules_text": text})
    lost, new = only(longer, small()), only(small(), longer)
    assert (lost.item, lost.change) == ("/rules_text", "missing") and "Along a thermometer" in lost.why
    assert (new.item, new.change) == (None, "extra")


def test_what_the_source_does_not_say_is_not_compared():
    bare = small().model_copy(update={"title": None, "setter": None})
    assert differences(bare, small()) == ()


def test_a_rule_without_a_mark_must_be_said_in_words():
    source = with_constraints(KnightApart(), rules_text=None)
    silent = with_constraints(rules_text="Place the digits 1 to 4 once in every row, column and box.")
    found = only(source, silent)
    assert (found.item, found.change) == ("/constraints/3", "missing")
    said = silent.model_copy(
        update={"rules_text": f"{silent.rules_text} No digit may stand twice a chess knight's move apart."}
    )
    assert differences(source, said) == ()


def test_a_wrong_gap_in_the_printed_rules_is_one_difference():
    lines = [kind_named("gap-line")(path=cells(path), gap=2) for path in ("r1c1 r2c1 r3c1", "r1c4 r2c4 r3c4")]
    source = with_constraints(*lines, rules_text=None)
    rules = "Place 1 to 4 once in every row, column and box. Digits next to each other on a green line differ by"
    printed = source.model_copy(update={"rules_text": f"{rules} at least 3."})
    found = only(source, printed)
    assert (found.item, found.items) == ("/constraints/3", ("/constraints/3", "/constraints/4"))
    assert (found.expected, found.found) == (2, 3)
    assert differences(source, source.model_copy(update={"rules_text": f"{rules} at least 2."})) == ()


def test_what_the_printed_rules_leave_out_is_for_a_person():
    """A sandwich that goes round the edge, and rules that speak of plain ones."""
    clue = CLUE.model_copy(update={"wrap": True})
    rules = (
        "Place 1 to 4 once in every row, column and box. Numbers outside the grid give the sum of the digits between"
    )
    source = with_constraints(clue, rules_text=None)
    found = compare(proof_of(read_as(source.model_copy(update={"rules_text": f"{rules} the 1 and the 4."}))), source)
    assert found.verdict == "query" and "wrap" in found.queries[0].why and found.queries[0].item == "/constraints/3"


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("Sub-grid of 9", "subgrid of 9", True),
        ("ﬁve lines", "FIVE  LINES.", True),
        ("the sum is 1 2", "the sum is 12", False),
        ("A < B", "A > B", False),
        ("non-consecutive", "consecutive", False),
    ],
)
def test_which_texts_say_the_same(one, other, same):
    assert same_words(one, other) == same
    assert bool(text_changes(one, other)) != same


# ------------------------------------------------------------------------------------------------ honesty


def doubted(puzzle: Puzzle, cell: str, confidence: float, *others: int, doubt: str = ""):
    """A proof of which one given was read with less confidence, or in doubt."""
    grid = read_as(puzzle, by_vectors=False)
    items, doubts = [], []
    for index, item in enumerate(grid.draft.items):
        if isinstance(item.value, Given) and item.value.cell == Cell.parse(cell):
            alternatives = tuple(Alternative(Given(item.value.cell, d), 1 - confidence) for d in others)
            items.append(replace(item, confidence=confidence, alternatives=alternatives))
            doubts += [Doubt(doubt, item=index)] if doubt else []
        else:
            items.append(item)
    return proof_of(replace(grid, draft=replace(grid.draft, items=tuple(items), doubts=tuple(doubts))))


def test_a_doubtful_reading_that_may_be_the_source_is_a_query():
    misread = small().model_copy(update={"givens": {**small().givens, Cell(1, 1): 4}})
    found = compare(doubted(misread, "r1c1", 0.97, 1), small())
    assert found.verdict == "query"
    assert found.queries[0].item == "/givens/r1c1" and found.queries[0].found == 4


def test_a_sure_reading_is_a_difference_though_the_proof_then_has_no_solution():
    printed = small().model_copy(update={"givens": {**small().givens, Cell(1, 1): 2}})
    found = compare(doubted(printed, "r1c1", 0.9999), small())
    assert found.verdict == "different"
    assert found.differences[0].note == "the puzzle as the proof prints it has no solution"


def test_what_is_hard_to_read_is_not_the_same_though_it_agrees():
    assert compare(doubted(small(), "r1c1", 0.8, 4), small()).verdict == "query"
    assert compare(doubted(small(), "r1c1", 0.99, 4), small()).verdict == "same"
    assert compare(doubted(small(), "r1c1", 1.0, doubt="a scratch runs through it"), small()).verdict == "query"


def test_a_figure_on_a_line_of_a_picture_is_perhaps_a_piece_of_it():
    for cell, verdict in (("r2c2", "query"), ("r4c4", "different")):
        more = {**small().givens, Cell.parse(cell): 4}
        printed = with_constraints(THERMOMETER, givens=more)
        source = with_constraints(THERMOMETER)
        assert compare(proof_of(read_as(printed, by_vectors=False)), source).verdict == verdict
        assert compare(proof_of(read_as(printed)), source).verdict == "different"


def test_a_figure_that_a_reader_of_pictures_may_have_lost_is_a_query():
    fifteen = CAGE.model_copy(update={"value": 15})
    times = CAGE.model_copy(update={"value": 15, "operation": "product"})
    assert compare(proof_of(read_as(with_constraints(fifteen), False)), with_constraints(times)).verdict == "query"
    for value, verdict in ((5, "query"), (1, "query"), (25, "different"), (None, "query")):
        printed = with_constraints(CAGE.model_copy(update={"value": value}))
        assert compare(proof_of(read_as(printed, by_vectors=False)), with_constraints(fifteen)).verdict == verdict
        assert compare(proof_of(read_as(printed)), with_constraints(fifteen)).verdict == "different"


def test_many_differences_of_one_kind_on_a_picture_are_for_a_person():
    fewer = dict(list(small().givens.items())[3:])
    moved = {cell: digit % 4 + 1 for cell, digit in list(small().givens.items())[:3]}
    printed = small().model_copy(update={"givens": {**fewer, **moved}})
    assert compare(proof_of(read_as(printed, by_vectors=False)), small()).verdict == "query"
    assert len(compare(proof_of(read_as(printed)), small()).differences) == 3


def test_ink_that_nothing_explains_is_a_query():
    grid = read_as(small())
    spot = Doubt("there is ink here that the puzzle does not explain", where=box_polygon((2.2, 2.2, 2.8, 2.8)))
    found = compare(proof_of(replace(grid, draft=grid.draft.doubting(spot))), small())
    assert found.verdict == "query" and found.queries[0].where is not None


def test_a_given_under_unread_ink_is_perhaps_there():
    printed = small().model_copy(update={"givens": {c: d for c, d in small().givens.items() if c != Cell(1, 1)}})
    grid = read_as(printed)
    spot = Doubt("there is ink here that the puzzle does not explain", where=box_polygon((0.2, 0.1, 0.8, 0.9)))
    found = compare(proof_of(replace(grid, draft=grid.draft.doubting(spot))), small())
    assert found.verdict == "query" and found.queries[0].item == "/givens/r1c1"


def test_a_line_among_things_that_were_not_read_is_for_a_person():
    """Where part of a line was not followed, what was read of it is no sure difference."""
    grid = read_as(with_constraints(SHORT))
    spot = Doubt("there is ink here that the puzzle does not explain", where=box_polygon((2.4, 0.4, 2.6, 0.6)))
    found = compare(proof_of(replace(grid, draft=grid.draft.doubting(spot))), with_constraints(THERMOMETER))
    assert found.verdict == "query" and "/constraints/3" in {f.item for f in found.queries}
    far = Doubt(spot.why, where=box_polygon((3.4, 3.4, 3.6, 3.6)))
    found = compare(proof_of(replace(grid, draft=grid.draft.doubting(far))), with_constraints(THERMOMETER))
    assert [f.item for f in found.differences] == ["/constraints/3"]


def undecided(*values, others=()):
    """A proof on which lines stand that look alike, and of which its words do not say what they are."""
    grid = read_as(small())
    first = len(grid.draft.items)
    unread = tuple(
        replace(grid.draft.items[0], value=(UnreadMark(shape="line", cells=value.path),)) for value in values
    )
    readings = (Reading("palindrome", tuple((v,) for v in values)), *others)
    asked = Undecided("grey line", tuple(range(first, first + len(values))), readings)
    doubt = Doubt(asked.question, item=first, meaning=True)
    draft = replace(grid.draft, items=grid.draft.items + unread, undecided=(asked,), doubts=(doubt,))
    return proof_of(replace(grid, draft=draft))


def test_the_source_says_what_a_mark_means():
    run = kind_named("run-line")(path=PALINDROME.path)
    either = undecided(PALINDROME, others=(Reading("run line", ((run,),)),))
    assert compare(either, with_constraints(PALINDROME)).verdict == "same"
    assert compare(either, with_constraints(run)).verdict == "same"


def test_a_mark_that_the_source_does_not_have_is_extra():
    found = compare(undecided(PALINDROME), small())
    assert [f.change for f in found.differences] == ["extra"] and "grey line" in found.differences[0].why


def test_colours_that_changed_places_are_for_a_person():
    """The ink is as in the source; only the rules on the page tell that it means something else."""
    run = kind_named("run-line")(path=cells("r1c4 r2c4 r3c4"))
    grid = read_as(with_constraints(PALINDROME, run))
    swapped = read_as(with_constraints(kind_named("run-line")(path=PALINDROME.path), PALINDROME)).draft
    places = [box_polygon((n, n, n + 1, n + 1)) for n in range(len(grid.draft.items))]
    draft, by_rules = (
        replace(d, items=tuple(replace(i, where=p) for i, p in zip(d.items, places, strict=True)))
        for d in (grid.draft, swapped)
    )
    found = compare(proof_of(replace(grid, draft=draft, by_rules=by_rules)), with_constraints(PALINDROME, run))
    assert found.verdict == "query" and [q.item for q in found.queries] == ["/constraints/3", "/constraints/4"]
    assert "should be read as run line, in the source as palindrome" in found.queries[0].why
    found = compare(proof_of(replace(grid, draft=draft, by_rules=draft)), with_constraints(PALINDROME, run))
    assert found.verdict == "same"


def test_marks_that_look_alike_and_mean_two_things_are_for_a_person():
    far = kind_named("palindrome")(path=cells("r1c4 r2c4 r3c4"))
    runs = tuple((kind_named("run-line")(path=line.path),) for line in (PALINDROME, far))
    proof = undecided(PALINDROME, far, others=(Reading("run line", runs),))
    found = compare(proof, with_constraints(PALINDROME, runs[1][0]))
    assert found.verdict == "query" and found.queries[0].item == "/constraints/4"


def test_words_of_a_picture_are_for_a_person():
    printed = small().model_copy(update={"rules_text": "Place the digits 1 to 5 once in every row, column and box."})
    found = compare(proof_of(read_as(printed, by_vectors=False)), small())
    assert found.verdict == "query" and found.queries[0].item == "/rules_text"


def test_tags_stand_apart_and_on_the_page():
    tags = Tags(100.0)
    boxes = [tags.place([(left, 20.0), (left + 10, 30.0)], 30.0, 8.0) for left in (0.0, 5.0, 90.0, 88.0, 0.0, 1.0)]
    assert all(box[0] >= 0 and box[2] <= 100 and box[1] >= 0 for box in boxes)
    for n, one in enumerate(boxes):
        for other in boxes[:n]:
            assert one[0] >= other[2] or other[0] >= one[2] or one[1] >= other[3] or other[1] >= one[3]


# ------------------------------------------------------------------------------------------------ which grid


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
