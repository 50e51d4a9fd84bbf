"""Read a rules text: cut it into clauses, find the cheapest way to account for all of them, state what they say.

What no pattern accounts for makes its whole sentence "not understood", because a rule read in part is a wrong rule.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence, Set
from dataclasses import replace

from recognise.rules.agreed import BASE, borne_out, certain
from recognise.rules.allmarked import PAIR_KINDS
from recognise.rules.asides import is_byline
from recognise.rules.broken_off import begins_midway, breaks_off
from recognise.rules.by_sense import Senses
from recognise.rules.claims import adds_nothing, changes_nothing, is_claim, is_condition, of_one_unit, only_presents
from recognise.rules.conclude import conclude
from recognise.rules.counted import clauses
from recognise.rules.cover import cheapest, strictly_then_loosely
from recognise.rules.digits import stated_digits
from recognise.rules.exceptions import makes_an_exception
from recognise.rules.idle import idle
from recognise.rules.legible import damaged, is_illegible
from recognise.rules.lexicon import bag
from recognise.rules.loose import GIST_COST
from recognise.rules.lost import Found, found_in
from recognise.rules.opined import answers_of
from recognise.rules.phrases import reduced
from recognise.rules.readings import Reading, explain, explain_loosely
from recognise.rules.rulelike import is_beside, is_rule_like, looks_beside, may_hide_a_rule
from recognise.rules.sheet import MarkHint, RuleSheet, Statement
from recognise.rules.together import told_together
from recognise.rules.units_heard import with_units_heard
from recognise.rules.words import CUT, Sentence, sentences

MISLED = 0.01
"""The share of damaged words that make a statement wrong: in texts with one word in ten damaged at random, about one
statement in a thousand was wrong; the others were read right or not understood."""
IN_THE_MAIN = 0.94
"""The share of statements right that are put to a person, at the least: on texts never looked at 281 of 294 were right,
on others in verse and tales 111 of 115."""


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
    read = strictly_then_loosely(atoms, asked)
    heard = Senses(parts if found else ())
    readings = [(where, _borne_out(reading, [found[i] for i in where], heard)) for where, reading in read]
    readings = with_units_heard(readings, found, heard)
    known = (named_digits.low, named_digits.high) if named_digits else digits
    clash = frozenset(atoms[at][0] for at in disagree)
    statements, unclear = conclude(found, readings, known, clash)
    if (
        unclear
        or len(found) < len(parts)
        or any(r is None or not (r.statements or r.gloss or r.states_nothing) for _, r in readings)
    ):
        found, readings, moved = _with_lost(parts, found, readings, set(unclear), statements, heard)
        statements, unclear = conclude(found, readings, known, frozenset(moved[i] for i in clash))
    unsure = {
        i
        for where, r in readings
        if r is not None and r.statements and (r.unsure or heard.denies(r.statements, [found[i] for i in where]))
        for i in where
    }
    unsure |= _alternatives(found, readings)
    left_out = tuple(found[i].text for i in sorted(unsure) if found[i].text not in unclear)
    sure = 1 - (1 - confidence) * MISLED
    statements = [replace(s, confidence=sure * (IN_THE_MAIN if s.sentence in left_out else 1.0)) for s in statements]
    beside = {s.text for at, s in enumerate(found) if is_beside(s, at, {st.kind for st in statements})}
    talk = {s.text for s in found if s.text in unclear and not _may_claim(s) and heard.is_talk(s)}
    before = {s.text: parts[at - 1].text for at, s in enumerate(parts) if at}
    free = {s.text for s in found if changes_nothing(s, statements, before.get(s.text, ""))}
    unclear = [t for t in unclear if t not in beside | talk | free]
    if confidence < 1:
        unclear += _illegible(parts, {s.sentence for s in statements}.union(unclear, _told(found, readings)))
    asked_about = {*unclear, *left_out}
    claimed = _claims(parts, found, readings, {s.sentence for s in statements})
    claimed |= _taken_in(found, readings, {s.kind for s in statements}, heard)
    unclear += [
        s.text for s in parts if s.text not in asked_about and (makes_an_exception(s.text) or s.text in claimed)
    ]
    if parts and breaks_off(parts[-1].text) and parts[-1].text not in {*asked_about, *unclear}:
        unclear.append(parts[-1].text)
    if confidence < 1 and _begins_midway(parts, {*asked_about, *unclear, *_alone(found, readings)}):
        unclear.insert(0, parts[0].text)
    bind_nothing = idle(found, {*unclear, *left_out}, statements, heard)
    together = tuple(tuple(found[i].text for i in where) for where, r in readings if len(where) > 1 and r and r.unsure)
    return RuleSheet(tuple(statements), named_digits, left_out, tuple(unclear), bind_nothing, together)


def _alone(found: Sequence[Sentence], readings: Sequence[tuple[range, Reading | None]]) -> set[str]:
    """The sentences that state something without others."""
    return {found[where.start].text for where, r in readings if len(where) == 1 and r is not None and r.statements}


def _begins_midway(parts: Sequence[Sentence], known: Set[str]) -> bool:
    """Whether OCR lost what stands before a text's first words: these say nothing of their own that is `known`."""
    if len(parts) < 2 or parts[0].text in known or is_byline(parts[0].text):
        return False
    return begins_midway(parts[0].text, parts[1].text)


