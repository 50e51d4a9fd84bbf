"""A rule changed by a few words is not surely read as it was: each change makes another rule of it, of no kind."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from itertools import permutations

import pytest

from recognise.rules.reader import read_rules
from tests.recognise.rules_score import Fact, found, without_unsure

RULES = (
    "Digits on a thermometer increase from the bulb to the tip.",
    "On a slow thermometer the digits never decrease from the bulb.",
    "The digits on an arrow sum to the digit in its circle.",
    "The digits on a grey line read the same from either end.",
    "Digits that are neighbours on a green line differ by at least 5.",
    "The digits on a pink line are consecutive, in any order.",
    "The digits on a line lie between the digits in the circles at its ends.",
    "Box borders divide a blue line into parts; the digits in each part have the same sum.",
    "The digits in a cage sum to the number in its corner.",
    "The digits in a cage must not repeat.",
    "The number in a cage is the product of its digits.",
    "The number in a cage of two cells is the difference of its digits.",
    "Digits joined by a white dot are consecutive.",
    "Digits separated by a black dot are in the ratio 1:2.",
    "Digits with an X between them sum to 10.",
    "The number between two cells is the sum of their digits.",
    "The sign between two cells points to the smaller digit.",
    "The digits in a circle where four cells meet stand in those cells.",
    "Cells with a grey square contain even digits.",
    "Cells with a grey circle hold odd digits.",
    "Numbers outside the grid give the sum of the digits between the 1 and the 9 in that row or column.",
    "Numbers outside the grid count the buildings visible from there; taller buildings hide lower ones.",
    "Numbers outside the grid give the sum of the first X digits, where X is the first digit.",
    "Numbers with an arrow give the sum of the digits along that diagonal.",
    "Both main diagonals contain the digits 1 to 9.",
    "The nine tinted cells contain the digits 1 to 9.",
    "Cells a knight's move apart must not contain equal digits.",
    "Equal digits must not touch diagonally.",
    "Adjacent cells must not contain consecutive digits.",
    "All pairs of consecutive digits are marked with a dot.",
)

Change = Callable[[str], str]


def _before(words: str) -> Change:
    return lambda rule: f"{words} {rule[0].lower()}{rule[1:]}"


def _after(words: str) -> Change:
    return lambda rule: f"{rule[:-1]}{words}."


def _for(pattern: str, words: str) -> Change:
    return lambda rule: re.sub(rf"\b(?:{pattern})\b", words, rule, count=1, flags=re.I)


_SUBJECT = r"(?:the )?digits (?=(?:on|in|along|joined|separated|with|that are)\b)"
CHANGES: dict[str, Change] = {
    "not": _before("It is not the case that"),
    "false": _before("It is false that"),
    "exactly one": _before("In exactly one place,"),
    "mostly": _before("In most cases"),
    "sometimes": _before("Sometimes"),
    "usually but not here": _after(", but not in this puzzle"),
    "top half": _before("In the top half of the grid,"),
    "odd rows": _after(" in odd rows"),
    "first box": _before("In the first box,"),
    "unless": _after(" unless they are in the same box"),
    "except": _after(", except in the central box"),
    "only where": _after(", but only in the middle row"),
    "one exception": _after(", with one exception"),
    "if": _after(" if the first of them is odd"),
    "when prime": _after(" when one of them is prime"),
    "or 2": _after(" or 2"),
    "or else": _after(", or else they are all odd"),
    "plus one": _after(" plus one"),
    "minus 1": _after(" minus 1"),
    "twice that": _for("sum|product|difference", "twice the sum"),
    "sum of squares": _for("sum of the|sum of their", "sum of the squares of the"),
    "all but one": _for("the digits|digits|cells|numbers|buildings", "all but one of the digits"),
    "one of": _for(_SUBJECT, "one of the digits "),
    "some of": _for(_SUBJECT, "some of the digits "),
    "some": _for(_SUBJECT, "some digits "),
    "most": _for(_SUBJECT, "most digits "),
    "two of": _for(_SUBJECT, "two of the digits "),
    "half": _for(_SUBJECT, "half of the digits "),
    "odd ones": _for(_SUBJECT, "the odd digits "),
    "outer": _for(_SUBJECT, "the outer digits "),
    "first two": _for(_SUBJECT, "the first two digits "),
    "not all": _for(_SUBJECT, "not all digits "),
    "three": _for(_SUBJECT, "three digits "),
    "some marks": _for(
        r"(?<!with )(?:a|an) (?=(?:slow |grey |green |pink |blue |white |black )?"
        r"(?:thermometer|arrow|line|cage|dot|square|circle)\b)",
        "exactly one ",
    ),
    "other than": _for("digits", "digits other than 5"),
    "may": _for("must(?! not)|(?=sum to|increase|lie|differ|read)", "may "),
    "need not": _for("must not", "need not"),
    "never": _for("increase|sum to|read|differ|lie|(?<!not )contain|hold|are|is", "never"),
    "at most": _for("at least", "at most"),
    "less than": _for("at least", "less than"),
    "exactly": _for("at least", "exactly"),
    "at least": _for("sum to", "sum to at least"),
    "towards the bulb": _for("from the bulb", "towards the bulb"),
    "decrease": _for("increase", "decrease"),
    "larger": _for("smaller digit", "larger digit"),
    "lower hide": _for("taller buildings hide lower ones", "lower buildings hide taller ones"),
    "last": _for("first X digits", "last X digits"),
    "outside 1 and 9": _for("digits between the 1 and the 9", "digits outside the 1 and the 9"),
    "bishop": _for("knight", "bishop"),
    "two moves": _for("knight's move", "two knight's moves"),
    "three to two": _for("1:2", "2:3"),
    "once": _for("the digits 1 to 9", "the digit 9"),
    "next row": _after(" in the next row"),
}


@cache
def _surely(rule: str) -> set[Fact]:
    """What a rule itself surely states."""
    return found(without_unsure(read_rules(rule)))


@pytest.mark.parametrize("change", CHANGES)
def test_a_rule_changed_by_a_few_words_is_not_surely_read_as_it_was(change: str) -> None:
    kept: list[str] = []
    changed = 0
    for rule in RULES:
        other = CHANGES[change](rule)
        if other != rule:
            changed += 1
            sheet = without_unsure(read_rules(other))
            if not sheet.not_understood and found(sheet) & _surely(rule):
                kept.append(other)
    assert changed and kept == []


def test_each_rule_itself_is_surely_read() -> None:
    assert [rule for rule in RULES if not without_unsure(read_rules(rule)).statements] == []


MARKED = (
    "Digits on a {a} line read the same from either end.",
    "Neighbours on a {a} line differ by at least 5, and {b} lines read the same both ways.",
    "Digits joined by a {a} dot are consecutive. Digits joined by a {b} dot are in the ratio 1:2.",
    "If two cells share a {a} diamond one digit is double the other; if they share a {b} diamond they differ by 1.",
    "Cells with a {a} square hold even digits, cells with a {b} circle odd ones.",
    "The {a} circles contain odd digits and the {b} circles contain even digits.",
    "Not all {a} dots are given. A {a} dot means consecutive digits, a {b} dot a ratio of 2.",
    "Digits on a {a} line between two {b} circles lie between the digits in those circles.",
    "The {a} and {b} lines hold consecutive digits in any order.",
)
SHAPED = (
    "A grey {a} between two cells means that their digits are consecutive.",
    "If a white {a} joins two cells they are consecutive; if a white {b} joins them one is double the other.",
    "A {a} between two cells stands for consecutive digits, a {b} for digits of which one is three times the other.",
)
COLOURS = ("white", "black", "grey", "red", "blue", "green", "yellow", "purple", "orange")
SHAPES = ("dot", "bar", "diamond", "square")


def _read_with(text: str, words: tuple[str, str]) -> list[str]:
    """What a text surely states with these words put in, and the same words taken out again."""
    sheet = without_unsure(read_rules(text.format(a=words[0], b=words[1])))
    back = dict(zip(words, "ab", strict=True))
    return sorted(
        str((s.kind, dict(s.fields), back.get(s.mark.shape, "-"), back.get(s.mark.colour, "-"), s.negated))
        for s in sheet.statements
    )


@pytest.mark.parametrize(
    ("text", "words"), [*((text, COLOURS) for text in MARKED), *((text, SHAPES) for text in SHAPED)]
)
def test_what_is_stated_goes_with_the_colours_and_shapes_that_are_named(text: str, words: tuple[str, ...]) -> None:
    told = {str(_read_with(text, pair)) for pair in permutations(words, 2)}
    assert len(told) == 1 and told != {"[]"}
