"""A number of the page in line with a row or column states nothing where the puzzle does without it."""

from dataclasses import replace
from random import Random

import pytest

from fixtures.generator import make_puzzle
from recognise.doubt.policy import is_clean
from recognise.doubt.proof import Proven, proven
from recognise.evidence import Glyph, Words
from recognise.grids import Boxes as SeenBoxes
from recognise.interpret import interpret
from recognise.rules.reader import read_rules
from schema.kinds.boxes import Boxes
from tests.recognise.evidence_maker import glyph
from tests.recognise.ideal_evidence import ideal_evidence

RULES = "Place the digits 1 to 9 once each in every row, column and box."
SANDWICH = " Each number outside the grid is the sum of the digits between the 1 and the 9 in its row or column."
ARROWS = " Numbers with an arrow give the sum of the digits along that diagonal."


def _number(text: str, x: float, y: float) -> Glyph:
    return glyph(x, y, (text, 0.9999), size=0.4, how="vector")


def _proven(
    *numbers: Glyph,
    rules: str | None = RULES,
    unread: bool = False,
    without_givens: int = 0,
    clues: tuple[str, ...] = (),
) -> Proven:
    puzzle = make_puzzle(Random("stray"), clues, digits="usual")
    kept = dict(list(puzzle.givens.items())[without_givens:])
    puzzle = puzzle.model_copy(update={"givens": kept, "rules_text": None})
    cells = next(c.cells for c in puzzle.constraints if isinstance(c, Boxes))
    evidence = ideal_evidence(puzzle)
    evidence = replace(evidence, glyphs=(*evidence.glyphs, *numbers))
    sheet = read_rules(rules, (1, 9)) if rules else None
    words = Words(rules_text=rules, unread=unread)
    return proven(interpret(evidence, SeenBoxes(cells, "regular", 0.9999), sheet, words))


def _is_clean(result: Proven) -> bool:
    return result.proof is not None and is_clean(result.draft, result.proof.outcome)


def test_the_number_of_the_page_states_nothing() -> None:
    result = _proven(_number("118", 4.5, 9.9))
    assert _is_clean(result)
    assert {constraint.kind for constraint in result.draft.constraints} <= {"rows", "columns", "boxes"}


@pytest.mark.parametrize(
    "result",
    [
        _proven(_number("18", 4.5, 9.9), _number("7", -0.6, 2.5)),
        _proven(_number("18", 4.5, 9.9), rules=None),
        _proven(_number("18", 4.5, 9.9), unread=True),
        _proven(_number("18", 4.5, 9.9), rules=RULES + " A number below the grid is the average of its column."),
        _proven(_number("18", 4.5, 9.9), without_givens=6),
    ],
    ids=["two of them", "no rules", "unread words", "a sentence not understood", "a puzzle that may need it"],
)
def test_it_is_asked_about_where_it_may_be_a_clue(result: Proven) -> None:
    assert not _is_clean(result)
    assert any("number outside the grid" in doubt.why for doubt in result.draft.doubts)


def test_beside_clues_with_little_arrows_it_may_be_one_that_has_lost_its_own() -> None:
    asked = _proven(_number("18", 4.5, 9.9), rules=RULES + ARROWS, clues=("diagonal-sum",))
    assert not _is_clean(asked)
    assert _is_clean(_proven(rules=RULES + ARROWS, clues=("diagonal-sum",)))


def test_a_number_of_which_the_rules_speak_is_a_clue() -> None:
    kinds = {
        constraint.kind for constraint in _proven(_number("18", 4.5, 9.9), rules=RULES + SANDWICH).draft.constraints
    }
    assert "sandwich" in kinds
