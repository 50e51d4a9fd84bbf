"""Statements found by leaving words out, of which the second opinion has no doubt either: two readers that know nothing
of each other agree.

One leaves out words of place and manner and reads the grammar of the rest (`loose.py`), the other looks at which
concepts keep company (`opinion.py`). On texts that neither had learnt from they agreed on 42 statements, all of them
right; on those that the opinion was learnt from on 122, of which 2 were wrong (counted with gists, of which more is
asked since, as of guesses, and before the denials and strange words that are left out too).
"""

from __future__ import annotations

import re
from collections.abc import Sequence, Set
from dataclasses import replace

from recognise.rules.allmarked import PAIR_KINDS
from recognise.rules.counted import uncounted
from recognise.rules.frames import RELATIONS, told_of
from recognise.rules.lexicon import bag
from recognise.rules.loose import GIST_COST, SLACK
from recognise.rules.opined import STRANGE, answers_of, looked_at
from recognise.rules.opinion import RULE_OF_NO_KIND, opinion
from recognise.rules.pattern import NEUTRAL, named
from recognise.rules.phrases import reduced
from recognise.rules.readings import PATTERNS, Reading
from recognise.rules.sheet import Statement
from recognise.rules.words import CUT, SOMETHING_ELSE, Sentence

LEAST = 0.6
"""The opinion's chance from which it agrees; on the texts measured those between 0.3 and 0.6 were right as well, but
fewer."""


CERTAIN = 0.75
"""The same for what is only guessed, where the opinion is all that speaks for it besides. Of some sixty sentences
between 0.75 and 0.9 none was read wrong, nor is any of 890 changed rules; at 0.6 one of these is."""
BASE_CERTAIN = 0.9
"""The same for rows, columns and boxes: `one digit twice` in each keeps the company of the usual rule."""
ELSE = 0.15
"""The chance of anything else from which a guess may have lost a rule."""
_NEVER = bag("SIGNED OTHER EXCEPT SECOND UNKNOWN")
_NEVER_GUESSED = (_NEVER - bag("UNKNOWN")) | bag("SOME MAY EITHERWAY ATMOST ATLEAST NOTALL INSTEAD LIMIT")
_UNITS = bag("ROW COLUMN SUDOKU")
OTHERWISE = frozenset({"OTHER=turned", SOMETHING_ELSE})
"""What makes another rule of a sentence (`otherwise.py`), whoever else heard it: no strange word that may mean
nothing."""


def borne_out(reading: Reading | None, sentences: Sequence[Sentence]) -> Reading | None:
    """The reading, no longer unsure where the second opinion of its sentences agrees with all that it states.

    The opinion knows of company and not of order: it does not hear a second denial, nor whose word a strange one is.
    The gist of a sentence is near to what it looks at itself: of that it has to be certain, as of guesses. Of
    rows and columns that are told together with boxes none may be lost."""
    if reading is None or not reading.unsure or not reading.statements:
        return reading
    if reading.cost >= GIST_COST:
        return replace(reading, unsure=not certain(reading.statements, sentences, frozenset()))
    concepts = [named(c) for s in sentences for c in s.concepts]
    if concepts.count("NEG") > 1 or _NEVER.intersection(concepts):
        return reading
    kinds = {s.kind for s in reading.statements}
    if kinds & {"rows", "columns"} and (_UNITS.isdisjoint(concepts) or ("BOX" in concepts and "boxes" not in kinds)):
        return reading
    chances = opinion(looked_at([s.text for s in sentences]))
    if chances.get(RULE_OF_NO_KIND, 0.0) >= STRANGE:
        return reading
    answers = [answer for s in reading.statements for answer in answers_of(s.kind, s.fields, s.negated)]
    agreed = bool(answers) and all(chances.get(answer, 0.0) >= LEAST for answer in answers)
    return replace(reading, unsure=False) if agreed else reading


_OR_ELSE = re.compile(r"(?<!\S)OR (?!(?:ALL |ONE )*(?:ROW|COLUMN|BOX|REGION|FORWARD)(?!\S))|(?<!\S)NEG(?!\S)")
"""An alternative, or a denial that no phrase has taken up: the opinion hears neither."""
_ONE_MARK = re.compile(
    r"(?<!\S)(?:EXACTLY|ONLY) ONE (?:(?:COLOUR|STYLE)=\S+ |SHADED )*"
    r"(?:CIRCLE|DOT|BAR|DIAMOND|SQUARE|LINE|CAGE|ARROW|THERMO|SIGN|MARK|REGION|DIGIT|CLUE|ROW|COLUMN|BOX)(?!\S)"
)
"""`In exactly one circle`: no rule of all of them."""
_PAIR_MARKS = bag("DOT BAR CIRCLE DIAMOND SQUARE LETTER MARK SIGN")
_SUMS = bag("SUM TOTALWORD SANDWICHNAME")
"""What a sandwich is told by: of the digits between two others a clue may give their middle one, or how many."""
BASE = bag("rows columns boxes")
_BESIDE_UNITS = bag("CONTINUE PREVIOUS BACKWARD INCLUDED ANYORDER DECREASE WRAP FURTHER NEXTONE AFTER READ HEIGHT")
"""What changes nothing about every digit's being in every row: `once more`, `before you`, `in some order`."""
_BESIDE = NEUTRAL | SLACK | bag("UNKNOWN COLOUR STYLE SHADED BETWEEN ADJACENT EDGE JOIN POINT")


