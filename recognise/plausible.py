"""Whether a lattice with what stands in it is a puzzle: filled answers, tables, calendars and word grids are not."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from recognise.evidence import Evidence, Glyph
from recognise.interpret import characters_in_cells, not_in_cages
from schema.cells import Cell

FILLED = 0.97
"""From this share of cells with a character on, the grid is an answer, not a question. A puzzle that gives all but two
cells of 81 is beyond anything printed."""

SURE = 0.6
"""Characters are counted from this confidence on."""

FOREIGN_TO_GRID = 0.2
"""Share of cells that may hold what is no digit of a grid of that size; in tables and calendars more do."""

REPEATED = 0.3
"""Share of characters that may repeat one of their row or column; hardly any do in a puzzle, most do in a table."""

FEW = 3
"""So many cells prove nothing: they may have been misread."""


MIDDLE = 0.2
"""In cells: characters of any size that stand so near to the middle of a cell fill it; the small ones of puzzles stand
in corners and on lines."""


STRADDLED = 0.8
"""Share of the edges of one lattice line with a number on them from which on the line runs through a column of a table:
where numbers on edges are marks of a puzzle, they stand on few edges of a line, or on those of both directions."""
HARDLY, STRADDLED_THERE = 0.45, 0.4
"""The same of lines that are hardly printed, up to that part of the ink of the direction's darkest: few of the numbers
of a worn table are read."""
COLUMNS = 2
"""So many lines of this sort, and hardly a number on the lines that cross them."""
STRAY = 0.1
"""Numbers on the crossing lines, compared with those on these."""

A_TABLE = "a table"

SHOWN_THROUGH = 0.15
"""Darkness of the lines of a grid on the back of the page, at most, compared with those of one on its front."""
PALE = 0.25
"""Darkness of characters, compared with the lines of a grid on the front, up to which they show through as the grid
does: thick strokes do so a little more than thin ones."""
MOSTLY = 0.5
"""Share of the other characters that are figures where a puzzle has some: what the front prints over a grid of the
back is text, or letters to search for words."""


@dataclass(frozen=True, slots=True)
class Judgement:
    """Whether it is a puzzle, and if not, what it is taken for."""

    is_puzzle: bool
    taken_for: str = ""


def judge(evidence: Evidence) -> Judgement:
    """Tell a puzzle from the grids that stand beside puzzles on a page. Where a line ends its number may stand."""
    in_cells = {**_in_the_middle(evidence), **characters_in_cells(evidence)}
    sure = {cell: group for cell, group in in_cells.items() if max(g.confidence for g in group) >= SURE}
    if len(sure) >= FILLED * evidence.rows * evidence.columns:
        return Judgement(False, "a filled grid")
    size = max(evidence.rows, evidence.columns)
    texts = {cell: "".join(g.text for g in group) for cell, group in sure.items()}
    tagged = {cell for trace in evidence.traces for cell in trace.ends}
    odd = sum(not could_be_digit(text, size) for cell, text in texts.items() if cell not in tagged)
    if odd > max(FEW, FOREIGN_TO_GRID * len(texts)):
        return Judgement(False, A_TABLE)
    repeats = sum(_repeats(cell, text, texts) for cell, text in texts.items())
    if repeats > max(FEW, REPEATED * len(texts)):
        return Judgement(False, A_TABLE)
    if _straddled(evidence):
        return Judgement(False, A_TABLE)
    return Judgement(True)


def is_of_the_back(evidence: Evidence, front: Iterable[Evidence]) -> bool:
    """Whether a grid is printed on the back of the page and shows through: its lines are hardly darker than the paper,
    those of another are, and what stands on it is no puzzle's."""
    darkest = max(map(_darkness, front), default=0.0)
    texts = [glyph.text for glyph in evidence.glyphs if glyph.text and _ink(glyph) > PALE * darkest]
    figures = sum(text.isdecimal() for text in texts)
    return _darkness(evidence) <= SHOWN_THROUGH * darkest and figures <= MOSTLY * len(texts)


