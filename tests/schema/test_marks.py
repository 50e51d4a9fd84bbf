"""From a mark on paper to constraints, and the outlines that drawings are made of."""

from __future__ import annotations

import pytest

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds import KINDS, kind_named
from schema.kinds._outline import borders, inset_outline
from schema.marks import Seen

PAIR = (Cell(1, 1), Cell(1, 2))


def cells(text):
    return tuple(map(Cell.parse, text.split()))


@pytest.mark.parametrize(
    ("name", "seen", "fields", "expected"),
    [
        (
            "thermometer",
            Seen("tube", paths=(cells("r1c1 r2c2"), cells("r1c1 r1c2"))),
            {"strict": False},
            [{"path": cells("r1c1 r2c2"), "strict": False}, {"path": cells("r1c1 r1c2"), "strict": False}],
        ),
        ("gap-line", Seen("line", paths=(cells("r1c1 r2c2"),)), {"gap": 5}, [{"path": cells("r1c1 r2c2"), "gap": 5}]),
        (
            "sum-line",
            Seen("line", paths=(cells("r1c1 r2c2"),), text="12"),
            {},
            [{"path": cells("r1c1 r2c2"), "value": 12}],
        ),
        (
            "arrow",
            Seen("arrow", cells=PAIR, paths=(cells("r1c2 r2c3"), cells("r1c1 r2c1"))),
            {},
            [
                {"circle": cells("r1c1 r1c2"), "shaft": cells("r2c3")},
                {"circle": cells("r1c1 r1c2"), "shaft": cells("r2c1")},
            ],
        ),
        ("arrow", Seen("arrow", paths=(cells("r1c2 r2c3"),)), {}, [{"circle": cells("r1c2"), "shaft": cells("r2c3")}]),
        ("cage", Seen("cage", cells=cells("r1c1"), text="7"), {}, [{"cells": cells("r1c1"), "value": 7}]),
        ("cage", Seen("cage", cells=cells("r1c1")), {"repeats": True}, [{"cells": cells("r1c1"), "repeats": True}]),
        (
            "cage",
            Seen("cage", cells=PAIR, text="×12"),
            {},
            [{"cells": PAIR, "value": 12, "operation": "product"}],
        ),
        (
            "cage",
            Seen("cage", cells=PAIR, text="12×"),
            {},
            [{"cells": PAIR, "value": 12, "operation": "product"}],
        ),
        ("sum-pair", Seen("edge", cells=PAIR, text="X"), {}, [{"cells": PAIR, "value": 10}]),
        ("sum-pair", Seen("edge", cells=PAIR, text="7"), {}, [{"cells": PAIR, "value": 7}]),
        ("ratio-pair", Seen("edge", cells=PAIR, text="3"), {}, [{"cells": PAIR, "ratio": 3}]),
        ("ratio-pair", Seen("edge", cells=PAIR, text="×3"), {}, [{"cells": PAIR, "ratio": 3}]),
        ("ratio-pair", Seen("edge", cells=PAIR, text="1:3"), {}, [{"cells": PAIR, "ratio": 3}]),
        (
            "greater",
            Seen("edge", cells=cells("r1c2 r1c1"), text="<"),
            {},
            [{"greater": Cell(1, 2), "less": Cell(1, 1)}],
        ),
        (
            "greater",
            Seen("edge", cells=cells("r1c1 r2c1"), text="v"),
            {},
            [{"greater": Cell(1, 1), "less": Cell(2, 1)}],
        ),
        (
            "corner-digits",
            Seen("corner", cells=cells("r1c1 r1c2 r2c1 r2c2"), text="1 3\n7"),
            {},
            [{"cells": cells("r1c1 r1c2 r2c1 r2c2"), "digits": (1, 3, 7)}],
        ),
        (
            "corner-digits",
            Seen("corner", cells=cells("r1c1 r1c2 r2c1 r2c2"), text="337"),
            {},
            [{"cells": cells("r1c1 r1c2 r2c1 r2c2"), "digits": (3, 3, 7)}],
        ),
        (
            "sandwich",
            Seen("outside", side="top", index=3, text="23"),
            {"wrap": True},
            [{"side": "top", "index": 3, "value": 23, "wrap": True}],
        ),
        ("diagonal", Seen("diagonal", direction="up"), {}, [{"direction": "up"}]),
        ("diagonal", Seen("rule"), {}, [{"direction": "down"}, {"direction": "up"}]),
        (
            "diagonal-sum",
            Seen("outside-diagonal", cells=cells("r9c6"), direction="up-right", text="13"),
            {},
            [{"start": Cell(9, 6), "direction": "up-right", "value": 13}],
        ),
        ("knight-apart", Seen("rule"), {}, [{}]),
        ("all-marked", Seen("rule"), {"of": "ratio-pair"}, [{"of": "ratio-pair"}]),
        ("unread-mark", Seen("edge", cells=PAIR, shape="star"), {}, [{"shape": "star", "cells": PAIR}]),
    ],
)
def test_from_mark(name, seen, fields, expected):
    kind = kind_named(name)
    assert kind.from_mark(seen, fields) == tuple(kind(**values) for values in expected)


