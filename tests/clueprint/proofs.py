"""Proofs as they would be read, made without a page: every item of a puzzle, sure and in its place."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from clueprint.compare.proof import Proof, ProofGrid
from clueprint.compare.source import is_drawn
from ingest.page import Frame, Page, VectorGlyph, Vectors
from recognise.draft import Alternative, Doubt, Draft, Given, Item, box_polygon
from recognise.evidence import Flat, Lattice, Words
from recognise.grids import Boxes as SeenBoxes
from recognise.looking import Looked
from schema.kinds.boxes import Boxes
from schema.puzzle import Puzzle

CELL = 20
"""Pixels a cell; the grid stands one cell from the top and left of its page."""
FOOT = "continuedonpageseven"
"""Something in the page's text layer, so that its words count as text and not as a picture."""


def read_as(puzzle: Puzzle, by_vectors: bool = True, number: int = 1) -> ProofGrid:
    """The grid of a proof that prints this puzzle and nothing else, read without a doubt."""
    rows, columns = puzzle.grid.rows, puzzle.grid.columns
    height, width = (rows + 2) * CELL, (columns + 2) * CELL
    image = np.full((height, width, 3), 255, np.uint8)
    across, down = np.meshgrid(np.arange(width, dtype=np.float32), np.arange(height, dtype=np.float32))
    vectors = Vectors((), tuple(map(_letter, range(len(FOOT)))), ()) if by_vectors else None
    page = Page(Path("proof.pdf"), "0" * 64, number, Frame(float(width), float(height), "pt"), image, 1.0, vectors)
    points = np.stack(np.meshgrid(np.arange(columns + 1), np.arange(rows + 1)), axis=-1) * float(CELL) + CELL
    boxes = next((c.cells for c in puzzle.constraints if isinstance(c, Boxes)), None)
    looked = Looked(
        Lattice(points),
        Flat(image, rows, columns, CELL, 1.0, across, down),
        SeenBoxes(boxes, "regular", 1.0),
        None,
        (),
        None,
        by_vectors=by_vectors,
    )
    words = Words(puzzle.title, puzzle.setter, puzzle.rules_text)
    return ProofGrid(page, looked, words, Draft(puzzle.grid, tuple(items_of(puzzle)), words))


def _letter(place: int) -> VectorGlyph:
    box = (5.0 * place, 0.0, 5.0 * place + 5, 6.0)
    return VectorGlyph(FOOT[place], box, 6.0, "Text", (0, 0, 0), upright=True, visible=True)


def items_of(puzzle: Puzzle) -> list[Item]:
    """The items that a page shows of a puzzle."""
    found = []
    for cell, digit in puzzle.givens.items():
        box = (cell.column - 1, cell.row - 1, cell.column, cell.row)
        found.append(Item(Given(cell, digit), box_polygon(box), 1.0, "vector"))
    for constraint in puzzle.constraints:
        if is_drawn(constraint):
            found.append(Item((constraint,), box_polygon((0, 0, 1, 1)), 1.0, "vector"))
    return found


def proof_of(*grids: ProofGrid) -> Proof:
    """A proof with these grids."""
    return Proof(grids, (), grids[0].page if grids else None)


__all__ = ["CELL", "Alternative", "Doubt", "items_of", "proof_of", "read_as"]
