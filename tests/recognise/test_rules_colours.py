"""Colours in the words of rules: printers' names for them mean the plain ones that the marks are called by."""

from __future__ import annotations

import pytest

from recognise.rules.reader import read_rules

BASE = {
    "ochre": "yellow", "raspberry": "pink", "charcoal": "grey", "sky blue": "blue", "olive green": "green",
    "burgundy": "red", "plum": "purple", "salmon": "pink", "terracotta": "brown", "peach": "orange",
    "aqua": "cyan", "petrol": "teal", "indigo": "blue", "fuchsia": "magenta", "pale yellow": "yellow",
}  # fmt: skip
"""Common practice, no source."""


@pytest.mark.parametrize(("name", "plain"), BASE.items())
def test_a_line_by_the_name_of_its_colour(name: str, plain: str) -> None:
    (statement,) = read_rules(f"Digits on a {name} line read the same in both directions.").statements
    assert (statement.kind, statement.mark.colour, statement.confidence) == ("palindrome", plain, 1.0)


def test_two_names_tell_two_rules_apart() -> None:
    text = "A raspberry line is a palindrome. Neighbouring digits along an ochre line differ by at least 5."
    found = {(s.kind, s.mark.colour) for s in read_rules(text).statements}
    assert found == {("palindrome", "pink"), ("gap-line", "yellow")}


def test_striped_cells_are_shaded_ones() -> None:
    (statement,) = read_rules("The nine striped cells also contain 1 to 9, once each.").statements
    assert (statement.kind, statement.mark.shape, statement.confidence) == ("extra-region", "tint", 1.0)
