"""What is held against one another: the source, and one grid of the proof with its words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from clueprint.compare.match import cells_on
from clueprint.compare.printed import Printed
from clueprint.compare.result import Change, Finding
from clueprint.compare.source import places
from clueprint.compare.words import PrintedWords
from recognise.draft import Doubt, Item, Polygon, box_polygon
from schema.cells import Cell
from schema.kinds.base import Constraint
from schema.puzzle import Puzzle

_BESIDE = ("outside", "outside-diagonal", "rule")
"""Families that do not stand on the cells that they speak of."""
OVERLOOKED = "; there is ink, and it may have been overlooked"
NEAR = "; something that was not read stands on its cells"


@dataclass(frozen=True)
class Held:
    """The source against one grid of the proof. `words` are those that the proof prints for this grid."""

    source: Puzzle
    proof: Printed
    words: PrintedWords

    @property
    def by_vectors(self) -> bool:
        """Whether a PDF draws the grid, so that nothing of it can be overlooked as on a picture."""
        return self.proof.grid.looked.by_vectors

    @cached_property
    def by_text(self) -> bool:
        """Whether the figures of the puzzle are those of a PDF's text, and none is read by its looks."""
        vectors = self.proof.grid.page.vectors
        glyphs = () if vectors is None else vectors.glyphs
        figures = sum(glyph.visible and glyph.text.isdigit() for glyph in glyphs)
        return self.words.exact or figures >= max(1, len(self.source.givens))

    @cached_property
    def places(self) -> dict[str, Polygon]:
        """Where each item of the source should stand."""
        return places(self.source)

    def finding(
        self, why: str, change: Change, where: Polygon | None, *, sure: bool, item: str | None = None,
        expected: Any = None, found: Any = None,
    ) -> Finding:  # fmt: skip
        """A finding at a polygon in cells; one without is about the whole grid."""
        on_page = self.proof.grid.corners if where is None else self.proof.grid.on_page(where)
        return Finding(why, item, change, expected, found, self.proof.grid.page.number, on_page, sure=sure)

    def doubts(self, index: int, may_be: bool = False) -> str:
        """What is in doubt about an item, to be put behind what is said of it."""
        said = [doubt.why for doubt in self.proof.doubts.get(index, ())]
        if may_be:
            said.append("it may be read as in the source")
        elif not said and not self.proof.is_sure(index):
            said.append("it was hard to read")
        return f" ({'; '.join(said)})" if said else ""

    def cells(self, *constraints: Constraint | None) -> frozenset[Cell]:
        """The cells that marks stand on; none for numbers beside the grid."""
        on_grid = (c for c in constraints if c is not None and c.marks[0] not in _BESIDE)
        return frozenset(cell for c in on_grid for cell in cells_on(self.source.grid, c))


def square(cell: Cell) -> Polygon:
    """The place of a cell."""
    return box_polygon((cell.column - 1, cell.row - 1, cell.column, cell.row))


def unread_words(unread: Item | Doubt | None) -> str:
    """That something stands there which may be what is missing."""
    if unread is None:
        return ""
    return "; something stands there that was not read" + (f" ({unread.why})" if isinstance(unread, Doubt) else "")


def split(findings: Sequence[Finding]) -> tuple[list[Finding], list[Finding]]:
    """Differences, and what a person must look at."""
    return [f for f in findings if f.sure], [replace(f, sure=False) for f in findings if not f.sure]
