"""Rims of tinted patches that lattice lines hide in part."""

from __future__ import annotations

from pathlib import Path

from schema.cells import Cell
from tests.recognise.drawn_pages import Sheet

PATCH = ("r1c8", "r1c9", "r2c9", "r3c9")
RIM = (
    ((7.04, 0.04), (7.04, 0.94)),
    ((7.04, 0.94), (8.04, 0.94)),
    ((8.04, 0.94), (8.04, 2.94)),
    ((8.04, 2.94), (8.96, 2.94)),
    ((8.96, 2.94), (8.96, 0.04)),
    ((8.96, 0.04), (7.04, 0.04)),
)


def _sheet(folder: Path, tinted: bool = True) -> Sheet:
    """A patch in a corner, its rim dotted, side by side, and a frame over it."""
    sheet = Sheet(folder / "page.pdf")
    for cell in map(Cell.parse, PATCH) if tinted else ():
        sheet.bar(cell.column - 1, cell.row - 1, cell.column, cell.row, "#fbd9b8")
    sheet.canvas.setDash(1, 1)
    for side in RIM:
        sheet.line(list(side), 0.03, "#b5712c")
    sheet.canvas.setDash()
    sheet.grid(thick=0.16)
    return sheet


def test_a_rim_that_the_frame_hides_in_part_goes_round_its_patch(tmp_path: Path) -> None:
    found = _sheet(tmp_path).evidence()
    assert [fence.cells for fence in found.fences] == [tuple(map(Cell.parse, PATCH))]
    assert not (found.shapes or found.traces)


def test_without_a_patch_such_a_line_closes_nowhere(tmp_path: Path) -> None:
    assert not _sheet(tmp_path, tinted=False).evidence().fences
