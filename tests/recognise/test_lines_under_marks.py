"""Lines are measured where no mark on their way hides them."""

from __future__ import annotations

import pytest

from recognise.evidence import Disc, Shape
from recognise.marks.clear import BLUR, hidden
from recognise.marks.places import Spots
from schema.cells import Cell

BLACK = (0, 0, 0)
WEDGE = Shape("sign", (3.4, 0.9, 3.6, 1.1), BLACK, "shape", direction="up")
DOT = Disc((3.5, 1.0), 0.1, BLACK, None, "shape")


@pytest.mark.parametrize("spots", [Spots(shapes=(WEDGE,)), Spots(discs=(DOT,))], ids=["wedge", "dot"])
def test_signs_hide_a_line_as_dots_do(spots: Spots) -> None:
    assert hidden(Cell(1, 4), Cell(2, 4), [spots]) == pytest.approx(0.1 + BLUR)
    assert hidden(Cell(1, 4), Cell(2, 3), [spots]) == 0
