"""What two readings of one puzzle state, beside each other."""

from recognise.stated import is_same, says_more
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.cage import Cage
from schema.kinds.columns import Columns
from schema.kinds.rows import Rows
from schema.kinds.unread_mark import UnreadMark
from schema.puzzle import Puzzle

GRID = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))
PLAIN = (Rows(), Columns())
CAGE = Cage(cells=(Cell(1, 1), Cell(1, 2)), value=3)
BAR = UnreadMark(shape="bar", cells=(Cell(1, 1),))


def _puzzle(*constraints: object, given: int = 1) -> Puzzle:
    return Puzzle(grid=GRID, givens={Cell(4, 4): given}, constraints=(*PLAIN, *constraints))


def test_the_order_of_what_is_stated_is_nothing() -> None:
    assert is_same(_puzzle(CAGE, BAR), _puzzle(BAR, CAGE))
    assert not is_same(_puzzle(CAGE), _puzzle(CAGE, BAR))
    assert not is_same(_puzzle(CAGE), _puzzle(CAGE, given=2))
    assert not is_same(None, None)


def test_a_reading_says_more_that_understands_what_the_other_leaves_unread() -> None:
    assert says_more(_puzzle(CAGE), _puzzle(BAR))
    assert says_more(_puzzle(CAGE), _puzzle(BAR, BAR))


def test_a_reading_that_leaves_out_what_the_other_states_does_not_say_more() -> None:
    assert not says_more(_puzzle(), _puzzle(BAR)), "nothing is understood in its place"
    assert not says_more(_puzzle(CAGE), _puzzle(Cage(cells=CAGE.cells, value=4), BAR))
    assert not says_more(_puzzle(CAGE), _puzzle(BAR, given=2))
    assert not says_more(_puzzle(CAGE), _puzzle()), "nothing was unread"