def _borne_out(reading: Reading | None, sentences: Sequence[Sentence], heard: Senses) -> Reading | None:
    """The reading, no longer unsure where another reader agrees with all that it states."""
    if reading is not None and _may_wrap(reading, sentences):
        return replace(reading, unsure=True)
    reading = borne_out(reading, sentences)
    if reading is None or not reading.unsure or not heard.agrees(reading.statements, sentences, read=True):
        return reading
    return replace(reading, unsure=False)


def _may_wrap(reading: Reading, sentences: Sequence[Sentence]) -> bool:
    """Whether a sum between two digits is told to go on beyond the edge in words that its pattern leaves out."""
    straight = any(s.kind == "sandwich" and not s.fields.get("wrap") for s in reading.statements)
    told = {c for s in sentences for c in reduced(s.concepts)} if straight else set()
    return "WRAP" in told and "NEG" not in told


def _alternatives(found: Sequence[Sentence], readings: Sequence[tuple[range, Reading | None]]) -> set[int]:
    """The sentences that state two relations of one mark and have an `or` between: `consecutive, or one is double`."""
    told: dict[int, set[tuple[MarkHint, str]]] = {}
    for where, reading in readings:
        pairs = {(s.mark, s.kind) for s in (reading.statements if reading else ()) if s.kind in PAIR_KINDS}
        for i in where:
            told.setdefault(i, set()).update(pairs)
    several = {i for i, pairs in told.items() if len({mark for mark, _ in pairs}) < len(pairs)}
    return {i for i in several if _OR_CLAUSE.search(" ".join(found[i].concepts))}


_OR_CLAUSE = re.compile(rf"(?<!\S){re.escape(CUT)} OR(?!\S)")
_CELLS = bag("DIGIT CELL ROW COLUMN BOX DIAGONAL MAINDIAG ADJACENT KNIGHT KING")


def _told(found: Sequence[Sentence], readings: Sequence[tuple[range, Reading | None]]) -> set[str]:
    """The sentences that state or explain something."""
    telling = (where for where, r in readings if r is not None and (r.statements or r.gloss or r.presents))
    return {found[i].text for where in telling for i in where}


def _claims(
    parts: Sequence[Sentence],
    found: Sequence[Sentence],
    readings: Sequence[tuple[range, Reading | None]],
    stating: Set[str],
) -> set[str]:
    """The sentences that claim something which no reading accounts for: they were taken for talk, or for a part of
    others that state as much without them."""
    told: dict[str, tuple[range, Reading | None]] = {found[i].text: part for part in readings for i in part[0]}
    return {s.text for s in parts if is_claim(s) and s.text not in stating and not _is_told(s, found, told)}


def _taken_in(
    found: Sequence[Sentence], readings: Sequence[tuple[range, Reading | None]], stated: Set[str], heard: Senses
) -> set[str]:
    """The sentences read together with others of which one surely says what the text states nowhere, or that speak of
    one row by its number where all that is stated is of every row."""
    several = {i for where, _ in readings if len(where) > 1 for i in where}
    units = {i for where, r in readings if r and r.statements and {s.kind for s in r.statements} <= BASE for i in where}
    return {found[i].text for i in several if heard.lost(found[i], stated) or (i in units and of_one_unit(found[i]))}


def _may_claim(sentence: Sentence) -> bool:
    """Whether a sentence claims something of digits, cells or marks, plainly or upon a condition: it is no talk."""
    return is_claim(sentence) or is_condition(sentence)


