"""Lines that can be followed in several ways."""

from recognise.doubt.proof import proven
from recognise.draft import Draft
from recognise.evidence import Words
from recognise.grids import Boxes as SeenBoxes
from recognise.interpret import interpret
from recognise.interpret.tangles import ways
from recognise.rules import RuleSheet, Statement
from schema.cells import Cell
from schema.kinds.thermometer import Thermometer
from schema.kinds.unread_mark import UnreadMark
from tests.recognise.evidence_maker import edges, evidence, given, trace


def _as_text(found: list) -> set[frozenset[str]]:
    return {frozenset(" ".join(map(str, path)) for path in paths) for paths in found}


def test_a_tube_that_comes_back_to_itself_rises_to_any_cell_of_its_loop() -> None:
    family, found = ways(trace("r1c1 r1c2 r1c3 r2c3", "0-1 1-2 2-3 1-3", discs=(0,)))
    assert family == "tube"
    assert _as_text(found) == {
        frozenset({"r1c1 r1c2 r1c3 r2c3", "r1c1 r1c2 r2c3"}),
        frozenset({"r1c1 r1c2 r2c3 r1c3", "r1c1 r1c2 r1c3"}),
    }


def test_a_tail_behind_a_loop_leads_away_from_the_bulb() -> None:
    _, found = ways(trace("r1c1 r1c2 r1c3 r2c3 r3c3", "0-1 1-2 2-3 1-3 3-4", discs=(0,)))
    assert _as_text(found) == {
        frozenset({"r1c1 r1c2 r1c3 r2c3 r3c3", "r1c1 r1c2 r2c3 r3c3"}),
        frozenset({"r1c1 r1c2 r2c3 r1c3", "r1c1 r1c2 r2c3 r3c3", "r1c1 r1c2 r1c3"}),
    }


def test_lines_that_cross_in_a_cell_are_taken_apart_there() -> None:
    family, found = ways(trace("r1c1 r1c3 r2c2 r3c1 r3c3", "0-2 1-2 2-3 2-4"))
    assert family == "line"
    assert len(found) == 3
    assert frozenset({"r1c1 r2c2 r3c3", "r1c3 r2c2 r3c1"}) in _as_text(found)


def test_a_line_that_ends_on_another_may_be_either_of_three() -> None:
    _, found = ways(trace("r1c1 r1c2 r1c3 r2c2", "0-1 1-2 1-3"))
    assert len(found) == 3
    assert all(len(paths) == 2 for paths in found)


def test_lines_between_rings_end_at_rings_alone() -> None:
    one_way = trace("r1c1 r1c2 r1c3 r1c4 r1c5", discs=(0, 2, 4))
    assert ways(one_way) == (
        "ringed-line",
        [((Cell(1, 1), Cell(1, 2), Cell(1, 3)), (Cell(1, 3), Cell(1, 4), Cell(1, 5)))],
    )
    no_ring_at_an_end = trace("r1c1 r1c2 r1c3", discs=(0, 1))
    assert ways(no_ring_at_an_end)[1] == []


def test_too_many_ways_are_none() -> None:
    cells = " ".join(f"r{r}c{c}" for r in range(1, 5) for c in range(1, 5))
    links = [f"{4 * r + c}-{4 * r + c + 1}" for r in range(4) for c in range(3)]
    links += [f"{4 * r + c}-{4 * r + c + 4}" for r in range(3) for c in range(4)]
    assert ways(trace(cells, " ".join(links), discs=(0,)))[1] == []


SOLUTION = ("1234", "3412", "2143", "4321")
"""It rises from r1c1 over r1c2 to r2c2, not over r2c2 to r1c2."""


def _draft(givens: str, **parts) -> Draft:
    glyphs = tuple(given(cell, SOLUTION[int(cell[1]) - 1][int(cell[3]) - 1]) for cell in givens.split())
    seen = evidence(4, 4, edges=edges(4, 4, (2, 2)), glyphs=glyphs, **parts)
    boxes = SeenBoxes(
        tuple(tuple(Cell(r + i, c + j) for i in range(2) for j in range(2)) for r in (1, 3) for c in (1, 3)),
        "lines",
        0.999,
    )
    sheet = RuleSheet((Statement("rows"), Statement("columns"), Statement("boxes"), Statement("thermometer")))
    return interpret(seen, boxes, sheet, Words())


LOOP = trace("r1c1 r1c2 r2c2", "0-1 1-2 0-2", discs=(0,))


ALL_BUT_TWO = " ".join(f"r{r}c{c}" for r in range(1, 5) for c in range(1, 5) if (r, c) not in {(1, 1), (2, 2)})


def test_the_only_way_that_leaves_one_solution_is_taken_and_asked_about() -> None:
    result = proven(_draft(ALL_BUT_TWO, traces=(LOOP,)))
    assert [c for c in result.draft.constraints if isinstance(c, UnreadMark)] == []
    paths = {" ".join(map(str, c.path)) for c in result.draft.constraints if isinstance(c, Thermometer)}
    assert paths == {"r1c1 r1c2 r2c2", "r1c1 r2c2"}
    (why,) = (doubt.why for doubt in result.draft.doubts)
    assert "followed in more than one way" in why
    assert "exactly one solution, and is taken here" in why


def test_what_cannot_be_told_is_left_to_a_person() -> None:
    result = proven(_draft("r4c4", traces=(LOOP,)))
    assert [c for c in result.draft.constraints if isinstance(c, UnreadMark)]
    assert any("none of them was found to leave exactly one solution" in doubt.why for doubt in result.draft.doubts)
