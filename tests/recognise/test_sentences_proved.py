"""Questions about sentences that the proof of the page answers."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from checker.prove import prove
from fixtures.generator import make_puzzle
from recognise.doubt.sentences import PROVED, _lives_on, other_meanings, without_proved
from recognise.draft import Doubt, Draft, Given, Item
from recognise.evidence import Words
from recognise.interpret.draft import in_the_main
from recognise.rules import RuleSheet, Statement
from schema.cells import Cell
from schema.kinds.all_marked import AllMarked
from schema.kinds.even import Even
from schema.kinds.king_apart import KingApart
from schema.kinds.palindrome import Palindrome
from schema.kinds.ratio_pair import RatioPair
from schema.kinds.sum_pair import SumPair
from schema.puzzle import Puzzle

SENTENCE = "The hungry line says something of its digits"


def _puzzle(kind: str, size: int, seed: int) -> Puzzle:
    return make_puzzle(Random(f"{kind}{seed}"), [kind], size, digits="usual")


def _asked(puzzle: Puzzle, kind: str, *others: Statement) -> tuple[str, ...]:
    """What is still asked of a puzzle whose marks such a sentence explains, and `others`."""
    items = [Item(Given(cell, digit), None, 1.0, "vector") for cell, digit in puzzle.givens.items()]
    items += [Item((c,), None, 1.0, "vector") for c in puzzle.constraints]
    draft = Draft(puzzle.grid, tuple(items), Words()).doubting(Doubt(in_the_main(SENTENCE)))
    sheet = RuleSheet((Statement(kind, sentence=SENTENCE), *others), unsure=(SENTENCE,))
    solution = prove(puzzle).solution
    assert solution is not None
    return tuple(doubt.why for doubt in without_proved(draft, solution, sheet).doubts)


def test_a_sentence_in_whose_stead_nothing_leaves_one_solution_is_not_asked_about() -> None:
    assert _asked(_puzzle("run-line", 6, 0), "run-line") == ()


@pytest.mark.parametrize(
    ("kind", "size", "seed", "why"),
    [
        ("thermometer", 6, 0, "digits that never fall leave one solution too"),
        ("run-line", 4, 1, "its solution obeys a rule that nobody stated"),
    ],
)
def test_a_sentence_that_may_say_something_else_is_asked_about(kind: str, size: int, seed: int, why: str) -> None:
    assert _asked(_puzzle(kind, size, seed), kind) == (in_the_main(SENTENCE),), why


def test_a_sentence_whose_marks_the_puzzle_can_do_without_is_asked_about() -> None:
    puzzle = _puzzle("run-line", 6, 0)
    whole = puzzle.model_copy(update={"givens": prove(puzzle).solution})
    assert _asked(whole, "run-line") == (in_the_main(SENTENCE),)


def test_a_sentence_that_says_what_another_says_may_say_more() -> None:
    other = Statement("run-line", sentence="Each line is a run of consecutive digits in any order.")
    assert _asked(_puzzle("run-line", 6, 0), "run-line", other) == (in_the_main(SENTENCE),)


def test_a_sentence_without_marks_of_its_own_is_asked_about() -> None:
    assert _asked(_puzzle("run-line", 6, 0), "palindrome") == (in_the_main(SENTENCE),)


def test_a_rule_that_the_text_alone_states_is_surer_when_it_is_borne_out() -> None:
    puzzle = _puzzle("king-apart", 6, 0)
    items = [Item(Given(cell, digit), None, 1.0, "vector") for cell, digit in puzzle.givens.items()]
    items += [Item((c,), None, 0.94 if c == KingApart() else 1.0, "text") for c in puzzle.constraints]
    draft = Draft(puzzle.grid, tuple(items), Words()).doubting(Doubt(in_the_main(SENTENCE)))
    sheet = RuleSheet((Statement("king-apart", sentence=SENTENCE),), unsure=(SENTENCE,))
    solution = prove(puzzle).solution
    assert solution is not None
    after = without_proved(draft, solution, sheet)
    assert after.doubts == ()
    assert {item.confidence for item in after.items} == {1.0, PROVED}


def test_what_marks_may_state_instead() -> None:
    cells = Cell(1, 1), Cell(1, 2), Cell(1, 3)
    lines = {(other[0].kind, getattr(other[0], "strict", None)) for other in other_meanings((Palindrome(path=cells),))}
    assert {("run-line", None), ("gap-line", None), ("thermometer", True), ("thermometer", False)} <= lines
    assert {other[0].kind for other in other_meanings((Even(cells=cells),))} == {"odd", "extra-region"}
    one_sum = (SumPair(cells=cells[:2], value=5), SumPair(cells=cells[1:], value=5))
    assert (SumPair(cells=cells[:2], value=10), SumPair(cells=cells[1:], value=10)) in other_meanings(one_sum)
    two_sums = (one_sum[0], SumPair(cells=cells[1:], value=9))
    assert not any(other[0].kind == "sum-pair" for other in other_meanings(two_sums))


def test_what_several_sentences_tell_is_answered_for_all_of_them() -> None:
    puzzle, more = _puzzle("run-line", 6, 0), "None is left out"
    items = [Item(Given(cell, digit), None, 1.0, "vector") for cell, digit in puzzle.givens.items()]
    items += [Item((c,), None, 1.0, "vector") for c in puzzle.constraints]
    draft = Draft(puzzle.grid, tuple(items), Words()).doubting(*map(Doubt, map(in_the_main, (SENTENCE, more))))
    told = RuleSheet((Statement("run-line", sentence=SENTENCE),), unsure=(SENTENCE, more))
    solution = prove(puzzle).solution
    assert solution is not None
    assert [d.why for d in without_proved(draft, solution, told).doubts] == [in_the_main(more)]
    assert without_proved(draft, solution, replace(told, together=((SENTENCE, more),))).doubts == ()


def test_that_all_marks_are_there_does_not_outlive_the_marks() -> None:
    pair = Cell(1, 1), Cell(1, 2)
    own = (RatioPair(cells=pair),)
    assert _lives_on(AllMarked(of="ratio-pair"), own, ())
    assert not _lives_on(AllMarked(of="ratio-pair"), own, (RatioPair(cells=pair, ratio=3),))
    assert not _lives_on(AllMarked(of="consecutive-pair"), own, ())


def test_sentences_that_tell_one_kind_by_different_numbers_say_different_things() -> None:
    puzzle = _puzzle("run-line", 6, 0)
    items = [Item(Given(cell, digit), None, 1.0, "vector") for cell, digit in puzzle.givens.items()]
    items += [Item((c,), None, 1.0, "vector") for c in puzzle.constraints]
    draft = Draft(puzzle.grid, tuple(items), Words()).doubting(Doubt(in_the_main(SENTENCE)))
    solution = prove(puzzle).solution
    assert solution is not None
    for other, asked in (({"ratio": 3}, False), ({"ratio": 2}, True), ({}, True)):
        told = (
            Statement("run-line", {"ratio": 2}, sentence=SENTENCE),
            Statement("run-line", other, sentence="Another"),
        )
        assert bool(without_proved(draft, solution, RuleSheet(told, unsure=(SENTENCE,))).doubts) is asked
