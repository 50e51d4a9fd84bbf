"""Small pages for the tests of reading: 4x4 puzzles drawn by ourselves, which read in a fraction of a second."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from PIL import Image

from clueprint.draw import draw
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.boxes import Boxes
from schema.kinds.columns import Columns
from schema.kinds.rows import Rows
from schema.puzzle import Puzzle

RULES = "Place the digits 1 to 4 once in every row, column and box."
UNIQUE = {"r1c1": 1, "r1c2": 2, "r1c3": 3, "r2c1": 3, "r2c3": 1, "r3c1": 2, "r3c2": 1}
OTHER = {"r1c1": 4, "r1c2": 3, "r1c3": 2, "r2c1": 2, "r2c3": 4, "r3c1": 3, "r3c2": 4}


def small(givens: dict[str, int] | None = None) -> Puzzle:
    """A 4x4 whose givens (UNIQUE by default) leave exactly one solution."""
    grid = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))
    return Puzzle(
        title="Low Tide",
        setter="Fixture Press",
        rules_text=RULES,
        grid=grid,
        givens={Cell.parse(cell): digit for cell, digit in (UNIQUE if givens is None else givens).items()},
        constraints=(Rows(), Columns(), Boxes.regular(grid, 2, 2)),
    )


def page(folder: Path, name: str, givens: dict[str, int] | None = None) -> Path:
    """A page of one puzzle as a file; the suffix says of what make."""
    path = folder / name
    if path.suffix in (".pdf", ".png"):
        draw(small(givens), path)
        return path
    picture(folder, givens).save(path)
    return path


def picture(folder: Path, givens: dict[str, int] | None = None) -> Image.Image:
    """The upper half of such a page as pixels."""
    drawn = folder / "drawn.png"
    draw(small(givens), drawn)
    with Image.open(drawn) as whole:
        image = whole.convert("RGB")
    drawn.unlink()
    return image.crop((0, 0, image.width, image.height // 2))


def blank(size: tuple[int, int] = (600, 800)) -> Image.Image:
    """A page with nothing on it."""
    return Image.new("RGB", size, "white")


def stacked(upper: Image.Image, lower: Image.Image) -> Image.Image:
    """Two pictures on one page, one above the other."""
    return Image.fromarray(np.vstack([np.asarray(upper), np.asarray(lower)]))
