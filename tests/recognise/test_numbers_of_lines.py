"""Small numbers at the ends of lines that the network does not see: they are looked for where other lines have one."""

from __future__ import annotations

import pytest

from fixtures.training.lattice_labels import Labels, Node
from recognise.marks.text_places import corner_of, small_places
from schema.cells import Cell
from tests.recognise.chances_maker import sure

ENDS = [(Cell(1, 1), Cell(1, 4)), (Cell(3, 1), Cell(4, 4)), (Cell(6, 6), Cell(5, 3))]


@pytest.mark.parametrize(
    ("numbered", "places"),
    [(2, {"r1c1", "r3c1", "r6c6"}), (1, {"r1c1"}), (3, {"r1c1", "r3c1", "r6c6"})],
    ids=["most", "one", "all"],
)
def test_where_most_lines_have_a_number_it_is_looked_for_at_the_ends_of_all(numbered: int, places: set[str]) -> None:
    labels = Labels.empty(6, 6)
    for first, _ in ENDS[:numbered]:
        labels.node[first.row, first.column] = Node.SMALL
    inked = {corner_of(first) for first, _ in ENDS}
    found, notes = small_places(sure(labels), (), lambda box: box in inked, (), ENDS)
    assert {str(Cell(int(p.box[1]) + 1, int(p.box[0]) + 1)) for p in found} == places
    assert [p.perhaps for p in found].count(True) == (numbered == 2)
    assert notes == []
