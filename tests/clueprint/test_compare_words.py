"""A proof against its source: title, credits and rules text."""

from __future__ import annotations

import pytest

from clueprint.compare import compare
from clueprint.compare.texts import same_words, text_changes
from schema.kinds import kind_named
from schema.kinds.knight_apart import KnightApart
from tests.clueprint.comparing import (
    CLUE,
    cells,
    differences,
    only,
    with_constraints,
)
from tests.clueprint.proofs import proof_of, read_as
from tests.clueprint.reading_pages import small


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
