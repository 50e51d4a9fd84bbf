"""Boxes that the rules speak of and no lines of the picture show."""

from random import Random

import pytest

from checker.prove import prove
from fixtures.generator import make_puzzle
from recognise.doubt.policy import risk
from recognise.doubt.unshown_boxes import without_unshown_boxes
from recognise.draft import Doubt, Draft, Given, Item
from recognise.evidence import Words
from recognise.interpret.regions import UNSHOWN
from recognise.rules.reader import read_rules
from schema.kinds.boxes import Boxes


def answered(name: str, size: int = 9, filled: bool = False) -> Draft:
    """A puzzle whose boxes its rules call by a name, after the proof was asked; `filled` it needs no boxes."""
    puzzle = make_puzzle(Random(5), [], size, digits="usual", spare=0.0)
    givens = (prove(puzzle).solution or {}) if filled else puzzle.givens
    items = [Item((c,), None, 0.5 if isinstance(c, Boxes) else 1.0, "shape") for c in puzzle.constraints]
    items += [Item(Given(cell, digit), None, 1.0, "ocr") for cell, digit in givens.items()]
    draft = Draft(puzzle.grid, tuple(items), Words(), (Doubt(UNSHOWN),))
    rules = f"Every row, column and {name} contains each of the digits 1 to {size} once."
    return without_unshown_boxes(draft, read_rules(rules, (1, size), 1.0))


def test_usual_boxes_without_which_the_puzzle_is_open_were_printed() -> None:
    draft = answered("box")
    assert draft.doubts == ()
    assert 0 < risk(draft.items) < 0.001


@pytest.mark.parametrize(
    ("name", "size", "filled"),
    [
        ("box", 6, False),
        ("box", 9, True),
        ("irregular region", 9, False),
        ("wonky area marked by bold outlines", 9, False),
        ("crooked box", 9, False),
    ],
)
def test_boxes_that_may_be_others_are_asked_about(name: str, size: int, filled: bool) -> None:
    assert [doubt.why for doubt in answered(name, size, filled).doubts] == [UNSHOWN]
