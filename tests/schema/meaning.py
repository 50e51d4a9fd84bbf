"""What each kind means, written a second time straight from the contract's table, on plain dictionaries and without a
line of the program: what `broken()` and the solver are tested against. Only whole grids are judged here."""

from __future__ import annotations

import re
from collections import Counter
from itertools import pairwise
from math import prod

Filled = dict[str, int]


def place(cell: str) -> tuple[int, int]:
    row, column = re.fullmatch(r"r(\d+)c(\d+)", cell).groups()
    return int(row), int(column)


def name(row: int, column: int) -> str:
    return f"r{row}c{column}"


def lines(grid: dict, filled: Filled) -> tuple[list[list[int]], list[list[int]]]:
    rows = [[filled[name(r, c)] for c in range(1, grid["columns"] + 1)] for r in range(1, grid["rows"] + 1)]
    return rows, [list(column) for column in zip(*rows, strict=True)]


def neighbours(grid: dict) -> list[tuple[str, str]]:
    cells = [(r, c) for r in range(1, grid["rows"] + 1) for c in range(1, grid["columns"] + 1)]
    return [(name(*a), name(*b)) for a in cells for b in cells if a < b and abs(a[0] - b[0]) + abs(a[1] - b[1]) == 1]


def moves(grid: dict, shape: set[tuple[int, int]]) -> list[tuple[str, str]]:
    cells = [(r, c) for r in range(1, grid["rows"] + 1) for c in range(1, grid["columns"] + 1)]
    return [
        (name(*a), name(*b))
        for a in cells
        for b in cells
        if a < b and tuple(sorted((abs(a[0] - b[0]), abs(a[1] - b[1])))) in shape
    ]


def related(rule: dict, one: int, other: int) -> bool:
    if rule["kind"] == "consecutive-pair":
        return one - other in (1, -1)
    if rule["kind"] == "ratio-pair":
        ratio = rule.get("ratio", 2)
        return one == ratio * other or one * ratio == other
    return one + other == rule["value"]


def seen_line(rule: dict, grid: dict, filled: Filled) -> list[int]:
    """The line from the clue's side."""
    rows, columns = lines(grid, filled)
    line = (columns if rule["side"] in ("top", "bottom") else rows)[rule["index"] - 1]
    return line[::-1] if rule["side"] in ("bottom", "right") else line


def sandwich(rule: dict, grid: dict, filled: Filled) -> bool:
    rows, columns = lines(grid, filled)
    line = (columns if rule["side"] in ("top", "bottom") else rows)[rule["index"] - 1]
    low, high = min(grid["digits"]), max(grid["digits"])
    if line.count(low) != 1 or line.count(high) != 1:
        return False
    if not rule.get("wrap", False):
        first, last = sorted((line.index(low), line.index(high)))
        return sum(line[first + 1 : last]) == rule["value"]
    turned = line[line.index(low) :] + line[: line.index(low)]
    return sum(turned[1 : turned.index(high)]) == rule["value"]


def cage(rule: dict, values: list[int]) -> bool:
    if not rule.get("repeats", False) and len(set(values)) < len(values):
        return False
    if "value" not in rule:
        return True
    top, *rest = sorted(values, reverse=True)
    operation = rule.get("operation", "sum")
    if operation == "sum":
        return sum(values) == rule["value"]
    if operation == "product":
        return prod(values) == rule["value"]
    if operation == "difference":
        return top - sum(rest) == rule["value"]
    return prod(rest) != 0 and top == rule["value"] * prod(rest)


def diagonal_cells(rule: dict, grid: dict) -> list[str]:
    row, column = place(rule["start"])
    found = []
    while 1 <= row <= grid["rows"] and 1 <= column <= grid["columns"]:
        found.append(name(row, column))
        row += 1 if "down" in rule["direction"] else -1
        column += 1 if "right" in rule["direction"] else -1
    return found


