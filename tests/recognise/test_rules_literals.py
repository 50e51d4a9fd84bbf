"""A pattern is left out only where it cannot match."""

from __future__ import annotations

import importlib
import json
import re
from pathlib import Path

import pytest

from recognise.rules import moot, needed_words
from recognise.rules.literals import folded, needed
from recognise.rules.substitution import Rule, in_any_case, substituted

TEXTS = Path(__file__).parent / "data" / "rules"


@pytest.mark.parametrize(
    ("pattern", "pieces"),
    [
        (r"\bdots?\b", [{"dot"}]),
        (r"(?:dots?|discs?) are", [{"discs are", "disc are", "dots are", "dot are"}]),
        (r"(?<!not )\b(?:all|every) [^.;]*marked", [{"marked"}, {"all ", "every "}]),
        (r"(?:very )?large", [{"large"}]),
        (r"(?:ab)*cde(?=fghi)", [{"fghi"}, {"cde"}]),
        (r"[ab]cdef", [{"acdef", "bcdef"}]),
        (r"(?:[a-z]+ing|[a-z]+ed)", [{"ing", "ed"}]),
        (r"digits of \w+ marks or \w+ dots", [{" marks or "}, {"digits of "}, {" dots"}]),
        (r"(?:[a-z]+ing|[a-z]+)", []),
        (r"(?:cage)?", []),
        (r"\d+|cage", []),
    ],
)
def test_what_every_match_has_is_found(pattern: str, pieces: list[set[str]]) -> None:
    assert [set(words) for words in needed(pattern)] == pieces


@pytest.mark.parametrize("text", ["All DOTS are drawn", "all dotſ", "EVERY KİND"])
def test_letters_that_match_alike_are_folded_alike(text: str) -> None:
    for pattern in (r"dots", r"kind"):
        if re.search(pattern, text, re.I):
            assert Rule(pattern, "", re.I).may_match(folded(text))


def test_a_pattern_is_compiled_only_where_a_text_has_all_that_it_needs() -> None:
    rule = Rule(r"digits of \w+ marks", "signs")
    assert substituted("the digits of all dots", (rule,)) == "the digits of all dots"
    assert "compiled" not in vars(rule)
    assert substituted("the digits of all marks", (rule,)) == "the signs"


def test_patterns_replace_as_if_each_were_tried() -> None:
    table = in_any_case(((r"\bpearls?\b", "dot"), (r"\bdots? on\b", "dot at"), (r"(\w+) at", r"\1 by")))
    assert substituted("A PEARL on an edge", table) == "A dot by an edge"


def test_no_pattern_is_left_out_that_would_match() -> None:
    sentences = [
        line["text"]
        for name in ("ordinary", "tune", "held")
        for line in json.loads((TEXTS / f"{name}.json").read_text("utf-8"))
    ]
    rules = list(needed_words.rules())
    assert len(rules) > 800
    text = "\n".join(sentences)
    for rule in rules:
        if not rule.may_match(folded(text)):
            assert not rule.compiled.search(text), rule.pattern
            continue
        for sentence in sentences:
            if not rule.may_match(folded(sentence)):
                assert not rule.compiled.search(sentence), (rule.pattern, sentence)


def test_words_that_are_kept_in_a_file_are_those_that_would_be_found() -> None:
    rules, kept = list(needed_words.rules()), needed_words.kept()
    known = {rule for rule in rules if needed_words.key(rule.pattern, rule.flags) in kept}
    assert len(known) > 0.9 * len(rules), "python -m recognise.rules.needed_words"
    for rule in known:
        assert needed_words.words_of(rule.pattern, rule.flags) == needed(rule.pattern, rule.flags), rule.pattern


def test_words_that_no_file_keeps_are_looked_for() -> None:
    assert needed_words.words_of(r"not in any table(?:, or chart)?", re.I) == needed(r"not in any table", re.I)


def test_sentences_that_state_nothing_are_compiled_only_where_a_text_may_be_one(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    made, compiled = [], re.compile
    monkeypatch.setattr(re, "compile", lambda pattern, flags=0: made.append(pattern) or compiled(pattern, flags))
    importlib.reload(moot)
    assert moot.without_moot("Digits rise") == "Digits rise"
    assert not made
    assert moot.without_moot("What is new today is the red line with a round end.") == " "
    assert 1 <= len(made) < 4
