"""What is written by hand in a grid."""

from __future__ import annotations

from dataclasses import dataclass

from ingest.page import Box
from recognise.draft import Doubt
from recognise.evidence import Guess
from schema.cells import Cell


@dataclass(frozen=True, slots=True)
class Pencilled:
    """Something written by hand in a cell. `digit` is what it reads as, None where it cannot be told; `guesses` are
    what it may be by its looks, '' for no digit."""

    cell: Cell
    box: Box
    digit: int | None
    confidence: float
    guesses: tuple[Guess, ...] = ()


@dataclass(frozen=True, slots=True)
class Hand:
    """All that is written by hand in a grid, and a doubt for each thing that may be either."""

    pencilled: tuple[Pencilled, ...] = ()
    doubts: tuple[Doubt, ...] = ()
