"""Sentences that are not understood, and can say nothing but what the page bears out."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from checker.prove import prove
from fixtures.generator import make_puzzle
from recognise.doubt.telling import without_told
from recognise.draft import Doubt, Draft, Given, Item
from recognise.evidence import Words
from recognise.interpret.draft import in_the_main, not_understood
from recognise.interpret.making import unspoken
from recognise.rules import RuleSheet, Statement
from recognise.rules.reader import read_rules
from recognise.rules.within import told_within
from schema.cells import Cell
from schema.kinds import kind_named
from schema.kinds.cage import Cage
from schema.puzzle import Puzzle

RULE = "The digits on each line are consecutive, in any order."
COUNTS = ("no", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten", "Eleven", "Twelve")


@pytest.fixture(scope="module")
def lines() -> Puzzle:
    """A puzzle of lines that the proof bears out to be runs of digits."""
    return make_puzzle(Random("run-line0"), ["run-line"], 6, digits="usual")


def _drawn(puzzle: Puzzle, text: str) -> Draft:
    items = [Item(Given(cell, digit), None, 1.0, "vector") for cell, digit in puzzle.givens.items()]
    items += [Item((c,), None, 1.0, "vector") for c in puzzle.constraints]
    return Draft(puzzle.grid, tuple(items), Words(rules_text=text))


def _asked(
    puzzle: Puzzle, *lost: str, stated: str = RULE, unsure: tuple[str, ...] = (), idle: tuple[str, ...] = ()
) -> tuple[str, ...]:
    """What is still asked of a page on which one sentence states the lines and others are not understood."""
    doubts = (*map(not_understood, lost), *map(in_the_main, unsure))
    draft = _drawn(puzzle, " ".join((stated, *lost, *unsure))).doubting(*map(Doubt, doubts))
    sheet = RuleSheet((Statement("run-line", sentence=stated),), unsure=unsure, not_understood=lost, idle=idle)
    solution = prove(puzzle).solution
    assert solution is not None
    return tuple(doubt.why for doubt in without_told(draft, solution, sheet).doubts)


@pytest.mark.parametrize(
    "sentence",
    [
        "Upon our lines you wander via consecutive digits.",
        "Consecutive digits sprawl and slither within a thin slim line.",
        "You may wander along the other lines.",
    ],
)
def test_what_only_says_again_what_is_stated_is_not_asked_about(lines: Puzzle, sentence: str) -> None:
    read = read_rules(sentence)
    assert read.not_understood or read.unsure or not read.statements
    assert _asked(lines, sentence) == ()


def test_marks_that_are_counted_are_all_there_or_it_is_asked(lines: Puzzle) -> None:
    count = sum(c.kind == "run-line" for c in lines.constraints)
    assert _asked(lines, f"{COUNTS[count]} lines lie in the grid.") == ()
    more = f"{COUNTS[count + 1]} lines lie in the grid."
    assert _asked(lines, more) == (not_understood(more),)


@pytest.mark.parametrize(
    ("sentence", "why"),
    [
        ("Upon our lines you wander via consecutive even digits.", "another relation"),
        ("Upon our lines you never wander via consecutive digits.", "a denial"),
        ("Upon some lines you wander via consecutive digits.", "not all of them"),
        ("Upon our lines you wander via consecutive digits except cubes.", "an exception"),
        ("Upon our lines you wander via nineteen consecutive digits.", "a word that nobody knows"),
        ("Upon our lines you wander via 11 consecutive digits.", "a number that is not on the page"),
        ("Upon our thermometers you wander via consecutive digits.", "other marks"),
        ("Upon our lines you wander via each box.", "another place"),
        ("You wander via consecutive digits.", "no mark"),
    ],
)
def test_what_may_say_something_more_is_asked_about(lines: Puzzle, sentence: str, why: str) -> None:
    assert _asked(lines, sentence) == (not_understood(sentence),), why


def test_a_relation_that_no_other_sentence_states_is_asked_about(lines: Puzzle) -> None:
    sentence = "Upon our lines you wander via consecutive digits."
    assert _asked(lines, sentence, stated="Lines are of the usual kind.") == (not_understood(sentence),)


def test_what_is_not_understood_together_is_answered_together(lines: Puzzle) -> None:
    first, second = "Upon our lines you wander via consecutive digits;", "but pigs fly over cubes."
    assert _asked(lines, first, second) == (not_understood(first), not_understood(second))


def test_a_sentence_understood_in_the_main_need_not_name_its_marks(lines: Puzzle) -> None:
    sentence = "You wander via consecutive digits."
    assert _asked(lines, unsure=(sentence,)) == ()


def test_where_the_puzzle_can_do_without_the_marks_it_is_asked(lines: Puzzle) -> None:
    whole = lines.model_copy(update={"givens": prove(lines).solution})
    sentence = "Upon our lines you wander via consecutive digits."
    assert _asked(whole, sentence) == (not_understood(sentence),)


def test_the_only_sentence_of_marks_says_what_the_proof_bears_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """Then the marks are spoken of too."""
    puzzle = make_puzzle(Random("arrow0"), ["arrow"], 6, digits="usual")
    sentence = "Upon each arrow sums lie: you write them here."
    draft = _drawn(puzzle, sentence).doubting(Doubt(not_understood(sentence)))
    for index, item in enumerate(draft.items):
        if isinstance(item.value, tuple) and item.value[0].kind == "arrow":
            draft = draft.doubting(Doubt(unspoken(item.value[0]), item=index, meaning=True))
    sheet = RuleSheet(not_understood=(sentence,))
    solution = prove(puzzle).solution
    assert solution is not None
    for borne_out in (True, False):
        monkeypatch.setattr("recognise.doubt.telling.is_borne_out", lambda *_, says=borne_out: says)
        monkeypatch.setattr("recognise.doubt.telling.breaks_all", lambda *_: True)
        assert bool(without_told(draft, solution, sheet).doubts) != borne_out


def test_what_contradicts_another_sentence_stays_asked_about(lines: Puzzle) -> None:
    assert read_rules(RULE).statements
    assert _asked(lines, RULE, stated="A line is a run of consecutive digits.") == (not_understood(RULE),)


@pytest.mark.parametrize(
    ("kind", "sentence"),
    [
        ("thermometer", "Shaded cells are higher than their neighbours."),
        ("sum-pair", "Orange: adjacent digits sum to a square."),
        ("arrow", "The circled digits are the same in all arrows."),
        ("run-line", "Adjacent digits on a purple line are consecutive."),
        ("thermometer", "Digits on thermometers increase towards the bulb."),
        ("cage", "Outside clues show the sum of the digits outside the 1 and the 9."),
        ("greater", "Each column has its largest digit at the bottom."),
        ("box-sum-line", "Lines of equal colour have equal sums."),
    ],
)
def test_rules_of_other_sorts_are_not_within_a_kind(kind: str, sentence: str) -> None:
    assert told_within(sentence, kind_named(kind)) is None


TALK = "The walrus was not amused."


def test_what_is_heard_to_bind_nothing_is_not_asked_about_where_the_page_is_settled(lines: Puzzle) -> None:
    assert _asked(lines, TALK) == (not_understood(TALK),)
    assert _asked(lines, TALK, idle=(TALK,)) == ()
    assert _asked(lines, unsure=(TALK,), idle=(TALK,)) == ()


def test_talk_beside_a_sentence_that_nobody_understands_stays_asked_about(lines: Puzzle) -> None:
    lost = "Upon our lines pigs fly over cubes."
    assert _asked(lines, TALK, lost, idle=(TALK,)) == (not_understood(TALK), not_understood(lost))


def test_talk_may_have_told_a_rule_that_the_solution_obeys() -> None:
    puzzle = make_puzzle(Random("run-line1"), ["run-line"], 4, digits="usual")
    assert _asked(puzzle, TALK, idle=(TALK,)) == (not_understood(TALK),)


@pytest.mark.parametrize("named", [False, True])
def test_talk_may_have_told_whether_digits_repeat_in_cages(named: bool) -> None:
    grid = make_puzzle(Random("run-line0"), ["run-line"], 6, digits="usual")
    cage = Cage(cells=(Cell(1, 1), Cell(1, 2)))  # of one row: digits cannot repeat, whatever is said
    puzzle = grid.model_copy(update={"constraints": (*grid.constraints, cage)})
    solution = prove(puzzle).solution
    assert solution is not None
    draft = _drawn(puzzle, TALK).doubting(Doubt(not_understood(TALK)))
    fields = {"repeats": False} if named else {}
    sheet = RuleSheet((Statement("cage", fields, sentence="Cages."),), not_understood=(TALK,), idle=(TALK,))
    assert bool(without_told(draft, solution, sheet).doubts) != named


def test_what_was_added_for_one_solution_may_be_what_talk_told(lines: Puzzle) -> None:
    solution = prove(lines).solution
    assert solution is not None
    draft = _drawn(lines, TALK).doubting(Doubt(not_understood(TALK)))
    draft = replace(draft, items=(*draft.items[:-1], replace(draft.items[-1], how="inferred")))
    sheet = RuleSheet((Statement("run-line", sentence=RULE),), not_understood=(TALK,), idle=(TALK,))
    assert without_told(draft, solution, sheet).doubts