def all_marked(rule: dict, grid: dict, filled: Filled, rules: list[dict]) -> bool:
    dots = {"consecutive-pair", "ratio-pair"}
    exempting = dots if rule["of"] in dots else {rule["of"]}
    marked = {frozenset(r["cells"]) for r in rules if r["kind"] in exempting}
    relations = [r for r in rules if r["kind"] == rule["of"]] or [{"kind": rule["of"]}]
    return not any(
        related(relation, filled[a], filled[b])
        for a, b in neighbours(grid)
        if frozenset((a, b)) not in marked
        for relation in relations
    )


def distinct(values: list[int]) -> bool:
    return len(set(values)) == len(values)


def obeys(rule: dict, grid: dict, filled: Filled, rules: list[dict]) -> bool:  # noqa: C901
    """Whether a whole grid obeys one rule of a puzzle; `rules` are all of them, as in the puzzle file."""
    rows, columns = lines(grid, filled)
    everything = sorted(grid["digits"])
    at = [filled[cell] for cell in rule.get("path", [])]
    held = [filled[c] for c in rule["cells"]] if rule["kind"] != "boxes" and "cells" in rule else []
    match rule["kind"]:
        case "rows":
            return all(sorted(row) == everything for row in rows)
        case "columns":
            return all(sorted(column) == everything for column in columns)
        case "boxes":
            return all(sorted(filled[c] for c in box) == everything for box in rule["cells"])
        case "diagonal":
            size = grid["rows"]
            down = [rows[i][i] for i in range(size)]
            up = [rows[size - 1 - i][i] for i in range(size)]
            return distinct(down if rule["direction"] == "down" else up)
        case "extra-region":
            return distinct(held)
        case "thermometer":
            if rule.get("strict", True):
                return all(a < b for a, b in pairwise(at))
            return all(a <= b for a, b in pairwise(at))
        case "arrow":
            number = "".join(str(filled[c]) for c in sorted(rule["circle"], key=place))
            return int(number) == sum(filled[c] for c in rule["shaft"])
        case "palindrome":
            return at == at[::-1]
        case "gap-line":
            return all(abs(a - b) >= rule["gap"] for a, b in pairwise(at))
        case "run-line":
            return sorted(at) == list(range(min(at), min(at) + len(at)))
        case "between-line":
            low, high = sorted((at[0], at[-1]))
            return all(low < digit < high for digit in at[1:-1])
        case "box-sum-line":
            boxes = next(r["cells"] for r in rules if r["kind"] == "boxes")
            totals = {sum(filled[c] for c in rule["path"] if c in box) for box in boxes if set(box) & set(rule["path"])}
            return len(totals) == 1
        case "sum-line":
            return sum(at) == rule["value"]
        case "cage":
            return cage(rule, held)
        case "consecutive-pair" | "ratio-pair" | "sum-pair":
            return related(rule, *held)
        case "greater":
            return filled[rule["greater"]] > filled[rule["less"]]
        case "corner-digits":
            return not Counter(rule["digits"]) - Counter(held)
        case "even":
            return all(digit % 2 == 0 for digit in held)
        case "odd":
            return all(digit % 2 == 1 for digit in held)
        case "sandwich":
            return sandwich(rule, grid, filled)
        case "skyscraper":
            line = seen_line(rule, grid, filled)
            return sum(all(d > e for e in line[:i]) for i, d in enumerate(line)) == rule["value"]
        case "x-sum":
            line = seen_line(rule, grid, filled)
            return line[0] <= len(line) and sum(line[: line[0]]) == rule["value"]
        case "diagonal-sum":
            return sum(filled[c] for c in diagonal_cells(rule, grid)) == rule["value"]
        case "all-marked":
            return all_marked(rule, grid, filled, rules)
        case "knight-apart":
            return all(filled[a] != filled[b] for a, b in moves(grid, {(1, 2)}))
        case "king-apart":
            return all(filled[a] != filled[b] for a, b in moves(grid, {(0, 1), (1, 1)}))
        case "neighbours-not-consecutive":
            return all(abs(filled[a] - filled[b]) != 1 for a, b in neighbours(grid))
        case "unread-mark":
            return True
    raise KeyError(rule["kind"])
