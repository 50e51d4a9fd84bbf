"""What is asked about circles and squares in cells that are left out, in words. Who settles such a question knows it by
them."""

from __future__ import annotations

import re
from collections.abc import Iterable

from schema.cells import Cell

HARDLY, THROUGH = "is hardly printed", "shows through from the other side"
_LEFT_OUT = re.compile(rf"what looks like (circle|square)s in (r\d+c\d+(?:, r\d+c\d+)*) ({HARDLY}|{THROUGH})")


def hardly_printed_words(name: str, cells: Iterable[Cell]) -> str:
    """What may be print of the other side, or of this one."""
    return f"what looks like {name}s in {', '.join(map(str, cells))} {HARDLY}"


def through_words(name: str, cells: Iterable[Cell]) -> str:
    """What is far too pale for print of this side where the press took ink at all."""
    return f"what looks like {name}s in {', '.join(map(str, cells))} {THROUGH}"


def left_out(why: str) -> tuple[str, tuple[Cell, ...], bool] | None:
    """The name of the marks that such a question is about, their cells, and whether they plainly show through; None
    where it is about something else."""
    told = _LEFT_OUT.fullmatch(why)
    return (told[1], tuple(map(Cell.parse, told[2].split(", "))), told[3] == THROUGH) if told else None
