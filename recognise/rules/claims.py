"""Plain claims: short sentences that say something of digits, cells or marks as a rule does (`The tips are all
different`, `The border of the grid has no 5`).

Words that nobody foresaw do not make talk of such a sentence, nor does a network that hears none of the kinds that it
knows: where nothing states it, it is a rule of no kind. Talk is told by what it is: it permits, counts or places what
is drawn, speaks of persons, of the print or of how hard the puzzle is.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from recognise.rules.frames import RELATIONS
from recognise.rules.lexicon import bag
from recognise.rules.pattern import SUBJECTS, named
from recognise.rules.patterns import pieces_of
from recognise.rules.phrases import reduced
from recognise.rules.readings import Reading, explain
from recognise.rules.sheet import Statement
from recognise.rules.swallows import Atom
from recognise.rules.words import CUT, UNKNOWN, Sentence

_PIECES = pieces_of("claims.txt")
_CLAIM = re.compile(
    rf"\W*(?:{_PIECES['LEAD']} ){{0,3}}(?:(?!{_PIECES['VERB']}\b)[\w'-]+ ){{0,2}}?{_PIECES['NOUN']}"
    rf"(?: {_PIECES['AT']}(?: {_PIECES['LEAD']})?(?: [\w'-]+)?? {_PIECES['NOUN']})?"
    rf" (?:{_PIECES['MANNER']} )*{_PIECES['VERB']}\b(?P<rest>[^.!?;]*)[.!]?\W*",
    re.I,
)
_TALK = re.compile(rf"(?<![\w'-])(?:{_PIECES['TALK']})(?![\w'-])", re.I)
_LONGEST = 12
"""Words of the longest sentence that is plain enough: what stands in longer ones may belong together in any way."""
_TELLING = (RELATIONS | SUBJECTS | bag("COLOUR STYLE UNKNOWN TIP BULB")) - bag("COUNT SEE")
_PERMITS = bag("MAYREPEAT IT DIGIT")
_FORBIDS = bag("NOREPEAT IT DIGIT HOLD ONE SO")
_ONCE_EACH = frozenset({"cage", "thermometer", "run-line", "extra-region", "diagonal"})
"""Kinds that a repeat would break, or that may have them or not."""
_PLACES = bag("EDGE BETWEEN CORNER END OUTSIDE JOIN ROW COLUMN CELL GRID SIZE COLOUR STYLE ADJACENT BOX")


def is_claim(sentence: Sentence) -> bool:
    """Whether a sentence plainly says something of digits, cells or marks; of one that is known to state nothing no
    concepts are left."""
    told = " ".join(sentence.text.replace("’", "'").split())
    if not sentence.concepts or len(told.split()) > _LONGEST or _TALK.search(told):
        return False
    return _CLAIM.fullmatch(told) is not None


_CONDITION = re.compile(r"\W*(?:if|where|when|whenever|wherever|should)\b[^.;:,]*,", re.I)
_COMPARES = (RELATIONS | bag("EQUAL SAMEAS")) - bag("COUNT SEE NEG UNMARKED")
_COMPARED = SUBJECTS | bag("DIGIT CELL BULB TIP IT")


def is_condition(sentence: Sentence) -> bool:
    """Whether a sentence begins with a condition on digits or marks: `If the circles are equal, the line is free`. What
    follows from it binds, in whatever words."""
    condition = _CONDITION.match(sentence.text)
    if condition is None or _TALK.search(condition[0]):
        return False
    first = " ".join(sentence.concepts).strip(f" {CUT}").partition(f" {CUT}")[0]
    names = set(map(named, first.split()))
    return bool(names & _COMPARES and names & _COMPARED)


_ONE_UNIT = re.compile(r"\b(?:ROW|COLUMN|BOX) NUM=\d")


def of_one_unit(sentence: Sentence) -> bool:
    """Whether a sentence speaks of one row, column or box by its number: `The digit in column 1 tells ...`."""
    return _ONE_UNIT.search(" ".join(sentence.concepts)) is not None


def adds_nothing(atoms: Sequence[Atom], at: int, reading: Reading) -> bool:
    """Whether clauses of several sentences state as much without those of the sentence `at`, which states nothing by
    itself."""
    own = tuple(c for i, atom in atoms if i == at for c in atom)
    rest = tuple(c for i, atom in atoms if i != at for c in atom)
    if not own or not rest or not _told_of(own) - _told_of(rest):
        return False
    alone, others = explain(own), explain(rest)
    return (alone is None or not (alone.statements or alone.gloss)) and (
        others is not None and _said(others) == _said(reading)
    )


def _told_of(clause: Sequence[str]) -> set[str]:
    """The relations, marks and colours that a clause speaks of."""
    names = {named(c) for c in reduced(tuple(clause))}
    return names & _TELLING


def _said(reading: Reading) -> list[tuple[str, bool, str]]:
    return [(s.kind, s.negated, repr(sorted(s.fields.items()))) for s in reading.statements]


def only_presents(sentence: Sentence, reading: Reading) -> bool:
    """Whether a sentence says where marks of one sort are, or of which others they are made: `A circle stands at each
    corner`. `One cage lies` says something else of them."""
    names = set(map(named, sentence.concepts))
    return UNKNOWN not in names and (len(reading.presents) > 1 or not _PLACES.isdisjoint(names))


_OF_CELLS = frozenset(
    {"rows", "columns", "boxes", "knight-apart", "king-apart", "neighbours-not-consecutive", "even", "odd"}
)
"""Kinds that say of cells, and no marks in them, what stands there: to permit repeats after them takes it back."""


def changes_nothing(sentence: Sentence, statements: Sequence[Statement], before: str = "") -> bool:
    """Whether a sentence only permits repeats that nothing forbids, or forbids those that cannot be; `before` is the
    sentence before it."""
    return permits_what_none_forbids(sentence, statements, before) or _forbids_what_is(sentence, statements, before)


def permits_what_none_forbids(sentence: Sentence, statements: Sequence[Statement], before: str = "") -> bool:
    """Whether a sentence only permits digits to repeat, and nothing that is stated besides rows, columns and boxes
    forbids it: `They may repeat`, after the sums of lines. `before` is the sentence before it."""
    names = set(map(named, sentence.concepts))
    if any(s.sentence == before and s.kind in _OF_CELLS for s in statements):
        return False
    return "MAYREPEAT" in names and names <= _PERMITS and _ONCE_EACH.isdisjoint(s.kind for s in statements)


def _forbids_what_is(sentence: Sentence, statements: Sequence[Statement], before: str) -> bool:
    """Whether a sentence only says that no digit is repeated, right after what states as much: `None comes twice`, of
    lines of consecutive digits."""
    names = set(map(named, sentence.concepts))
    if "NOREPEAT" not in names or not names <= _FORBIDS:
        return False
    return any(s.kind in ("run-line", "extra-region") for s in statements if s.sentence == before and not s.negated)
