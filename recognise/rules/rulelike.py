"""Which sentences of a text speak as rules do, and which stand beside rules: examples, bylines, hints, headings."""

from __future__ import annotations

import re
from collections.abc import Set

from recognise.rules.asides import is_about_one_and_two, is_byline, is_heading, is_headline, is_note
from recognise.rules.frames import RELATIONS
from recognise.rules.lexicon import PHRASES, bag
from recognise.rules.loose import EVERY_PLACE
from recognise.rules.pattern import SUBJECTS, named
from recognise.rules.words import CUT, SOMETHING_ELSE, Sentence

_EXAMPLE = re.compile(r"\W*(?:for (?:example|instance)|examples?|e\.? ?g\.?)\b", re.I)


def is_rule_like(sentence: Sentence) -> bool:
    """Whether a sentence speaks of anything that rules speak of; anything else is talk."""
    if _EXAMPLE.match(sentence.text) or is_byline(sentence.text) or is_about_one_and_two(sentence.text):
        return False
    names = {named(c) for c in sentence.concepts}
    telling = names & _TELLING
    if _exclaims(sentence.text) and (not names & _NO_CRY or names == {"OTHER"}):
        return False
    if "FLAVOUR" in names and telling <= {"CLUE", "DIGIT", "TWICE", "FORBIDDEN"}:
        return False
    if _is_chat(sentence.text, names):
        return False
    if is_headline(sentence.text) and not names & SUBJECTS:
        return False
    return (
        bool(telling)
        or {"NUM", "FORWARD"} <= names
        or ("NEG" in names <= _EXCEPTION and bool(names & {"SOME", "NEUTRALNOUN"}))
        or names >= EVERY_PLACE
        or SOMETHING_ELSE in sentence.concepts
        or ("RULE" in names and "SUDOKU" in names)
        or (names - {CUT} in ({"SUDOKU"}, {"STANDARD"}) and sentence.text.endswith((".", ";")))
        or _is_a_sudoku(sentence, names)
        or ("STANDARD" in names and bool(names & {"SUDOKU", "RULE"}))
    )


_LONGEST_CRY = 3
"""Words of the longest cry before a rule: `Stay apart!`, `Dominoes!`."""


def _exclaims(text: str) -> bool:
    return text.rstrip("\"'”’) ").endswith("!") and len(text.split()) <= _LONGEST_CRY


_OF_A_PERSON = re.compile(
    r"\b(?:I|I'm|I've|I'd|I'll|my|our|you'll|thanks?|guest|solvers?|readers?|enjoy|luck|fond|promise|blame|"
    r"(?:this|last|next) (?:week|month|year|time)(?:'s)?|weekend|today(?:'s)?|yesterday|tomorrow|"
    r"(?:Mon|Tues|Wednes|Thurs|Fri|Satur|Sun)day(?:'s)?|[Ee]mployees|[Hh]ousehold|[Jj]udges?(?:'s)?|[Ee]ntrants?)\b"
)
"""Of whom and when a note before or after rules speaks, and no rule."""
_OF_A_RULE = (
    SUBJECTS
    | RELATIONS
    | bag(
        "RANGE LETTERS LETTER SIZE EVERYMARK UNMARKED NOTALL STANDARD SUDOKU RULE ALLDIGITS MARK SHADED COLOUR POSSIBLE"
    )
    | bag("ADJACENT SHARESIDE EVENDIAGONALLY PALINDROME FOURCELLS FOURMEET SMALLNUM THERMO HEIGHT SEE")
)
_NO_CRY = (_OF_A_RULE - {"APART"}) | bag(
    "DIGIT CELL NEG NOREPEAT DIFFER REPEAT TWICE EQUAL KNIGHT KING ANTIKNIGHT ANTIKING NONCONSECUTIVE CONSECUTIVE "
    "ADJACENT SHARESIDE EVENDIAGONALLY SUM EVEN ODD STANDARD SUDOKU RULE ONCE EVERYMARK NOTALL UNMARKED ALL GIVEN"
)
_OBJECTS = bag("DIGIT CELL PAIR ONE IT NEUTRALNOUN GRID")


