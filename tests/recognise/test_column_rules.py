"""Broken rules between columns are no letters; letters are no rules."""

import numpy as np

from recognise.text.column_rules import of_rules

LETTER, PITCH = 15.0, 26


def _rule(x: float, rng: np.random.Generator) -> list[tuple[float, float, float, float]]:
    pieces, y = [], 100.0
    while y < 500:
        high = float(rng.integers(5, 25))
        pieces.append((x + float(rng.integers(0, 2)), y, 1.0, high))
        y += high + float(rng.integers(1, 24))
    return pieces


def test_the_pieces_of_a_rule_are_told_from_narrow_letters_on_both_sides() -> None:
    rng = np.random.default_rng(1)
    rule = _rule(300.0, rng)
    letters = [
        (float(x), 100.0 + PITCH * line, 2.0, LETTER)
        for line in range(15)
        for x in rng.choice(np.arange(100, 500, 9), 6, replace=False)
        if abs(x - 300) > 6
    ]
    told = of_rules(np.array([*rule, *letters]), LETTER)
    assert told[: len(rule)].all()
    assert told[len(rule) :].sum() <= 5


def test_a_few_lines_that_begin_with_a_narrow_letter_are_no_rule() -> None:
    lines = np.array([(100.0, 100.0 + PITCH * line, 2.0, LETTER) for line in range(4)])
    assert not of_rules(lines, LETTER).any()
    assert not of_rules(np.zeros((0, 4)), LETTER).any()
