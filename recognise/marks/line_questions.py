"""What is asked about a line that the network sees, in words. Who settles such a question knows it by them."""

from __future__ import annotations

import re
from collections.abc import Iterable

from schema.cells import Cell

BULB_UNSEEN = "its bulb is not seen"
HEAD_UNSEEN = "its head is not seen"
KIND_UNSURE = "what kind of line it is was hard to tell"
LITTLE_INK = "there is little ink between"
_FADED = re.compile(r"what looks like a line through (r\d+c\d+(?:, r\d+c\d+)*) is hardly printed")


def joined_words(one: Cell, other: Cell) -> str:
    """The question whether a step is drawn that no line was found to have."""
    return f"perhaps a line joins {one} and {other}"


def not_joined_words(one: Cell, other: Cell) -> str:
    """The question whether a step of a line is drawn."""
    return f"perhaps {one} and {other} are not joined"


def little_ink_words(one: Cell, other: Cell) -> str:
    """The question whether a step of a line is drawn that hardly shows."""
    return f"{LITTLE_INK} {one} and {other}"


def bulb_words(cell: Cell) -> str:
    """The question whether a tube has a bulb in a cell."""
    return f"whether a bulb sits on {cell} was hard to tell"


def faded_words(cells: Iterable[Cell]) -> str:
    """What is left out as print of the other side."""
    return f"what looks like a line through {', '.join(map(str, cells))} is hardly printed"


def cells_of_faded(why: str) -> frozenset[Cell]:
    """The cells of a line that such a question is about; none where it is about something else."""
    told = _FADED.fullmatch(why)
    return frozenset(map(Cell.parse, told[1].split(", "))) if told else frozenset()


def goes_on_words(cell: Cell, beyond: Cell) -> str:
    """The question whether a line has one more step."""
    return f"perhaps it also goes from {cell} to {beyond}"