def _is_told(sentence: Sentence, found: Sequence[Sentence], told: Mapping[str, tuple[range, Reading | None]]) -> bool:
    """Whether a reading accounts for all that a sentence says."""
    where, reading = told.get(sentence.text, (range(0), None))
    if reading is None:
        return False
    if len(where) > 1:
        atoms = [(i, atom) for i in where for atom in clauses(found[i])]
        return not any(found[i] == sentence and adds_nothing(atoms, i, reading) for i in where)
    return not reading.presents or only_presents(sentence, reading)


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
    heard: Senses,
) -> tuple[list[Sentence], list[tuple[range, Reading | None]], dict[int, int]]:
    """The sentences that speak as rules do and their readings, with what those that state nothing most likely state
    (`lost.py`); and where each sentence of `found` stands now."""
    states = {i for where, r in readings if r is not None and r.statements and not r.gloss for i in where}
    glosses = {i for where, r in readings if r is not None and r.gloss for i in where}
    states |= {i for where, r in readings if r is not None and r.states_nothing for i in where}
    broken = {i for where, r in readings if r is None for i in where}
    broken |= {i for where, _ in readings if not broken.isdisjoint(where) for i in where}
    # What only presents marks, and is lost, may state in words of its own what they mean: that is always asked about.
    presents = {i for where, r in readings if r is not None and r.presents and not r.gloss for i in where}
    presenting = {i for i in presents - broken - states if found[i].text in lost}
    broken |= presenting
    doubtful = {id(found[i]) for i in presenting}
    # What was understood and contradicts the rest of the text stays lost, but for what only explains a kind that
    # nothing states.
    silent_ids = {
        id(s) for i, s in enumerate(found) if i in broken or (i not in states and (i in glosses) == (s.text in lost))
    }
    found_ids = {id(s) for s in found}
    silent = {at for at, s in enumerate(parts) if id(s) in silent_ids}
    rule_like = {at for at, s in enumerate(parts) if id(s) in found_ids}
    made, sure = _heard_or_guessed(parts, silent, rule_like, told, heard)
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
        unsure = id(one) not in sure or any(id(s) in doubtful for s in one.sentences)
        kept.append((range(first, first + len(one.sentences)), Reading(one.statements, GIST_COST, unsure=unsure)))
    return now, sorted(kept, key=lambda part: part[0].start), {i: place[id(s)] for i, s in enumerate(found)}


def _heard_or_guessed(
    parts: Sequence[Sentence], silent: Set[int], rule_like: Set[int], told: Sequence[Statement], heard: Senses
) -> tuple[list[Found], set[int]]:
    """What silent sentences most likely state, by the guesses that are certain, then by their sense, then by the other
    guesses; and which of it (`id`) need not be put to a person."""
    guessed = [
        one
        for one in found_in(parts, silent, rule_like, told, explain)
        if all(heard.hears(s, one.sentences) for s in one.statements)
    ]
    sure = {id(one) for one in guessed if certain(one.statements, one.sentences, _answers(told, guessed, one))}
    made = [one for one in guessed if id(one) in sure]
    taken = {id(s) for one in made for s in one.sentences}
    beside = set(range(len(parts))) - rule_like if told or made else set()  # of a page's prose nothing is heard
    left = (silent | beside) - {at for at, s in enumerate(parts) if id(s) in taken}
    sensed = heard.found_in(left, [*told, *(s for one in made for s in one.statements)])
    sure |= {id(one) for one in sensed if _agreed(one, told, sensed, guessed, heard)}
    made += [one for one in sensed if id(one) in sure]
    unsure = [one for one in sensed if id(one) not in sure]
    left -= {at for at, s in enumerate(parts) if any(s in one.sentences for one in made)}
    joined = told_together(parts, left, [*told, *(s for one in made for s in one.statements)], unsure, heard)
    taken = {id(s) for one in (*made, *joined) for s in one.sentences}
    made += [*joined, *(one for one in unsure if not any(id(s) in taken for s in one.sentences))]
    taken |= {id(s) for one in made for s in one.sentences}
    rest = [one for one in guessed if id(one) not in sure and not any(id(s) in taken for s in one.sentences)]
    sure |= {id(one) for one in rest if _agreed(one, told, sensed, guessed, heard)}
    return [*made, *rest], sure


def _agreed(
    one: Found, told: Sequence[Statement], sensed: Sequence[Found], guessed: Sequence[Found], heard: Senses
) -> bool:
    """Whether the network bears out what was found."""
    return heard.agrees(one.statements, one.sentences, _answers(told, sensed, one), _is_among(one, guessed))


def _is_among(one: Found, others: Sequence[Found]) -> bool:
    """Whether all that one finding states is found in its sentences by another reader too."""
    kinds = {s.kind for s in one.statements}
    return any(kinds == {s.kind for s in o.statements} and _shared(one, o) for o in others)


def _shared(one: Found, other: Found) -> bool:
    return not {id(s) for s in one.sentences}.isdisjoint(id(s) for s in other.sentences)


def _answers(told: Sequence[Statement], found: Sequence[Found], but: Found) -> set[str]:
    """The answers of what a text states, but for one finding."""
    others = [*told, *(s for one in found if one is not but for s in one.statements)]
    return {answer for s in others for answer in answers_of(s.kind, s.fields, s.negated)}


def _is_aside(sentence: Sentence, at: int) -> bool:
    """Whether a sentence is a hint, a note or a heading, cannot hide a rule, and states nothing when read alone."""
    if not looks_beside(sentence, at) or may_hide_a_rule(sentence):
        return False
    readings = cheapest([(0, atom) for atom in clauses(sentence)], explain if at == 0 else explain_loosely)
    return not any(reading is not None and reading.statements for _, reading in readings)
