"""Which digits the rules name: `1 to 9`, `0 to 8`, `1 to 9 and the letters A to G`."""

from __future__ import annotations

from collections.abc import Sequence

from recognise.rules.lexicon import bag
from recognise.rules.pattern import named, values
from recognise.rules.sheet import DigitRange

_NO_DIGITS_OF_GRID = bag(
    "BETWEEN SUM TOTALWORD CLUE OUTSIDE START WRAP SIGN PILL TWODIGIT CIRCLE READ THERMO LINE ARROW DOT"
)
"""A range in a clause with one of these is about something else."""

_LETTERED = 10
"""The lowest number that a letter stands for."""


def stated_digits(clauses: Sequence[Sequence[str]]) -> tuple[DigitRange | None, frozenset[int]]:
    """The digits that the clauses name, None where they name none or disagree; and the places of clauses that
    disagree."""
    ranges: set[tuple[int, int]] = set()
    letters: set[str] = set()
    naming: set[int] = set()
    for at, clause in enumerate(clauses):
        if _NO_DIGITS_OF_GRID & {named(c) for c in clause}:
            continue
        for value in values(clause, "RANGE"):
            low, high = map(int, value.split("-"))
            if low >= _LETTERED and values(clause, "LETTERS"):
                continue  # `the letters A to C stand for 10 to 12`
            ranges.add((low, high))
            naming.add(at)
        letters |= set(values(clause, "LETTERS"))
        naming |= {at} if values(clause, "LETTERS") else set()
    figures = _without_values(ranges, letters)
    if ranges and not figures:
        return None, frozenset()  # the figures beside the letters were not made out: the grid shows them
    ranges = _of_units(figures, clauses)
    if len(ranges) > 1 or len(letters) > 1:
        return None, frozenset(naming)
    return _range(ranges, letters), frozenset()


def _without_values(ranges: set[tuple[int, int]], letters: set[str]) -> set[tuple[int, int]]:
    """The ranges without what letters stand for that another clause names: `the letters A to G, which stand for 10 to
    16`."""
    lengths = {len(_spelled(pair)) for pair in letters}
    return {(low, high) for low, high in ranges if low < _LETTERED or high - low + 1 not in lengths}


def _of_units(ranges: set[tuple[int, int]], clauses: Sequence[Sequence[str]]) -> set[tuple[int, int]]:
    """Of several ranges the one that rows, columns or boxes are said to hold, where the others lie within it and are
    told of something else: `if the rings are 2 and 6 the line may hold 3, 4 and 5`."""
    named_by_units = {
        (low, high)
        for clause in clauses
        if _UNITS & {named(c) for c in clause}
        for low, high in (tuple(map(int, value.split("-"))) for value in values(clause, "RANGE"))
    }
    if len(ranges) < 2 or len(named_by_units) != 1:
        return ranges
    (low, high) = next(iter(named_by_units))
    return named_by_units if all(low < a and b < high for a, b in ranges - named_by_units) else ranges


_UNITS = bag("ROW COLUMN BOX")


def _range(ranges: set[tuple[int, int]], letters: set[str]) -> DigitRange | None:
    spelled = _spelled(letters.pop()) if letters else []
    if not ranges:
        return DigitRange(1, len(spelled), dict(enumerate(spelled, 1))) if spelled else None
    low, high = ranges.pop()
    if high == _LETTERED - 1 + len(spelled):  # `1 to 12; A, B and C stand for 10, 11 and 12`
        high = _LETTERED - 1
    return DigitRange(low, high + len(spelled), {high + i: letter for i, letter in enumerate(spelled, 1)})


def _spelled(letters: str) -> list[str]:
    first, last = letters.split("-")
    return [chr(c) for c in range(ord(first), ord(last) + 1)]
