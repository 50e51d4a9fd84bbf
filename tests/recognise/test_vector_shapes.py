"""Shapes of left-over paths, from shapes made by hand."""

from recognise.evidence import Shape
from recognise.vectors.marks import without_rims

CORNERS = ((0.87, 2.37), (1.13, 2.37), (1.13, 2.63), (0.87, 2.63), (0.87, 2.37))


def _square(filled: bool, by: float = 0.0) -> Shape:
    where = tuple((x + by, y) for x, y in CORNERS)
    box = (*where[0], *where[2])
    return Shape("square", box, (0, 0, 0), "vector", where=where, filled=filled)


def test_the_stroke_of_a_filled_path_is_no_second_mark() -> None:
    fill, rim, near, far = _square(True), _square(False), _square(False, 0.001), _square(False, 0.1)
    assert without_rims([fill, rim]) == [fill]
    assert without_rims([near, fill]) == [fill]
    assert without_rims([fill, far]) == [fill, far]
    assert without_rims([rim]) == [rim]
