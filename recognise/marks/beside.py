"""The links of one cell, and whether anything goes on along them."""

from __future__ import annotations

from collections.abc import Iterable

from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.network import Chances
from recognise.marks.steps import KINDS
from schema.cells import Cell

SURELY_RINGED = 0.9995
"""What rules that know only lines between circles make of a circle that the network is sure of at 0.95."""


def around(cell: Cell, chances: Chances) -> Iterable[tuple[frozenset[Cell], dict[str, float]]]:
    """The possible links of a cell that are not taken for drawn, each with the chance of every kind."""
    yield from ((pair, chance) for pair, chance in links_at(cell, chances) if chance["NONE"] > DRAWN)


def links_at(cell: Cell, chances: Chances) -> Iterable[tuple[frozenset[Cell], dict[str, float]]]:
    """All links of a cell, each with the chance of every kind."""
    for down in (-1, 0, 1):
        for right in (-1, 0, 1):
            other = Cell(cell.row + down, cell.column + right)
            inside = 1 <= other.row <= chances.rows and 1 <= other.column <= chances.columns
            if other != cell and inside:
                yield frozenset((cell, other)), chances.link(cell, other)


def leads_nowhere(cell: Cell, beyond: Cell, chances: Chances) -> bool:
    """Whether a step out of a line that has all its circles makes no other line: from there nothing goes on, not even
    in doubt, but lines that surely end there in a circle, or one that surely runs through, for none branches. One step
    between two circles has no cell between them."""
    ways = [(pair, chance) for pair, chance in links_at(beyond, chances) if cell not in pair]
    drawn = [drawn_chance(chance) for _, chance in ways if chance["NONE"] <= DRAWN]
    through = len(drawn) == 2 and min(drawn) >= MIDDLING[1]
    closed = not drawn or through or chances.node(beyond, "CIRCLE") >= SURELY_RINGED
    return closed and all(drawn_chance(chance) <= MIDDLING[0] for _, chance in ways if chance["NONE"] > DRAWN)


def drawn_chance(chance: dict[str, float]) -> float:
    """The probability that a line is drawn, of whatever kind."""
    return sum(chance[name] for name in KINDS)
