"""Settling doubt with the proof: the likeliest reading that has exactly one solution, however many items it changes."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, product
from random import Random

import pytest

from checker.prove import conflicting, is_unique, prove, solution_count
from fixtures.generator import make_puzzle
from recognise.doubt.alternatives import likeliest_of_several, settled_by_proof, settling
from recognise.doubt.policy import is_clean
from recognise.doubt.puzzle import as_puzzle, item_pointers
from recognise.draft import Alternative, Draft, Given, Item
from recognise.evidence import Words
from schema.cells import Cell
from schema.pointers import given_pointer
from schema.puzzle import Puzzle

SQUARE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0))


@pytest.fixture(autouse=True)
def _time_enough(monkeypatch) -> None:
    """On a loaded machine too."""
    monkeypatch.setattr("recognise.doubt.alternatives.SECONDS", 60.0)


def _read(puzzle: Puzzle, misread: int, rng: Random) -> Draft:
    """A reading of a puzzle in which some givens are misread at 0.6, the right digit standing among the alternatives at
    0.3; all others are right at 0.999 with an unlikely alternative."""
    items = [Item((constraint,), None, 1.0, "text") for constraint in puzzle.constraints]
    wrong = set(rng.sample(sorted(puzzle.givens), misread))
    for cell, digit in puzzle.givens.items():
        near = rng.choice([d for d in puzzle.grid.digits if d != digit])
        if cell in wrong:
            others = (Alternative(Given(cell, digit), 0.3),)
            items.append(Item(Given(cell, near), SQUARE, 0.6, "shape", others))
        else:
            items.append(Item(Given(cell, digit), SQUARE, 0.999, "shape", (Alternative(Given(cell, near), 0.001),)))
    return Draft(puzzle.grid, tuple(items), Words())


@pytest.mark.parametrize(("misread", "seed"), [(1, 100), (3, 300), (6, 600)])
def test_all_misread_items_are_found_together(misread, seed) -> None:
    """More than two at once, which trying one or two changes at a time would not find."""
    rng = Random(seed)
    puzzle = make_puzzle(rng, (), 9, plenty=0.6)
    draft = _read(puzzle, misread, rng)
    settled = settled_by_proof(draft)
    assert settled is not None
    assert settled.givens == puzzle.givens
    assert len(settled.doubts) == misread
    changed = {i for i, (a, b) in enumerate(zip(draft.items, settled.items, strict=True)) if a.value != b.value}
    assert {doubt.item for doubt in settled.doubts} == changed
    assert all(settled.items[i].how == "inferred" for i in changed)


def test_the_likeliest_of_all_readings() -> None:
    """Against every combination of alternatives, weighed by likelihood, on a small grid."""
    found = 0
    for seed in range(12):
        rng = Random(seed)
        puzzle = make_puzzle(rng, (), 4, plenty=1.0)
        draft = _read(puzzle, 2, rng)
        settled = settled_by_proof(draft)
        likeliest = _likeliest(draft)
        assert (settled and settled.givens) == (likeliest and likeliest.givens)
        found += settled is not None
    assert found >= 3


def _likeliest(draft: Draft) -> Draft | None:
    """By trying all: None where another is within a factor of ten."""
    weighed = []
    for choice in product(
        *(
            ((item.value, item.confidence), *((o.value, o.confidence) for o in item.alternatives))
            for item in draft.items
        )
    ):
        chance = 1.0
        for (_, confidence), item in zip(choice, draft.items, strict=True):
            chance *= confidence / item.confidence
        if sum(value != item.value for (value, _), item in zip(choice, draft.items, strict=True)) <= 3:
            items = tuple(replace(item, value=value) for (value, _), item in zip(choice, draft.items, strict=True))
            weighed.append((chance, replace(draft, items=items)))
    weighed.sort(key=lambda pair: -pair[0])
    unique = [(chance, read) for chance, read in weighed if is_unique(as_puzzle(read))]
    if not unique or (len(unique) > 1 and unique[1][0] * 10 >= unique[0][0]):
        return None
    return unique[0][1]


@pytest.mark.parametrize(("nothing", "taken"), [(0.06, True), (0.2, False)], ids=["less likely", "about as likely"])
def test_the_likeliest_of_several_that_settle_it_is_taken_and_asked_about(nothing: float, taken: bool) -> None:
    """A given that is misread, of a puzzle that has one solution without it as well."""
    without = make_puzzle(Random(4), (), 4)
    solution = prove(without).solution or {}
    cell, digit = next((cell, digit) for cell, digit in solution.items() if cell not in without.givens)
    puzzle, near = _with(without, cell, digit), digit % 4 + 1
    items = [Item((constraint,), None, 1.0, "text") for constraint in puzzle.constraints]
    items += [Item(Given(c, d), SQUARE, 1.0, "shape") for c, d in puzzle.givens.items() if c != cell]
    others = Alternative(Given(cell, digit), 0.3), Alternative((), nothing)
    draft = Draft(puzzle.grid, (*items, Item(Given(cell, near), SQUARE, 0.6, "shape", others)), Words())
    assert settled_by_proof(draft) is None
    likeliest = likeliest_of_several(draft, settling(draft))
    assert (likeliest is not None) == taken
    if likeliest is not None:
        assert likeliest.givens == puzzle.givens
        assert [doubt.item for doubt in likeliest.doubts] == [len(items)] * 2
        assert "it may also be nothing" in likeliest.doubts[1].why
        assert not is_clean(likeliest, "one")


def test_no_alternative_that_helps_is_no_answer() -> None:
    """The misread givens may only be taken for another wrong digit."""
    rng = Random(600)
    puzzle = make_puzzle(rng, (), 9, plenty=0.6)
    draft = _read(puzzle, 6, rng)
    items = tuple(replace(item, alternatives=()) for item in draft.items)
    assert settled_by_proof(replace(draft, items=items)) is None


def test_what_is_blamed_is_a_least_conflict_among_the_items_asked_about() -> None:
    rng = Random(9)
    puzzle = make_puzzle(rng, (), 9, plenty=0.6)
    draft = _read(puzzle, 3, rng)
    wrong = as_puzzle(draft)
    assert solution_count(wrong) == 0
    among = [given_pointer(cell) for cell in wrong.givens]
    blamed = conflicting(wrong, among)
    assert blamed and set(blamed) <= set(among)
    assert solution_count(_without(wrong, among)) == 2
    for fewer in combinations(blamed, len(blamed) - 1):
        assert solution_count(_without(wrong, [p for p in among if p not in fewer])) != 0
    assert solution_count(_without(wrong, [p for p in among if p not in blamed])) == 0


def test_nothing_is_blamed_among_items_that_are_not_at_fault() -> None:
    rng = Random(9)
    draft = _read(make_puzzle(rng, (), 9, plenty=0.6), 3, rng)
    wrong = as_puzzle(draft)
    right = [i for i, item in enumerate(draft.items) if item.confidence == 0.999]
    pointers = [pointer for i in right for pointer in item_pointers(draft)[i]]
    rules = [pointer for i, item in enumerate(draft.items) if item.where is None for pointer in item_pointers(draft)[i]]
    alone = conflicting(wrong, rules)
    assert set(alone) <= set(rules)
    assert set(conflicting(wrong, pointers)) <= set(pointers)


def _with(puzzle: Puzzle, cell: Cell, digit: int) -> Puzzle:
    return puzzle.model_copy(update={"givens": {**puzzle.givens, cell: digit}})


def _without(puzzle: Puzzle, pointers: list[str]) -> Puzzle:
    gone = set(pointers)
    return puzzle.model_copy(
        update={"givens": {c: d for c, d in puzzle.givens.items() if given_pointer(c) not in gone}}
    )
