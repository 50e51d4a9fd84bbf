"""What else the digits on a corner may be."""

from recognise.evidence import Disc, Glyph, Guess
from recognise.interpret.corners import Corner, corner_marks
from schema.cells import Cell
from schema.grid import Grid

GRID = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))
AROUND = Cell(1, 1), Cell(1, 2), Cell(2, 1), Cell(2, 2)


def _digit(x: float, *guesses: tuple[str, float]) -> Glyph:
    return Glyph((x, 0.95, x + 0.06, 1.05), tuple(Guess(*guess) for guess in guesses), 0.1, (0, 0, 0), "ocr")


def test_each_digit_may_be_another_of_the_grid_or_none() -> None:
    disc = Disc((1.0, 1.0), 0.2, (255, 255, 255), (0, 0, 0), "shape", 1.0)
    digits = _digit(0.9, ("2", 0.9), ("3", 0.06), ("7", 0.04)), _digit(1.04, ("4", 0.8), ("", 0.2))
    (mark,) = corner_marks((Corner(AROUND, disc, digits),), GRID)
    assert mark.seen.text == "2 4"
    assert {guess.text for guess in mark.texts} == {"3 4", "2"}, "a 7 is no digit of the grid"
