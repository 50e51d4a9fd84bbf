"""What a mark means: what the rules text says of such marks, or else the house style, or else what every publication
means by it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Any

from pydantic import ValidationError

from recognise.interpret.hints import DOUBLE, RINGED, as_letter, describes, fits
from recognise.rules import RuleSheet, Statement
from schema.kinds import KINDS, kind_named
from schema.kinds.base import Constraint
from schema.marks import Seen
from schema.numerals import roman

Stated = tuple[Constraint, ...]

UNSAID = "no rule on the page says what it means"
AS_NUMERAL = "is taken for a numeral among numbers"
"""Why a mark has no meaning of which no sentence speaks."""
NUMERALS = ("V", "X")
MAY_BE_NUMBERS = ("", "letter", "number", "sign")
"""What rules call marks that may be numbers: signs that say what two digits add up to."""


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a mark is taken for. `constraints` is empty when nothing explains it; `statements` are what it comes from,
    none for common practice; `others` are kinds that it might be as well; `house` says that the house style settled it;
    `asks` is what a person must look at about it."""

    constraints: Stated
    statements: tuple[Statement, ...] = ()
    others: tuple[type[Constraint], ...] = ()
    why_not: str = ""
    house: bool = False
    asks: tuple[str, ...] = ()


def meaning_of(seen: Seen, sheet: RuleSheet | None, house: Sequence[Statement] = ()) -> Meaning:
    """Find the one kind that explains a mark. `sheet` is None where the page prints no rules; `house` is what the house
    style says of marks, over which the page's own rules have the word."""
    by_house = _stated(seen, house)
    numbers = _numerals(seen, sheet.statements) if sheet is not None else []
    if sheet is not None:
        stated = _stated(seen, sheet.statements)
        meaning = _built(seen, stated)
        # What is said of signs may be said of a V, but of no X.
        if stated and (meaning.constraints or not numbers):
            return _compared(meaning, _built(seen, by_house)) if by_house else meaning
    if by_house:
        meaning = _built(seen, by_house)
        return replace(meaning, statements=(), house=bool(meaning.constraints))
    if numbers:
        return replace(_built(seen, numbers), asks=(f"“{seen.text}” {AS_NUMERAL}",))
    return _by_practice(seen)


def _by_practice(seen: Seen) -> Meaning:
    """What every publication means by a mark."""
    kinds = [kind for kind in KINDS if seen.family in kind.unmistakable]
    if len(kinds) == 1:
        try:
            return Meaning(kinds[0].from_mark(seen, {}))
        except ValueError as fault:
            return Meaning((), why_not=_told(fault))
    possible = tuple(kind for kind in KINDS if readings_as(kind, seen))
    if len(possible) == 1 and len(found := readings_as(possible[0], seen)) == 1 and seen.text:
        # What is printed with it can be read by one kind only.
        return Meaning(found[0][1])
    return Meaning((), others=possible, why_not=UNSAID)


def _numerals(seen: Seen, statements: Iterable[Statement]) -> list[Statement]:
    """What is said of numbers on edges, of a numeral among them: V and X are printed for the two commonest sums."""
    if seen.family != "edge" or seen.shape != "letter" or seen.text not in NUMERALS:
        return []
    return [s for s in _stated(replace(seen, text="5", shape="number"), statements) if s.kind == "sum-pair"]


def readings_as(
    kind: type[Constraint], seen: Seen, stated: Sequence[Mapping[str, Any]] = ()
) -> list[tuple[Mapping[str, Any], Stated]]:
    """Every way to read a mark as a kind where no rule says how: with each setting of the kind's switches, where it
    needs no other field, and with the fields that somebody has `stated` for such a kind. A kind that takes no notice of
    what is printed with the mark is no reading of it."""
    if seen.family == "rule" or seen.family not in kind.marks:
        return []
    bare = _made(kind, replace(seen, text=""), {}) if seen.text else None
    found = []
    for fields in (*stated, *(fields for fields in _switched(kind) if fields not in stated)):
        made = _made(kind, seen, fields)
        if made is not None and (bare is None or fields or made != bare):
            found.append((fields, made))
    return [] if bare is not None and bare == _made(kind, seen, {}) else found


def _switched(kind: type[Constraint]) -> list[Mapping[str, Any]]:
    switches = [name for name, field in kind.model_fields.items() if field.annotation is bool]
    choices = product((False, True), repeat=len(switches))
    return [dict(zip(switches, choice, strict=True)) for choice in choices]


def _made(kind: type[Constraint], seen: Seen, fields: Mapping[str, Any]) -> Stated | None:
    try:
        return kind.from_mark(seen, fields)
    except ValueError:
        return None


