"""Squares drawn in cells are no cages of one cell where rules speak of squares; cages go on past a square in a cell."""

from fixtures.training.lattice_labels import Labels, Side
from recognise.marks.network import BY_NAME, Chances
from recognise.marks.spoken import SILENT, Spoken, weighed
from schema.cells import Cell
from tests.recognise.chances_maker import changed, sure

SQUARES = Spoken(cells=frozenset({"square"}))
LONE, IN_CAGE, REST = Cell(3, 3), Cell(5, 5), Cell(5, 6)


def _told(number: float = 0.0) -> Chances:
    """A square by itself, and another in a cage of two cells, whose open side it makes likelier."""
    labels = Labels.empty(6, 6)
    labels.side[5, 5] = Side.TOP | Side.LEFT | Side.BOTTOM
    labels.side[5, 6] = Side.TOP | Side.RIGHT | Side.BOTTOM
    chances = sure(labels)
    classes = BY_NAME["node"].classes
    for cell in (LONE, IN_CAGE):
        chances = changed(chances, "node", (0, classes.index("SQUARE"), cell.row, cell.column), 0.8)
    for side in range(4):
        chances = changed(chances, "side", (0, side, LONE.row, LONE.column), 0.7)
    chances = changed(chances, "node", (0, classes.index("SMALL"), LONE.row, LONE.column), number)
    return changed(chances, "side", (0, 3, IN_CAGE.row, IN_CAGE.column), 0.2)


def _walls(chances: Chances, cell: Cell) -> int:
    return sum(chances.side(cell, side) > 0.5 for side in ("TOP", "LEFT", "BOTTOM", "RIGHT"))


def test_the_sides_of_a_square_are_no_walls_where_rules_speak_of_squares() -> None:
    assert _walls(weighed(_told(), SQUARES), LONE) == 0
    assert _walls(weighed(_told(), SILENT), LONE) == 4


def test_a_cage_of_one_cell_has_a_number() -> None:
    assert _walls(weighed(_told(number=0.9), SQUARES), LONE) == 4


def test_a_cage_keeps_its_walls_around_a_square() -> None:
    told = weighed(_told(), SQUARES)
    assert (_walls(told, IN_CAGE), _walls(told, REST)) == (3, 3)


def test_a_wall_in_doubt_beside_a_sure_square_is_its_side() -> None:
    square = BY_NAME["node"].classes.index("SQUARE")
    told = changed(_told(), "side", (0, 0, IN_CAGE.row, IN_CAGE.column), 0.7)
    assert _walls(weighed(told, SQUARES), IN_CAGE) == 3
    surely = changed(told, "node", (0, square, IN_CAGE.row, IN_CAGE.column), 0.99)
    assert _walls(weighed(surely, SQUARES), IN_CAGE) == 2
