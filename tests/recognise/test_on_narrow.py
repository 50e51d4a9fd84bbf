"""A thin figure on a narrow line, where the line claims its ink: the guard that looks at lines alone finds it."""

import cv2
import numpy as np
import pytest

from recognise.doubt.on_narrow import figures_on_lines
from recognise.draft import Draft, Given, Item
from recognise.evidence import Flat, Words
from recognise.geometry import disc_polygon
from recognise.support import claims
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.odd import Odd
from schema.kinds.palindrome import Palindrome
from tests.recognise.evidence_maker import trace

CELL, MARGIN = 64, 1.0
GRID = Grid(rows=6, columns=6, digits=(1, 2, 3, 4, 5, 6))
LINE = trace("r2c2 r3c2 r4c3 r4c4", width=0.16)
HERE = Cell(3, 2)


def _at(x: float, y: float) -> tuple[int, int]:
    return round((x + MARGIN) * CELL), round((y + MARGIN) * CELL)


def _asked(ink: float, given: bool = False, disc: bool = False, line: float = 0.45) -> list[Cell]:
    """What is asked about of a line that is `line` dark, with a thin 1 that is `ink` dark on its bend in r3c2."""
    side = round((6 + 2 * MARGIN) * CELL)
    drawn = np.zeros((side, side), np.float32)
    for one, other in LINE.links:
        cv2.line(drawn, _at(*LINE.nodes[one].centre), _at(*LINE.nodes[other].centre), line, round(0.16 * CELL))
    x, y = HERE.centre
    if disc:
        cv2.circle(drawn, _at(x, y), round(0.1 * CELL), ink, -1)
    else:
        cv2.line(drawn, _at(x + 0.03, y - 0.17), _at(x + 0.03, y + 0.17), ink, 2)
        cv2.line(drawn, _at(x + 0.03, y - 0.17), _at(x - 0.05, y - 0.1), ink, 2)
    drawn = np.clip(cv2.GaussianBlur(drawn, (0, 0), 0.7) + np.random.default_rng(1).normal(0, 0.01, drawn.shape), 0, 1)
    items = [Item((Palindrome(path=LINE.nodes),), claims(LINE)[0], 1.0, "shape", claims=claims(LINE))]
    if disc:
        items.append(Item((Odd(cells=(HERE,)),), disc_polygon((x, y), 0.12), 1.0, "shape"))
    if given:
        items.append(Item(Given(HERE, 1), claims(LINE)[0], 1.0, "shape", claims=()))
    flat = Flat(np.full((side, side, 3), 255, np.uint8), 6, 6, CELL, MARGIN, drawn.astype(np.float32), drawn)
    draft = Draft(GRID, tuple(items), Words())
    return [cell for cell, _ in figures_on_lines(drawn.astype(np.float32), flat, draft, [LINE])]


@pytest.mark.parametrize("figure", [False, True])
def test_the_thin_outline_of_a_pale_line_is_no_figure(figure: bool) -> None:
    line = trace("r2c2 r3c2 r4c3 r4c4 r3c4", width=0.34)
    drawn = np.zeros((8 * CELL, 8 * CELL), np.float32)
    for width, ink in ((0.3, 0.45), (0.26, 0.12)):
        for one, other in line.links:
            ends = (_at(*line.nodes[node].centre) for node in (one, other))
            cv2.line(drawn, *ends, ink, round(width * CELL))
    if figure:
        x, y = HERE.centre
        cv2.line(drawn, _at(x, y - 0.17), _at(x, y + 0.17), 0.5, 3)
    drawn = np.asarray(cv2.GaussianBlur(drawn, (0, 0), 0.7), np.float32)
    items = (Item((Palindrome(path=line.nodes),), claims(line)[0], 1.0, "shape", claims=claims(line)),)
    flat = Flat(np.full((8 * CELL, 8 * CELL, 3), 255, np.uint8), 6, 6, CELL, MARGIN, drawn, drawn)
    found = figures_on_lines(drawn, flat, Draft(GRID, items, Words()), [line])
    assert [cell for cell, _ in found] == ([HERE] if figure else [])


def test_a_thin_figure_on_a_narrow_line_is_asked_about() -> None:
    assert _asked(0.75) == [HERE]


@pytest.mark.parametrize("asked", [
    lambda: _asked(0.45),  # the line and nothing else
    lambda: _asked(0.75, given=True),  # the figure was read
    lambda: _asked(0.75, disc=True),  # another mark on the line
    lambda: _asked(0.95, line=0.9),  # a dark line
], ids=["bare", "read", "mark", "dark"])  # fmt: skip
def test_what_is_no_figure_is_not(asked: object) -> None:
    assert callable(asked)
    assert asked() == []
