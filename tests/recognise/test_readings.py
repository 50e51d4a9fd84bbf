"""Marks that no rule explains: every reading is tried, and a person is told what came of it."""

from random import Random

import pytest

from checker.prove import prove
from checker.search import Effort
from fixtures.bench.same import differences
from fixtures.generator import make_puzzle
from recognise.doubt.policy import is_clean
from recognise.doubt.proof import proven
from recognise.doubt.puzzle import as_puzzle
from recognise.draft import Draft
from recognise.evidence import Words
from recognise.grids import Boxes as SeenBoxes
from recognise.interpret import interpret
from recognise.rules import RuleSheet, Statement
from schema.kinds.boxes import Boxes
from schema.kinds.gap_line import GapLine
from schema.kinds.unread_mark import UnreadMark
from schema.puzzle import Puzzle
from tests.recognise.ideal_evidence import ideal_evidence


def _read(puzzle: Puzzle) -> Draft:
    cells = next(c.cells for c in puzzle.constraints if isinstance(c, Boxes))
    return interpret(ideal_evidence(puzzle), SeenBoxes(cells, "regular", 0.9999), None, Words())


def _puzzle(*flavours: str) -> Puzzle:
    return make_puzzle(Random("readings-" + "-".join(flavours)), flavours, digits="usual")


@pytest.mark.parametrize("flavours", [("even", "odd"), ("x-sum",), ("consecutive-pair",), ("box-sum-line", "odd")])
def test_the_only_reading_with_one_solution_is_taken_and_put_to_a_person(flavours: tuple[str, ...]) -> None:
    puzzle = _puzzle(*flavours)
    draft = _read(puzzle)
    assert any(isinstance(c, UnreadMark) for c in draft.constraints)
    result = proven(draft)
    assert differences(as_puzzle(result.draft), puzzle) == []
    assert {item.how for item in result.draft.items if item.alternatives} >= {"inferred"}
    assert len(result.draft.doubts) == len(flavours)
    assert all("only" in doubt.why and "exactly one solution" in doubt.why for doubt in result.draft.doubts)
    assert result.proof is not None
    assert not is_clean(result.draft, result.proof.outcome)


def test_where_several_readings_leave_one_solution_none_is_taken() -> None:
    puzzle = _puzzle("consecutive-pair")
    solved = proven(_read(puzzle)).proof
    assert solved is not None
    assert solved.solution is not None
    # All but two cells are given, and 1 and 2 stand in them: both meanings of the dot hold.
    one = next(c for c in puzzle.constraints if c.kind == "consecutive-pair" and set(_digits(c, solved)) == {1, 2})
    kept = (*(c for c in puzzle.constraints if c.kind != "consecutive-pair"), one)
    givens = {cell: digit for cell, digit in solved.solution.items() if cell not in one.cells}
    draft = _read(puzzle.model_copy(update={"givens": givens, "constraints": kept}))
    result = proven(draft)
    assert any(isinstance(c, UnreadMark) for c in result.draft.constraints)
    (doubt,) = (doubt for doubt in result.draft.doubts if "no rule" in doubt.why)
    assert "consecutive pair and ratio pair would leave exactly one solution" in doubt.why


def _digits(constraint, solved) -> list[int]:
    return [solved.solution[cell] for cell in constraint.cells]


def test_a_sign_has_one_meaning_in_the_trade() -> None:
    puzzle = _puzzle("greater")
    draft = _read(puzzle)
    assert differences(as_puzzle(draft), puzzle) == []
    assert draft.doubts == ()
    assert draft.undecided == ()


NOT_UNDERSTOOD = RuleSheet((Statement("rows"), Statement("columns"), Statement("boxes")), not_understood=("Gleeps.",))


@pytest.mark.parametrize("flavour", ["consecutive-pair", "even"])
def test_a_sentence_that_is_not_understood_may_be_the_one_that_explains_a_mark(flavour: str) -> None:
    puzzle = _puzzle(flavour)
    cells = next(c.cells for c in puzzle.constraints if isinstance(c, Boxes))
    seen = SeenBoxes(cells, "regular", 0.9999)
    result = proven(interpret(ideal_evidence(puzzle), seen, NOT_UNDERSTOOD, Words(rules_text="Gleeps.")))
    assert differences(as_puzzle(result.draft), puzzle) == []
    assert any("Gleeps" in doubt.why for doubt in result.draft.doubts)
    assert result.proof is not None
    assert not is_clean(result.draft, result.proof.outcome)


def _with_rules(puzzle: Puzzle, sheet: RuleSheet) -> Draft:
    cells = next(c.cells for c in puzzle.constraints if isinstance(c, Boxes))
    words = Words(rules_text="Said.")
    return proven(interpret(ideal_evidence(puzzle), SeenBoxes(cells, "regular", 0.9999), sheet, words)).draft


def _filled(puzzle: Puzzle) -> Puzzle:
    """The puzzle with all digits given."""
    solution = prove(puzzle, Effort(10.0)).solution
    assert solution is not None
    return puzzle.model_copy(update={"givens": dict(solution)})


KNOWN = RuleSheet(NOT_UNDERSTOOD.statements)


def test_where_all_sentences_are_understood_a_mark_that_the_puzzle_needs_is_read_and_asked_about() -> None:
    puzzle = _puzzle("even")
    draft = _with_rules(puzzle, KNOWN)
    assert differences(as_puzzle(draft), puzzle) == []
    assert any("no rule on the page says what this means" in doubt.why for doubt in draft.doubts)


def test_where_all_sentences_are_understood_a_mark_that_the_puzzle_can_do_without_stays_unread() -> None:
    puzzle = _puzzle("even")
    draft = _with_rules(_filled(puzzle), KNOWN)
    assert any(isinstance(c, UnreadMark) for c in draft.constraints)
    assert any("no rule on the page says what this means" in doubt.why for doubt in draft.doubts)


@pytest.mark.parametrize(
    ("flavour", "sentence"),
    [
        ("king-apart", "Two cells that touch, be it merely at a corner, may not hold the same digit."),
        ("knight-apart", "Gleeps."),
    ],
)
def test_a_rule_that_no_mark_shows_is_found_by_the_proof_and_asked_about(flavour: str, sentence: str) -> None:
    puzzle = _puzzle(flavour)
    lost = RuleSheet(NOT_UNDERSTOOD.statements, not_understood=(sentence,))
    draft = _with_rules(puzzle, lost)
    assert differences(as_puzzle(draft), puzzle) == []
    assert any("a sentence that is not understood may say so" in doubt.why for doubt in draft.doubts)


def test_no_rule_is_made_up_for_a_sentence_of_which_the_second_opinion_makes_nothing() -> None:
    """A full grid obeys the rule, but so may any; the sentence must be one that may say it."""
    puzzle = _puzzle("king-apart")
    draft = _with_rules(_filled(puzzle), NOT_UNDERSTOOD)
    assert not any(c.kind == "king-apart" for c in draft.constraints)


def test_a_number_in_a_sentence_that_is_not_understood_is_tried_as_the_gap_of_a_line() -> None:
    puzzle = _puzzle("gap-line")
    gap = next(c.gap for c in puzzle.constraints if isinstance(c, GapLine))
    lost = RuleSheet(NOT_UNDERSTOOD.statements, not_understood=(f"Gleeps by {gap} or more.",))
    draft = _with_rules(puzzle, lost)
    assert differences(as_puzzle(draft), puzzle) == []
