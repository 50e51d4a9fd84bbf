"""Read a rules text: cut it into clauses, find the cheapest way to account for all of them, state what they say.

Clauses are tried alone and joined with those that follow; what no pattern accounts for makes its whole sentence
"not understood", because a rule read in part is a wrong rule.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from functools import lru_cache

from recognise.rules.allmarked import all_marked
from recognise.rules.conclude import conclude
from recognise.rules.digits import stated_digits
from recognise.rules.gist import gist
from recognise.rules.legible import damaged, is_illegible
from recognise.rules.lexicon import bag
from recognise.rules.lines import ARROWS, PLAIN_LINES, THERMOMETERS
from recognise.rules.loose import GIST_COST, IDLE_COST, SLACK_COST, decides, idle, shortened
from recognise.rules.lost import found_in
from recognise.rules.marks import CAGES, CELL_MARKS, PAIRS, letter_sums
from recognise.rules.outside import DIAGONAL_SUMS, SANDWICHES, TOWERS_AND_SUMS
from recognise.rules.pattern import NEUTRAL, SUBJECTS, Pattern, named
from recognise.rules.phrases import clauses, reduced
from recognise.rules.presents import presented
from recognise.rules.rulelike import is_beside, is_rule_like, looks_beside, may_hide_a_rule
from recognise.rules.sheet import RuleSheet, Statement
from recognise.rules.stating import hedged, in_part, stated
from recognise.rules.whole import (
    WHOLE,
    both_moves,
    digits_only,
    heading,
    no_boxes,
    plainly,
    said_to_be_usual,
    standard,
    talk,
    units,
)
from recognise.rules.words import UNKNOWN, Sentence, sentences

PATTERNS: tuple[Pattern, ...] = (
    *THERMOMETERS, *ARROWS, *PLAIN_LINES, *CAGES, *PAIRS, *CELL_MARKS, *SANDWICHES, *TOWERS_AND_SUMS, *DIAGONAL_SUMS,
    *WHOLE,
)  # fmt: skip
_FREE = (both_moves, units, plainly, standard, no_boxes, all_marked, letter_sums, digits_only, heading, talk)


Atom = tuple[int, tuple[str, ...]]
"""A clause as concepts, with the place of its sentence."""

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
"""The share of statements right that are put to a person, at the least: on texts never looked at 281 of 294 were right,
on others in verse and tales 111 of 115."""


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
    parts = sentences(text)
    if parts[1:] and looks_beside(parts[0], 0) and may_hide_a_rule(parts[0]):
        rest = _read(parts[1:], digits, confidence)
        if not may_hide_a_rule(parts[0], {s.kind for s in rest.statements if not s.negated}):
            return rest
    return _read(parts, digits, confidence)


def _read(parts: Sequence[Sentence], digits: tuple[int, int] | None, confidence: float) -> RuleSheet:
    found = [s for at, s in enumerate(parts) if is_rule_like(s) and not _is_aside(s, at)]
    atoms = [(i, atom) for i, s in enumerate(found) for atom in clauses(s)]
    named_digits, disagree = stated_digits([a for _, a in atoms])
    asked = frozenset(i for i, s in enumerate(found) if s.asks)
    readings = _strictly_then_loosely(atoms, asked)
    known = (named_digits.low, named_digits.high) if named_digits else digits
    clash = frozenset(atoms[at][0] for at in disagree)
    statements, unclear = conclude(found, readings, known, clash)
    if unclear or any(r is None or not (r.statements or r.gloss) for _, r in readings):
        found, readings, moved = _with_lost(parts, found, readings, set(unclear), statements)
        statements, unclear = conclude(found, readings, known, frozenset(moved[i] for i in clash))
    unsure = {i for where, r in readings if r is not None and r.unsure and r.statements for i in where}
    left_out = tuple(found[i].text for i in sorted(unsure) if found[i].text not in unclear)
    sure = 1 - (1 - confidence) * MISLED
    statements = [replace(s, confidence=sure * (IN_THE_MAIN if s.sentence in left_out else 1.0)) for s in statements]
    beside = {s.text for at, s in enumerate(found) if is_beside(s, at, {st.kind for st in statements})}
    unclear = [t for t in unclear if t not in beside]
    if confidence < 1:
        unclear += _illegible(parts, {s.sentence for s in statements}.union(unclear, _told(found, readings)))
    return RuleSheet(tuple(statements), named_digits, left_out, tuple(unclear))


_CELLS = bag("DIGIT CELL ROW COLUMN BOX DIAGONAL MAINDIAG ADJACENT KNIGHT KING")


def _told(found: Sequence[Sentence], readings: Sequence[tuple[range, Reading | None]]) -> set[str]:
    """The sentences that state or explain something."""
    telling = (where for where, r in readings if r is not None and (r.statements or r.gloss or r.presents))
    return {found[i].text for where in telling for i in where}


def _illegible(parts: Sequence[Sentence], accounted: Set[str]) -> list[str]:
    """The sentences that say nothing and cannot be read; one that speaks of cells is taken for a rule sooner."""
    return [
        s.text
        for s in parts
        if s.text not in accounted and (is_illegible(s.text) or (_CELLS & set(s.concepts) and damaged(s.text)[0] > 0))
    ]


def _with_lost(
    parts: Sequence[Sentence],
    found: Sequence[Sentence],
    readings: Sequence[tuple[range, Reading | None]],
    lost: Set[str],
    told: Sequence[Statement],
) -> tuple[list[Sentence], list[tuple[range, Reading | None]], dict[int, int]]:
    """The sentences that speak as rules do and their readings, with what those that state nothing most likely state
    (`lost.py`); and where each sentence of `found` stands now."""
    states = {i for where, r in readings if r is not None and r.statements for i in where}
    glosses = {i for where, r in readings if r is not None and r.gloss for i in where}
    broken = {i for where, r in readings if r is None for i in where}
    broken |= {i for where, _ in readings if not broken.isdisjoint(where) for i in where}
    # What was understood and contradicts the rest of the text stays lost, but for what only explains a kind that
    # nothing states.
    silent_ids = {
        id(s) for i, s in enumerate(found) if i in broken or (i not in states and (i in glosses) == (s.text in lost))
    }
    found_ids = {id(s) for s in found}
    silent = {at for at, s in enumerate(parts) if id(s) in silent_ids}
    made = found_in(parts, silent, {at for at, s in enumerate(parts) if id(s) in found_ids}, told, explain)
    used = {id(s) for one in made for s in one.sentences}
    now = [s for s in parts if id(s) in found_ids | used]
    place = {id(s): at for at, s in enumerate(now)}
    kept: list[tuple[range, Reading | None]] = [
        (range(place[id(found[where.start])], place[id(found[where.stop - 1])] + 1), reading)
        for where, reading in readings
        if not any(id(found[i]) in used for i in where)
    ]
    for one in made:
        first = place[id(one.sentences[0])]
        kept.append((range(first, first + len(one.sentences)), Reading(one.statements, GIST_COST, unsure=True)))
    return now, sorted(kept, key=lambda part: part[0].start), {i: place[id(s)] for i, s in enumerate(found)}


def _is_aside(sentence: Sentence, at: int) -> bool:
    """Whether a sentence is a hint, a note or a heading, cannot hide a rule, and states nothing when read alone."""
    if not looks_beside(sentence, at) or may_hide_a_rule(sentence):
        return False
    readings = _cheapest([(0, atom) for atom in clauses(sentence)], explain if at == 0 else explain_loosely)
    return not any(reading is not None and reading.statements for _, reading in readings)


@dataclass(frozen=True, slots=True)
class _Part:
    """A run of clauses and how it is understood; `clauses` are places in the list of all."""

    clauses: range
    reading: Reading | None


def _strictly_then_loosely(atoms: Sequence[Atom], asked: frozenset[int]) -> list[tuple[range, Reading | None]]:
    """Every sentence by patterns that account for each word; what is left by looser ones. A sentence that was
    understood keeps its reading whatever stands beside it, and lends no clause to one that was not."""
    broken: frozenset[int] = frozenset()
    while True:
        parts = _cover(atoms, explain, asked, broken)
        more = _broken(atoms, parts)
        if more == broken:
            break
        broken = more
    if broken:
        kept = {part.clauses.stop: part for part in parts if not _of(atoms, part) & broken}
        parts = _cover(atoms, explain_loosely, asked, kept=kept)
    return [(_where(atoms, part), part.reading) for part in parts]


def _of(atoms: Sequence[Atom], part: _Part) -> set[int]:
    return {atoms[at][0] for at in part.clauses}


def _broken(atoms: Sequence[Atom], parts: Sequence[_Part]) -> frozenset[int]:
    """The sentences with a clause that is not understood."""
    return frozenset(i for part in parts if part.reading is None for i in _of(atoms, part))


def _where(atoms: Sequence[Atom], part: _Part) -> range:
    return range(atoms[part.clauses.start][0], atoms[part.clauses.stop - 1][0] + 1)


def _cheapest(
    atoms: Sequence[Atom], explain: Explain, asked: frozenset[int] = frozenset()
) -> list[tuple[range, Reading | None]]:
    """The cheapest cover of all clauses: (their sentences, how they are understood), in order."""
    return [(_where(atoms, part), part.reading) for part in _cover(atoms, explain, asked)]


def _cover(
    atoms: Sequence[Atom],
    explain: Explain,
    asked: frozenset[int] = frozenset(),
    broken: frozenset[int] = frozenset(),
    kept: Mapping[int, _Part] | None = None,
) -> list[_Part]:
    """The cheapest cover of all clauses, in order. Clauses of `broken` sentences are left over; the parts `kept`, by
    their ends, stay as they are."""
    kept = kept or {}
    settled = {at for part in kept.values() for at in part.clauses}
    closed = {at for at, (i, _) in enumerate(atoms) if i in broken} | settled
    paths = [_Path(0.0, (), 0, None)]
    for end in range(1, len(atoms) + 1):
        skipped = paths[end - 1]
        best = _Path(skipped.cost + UNEXPLAINED, (), end - 1, None)
        if end - 1 in settled:
            # Within a part that is kept there is no end; the path that is put there is never taken.
            part = kept.get(end)
            if part is not None:
                before = paths[part.clauses.start]
                told = tuple(c for at in part.clauses for c in atoms[at][1])
                best = _Path(before.cost, _subject(told) or before.subject, part.clauses.start, part.reading)
            paths.append(best)
            continue
        for start in range(end - 1, max(0, end - LONGEST_SEGMENT) - 1, -1):
            if start in closed:
                break
            clause = tuple(c for _, atom in atoms[start:end] for c in atom)
            same = start > 0 and atoms[start - 1][0] == atoms[start][0]
            if atoms[start][0] != atoms[end - 1][0] and _mixes_colours(atoms[start:end]):
                continue
            reading = explain(clause, paths[start].subject, same)
            if reading is None or (reading.statements and atoms[end - 1][0] in asked):
                continue
            if _swallows([atom for _, atom in atoms[start:end]]) or _swallows_a_sentence(atoms, start, end):
                continue
            borders = atoms[end - 1][0] - atoms[start][0]
            if borders and _loses_a_sentence(atoms[start:end], reading):
                continue
            cost = paths[start].cost + reading.cost + JOINED * (end - start - 1) + ACROSS_SENTENCES * borders
            if cost <= best.cost:
                best = _Path(cost, _subject(clause) or paths[start].subject, start, reading)
        paths.append(best)
    found: list[_Part] = []
    at = len(atoms)
    while at:
        path = paths[at]
        found.append(_Part(range(path.before, at), path.reading))
        at = path.before
    return found[::-1]


_DENIES = bag("NEG NOREPEAT DIFFER NONCONSECUTIVE FORBIDDEN")
_WHERE = bag("CELL APART MOVE ADJACENT SHARESIDE EVENDIAGONALLY CHESS UNKNOWN KNIGHT KING")
_OF_ANOTHER = (SUBJECTS - bag("KNIGHT KING")) | bag("IT UNMARKED BULB TIP")


def _swallows(parts: Sequence[tuple[str, ...]]) -> bool:
    """Whether one of several clauses could be a rule of its own about cells (`cells a ... move apart never hold the
    same digit`, with a word that OCR or the lexicon lost) and another states something without it."""
    if len(parts) == 1:
        return False
    if any(_says_all_given(part) for part in parts[1:]):
        return True
    for at, part in enumerate(parts):
        if _could_stand_alone(part):
            rest = [*parts[:at], *parts[at + 1 :]]
            whole = tuple(c for other in rest for c in other)
            if _telling(part) and _telling(part) <= _telling(whole):
                continue  # it says again what the others say: `nor neighbours of any sort`
            if any((told := explain(other)) is not None and told.statements for other in (*rest, whole)):
                return True
    return False


def _mixes_colours(atoms: Sequence[tuple[int, tuple[str, ...]]]) -> bool:
    """Whether sentences speak of marks of different colours: `White dots: consecutive. Black: double.`"""
    by_sentence: dict[int, set[str]] = {}
    for at, atom in atoms:
        by_sentence.setdefault(at, set()).update(c for c in atom if c.startswith("COLOUR"))
    told = [colours for colours in by_sentence.values() if colours]
    return any(colours != told[0] for colours in told[1:])


def _loses_a_sentence(atoms: Sequence[tuple[int, tuple[str, ...]]], reading: Reading) -> bool:
    """Whether the first of sentences that are joined states by itself what they do not state together."""
    first = tuple(c for at, atom in atoms for c in atom if at == atoms[0][0])
    alone = explain(first)
    if alone is None or not alone.statements:
        return False
    return not {s.kind for s in alone.statements} <= {s.kind for s in reading.statements}


_BY_WORDS = bag("knight-apart king-apart neighbours-not-consecutive")


def _swallows_a_sentence(atoms: Sequence[tuple[int, tuple[str, ...]]], start: int, end: int) -> bool:
    """Whether the last of several sentences is a rule about cells by itself."""
    last = atoms[end - 1][0]
    if end - start == 1 or atoms[end - 2][0] == last or (end < len(atoms) and atoms[end][0] == last):
        return False
    alone = explain(atoms[end - 1][1])
    return alone is not None and any(s.kind in _BY_WORDS for s in alone.statements)


def _says_all_given(clause: Sequence[str]) -> bool:
    """Whether a clause says that all pairs of a sort are marked: it is a rule, and not more about the marks."""
    names = [named(c) for c in clause if c != "AND"]
    return names[:1] == ["ALL"] and "PAIR" in names and not {"GIVEN", *_SET_BETWEEN}.isdisjoint(names)


_SET_BETWEEN = bag("DOT BAR DIAMOND CIRCLE SIGN LETTER ONE")


def _telling(clause: Sequence[str]) -> set[str]:
    return {c for c in reduced(tuple(clause)) if named(c) not in NEUTRAL | _DENIES}


def _could_stand_alone(clause: Sequence[str]) -> bool:
    names = {named(c) for c in clause}
    return bool(names & _DENIES and names & _WHERE) and not names & _OF_ANOTHER


def _subject(clause: Sequence[str]) -> tuple[str, ...]:
    told = tuple(c for c in clause if named(c) in SUBJECTS or named(c) in ("COLOUR", "STYLE"))
    return (*told, _ALIKE) if "EQUAL" in clause[:2] and "DIGIT" in clause[:3] else told


_ALIKE = "ALIKE"
"""Stands with the subjects where equal digits are spoken of."""


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
    moves = {"KNIGHT", "KING", "EVENDIAGONALLY"} & set(clause)
    if _ALIKE in subject and "IT" in clause and "NEG" in clause and moves:
        # `Equal digits never touch, and they are never a knight's move apart.`
        lent = read(("EQUAL", "DIGIT", *(c for c in clause if c not in ("IT", "AND"))))
        return None if lent is None else replace(lent, cost=lent.cost + INHERITED)
    subject = tuple(c for c in subject if c != _ALIKE)
    if not subject:
        return None
    if any(named(c) in SUBJECTS for c in clause) or not (
        same_sentence
        or "IT" in clause
        or clause[0] == "AND"
        or _names_a_colour_first(clause)
        or "MAYREPEAT" in reduced(clause)
    ):
        return None
    colours = any(c.startswith("COLOUR") for c in clause)
    carried = tuple(c for c in subject if not (colours and c.startswith("COLOUR")))
    lent = read(carried + clause)
    return None if lent is None else replace(lent, cost=lent.cost + INHERITED)


def _names_a_colour_first(clause: Sequence[str]) -> bool:
    """`Black: double`, `if by a black one`: marks of another colour, of the sort just named."""
    return next((c for c in clause if c not in ("IF", "BY", "AND", "ALL", "ONE")), "").startswith("COLOUR")


Explain = Callable[[tuple[str, ...], tuple[str, ...], bool], Reading | None]


@lru_cache(maxsize=16384)
def _loosely(clause: tuple[str, ...]) -> Reading | None:
    """The cheapest reading of a clause with words left out; None where different ones may be left out at the same
    cost with different results."""
    usual = said_to_be_usual(clause)
    if usual is not None:
        return Reading(tuple(usual), IDLE_COST)
    if idle(clause) and not any(named(c) == "WAY" for c in reduced(clause)):
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
    if found is None or decides(clause) or hedged(about):
        return None
    kind, fields = found
    return Reading(tuple(stated(kind, fields, about)), GIST_COST, unsure=True)


@lru_cache(maxsize=8192)
def _best(concepts: tuple[str, ...]) -> Reading | None:
    """The one reading of reduced concepts; None where there is none, or where several kinds fit equally well."""
    for free in _FREE:
        statements = free(concepts)
        if statements is not None and not (in_part(concepts) and any(not s.negated for s in statements)):
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
    if pattern.kind != "sandwich" and concepts[-2:-1] == ("OR",) and named(concepts[-1]) == "NUM":
        return None  # `the same digit or 2`: an alternative that no kind has
    if fields is None or (not pattern.gloss and hedged(concepts)):
        return None
    states = tuple(stated(pattern.kind, fields, concepts))
    return Reading(states, GLOSS if pattern.gloss else pattern.cost, pattern.kind if pattern.gloss else "")


__all__ = ["NEUTRAL", "PATTERNS", "explain", "is_rule_like", "read_rules"]
