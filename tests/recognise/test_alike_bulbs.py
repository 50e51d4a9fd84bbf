"""Bulbs of which the network is not quite sure, where they are as large as the sure ones of their page."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from fixtures.training.lattice_labels import Labels, Node
from recognise.marks.alike_bulbs import with_bulbs_alike
from recognise.marks.lines import MIDDLING, Course
from recognise.marks.network import BY_NAME
from recognise.marks.steps import Step
from recognise.marks.strokes import Stroke
from schema.cells import Cell
from tests.recognise.chances_maker import changed, sure

BULBS = (Cell(1, 1), Cell(3, 1), Cell(5, 1))
DOUBTFUL = BULBS[0]


def _steps(row: int, widths: tuple[float, ...]) -> Iterator[Step]:
    for column, width in enumerate(widths, 1):
        stroke = Stroke(width, (0.6, 0.6, 0.6), 0.4, 1.0, outlined=False, dashed=False)
        yield Step(Cell(row, column), Cell(row, column + 1), {"TUBE": 1.0}, stroke)


def _told(
    chance: float,
    radii: tuple[float | None, ...],
    width: float = 0.4,
    sure_ones: int = 2,
    odd_step: float | None = None,
) -> float:
    """How likely the first of some tubes has its bulb, of which the network thinks that; the radii of the bulbs are
    measured so, and the tubes are so wide, or as wide on one step as an `odd_step`."""
    labels = Labels.empty(6, 6)
    for bulb in BULBS[: sure_ones + 1]:
        labels.node[bulb.row, bulb.column] |= Node.BULB
    place = BY_NAME["node"].classes.index("BULB")
    chances = changed(sure(labels), "node", (0, place, DOUBTFUL.row, DOUBTFUL.column), chance)
    tubes = [Course("TUBE", tuple(_steps(bulb.row, (width, width, odd_step or width)))) for bulb in BULBS]
    found = with_bulbs_alike(chances, tubes, dict(zip(BULBS, radii, strict=True)).get)
    return found.node(DOUBTFUL, "BULB")


def test_a_bulb_as_large_as_the_sure_ones_is_sure() -> None:
    assert _told(0.8, (0.38, 0.39, 0.39)) >= MIDDLING[1]
    assert _told(0.93, (0.27, 0.266, 0.266), width=0.39) >= MIDDLING[1]
    assert _told(0.93, (0.27, 0.266, 0.266), width=0.39, odd_step=0.6) >= MIDDLING[1]


@pytest.mark.parametrize(
    ("radii", "width", "sure_ones"),
    [
        ((0.2, 0.39, 0.39), 0.4, 2),
        ((None, 0.39, 0.39), 0.4, 2),
        ((0.21, 0.21, 0.21), 0.4, 2),
        ((0.39, 0.39, 0.39), 0.4, 1),
        ((0.39, None, 0.39), 0.4, 2),
        ((0.39, 0.39, 0.39), 0.0, 2),
    ],
    ids=["smaller", "no circle", "as wide as the tube", "one sure", "one measured", "width unknown"],
)
def test_other_bulbs_stay_in_doubt(radii: tuple[float | None, ...], width: float, sure_ones: int) -> None:
    assert _told(0.8, radii, width, sure_ones) == pytest.approx(0.8)


def test_an_end_that_rather_has_no_bulb_is_none() -> None:
    assert _told(0.4, (0.39, 0.39, 0.39)) == pytest.approx(0.4)
