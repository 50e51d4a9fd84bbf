"""From what the network of senses hears in a sentence to statements: the kind and its variants are heard, numbers and
looks are taken from the words."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence, Set

from recognise.rules.frames import OPERATIONS, bread
from recognise.rules.lexicon import bag
from recognise.rules.marks import LEAST_SUM, letter_sums
from recognise.rules.opined import VARIANT_FIELDS
from recognise.rules.pattern import Concepts, Fields, hint, named, values
from recognise.rules.sheet import Statement
from recognise.rules.stating import stated
from recognise.rules.words import UNKNOWN

_GAPS, _RATIOS, _SUMS = range(2, 8), range(2, 6), range(LEAST_SUM, 32)
"""Numbers that the rules of a kind may name."""
_NUMBERED = bag("DIGIT SMALLNUM CLUE NUM MANY COUNT RATIO QUOTIENT TIMES")
"""Words of a number that stands in the mark."""


def statements_heard(kind: str, variants: Set[str], concepts: Sequence[str]) -> list[Statement]:
    """The statements of a kind with what tells its variants apart (`slow`; `sum` and `differ`; a kind of pairs). None
    where the sentence, as reduced `concepts`, lacks a number that the kind needs, or the variants exclude each
    other."""
    told = tuple(c for c in concepts if c != UNKNOWN)
    if kind in ("all-marked", "!all-marked"):
        of = sorted(variants - OPERATIONS - VARIANT_FIELDS.keys())
        fields: list[dict[str, object]] = [{"of": one} for one in of] or [{}]
        return [Statement("all-marked", f, hint(told), negated=kind.startswith("!")) for f in fields]
    if kind.startswith("!"):
        return [Statement(kind[1:], negated=True)]
    told_apart = _told_apart(kind, variants)
    if told_apart is None:
        return []
    if kind in ("rows", "columns", "boxes"):
        return [Statement(kind, told_apart)]
    letters = letter_sums(told) if kind == "sum-pair" else []
    # That a sum goes on past the edge is heard, whether or not a word of the lexicon says so.
    named_too = _NUMBERS[kind]((*told, *(["WRAP"] if "wrap" in variants else []))) if kind in _NUMBERS else {}
    return letters or ([] if named_too is None else list(stated(kind, {**named_too, **told_apart}, told)))


def _told_apart(kind: str, variants: Set[str]) -> Fields | None:
    """The fields that variants stand for; None where they exclude each other. Both ways of a diagonal are none."""
    operations = sorted(variants & OPERATIONS)
    want = [VARIANT_FIELDS[variant] for variant in variants & VARIANT_FIELDS.keys()]
    fields = dict(want)
    if len(operations) > 1 or (len(want) > len(fields) and kind != "diagonal"):
        return None
    return ({"operation": operations[0]} if operations else {}) | (fields if len(want) == len(fields) else {})


def _gap(concepts: Concepts) -> Fields | None:
    gaps = {int(v) for name in ("GAP", "GE", "DIFF") for v in values(concepts, name)} or _numbers(concepts, _GAPS)
    return {"gap": gaps.pop()} if len(gaps) == 1 else None


def _ratio(concepts: Concepts) -> Fields | None:
    factors = {int(v) for v in values(concepts, "TIMES")} or _numbers(concepts, _RATIOS)
    if not factors:
        return {"ratio": "printed"} if _NUMBERED & {named(c) for c in concepts} else None
    return {"ratio": factors.pop()} if len(factors) == 1 else None


def _sum(concepts: Concepts) -> Fields | None:
    sums = _numbers(concepts, _SUMS)
    return {"value": sums.pop()} if len(sums) == 1 else None if sums else {}


def _numbers(concepts: Concepts, likely: range) -> set[int]:
    return {int(v) for v in values(concepts, "NUM") if int(v) in likely}


_NUMBERS: Mapping[str, Callable[[Concepts], Fields | None]] = {
    "gap-line": _gap,
    "ratio-pair": _ratio,
    "sandwich": bread,
    "sum-pair": _sum,
}