def _is_chat(text: str, names: Set[str]) -> bool:
    """Whether a sentence speaks of persons or days and of no mark, place or relation; one that denies something must
    not speak of digits or cells at all."""
    if _OF_A_PERSON.search(text.replace("’", "'")) is None:
        return False
    left = names & _OF_A_RULE
    return not left or (left == {"NEG"} and not names & _OBJECTS)


_SHORT = 9
"""Words of the longest sentence that may say only that the puzzle is a sudoku."""


def _is_a_sudoku(sentence: Sentence, names: Set[str]) -> bool:
    """`The grid is a sudoku`, `and it is of sudoku that we speak`."""
    return "SUDOKU" in names <= _OF_SUDOKU and len(sentence.text.split()) <= _SHORT


_OF_SUDOKU = bag("SUDOKU GRID IT REST ALL ONE AND HOLD UNKNOWN |")

_RULED_BY_WORDS = bag(
    "KNIGHT KING ANTIKNIGHT ANTIKING ADJACENT SHARESIDE NONCONSECUTIVE NEG NOREPEAT DIFFER CHESS REPEAT CONSECUTIVE"
)
"""What rules speak of that no mark in the grid shows: a sentence with one of these is never passed over."""
_NAMES_A_RULE = {
    "KNIGHT": "knight-apart",
    "ANTIKNIGHT": "knight-apart",
    "KING": "king-apart",
    "ANTIKING": "king-apart",
    "NONCONSECUTIVE": "neighbours-not-consecutive",
}


def may_hide_a_rule(sentence: Sentence, kinds: Set[str] = frozenset()) -> bool:
    """Whether a sentence speaks of what no mark shows, and not by a name of what a rule of `kinds` already states."""
    names = {named(c) for c in sentence.concepts}
    if SOMETHING_ELSE in sentence.concepts:
        return True
    return any(_NAMES_A_RULE.get(name) not in kinds for name in names & _RULED_BY_WORDS)


def looks_beside(sentence: Sentence, at: int) -> bool:
    """Whether a sentence looks like a hint, a note, or a heading before rules; `at` is its place in the text."""
    return is_note(sentence.text) or (at == 0 and is_heading(sentence.text))


def is_beside(sentence: Sentence, at: int, kinds: Set[str]) -> bool:
    """Whether a sentence that nobody understands is no rule all the same; `kinds` are those that the rest states."""
    return bool(kinds) and looks_beside(sentence, at) and not may_hide_a_rule(sentence, kinds)


_EXCEPTION = bag("NEG ONE IT SOME ALL HOLD MAY TWO AND DIGIT NEUTRALNOUN |")
"""`One of them does not`: nothing by itself, but not to be passed over."""

_TALK = bag(
    "NUM FIRST LAST NEXTONE PREVIOUS END START BETWEEN OUTSIDE SOLUTION UNIQUE FLAVOUR UNKNOWN SECOND "
    "MANY SOME RUN IT ONE FROM TOWARDS OR AND THAN BY IF SO ALONG MEAN GIVEN MAY HOLD ALL GRID SUDOKU "
    "POINT TWO ADDITIONALLY POSSIBLE JOIN BEHIND SEE UNTIL POINT OPEN IRREGULAR STANDARD HEIGHT DIRECTION "
    "NEUTRALNOUN START NEEDNOT NEG APPLY | SAMEAS FORWARD READ MOVE HEAD TOTALWORD COLOUR SHADED LIMIT "
    "PRODUCT TIMES COUNT BRANCH GREATER LESS ATLEAST ATMOST SLOW"
)


def _telling() -> frozenset[str]:
    return frozenset(named(c) for c in PHRASES.values() if c) | {"RANGE", "LETTERS", "SIZE", "LETTER"}


_TELLING = _telling() - _TALK