def _ink(glyph: Glyph) -> float:
    """How dark a character is, 0 (paper) to 1, in the channel where it shows most."""
    return 1 - min(glyph.colour) / 255


def _darkness(evidence: Evidence) -> float:
    """That of most of the lattice's lines, 0 (paper) to 1 (black), or of its frame: a scan without greys may have lost
    all thin lines, and a grid that shows through has a pale frame too."""
    level, upright = evidence.edges.horizontal_darkness, evidence.edges.vertical_darkness
    every = np.concatenate([level.ravel(), upright.ravel()])
    frame = np.concatenate([level[[0, -1]].ravel(), upright[:, [0, -1]].ravel()])
    return float(max(np.median(every), np.median(frame)))


def _straddled(evidence: Evidence) -> bool:
    """Whether columns (or rows) of numbers stand on lattice lines: a table with lines made up between its columns."""
    boxes = [glyph.box for glyph in evidence.glyphs if glyph.text]
    pale = _hardly_printed(evidence.edges.vertical_darkness.T), _hardly_printed(evidence.edges.horizontal_darkness)
    upright = _on_lines([(x0, x1, (y0 + y1) / 2) for x0, y0, x1, y1 in boxes], evidence.columns, pale[0])
    level = _on_lines([(y0, y1, (x0 + x1) / 2) for x0, y0, x1, y1 in boxes], evidence.rows, pale[1])
    by_column = _are_columns(upright, level, evidence.rows, pale[0])
    return by_column or _are_columns(level, upright, evidence.columns, pale[1])


def _hardly_printed(darkness: npt.NDArray[np.floating]) -> frozenset[int]:
    """The lines of one direction that are hardly printed; `darkness` is that of each line's edges."""
    lines = np.median(darkness, axis=1)
    return frozenset(np.flatnonzero(lines <= HARDLY * lines.max()).tolist())


def _on_lines(spans: Iterable[tuple[float, float, float]], lines: int, pale: frozenset[int]) -> set[tuple[int, int]]:
    """(line, cell along it) of what stands across a lattice line within the grid, in the middle of an edge; near to a
    pale one, for of a worn number one figure may be read."""
    return {
        (line, int(along))
        for low, high, along in spans
        for line in [round((low + high) / 2)]
        if 0 < line < lines
        and (low < line < high or (line in pale and abs((low + high) / 2 - line) <= MIDDLE))
        and abs(along % 1 - 0.5) <= MIDDLE
    }


def _are_columns(on: set[tuple[int, int]], across: set[tuple[int, int]], edges: int, pale: frozenset[int]) -> bool:
    counts = Counter(line for line, _ in on)
    full = sum(n >= (STRADDLED_THERE if line in pale else STRADDLED) * edges for line, n in counts.items())
    return full >= COLUMNS and len(across) <= STRAY * len(on)


def _in_the_middle(evidence: Evidence) -> dict[Cell, tuple[Glyph, ...]]:
    """The characters in the middle of cells, however small: those of calendars and tables are. A large total of a cage
    reaches there as well."""
    found: dict[Cell, tuple[Glyph, ...]] = {}
    for glyph in not_in_cages(evidence):
        x, y = glyph.centre
        inside = 0 <= x < evidence.columns and 0 <= y < evidence.rows
        if inside and glyph.text and abs(x % 1 - 0.5) <= MIDDLE and abs(y % 1 - 0.5) <= MIDDLE:
            cell = Cell(int(y) + 1, int(x) + 1)
            found[cell] = (*found.get(cell, ()), glyph)
    return found


def could_be_digit(text: str, size: int) -> bool:
    """Whether a text can stand for a digit of a grid `size` cells wide: a number up to its size, or one letter."""
    if text.isdecimal():
        return int(text) <= size
    return len(text) == 1


def _repeats(cell: Cell, text: str, texts: dict[Cell, str]) -> bool:
    return any(
        other != cell and (other.row == cell.row or other.column == cell.column) and held == text
        for other, held in texts.items()
    )
