"""Read a rules text: cut it into clauses, find the cheapest way to account for all of them, state what they say.

Clauses are tried alone and joined with those that follow; what no pattern accounts for makes its whole sentence
"not understood", because a rule read in part is a wrong rule.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence, Set
from dataclasses import dataclass, replace
from functools import lru_cache

from recognise.rules.allmarked import PAIR_KINDS, all_marked, says_every_pair
from recognise.rules.asides import is_byline, is_heading, is_note
from recognise.rules.conclude import conclude
from recognise.rules.digits import stated_digits
from recognise.rules.gist import gist
from recognise.rules.lexicon import bag
from recognise.rules.lines import ARROWS, PLAIN_LINES, THERMOMETERS
from recognise.rules.loose import GIST_COST, IDLE_COST, SLACK_COST, decides, idle, shortened
from recognise.rules.marks import CAGES, CELL_MARKS, PAIRS, letter_sums
from recognise.rules.outside import DIAGONAL_SUMS, SANDWICHES, TOWERS_AND_SUMS
from recognise.rules.pattern import NEUTRAL, SUBJECTS, Pattern, hint, named, values
from recognise.rules.phrases import reduced, uncounted
from recognise.rules.presents import presented
from recognise.rules.sheet import RuleSheet, Statement
from recognise.rules.whole import WHOLE, both_moves, digits_only, heading, no_boxes, plainly, standard, talk, units
from recognise.rules.words import CUT, UNKNOWN, Sentence, sentences

PATTERNS: tuple[Pattern, ...] = (
    *THERMOMETERS, *ARROWS, *PLAIN_LINES, *CAGES, *PAIRS, *CELL_MARKS, *SANDWICHES, *TOWERS_AND_SUMS, *DIAGONAL_SUMS,
    *WHOLE,
)  # fmt: skip
_FREE = (both_moves, units, plainly, standard, no_boxes, all_marked, letter_sums, digits_only, heading, talk)

_OUTSIDE_KINDS = frozenset({"sandwich", "skyscraper", "x-sum"})
_OWN_SHAPE = {"cage": "cage", "thermometer": "", "diagonal-sum": "arrow", "arrow": "arrow"}

LONGEST_SEGMENT = 13
"""Clauses that may make one statement together; the longest definitions in print have about so many."""
UNEXPLAINED = 100.0
JOINED = 1.05
ACROSS_SENTENCES = 0.6
INHERITED = 0.3
EMPTY = 1.2
GLOSS = 1.5
PRESENTED = 2.5
"""Costs: a clause left over outweighs any way to read it. Joining two clauses costs a little more than a statement,
so that clauses which stand alone are read alone; joining sentences, or taking the subject from the clause before, is
a last resort."""


MISLED = 0.01
"""The share of damaged words that make a statement wrong: in texts with one word in ten damaged at random, about one
statement in a thousand was wrong; the others were read right or not understood."""
IN_THE_MAIN = 0.94
"""The share of statements right that were found by leaving known words out, at the least, on texts never looked at."""


@dataclass(frozen=True, slots=True)
class Reading:
    """How one run of clauses is understood; `gloss` says that it only explains, `presents` which marks it only
    says to be there."""

    statements: tuple[Statement, ...]
    cost: float
    gloss: str = ""
    unsure: bool = False
    presents: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class _Path:
    cost: float
    subject: tuple[str, ...]
    before: int
    reading: Reading | None


def read_rules(text: str, digits: tuple[int, int] | None = None, confidence: float = 1.0) -> RuleSheet:
    """What a rules text states. `digits` are the lowest and highest digit of the grid where they are known; what the
    text itself says of them wins. `confidence` is the chance that OCR has a word right. Nothing is claimed of a text in
    another language."""
    found = [s for at, s in enumerate(sentences(text)) if is_rule_like(s) and not _is_aside(s, at)]
    atoms = [(i, atom) for i, s in enumerate(found) for atom in _atoms(s)]
    stated, disagree = stated_digits([a for _, a in atoms])
    asked = frozenset(i for i, s in enumerate(found) if s.asks)
    readings = _cheapest(atoms, explain, asked)
    if any(reading is None for _, reading in readings):
        readings = _cheapest(atoms, explain_loosely, asked)
    known = (stated.low, stated.high) if stated else digits
    statements, unclear = conclude(found, readings, known, frozenset(atoms[at][0] for at in disagree))
    unsure = {i for where, r in readings if r is not None and r.unsure and r.statements for i in where}
    left_out = tuple(found[i].text for i in sorted(unsure) if found[i].text not in unclear)
    sure = 1 - (1 - confidence) * MISLED
    statements = [replace(s, confidence=sure * (IN_THE_MAIN if s.sentence in left_out else 1.0)) for s in statements]
    beside = {s.text for at, s in enumerate(found) if is_beside(s, at, {st.kind for st in statements})}
    return RuleSheet(tuple(statements), stated, left_out, tuple(t for t in unclear if t not in beside))


_EXAMPLE = re.compile(r"\W*(?:for (?:example|instance)|examples?|e\.? ?g\.?)\b", re.I)


def is_rule_like(sentence: Sentence) -> bool:
    """Whether a sentence speaks of anything that rules speak of; anything else is talk."""
    if _EXAMPLE.match(sentence.text) or is_byline(sentence.text):
        return False
    names = {named(c) for c in sentence.concepts}
    telling = names & _TELLING
    if "FLAVOUR" in names and telling <= {"CLUE", "DIGIT"}:
        return False
    return (
        bool(telling)
        or {"NUM", "FORWARD"} <= names
        or ("NEG" in names <= _EXCEPTION and bool(names & {"SOME", "NEUTRALNOUN"}))
        or ("RULE" in names and "SUDOKU" in names)
        or (names in ({"SUDOKU"}, {"STANDARD"}) and sentence.text.endswith((".", ";")))
        or ("STANDARD" in names and bool(names & {"SUDOKU", "RULE"}))
    )


_RULED_BY_WORDS = bag(
    "KNIGHT KING ANTIKNIGHT ANTIKING ADJACENT SHARESIDE NONCONSECUTIVE NEG NOREPEAT DIFFER CHESS REPEAT CONSECUTIVE"
)
"""What rules speak of that no mark in the grid shows: a sentence with one of these is never passed over."""
_NAMES_A_MOVE = {"KNIGHT": "knight-apart", "KING": "king-apart"}


def is_beside(sentence: Sentence, at: int, kinds: Set[str]) -> bool:
    """Whether a sentence that nobody understands is no rule all the same: a hint, a page number, or a heading before
    rules; `at` is its place in the text, `kinds` are those that the rest states."""
    names = {named(c) for c in sentence.concepts}
    hidden = {name for name in names & _RULED_BY_WORDS if _NAMES_A_MOVE.get(name) not in kinds}
    return not hidden and (is_note(sentence.text) or (at == 0 and bool(kinds) and is_heading(sentence.text)))


def _is_aside(sentence: Sentence, at: int) -> bool:
    """Whether a sentence is a hint, a note or a heading, cannot hide a rule, and states nothing when read alone."""
    if not (is_note(sentence.text) or (at == 0 and is_heading(sentence.text))):
        return False
    if {named(c) for c in sentence.concepts} & _RULED_BY_WORDS:
        return False
    return any(reading is None for _, reading in _cheapest([(0, atom) for atom in _atoms(sentence)], explain_loosely))


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
    from recognise.rules.lexicon import PHRASES  # noqa: PLC0415

    return frozenset(named(c) for c in PHRASES.values() if c) | {"RANGE", "LETTERS", "SIZE", "LETTER"}


_TELLING = _telling() - _TALK


def _atoms(sentence: Sentence) -> Iterator[tuple[str, ...]]:
    clause: list[str] = []
    for concept in sentence.concepts:
        if concept != CUT:
            clause += concept.split()
        elif clause and clause != ["AND"]:
            yield uncounted(clause)
            clause = []
    if clause:
        yield uncounted(clause)


def _cheapest(
    atoms: Sequence[tuple[int, tuple[str, ...]]], explain: Explain, asked: frozenset[int] = frozenset()
) -> list[tuple[range, Reading | None]]:
    """The cheapest cover of all clauses: (their sentences, how they are understood), in order."""
    paths = [_Path(0.0, (), 0, None)]
    for end in range(1, len(atoms) + 1):
        skipped = paths[end - 1]
        best = _Path(skipped.cost + UNEXPLAINED, (), end - 1, None)
        for start in range(max(0, end - LONGEST_SEGMENT), end):
            clause = tuple(c for _, atom in atoms[start:end] for c in atom)
            same = start > 0 and atoms[start - 1][0] == atoms[start][0]
            reading = explain(clause, paths[start].subject, same)
            if reading is None or (reading.statements and atoms[end - 1][0] in asked):
                continue
            borders = atoms[end - 1][0] - atoms[start][0]
            cost = paths[start].cost + reading.cost + JOINED * (end - start - 1) + ACROSS_SENTENCES * borders
            if cost < best.cost:
                best = _Path(cost, _subject(clause) or paths[start].subject, start, reading)
        paths.append(best)
    found: list[tuple[range, Reading | None]] = []
    at = len(atoms)
    while at:
        path = paths[at]
        found.append((range(atoms[path.before][0], atoms[at - 1][0] + 1), path.reading))
        at = path.before
    return found[::-1]


def _subject(clause: Sequence[str]) -> tuple[str, ...]:
    return tuple(c for c in clause if named(c) in SUBJECTS or named(c) in ("COLOUR", "STYLE"))


def explain(clause: tuple[str, ...], subject: tuple[str, ...] = (), same_sentence: bool = True) -> Reading | None:
    """The cheapest reading of one clause, alone or as going on about the subject of the clause before; every word has
    to be accounted for."""
    return _explained(clause, subject, same_sentence, lambda c: _best(reduced(c)))


def explain_loosely(
    clause: tuple[str, ...], subject: tuple[str, ...] = (), same_sentence: bool = True
) -> Reading | None:
    """As `explain`, or with words left out that cannot matter."""
    return explain(clause, subject, same_sentence) or _explained(clause, subject, same_sentence, _loosely)


def _explained(
    clause: tuple[str, ...],
    subject: tuple[str, ...],
    same_sentence: bool,
    read: Callable[[tuple[str, ...]], Reading | None],
) -> Reading | None:
    alone = read(clause)
    if alone is not None or not subject:
        return alone
    if any(named(c) in SUBJECTS for c in clause) or not (same_sentence or "IT" in clause or clause[0] == "AND"):
        return None
    colours = any(c.startswith("COLOUR") for c in clause)
    carried = tuple(c for c in subject if not (colours and c.startswith("COLOUR")))
    lent = read(carried + clause)
    return None if lent is None else replace(lent, cost=lent.cost + INHERITED)


Explain = Callable[[tuple[str, ...], tuple[str, ...], bool], Reading | None]


@lru_cache(maxsize=16384)
def _loosely(clause: tuple[str, ...]) -> Reading | None:
    """The cheapest reading of a clause with words left out; None where different ones may be left out at the same
    cost with different results."""
    if idle(clause):
        return Reading((), IDLE_COST)
    found: list[tuple[float, Reading]] = []
    for shorter, cost in shortened(clause):
        if found and cost > found[0][0]:
            break
        reading = _best(reduced(shorter))
        if reading is not None and (reading.statements or reading.gloss or cost < SLACK_COST):
            found.append((cost, reading))
    if not found:
        return _gist(clause)
    says = {tuple((s.kind, s.negated, repr(sorted(s.fields.items()))) for s in r.statements) for _, r in found}
    cost, reading = found[0]
    if len(says) != 1:
        return None
    return replace(reading, cost=reading.cost + cost, unsure=cost >= SLACK_COST)


def _gist(clause: tuple[str, ...]) -> Reading | None:
    about = reduced(tuple(c for c in clause if c != UNKNOWN))
    found = gist(about)
    if found is None or decides(clause) or _hedged(about):
        return None
    kind, fields = found
    return Reading(tuple(_stated(Pattern(kind, ""), fields, about)), GIST_COST, unsure=True)


@lru_cache(maxsize=8192)
def _best(concepts: tuple[str, ...]) -> Reading | None:
    """The one reading of reduced concepts; None where there is none, or where several kinds fit equally well."""
    in_part = _IN_PART.search("".join(f"{c} " for c in concepts)) is not None
    for free in _FREE:
        statements = free(concepts)
        if statements is not None and not (statements and in_part):
            return Reading(tuple(statements), 1.0 if statements else EMPTY)
    names = frozenset(map(named, concepts))
    readings = [(p, p.fit(concepts, names)) for p in PATTERNS]
    fitting = sorted(((p, f) for p, f in readings if f is not None), key=lambda pf: (pf[0].gloss, pf[0].cost))
    if not fitting:
        marks = presented(concepts)
        return Reading((), PRESENTED, presents=marks) if marks else None
    first = fitting[0][0]
    rivals = {p.kind for p, _ in fitting if (p.gloss, p.cost) == (first.gloss, first.cost)}
    if len(rivals) > 1:
        return None
    pattern, fields = fitting[0]
    if fields is None or (not pattern.gloss and _hedged(concepts)):
        return None
    stated = tuple(_stated(pattern, fields, concepts))
    return Reading(stated, GLOSS if pattern.gloss else pattern.cost, pattern.kind if pattern.gloss else "")


_PERHAPS = re.compile(
    r"(?<!\S)MAY (?:HOLD |GIVEN |MEAN |JOIN |MARK )*"
    r"(?:CONSECUTIVE|EVEN|ODD|INCREASE|DECREASE|TIMES|PALINDROME|DIFF|GAP)\b"
)
_IN_PART = re.compile(
    r"(?<!\S)SOME (?:COLOUR=\w+ |STYLE=\w+ |SHADED |GIVEN |TWO |NUM=\d+ |ALL )*"
    r"(?:THERMO|LINE|ARROW|DOT|BAR|DIAGONAL|MAINDIAG|SQUARE|CIRCLE|CAGE|SIGN) "
)


def _hedged(concepts: Sequence[str]) -> bool:
    """Whether a clause says only what may be (`digits may be consecutive`), or speaks of some marks and not of all."""
    text = " ".join(concepts)
    allowed = {"NEG", "ONLY", "NOTDECREASE"} & set(concepts)
    return bool(_IN_PART.search(text)) or (not allowed and bool(_PERHAPS.search(text)))


def _stated(pattern: Pattern, fields: object, concepts: tuple[str, ...]) -> Iterator[Statement]:
    outside = pattern.kind in _OUTSIDE_KINDS or pattern.kind == "diagonal-sum"
    shape = "number" if pattern.kind in _OUTSIDE_KINDS else _OWN_SHAPE.get(pattern.kind, "")
    look = hint(concepts, shape)
    if pattern.kind == "sum-pair" and not look.letter:
        look = replace(look, shape="number", place="edge")
    if outside:
        look = replace(look, place="outside")
    colours = list(dict.fromkeys(values(concepts, "COLOUR")))
    for colour in colours if len(colours) > 1 else [look.colour]:
        assert isinstance(fields, dict)
        yield Statement(pattern.kind, fields, replace(look, colour=colour))
    if pattern.kind in PAIR_KINDS and says_every_pair(concepts):
        yield Statement("all-marked", {"of": pattern.kind}, look)


__all__ = ["NEUTRAL", "PATTERNS", "explain", "is_rule_like", "read_rules"]