def fields_for(kind: type[Constraint], statement: Statement) -> dict[str, object]:
    """What a sentence says of the kind's own fields, without what it says of the mark or the digits, or leaves to what
    is printed with the mark."""
    return {
        name: value
        for name, value in statement.fields.items()
        if name in kind.model_fields and name != "kind" and value != "printed"
    }


def built(statement: Statement, seen: Seen) -> Stated:
    """What a mark states by a sentence. ValueError where it can state nothing of the kind."""
    kind = kind_named(statement.kind)
    return kind.from_mark(seen, fields_for(kind, statement))


def _stated(seen: Seen, statements: Iterable[Statement]) -> list[Statement]:
    fitting = [
        s
        for s in statements
        if not s.negated
        and seen.family in kind_named(s.kind).marks
        and _same_way(s, seen)
        and _is_printed(s, seen)
        and (fits(s.mark, seen) or _says_its_number(s, seen))
    ]
    # One sentence may speak of several numbers and numerals, `X for ten, XIII for thirteen`: each says which it is.
    fitting = [s for s in fitting if _says_its_number(s, seen)] or fitting
    # What is said of the number in a dot has the word over what is said of dots, and of numbers.
    fitting = [s for s in fitting if seen.shape == "dot" and _left_to_print(s) and describes(s.mark)] or fitting
    # Where ringed numbers mean one thing, what is said of numbers is said of the others.
    fitting = [s for s in fitting if s.mark.style == RINGED] or fitting
    fitting = _by_strokes(seen, fitting)
    # A sentence that describes the mark it speaks of has the word over one that does not, and one about a kind that is
    # printed so over one about a kind that is printed so now and then.
    described = [s for s in fitting if describes(s.mark)] or fitting
    usual = min((kind_named(s.kind).marks.index(seen.family) for s in described), default=0)
    return [s for s in described if kind_named(s.kind).marks.index(seen.family) == usual]


def _by_strokes(seen: Seen, fitting: list[Statement]) -> list[Statement]:
    """What is said of double lines is said of a line seen as two strokes, and not of one whose colour another sentence
    names."""
    if seen.shape == "outline":
        return [s for s in fitting if s.mark.style == DOUBLE] or fitting
    if any(s.mark.colour and s.mark.style != DOUBLE for s in fitting):
        return [s for s in fitting if s.mark.style != DOUBLE or s.mark.colour]
    return fitting


def _says_its_number(statement: Statement, seen: Seen) -> bool:
    """Whether a number or numeral between two cells is the sum that a sentence states of such marks."""
    if seen.family != "edge" or statement.kind != "sum-pair" or statement.mark.shape not in MAY_BE_NUMBERS:
        return False
    text = as_letter(seen.text.strip())
    stated = statement.fields.get("value")
    return stated is not None and stated == (int(text) if text.isdecimal() else roman(text))


def _same_way(statement: Statement, seen: Seen) -> bool:
    """Whether a sentence that says which way a diagonal runs means the one that is drawn."""
    return seen.direction is None or statement.fields.get("direction") in (None, seen.direction)


_TIMES = re.compile(r"^[×x] ?|(?<=\d) ?[×x]$")
"""What a ratio is printed with: `×2`."""


def _is_printed(statement: Statement, seen: Seen) -> bool:
    """Whether the number that a sentence leaves to the mark stands in it."""
    return not _left_to_print(statement) or _TIMES.sub("", seen.text.strip()).isdecimal()


def _left_to_print(statement: Statement) -> bool:
    return statement.fields.get("ratio") == "printed"


def _built(seen: Seen, statements: Sequence[Statement]) -> Meaning:
    """Build the mark by each statement that fits; it has a meaning when exactly one can."""
    made: list[tuple[Statement, Stated]] = []
    faults: list[str] = []
    for statement in statements:
        try:
            made.append((statement, built(statement, seen)))
        except ValueError as fault:
            faults.append(_told(fault))
    if not made:
        return Meaning((), why_not="; ".join(faults))
    constraints = made[0][1]
    if any(other != constraints for _, other in made[1:]):
        kinds = tuple(dict.fromkeys(kind_named(s.kind) for s, _ in made))
        return Meaning((), others=kinds, why_not="several rules on the page may speak of it")
    return Meaning(constraints, tuple(s for s, _ in made))


def _compared(meaning: Meaning, by_house: Meaning) -> Meaning:
    """The page's own rules have the word over the house style; that they say otherwise is for a person."""
    if not by_house.constraints or by_house.constraints == meaning.constraints:
        return meaning
    why = f"the house style says {by_house.constraints[0].name} here, the rules on the page say otherwise"
    return replace(meaning, asks=(*meaning.asks, why))


def _told(fault: ValueError) -> str:
    """What is wrong with a mark, in one line."""
    if isinstance(fault, ValidationError):
        return "; ".join(f"{'.'.join(map(str, error['loc']))}: {error['msg'].lower()}" for error in fault.errors())
    return str(fault)