def _accounted_for(concepts: Sequence[str], kinds: Set[str]) -> bool:
    """Whether nothing that tells stands beside what the kinds need and may have: what the patterns knew every word of
    they refused for a reason."""
    known = known_of(kinds) | _BESIDE
    return not {named(c) for c in concepts} - known - (_BESIDE_UNITS if kinds <= BASE else frozenset())


def known_of(kinds: Set[str]) -> frozenset[str]:
    """Every concept that rules of some kinds need or may have."""
    patterns = (p.known for p in PATTERNS if p.kind in kinds and not p.gloss)
    return frozenset().union(*(told_of(kind) for kind in kinds), *patterns)


def _may_say_else(statements: Sequence[Statement], sentences: Sequence[Sentence]) -> bool:
    """Whether the words of sentences may make of statements something else: an exception, a limit, an alternative, one
    mark of many, or whatever their kinds do not know."""
    printed = _printed(sentences)
    concepts = [named(c) for c in printed]
    if concepts.count("NEG") > 1 or _NEVER_GUESSED.intersection(concepts):
        return True
    told_here, kinds = reduced(printed), {s.kind for s in statements}
    if not all(s.kind not in PAIR_KINDS or _PAIR_MARKS.intersection(concepts) for s in statements):
        return True
    if "sandwich" in kinds and _SUMS.isdisjoint(concepts):
        return True
    return _may_be_of_some(printed, told_here) or not _accounted_for(told_here, kinds)


def may_be_an_exception(
    statements: Sequence[Statement], sentences: Sequence[Sentence], beside: Set[str] = frozenset()
) -> bool:
    """Whether the words of sentences may make an exception of what they were heard to state, or state a relation more:
    the lexicon knows the words of exceptions, whoever else heard the rest. `beside` are concepts that may be there."""
    printed = _printed(sentences)
    if not OTHERWISE.isdisjoint(printed):
        return True
    told_here, kinds = reduced(printed), {s.kind for s in statements}
    known = known_of(kinds) | beside | (_BESIDE_UNITS | {"COUNT"} if kinds <= BASE else frozenset())
    if any(s.fields.get("repeats") for s in statements):
        known |= _REPEATED
    names = [named(c) for c in told_here]
    denied = _DENIALS_OF_ALL if "all-marked" in kinds else 1
    if names.count("NEG") > denied or (_NEVER_GUESSED | RELATIONS - _BESIDE).intersection(names) - known:
        return True
    return _may_be_of_some(printed, [c for c in told_here if c != "NEG" or "NEG" not in beside])


def keeps_to_its_kind(statements: Sequence[Statement], sentences: Sequence[Sentence]) -> bool:
    """Whether sentences have no words but those of what they state, all its numbers and no others, and nothing that
    denies, permits or repeats."""
    printed, kinds = _printed(sentences), {s.kind for s in statements}
    if _NEVER_PLAIN.intersection(map(named, printed)) or "all-marked" in kinds:
        return False
    if any(s.mark.shape == "number" and "value" in s.fields for s in statements):
        return False  # one number of those on the page is an example
    if not all(s.mark.shape or s.mark.letter or s.kind in BASE for s in statements):
        return False  # marks that only the sentence before names
    numbers = (c.partition("=")[2] for c in printed if c.startswith(("NUM=", "TIMES=")))
    said = {int(number) for number in numbers if number.isdecimal()}
    said |= {number for name, number in _TIMES.items() if name in printed}
    own = {value for s in statements for value in s.fields.values() if type(value) is int}
    return own <= said and said <= own | {_TWO_CELLS} and _accounted_for(reduced(printed), kinds)


_TIMES = {"DOUBLE": 2, "TRIPLE": 3}
_TWO_CELLS = 2
_NEVER_PLAIN = bag("READ NEG NEEDNOT TWICE REPEAT MAYREPEAT MAY OR OTHER REST")
_REPEATED = bag("MAY TWICE REPEAT MAYREPEAT")
_DENIALS_OF_ALL = 2
"""`No pair without a dot is not consecutive`: where all are marked, it is denied of those that are not."""


def _printed(sentences: Sequence[Sentence]) -> tuple[str, ...]:
    return uncounted([c for s in sentences for concept in s.concepts if concept != CUT for c in concept.split()])


def _may_be_of_some(printed: Sequence[str], told_here: Sequence[str]) -> bool:
    """Whether an alternative or a denial is left over, or one mark of many is spoken of."""
    return bool(_OR_ELSE.search(" ".join(told_here)) or _ONE_MARK.search(" ".join(printed)))


def certain(statements: Sequence[Statement], sentences: Sequence[Sentence], told: Set[str]) -> bool:
    """Whether guesses (`lost.py`) need not be put to a person: the opinion of their sentences is certain of each, and
    holds nothing else for likely but what the text states elsewhere; `told` are its answers."""
    if _may_say_else(statements, sentences):
        return False
    kinds = {s.kind for s in statements}
    chances = opinion(looked_at([s.text for s in sentences]))
    answers = {answer for s in statements for answer in answers_of(s.kind, s.fields, s.negated)}
    least = BASE_CERTAIN if kinds <= BASE else CERTAIN
    if not answers or any(chances.get(answer, 0.0) < least for answer in answers):
        return False
    return all(chance < ELSE for answer, chance in chances.items() if answer not in answers | told)
