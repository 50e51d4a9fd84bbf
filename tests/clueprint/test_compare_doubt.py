"""A proof against its source: what a doubtful reading leaves to a person."""

from __future__ import annotations

from dataclasses import replace

from clueprint.compare import compare
from clueprint.compare.tags import Tags
from recognise.draft import Alternative, Doubt, Given, Reading, Undecided, box_polygon
from schema.cells import Cell
from schema.kinds import kind_named
from schema.kinds.unread_mark import UnreadMark
from schema.puzzle import Puzzle
from tests.clueprint.comparing import (
    CAGE,
    PALINDROME,
    SHORT,
    THERMOMETER,
    cells,
    with_constraints,
)
from tests.clueprint.proofs import proof_of, read_as
from tests.clueprint.reading_pages import small


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
