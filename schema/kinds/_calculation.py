"""Sum, difference, product and quotient of a group of digits: in words, for partly filled groups, and for a solver.

A difference is the largest digit less the sum of the others, a quotient the largest divided by the product of the
others, as cages with signs are used in the trade (common practice, no source)."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import product
from math import prod
from typing import Literal

from schema.cells import Cell
from schema.kinds._totals import sums_of
from schema.kinds.base import Amount, Board
from schema.words import added, worked

Operation = Literal["sum", "difference", "product", "quotient"]
_Row = tuple[int, ...]

_LONGEST_TABLE = 1500
"""Rows of a table that still propagate faster than arithmetic: those of three cells of nine digits, or two of 25."""


def result(operation: Operation, digits: Sequence[int]) -> int | None:
    """What the digits make; None for a quotient that is no whole number."""
    if operation == "sum":
        return sum(digits)
    if operation == "product":
        return prod(digits)
    largest, *others = sorted(digits, reverse=True)
    if operation == "difference":
        return largest - sum(others)
    divisor = prod(others)
    return largest // divisor if divisor and largest % divisor == 0 else None


def in_words(operation: Operation, digits: Sequence[int]) -> str:
    """The arithmetic of the digits in hand: `3 x 4 = 12`."""
    if operation == "sum" or not digits:
        return added(digits)
    if operation == "product":
        return worked(digits, "x", prod(digits))
    ordered = sorted(digits, reverse=True)
    sign = "-" if operation == "difference" else ":"
    made = result(operation, ordered)
    return worked(ordered, sign, made) if made is not None else f"{f' {sign} '.join(map(str, ordered))}"


def reaches(
    operation: Operation, value: int, held: Sequence[int], empty: int, choices: tuple[int, ...], distinct: bool
) -> bool:
    """Whether digits in hand and `empty` more out of `choices` can make the value. `distinct`: no choice twice."""
    if operation == "sum":
        return value - sum(held) in sums_of(empty, choices, distinct)
    if operation == "product":
        return value in _times(prod(held), empty, choices, distinct, value)
    return any(
        _largest_fits(operation, value, largest, rest, count, tuple(d for d in choices if d <= largest), distinct)
        for largest, rest, count in _largest(held, empty, choices)
    )


def _largest(held: Sequence[int], empty: int, choices: Iterable[int]) -> Iterable[tuple[int, tuple[int, ...], int]]:
    """Each digit that may be the largest, with the others in hand and the number of cells still to fill."""
    top = max(held, default=0)
    if held:
        others = list(held)
        others.remove(top)
        yield top, tuple(others), empty
    if empty:
        yield from ((digit, tuple(held), empty - 1) for digit in choices if digit >= top)


def _largest_fits(
    operation: Operation,
    value: int,
    largest: int,
    rest: tuple[int, ...],
    empty: int,
    choices: tuple[int, ...],
    distinct: bool,
) -> bool:
    if distinct:
        choices = tuple(d for d in choices if d != largest)
    if operation == "difference":
        return largest - value - sum(rest) in sums_of(empty, choices, distinct)
    return any(
        value * divisor == largest and divisor for divisor in _times(prod(rest), empty, choices, distinct, largest)
    )


@lru_cache(maxsize=4096)
def _times(start: int, count: int, choices: tuple[int, ...], distinct: bool, most: int) -> frozenset[int]:
    """Every product of `start` and `count` choices that is not above `most`; start and choices are 0 or more."""
    by_count: list[set[int]] = [{start}] + [set() for _ in range(count)]
    if distinct:
        for choice in choices:
            for taken in range(count, 0, -1):
                by_count[taken] |= _up_to(by_count[taken - 1], (choice,), most)
    else:
        for taken in range(count):
            by_count[taken + 1] = _up_to(by_count[taken], choices, most)
    return frozenset(by_count[count])


def _up_to(products: Iterable[int], choices: Iterable[int], most: int) -> set[int]:
    # A product above the bound may still be brought to 0, so one stand-in for all of them is kept.
    made = {one * choice for one in products for choice in choices}
    return {p for p in made if p <= most} | ({most + 1} if any(p > most for p in made) else set())


def post(board: Board, operation: Operation, value: int, cells: Sequence[Cell], distinct: bool) -> None:
    """The cells' digits make the value; that they differ (`distinct`) is posted elsewhere and only helps here."""
    digits = board.grid.digits
    if len(digits) ** len(cells) <= _LONGEST_TABLE:
        rows = _rows(operation, digits, len(cells), distinct).get(value, [])
        board.table([board.digit(cell) for cell in cells], rows)
    elif operation == "sum":
        board.require(sum(map(board.digit, cells)) == value)
    elif operation == "product":
        _post_product(board, value, cells)
    else:
        _post_largest(board, operation, value, cells)


@lru_cache(maxsize=64)
def _rows(operation: Operation, digits: tuple[int, ...], count: int, distinct: bool) -> dict[int, list[_Row]]:
    """The rows of so many digits by what they make; a reading is proved with each of many totals."""
    found: dict[int, list[_Row]] = {}
    for row in product(digits, repeat=count):
        made = result(operation, row) if not distinct or len(set(row)) == len(row) else None
        if made is not None:
            found.setdefault(made, []).append(row)
    return found


def _post_product(board: Board, value: int, cells: Sequence[Cell]) -> None:
    """A product by the exponents of its primes: sums, which a solver handles better than multiplication."""
    if value == 0:
        board.any_of([board.holds(cell, 0) for cell in cells])
        return
    for cell in cells:
        for digit in board.grid.digits:
            if digit == 0 or value % digit:
                board.any_of([board.negated(board.holds(cell, digit))])
    for prime in _primes(max(board.grid.digits)):
        board.require(sum(_exponent(board, cell, prime) for cell in cells) == _power(value, prime))
    _post_no_other_prime(board, value)


def _post_largest(board: Board, operation: Operation, value: int, cells: Sequence[Cell]) -> None:
    """One cell, the largest, against all others."""
    flags = [board.flag() for _ in cells]
    board.exactly_one(flags)
    if operation == "difference":
        total = sum(map(board.digit, cells))
        for flag, cell in zip(flags, cells, strict=True):
            board.require(2 * board.digit(cell) - total == value, only_if=[flag])
        return
    if value == 0:
        board.any_of([])  # the largest is 0 only where all are, and nothing is divided by 0
        return
    for cell in cells:
        board.any_of([board.negated(board.holds(cell, 0))])
    for prime in _primes(max(board.grid.digits)):
        exponents = [_exponent(board, cell, prime) for cell in cells]
        total = sum(exponents)
        for flag, exponent in zip(flags, exponents, strict=True):
            board.require(2 * exponent - total == _power(value, prime), only_if=[flag])
    _post_no_other_prime(board, value)


def _post_no_other_prime(board: Board, value: int) -> None:
    """A value with a prime above every digit cannot be made."""
    rest = value
    for prime in _primes(max(board.grid.digits)):
        rest //= prime ** _power(value, prime)
    if rest > 1:
        board.any_of([])


def _exponent(board: Board, cell: Cell, prime: int) -> Amount:
    digits = [digit for digit in board.grid.digits if digit and digit % prime == 0]
    return sum(_power(digit, prime) * board.holds(cell, digit) for digit in digits)


def _power(number: int, prime: int) -> int:
    power = 0
    while number % prime == 0:
        number //= prime
        power += 1
    return power


@lru_cache(maxsize=8)
def _primes(most: int) -> tuple[int, ...]:
    return tuple(n for n in range(2, most + 1) if all(n % divisor for divisor in range(2, n)))