@pytest.mark.parametrize(
    ("name", "seen"),
    [
        ("sandwich", Seen("outside", side="top", index=3, text="2B")),
        ("sandwich", Seen("outside", text="23")),
        ("greater", Seen("edge", cells=PAIR, text="o")),
        ("sum-pair", Seen("edge", cells=PAIR)),
        ("cage", Seen("cage", cells=cells("r1c1"), text="seven")),
        ("corner-digits", Seen("corner", cells=cells("r1c1 r1c2 r2c1 r2c2"))),
        ("diagonal", Seen("diagonal")),
        ("sum-line", Seen("line", paths=(cells("r1c1 r2c2"),))),
        ("gap-line", Seen("line", paths=(cells("r1c1 r2c2"),))),
    ],
)
def test_a_mark_that_cannot_be_the_kind(name, seen):
    with pytest.raises(ValueError, match=r"."):
        kind_named(name).from_mark(seen, {})


def test_marks_that_speak_for_themselves_belong_to_one_kind():
    claimed = [family for kind in KINDS for family in kind.unmistakable]
    assert len(claimed) == len(set(claimed))
    assert all(set(kind.unmistakable) <= set(kind.marks) for kind in KINDS)


def test_borders_run_on():
    grid = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))
    boxes = [[c for c in grid.cells() if (c.row > 2, c.column > 2) == which] for which in
             ((False, False), (False, True), (True, False), (True, True))]  # fmt: skip
    assert sorted(borders(grid, boxes)) == [((0, 2), (4, 2)), ((2, 0), (2, 4))]


def corners(loops):
    return [{(round(x, 3), round(y, 3)) for x, y in loop} for loop in loops]


def test_outline_of_an_l():
    (loop,) = corners(inset_outline(cells("r1c1 r2c1 r2c2"), 0.1))
    assert loop == {(0.1, 0.1), (0.9, 0.1), (0.9, 1.1), (1.9, 1.1), (1.9, 1.9), (0.1, 1.9)}


def test_outline_of_a_ring_has_a_hole():
    ring = [Cell(r, c) for r in (1, 2, 3) for c in (1, 2, 3) if (r, c) != (2, 2)]
    outer, hole = sorted(corners(inset_outline(ring, 0.1)), key=min)
    assert outer == {(0.1, 0.1), (2.9, 0.1), (2.9, 2.9), (0.1, 2.9)}
    assert hole == {(0.9, 0.9), (2.1, 0.9), (2.1, 2.1), (0.9, 2.1)}


def test_outline_of_cells_that_touch_by_a_corner():
    loops = corners(inset_outline(cells("r1c1 r2c2"), 0.1))
    assert sorted(map(sorted, loops)) == sorted(
        map(
            sorted, ({(0.1, 0.1), (0.9, 0.1), (0.9, 0.9), (0.1, 0.9)}, {(1.1, 1.1), (1.9, 1.1), (1.9, 1.9), (1.1, 1.9)})
        )
    )
