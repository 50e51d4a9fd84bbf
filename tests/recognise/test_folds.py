"""Folds of the paper run across the grid and on beside it; marks of a puzzle do not."""

import numpy as np
import pytest

from recognise.doubt.folds import without_folds
from recognise.evidence import Flat

CELL, MARGIN = 64, 2.0
PIECES = ((0.1, 1.6, 1.2, 1.72), (2.1, 1.6, 3.9, 1.74))


def _flat(image: np.ndarray) -> Flat:
    maps = np.zeros(image.shape[:2], np.float32)
    return Flat(image, 4, 4, CELL, MARGIN, maps, maps)


def _paper(start: float, end: float, lean: float = 0.0, down: bool = False) -> np.ndarray:
    """Grainy paper with a soft dark line from x = `start` to `end`, in cells, that leans by so much over each cell."""
    image = np.random.default_rng(2).normal(240, 2, (8 * CELL, 8 * CELL))
    for x in range(round((start + MARGIN) * CELL), round((end + MARGIN) * CELL)):
        y = (1.67 + MARGIN) * CELL + lean * (x - 4 * CELL)
        rows = np.arange(image.shape[0])
        image[:, x] -= 30 * np.exp(-(((rows - y) / 2.5) ** 2))
    image = np.clip(image, 0, 255).astype(np.uint8)
    return np.repeat((image.T if down else image)[:, :, None], 3, axis=2)


@pytest.mark.parametrize("lean", [0.0, 0.02])
def test_pieces_of_a_fold_are_no_ink_of_a_puzzle(lean: float) -> None:
    assert without_folds(PIECES, _flat(_paper(-2, 6, lean))) == ()


def test_a_fold_may_run_from_top_to_bottom() -> None:
    turned = tuple((y0, x0, y1, x1) for x0, y0, x1, y1 in PIECES)
    assert without_folds(turned, _flat(_paper(-2, 6, down=True))) == ()
    assert without_folds(PIECES, _flat(_paper(-2, 6, down=True))) == PIECES


def test_a_line_that_ends_with_the_grid_or_before_it_is_none() -> None:
    for start, end in ((0.0, 4.0), (0.0, 6.0), (-2.0, 4.0), (0.1, 3.9)):
        assert without_folds(PIECES, _flat(_paper(start, end))) == PIECES


def test_a_dot_on_a_fold_is_asked_about() -> None:
    dot = ((1.9, 1.58, 2.1, 1.76),)
    assert without_folds(dot, _flat(_paper(-2, 6))) == dot
