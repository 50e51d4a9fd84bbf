"""From readings of clauses to the sheet: sentences understood in part are dropped, statements merged and checked."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Protocol

from recognise.rules.allmarked import PAIR_KINDS, settled
from recognise.rules.pattern import SUBJECTS, named
from recognise.rules.sheet import MarkHint, Statement
from recognise.rules.sides import with_sides
from recognise.rules.stating import OUTSIDE_KINDS
from recognise.rules.words import Sentence


class Read(Protocol):
    """How one run of clauses is understood (`readings.Reading`)."""

    @property
    def statements(self) -> tuple[Statement, ...]:
        """What it states."""

    @property
    def gloss(self) -> str:
        """The kind that it only explains; empty when it states something."""

    @property
    def presents(self) -> frozenset[str]:
        """The marks that it only says to be there."""


Readings = Sequence[tuple[range, Read | None]]


def conclude(
    sentences: Sequence[Sentence],
    readings: Readings,
    digits: tuple[int, int] | None,
    disagree: frozenset[int] = frozenset(),
) -> tuple[list[Statement], list[str]]:
    """The statements of all sentences that are understood whole, and the text of those that are not. `disagree` are
    the sentences that name different digits."""
    unclear = {i for where, reading in readings if reading is None for i in where} | disagree
    # A definition that runs over several sentences falls with any of them.
    changed = True
    while changed:
        before = len(unclear)
        unclear |= {i for where, _ in readings if set(where) & unclear for i in where}
        changed = len(unclear) > before
    understood = [(w, r) for w, r in readings if r is not None and not set(w) & unclear]
    statements = [replace(s, sentence=sentences[w[0]].text) for w, r in understood if not r.gloss for s in r.statements]
    kinds = {s.kind for s in statements if not s.negated}
    unclear |= _unexplained(sentences, understood)
    for where, reading in understood:
        if not reading.gloss:
            continue
        if reading.gloss not in kinds:
            unclear |= set(where)
        statements += [
            replace(s, sentence=sentences[where[0]].text) for s in reading.statements if s.fields or s.mark.colour
        ]
    statements, lost = settled(_without_names(_with_others_for_boxes(statements)))
    statements, wrong = _with_digits(statements, digits)
    merged, clashing = _merged(_without_numbered(_without_echo(_by_their_signs(statements))))
    faulty = {s.sentence for s in (*lost, *wrong, *clashing, *_denied(statements), *_odd_and_even(statements))}
    unclear |= {i for i, s in enumerate(sentences) if s.text in faulty}
    gone = {sentences[i].text for i in unclear}
    kept = [s for s in merged if s.sentence not in gone]
    told = {sentences[w[0]].text: " ".join(sentences[i].text for i in w) for w, r in understood if r.statements}
    return with_sides(kept, told, OUTSIDE_KINDS), [sentences[i].text for i in sorted(unclear)]


def _unexplained(sentences: Sequence[Sentence], understood: Sequence[tuple[range, Read]]) -> set[int]:
    """Sentences that present marks of which nothing else is said: no other names them, and none goes on about them."""
    told = [
        ({named(c) for i in where for c in sentences[i].concepts}, where)
        for where, reading in understood
        if reading.statements or reading.gloss
    ]
    lost: set[int] = set()
    for where, reading in understood:
        if reading.presents and not any(
            reading.presents & names or (other.start == where.stop and not names & SUBJECTS) for names, other in told
        ):
            lost |= set(where)
    return lost


def _with_digits(
    statements: Sequence[Statement], digits: tuple[int, int] | None
) -> tuple[list[Statement], list[Statement]]:
    """Check the digits that bound a sandwich against the grid's; `ends` stays only where those are not known."""
    good: list[Statement] = []
    wrong: list[Statement] = []
    for statement in statements:
        ends = statement.fields.get("ends")
        if ends is None or digits is None:
            good.append(statement)
        elif ends == digits:
            good.append(replace(statement, fields={k: v for k, v in statement.fields.items() if k != "ends"}))
        else:
            wrong.append(statement)
    return good, wrong


def _merged(statements: Sequence[Statement]) -> tuple[list[Statement], list[Statement]]:
    """Join statements about the same kind of the same mark. Returns also those that contradict each other."""
    found: list[Statement] = []
    clashing: list[Statement] = []
    for new in statements:
        for at, old in enumerate(found):
            if not _same_thing(old, new):
                continue
            if clash(old, new) or _narrows(old, new):
                clashing += [old, new]
            else:
                found[at] = replace(old, fields={**old.fields, **new.fields}, mark=_joined(old.mark, new.mark))
            break
        else:
            found.append(new)
    return found, clashing


def _by_their_signs(statements: Sequence[Statement]) -> list[Statement]:
    """Statements of operations that signs stand for: the one that is named, or whichever is printed for several."""
    cages = [s for s in statements if s.kind == "cage" and "operation" in s.fields]
    several = len({s.fields["operation"] for s in cages}) > 1 and any("signed" in s.fields for s in cages)

    def told(statement: Statement) -> Statement:
        fields = {k: v for k, v in statement.fields.items() if k != "signed"}
        if several and statement.kind == "cage" and "operation" in fields:
            fields["operation"] = "printed"
        return replace(statement, fields=fields)

    return [told(s) for s in statements]


_NAME = 2
"""Words of a heading that only names a mark, at most: `Wedges.`, `The wedges.`"""


def _without_names(statements: Sequence[Statement]) -> list[Statement]:
    """The statements without the inequalities that are stated by nothing but the name of the signs, where a sentence
    says that signs mean something else."""
    otherwise = any(s.mark.shape == "sign" and s.kind in PAIR_KINDS and s.kind != "greater" for s in statements)
    return [s for s in statements if not (otherwise and s.kind == "greater" and len(s.sentence.split()) <= _NAME)]


def _with_others_for_boxes(statements: Sequence[Statement]) -> list[Statement]:
    """The statements without the denial of boxes where regions of other shapes stand in for them: `There are no boxes;
    instead the crooked regions each hold 1 to 9`."""
    crooked = any(s.kind == "boxes" and not s.negated and s.fields.get("irregular") for s in statements)
    return [s for s in statements if not (crooked and s.kind == "boxes" and s.negated)]


def _without_echo(statements: Sequence[Statement]) -> list[Statement]:
    """The statements without `the two numbers add up to that`, after the letters whose sums are meant."""
    valued = any(s.kind == "sum-pair" and "value" in s.fields and s.mark.letter for s in statements)
    return [
        s for s in statements if not (valued and s.kind == "sum-pair" and "value" not in s.fields and not s.mark.colour)
    ]


def _without_numbered(statements: Sequence[Statement]) -> list[Statement]:
    """The statements without ratios of marks that carry their number where such marks without one have another: the
    number tells them apart. `A plain black disc: twice. A black disc with a 3 in it: three times.`"""
    ratios = [s for s in statements if s.kind == "ratio-pair" and not s.negated]

    def carried(statement: Statement) -> bool:
        number = (
            rf"\b(?:with|bearing|containing|holding|marked|showing) (?:\w+ ){{0,2}}{statement.fields.get('ratio')}\b"
        )
        return re.search(number, statement.sentence) is not None

    def told_apart(statement: Statement) -> bool:
        plain = [s for s in ratios if s.fields.get("ratio") != statement.fields.get("ratio") and not carried(s)]
        return carried(statement) and any(s.mark == statement.mark for s in plain)

    return [s for s in statements if s not in ratios or not told_apart(s)]


def clash(a: Statement, b: Statement) -> bool:
    """Whether two statements about the same mark contradict each other, or one denies the other."""
    if a.kind == b.kind and a.negated != b.negated:
        return a.fields.get("of") == b.fields.get("of")
    return _same_thing(a, b) and any(a.fields[k] != b.fields[k] for k in a.fields.keys() & b.fields.keys())


def _odd_and_even(statements: Sequence[Statement]) -> list[Statement]:
    """Statements that make the digits at one mark both odd and even: one of them is of a mark that was not made out."""
    odd, even = ([s for s in statements if s.kind == kind and s.mark != MarkHint()] for kind in ("odd", "even"))
    return [s for one in odd for other in even if one.mark == other.mark for s in (one, other)]


def _denied(statements: Sequence[Statement]) -> list[Statement]:
    """Statements that the same text also denies, and their denials."""
    found: list[Statement] = []
    for no in (s for s in statements if s.negated):
        against = [
            s for s in statements if s.kind == no.kind and not s.negated and s.fields.get("of") == no.fields.get("of")
        ]
        found += [no, *against] if against else []
    return found


def _narrows(old: Statement, new: Statement) -> bool:
    """Whether repeats are told of cages of one colour after cages of any were spoken of."""
    return new.kind == "cage" and "repeats" in new.fields and bool(new.mark.colour) and not old.mark.colour


_TOLD_APART_BY_FIELD = {"all-marked": "of", "sum-pair": "value", "ratio-pair": "ratio"}


_OF_TWO_CELLS = frozenset(("consecutive-pair", "ratio-pair"))
_BETWEEN = {"dot": "dot", "circle": "dot", "bar": "bar", "diamond": "diamond", "square": "square"}
"""Marks between two cells that are not taken for each other, whatever their colours."""


def _same_thing(a: Statement, b: Statement) -> bool:
    if a.kind != b.kind or a.negated != b.negated:
        return False
    apart = _TOLD_APART_BY_FIELD.get(a.kind)
    if apart and a.fields.get(apart) != b.fields.get(apart):
        return False
    between = {_BETWEEN[s.mark.shape] for s in (a, b) if s.mark.shape in _BETWEEN}
    if a.kind in _OF_TWO_CELLS and len(between) > 1:
        return False
    return all(
        getattr(a.mark, f) == getattr(b.mark, f) or "" in (getattr(a.mark, f), getattr(b.mark, f))
        for f in ("colour", "letter", "style")
    )


def _joined(a: MarkHint, b: MarkHint) -> MarkHint:
    return MarkHint(
        a.shape or b.shape, a.colour or b.colour, a.place or b.place, a.letter or b.letter, a.style or b.style
    )
