"""Hypothesis strategies: grids, paths, constraints of every kind, puzzles, readings."""

from __future__ import annotations

from hypothesis import strategies as st

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds import KINDS, kind_named
from schema.kinds.base import Constraint
from schema.kinds.boxes import Boxes
from schema.kinds.columns import Columns
from schema.kinds.rows import Rows
from schema.pointers import constraint_pointer, given_pointer
from schema.puzzle import Puzzle
from schema.reading import Alternative, Frame, Item, Query, Reading, Source

NAMES = [kind.model_fields["kind"].default for kind in KINDS]
SIDES = st.sampled_from(["top", "bottom", "left", "right"])
TEXTS = st.text(st.characters(codec="utf-8", exclude_categories=["Cs"]), max_size=40)
UPRIGHT = ["down-right", "down-left", "up-right", "up-left"]


@st.composite
def grids(draw, smallest=3, largest=5, square=True, fitting=True):
    """Small grids; `fitting`: as many digits as columns."""
    rows = draw(st.integers(smallest, largest))
    columns = rows if square else draw(st.integers(smallest, largest))
    count = columns if fitting else draw(st.integers(2, largest))
    first = draw(st.integers(0, 2))
    return Grid(rows=rows, columns=columns, digits=tuple(range(first, first + count)))


@st.composite
def paths(draw, grid, shortest=2, longest=5):
    """A path that touches from cell to cell and visits none twice."""
    path = [draw(st.sampled_from(list(grid.cells())))]
    length = draw(st.integers(shortest, longest))
    while len(path) < length:
        further = [cell for cell in grid.cells() if cell.touches(path[-1]) and cell not in path]
        if not further:
            break
        path.append(draw(st.sampled_from(further)))
    if len(path) < shortest:
        first = path[0]
        path = [first, next(cell for cell in grid.cells() if cell.touches(first))]
    return tuple(path)


def cell_sets(grid, smallest=1, largest=5):
    """Different cells in any order."""
    return st.lists(st.sampled_from(list(grid.cells())), min_size=smallest, max_size=largest, unique=True).map(tuple)


@st.composite
def neighbours(draw, grid):
    """Two cells that share a side."""
    one = draw(st.sampled_from(list(grid.cells())))
    other = draw(st.sampled_from([cell for cell in grid.cells() if cell.beside(one)]))
    return one, other


@st.composite
def outside_clues(draw, grid, name):
    """A clue beside the grid, its value somewhere near what can be reached."""
    side = draw(SIDES)
    index = draw(st.integers(1, grid.columns if side in ("top", "bottom") else grid.rows))
    ends = min(grid.digits) + max(grid.digits)
    most = {"skyscraper": grid.columns, "sandwich": sum(grid.digits) - ends + 1}.get(name, sum(grid.digits))
    fields = {"side": side, "index": index, "value": draw(st.integers(0, most))}
    if name == "sandwich":
        fields["wrap"] = draw(st.booleans())
    return kind_named(name)(**fields)


@st.composite
def cages(draw, grid):
    """A cage; a value that its operation can nearly reach."""
    operation = draw(st.sampled_from(["sum", "difference", "product", "quotient"]))
    fewest = 2 if operation in ("difference", "quotient") else 1
    cells = draw(cell_sets(grid, fewest, 4))
    most = {"sum": sum(grid.digits), "product": 120}.get(operation, max(grid.digits))
    value = draw(st.none() | st.integers(0, most))
    return kind_named("cage")(cells=cells, value=value, operation=operation, repeats=draw(st.booleans()))


@st.composite
def arrows(draw, grid):
    """A circle of one to three cells and a shaft that leaves it."""
    length = draw(st.integers(1, min(3, grid.rows)))
    start, other = draw(neighbours(grid))
    step = (other.row - start.row, other.column - start.column)
    circle = [start]
    while len(circle) < length and (ahead := circle[-1].stepped(*step)) in grid:
        circle.append(ahead)
    shaft = []
    for _ in range(draw(st.integers(1, 4))):
        near = [shaft[-1]] if shaft else circle
        further = [
            c for c in grid.cells() if c not in circle and c not in shaft and any(c.touches(cell) for cell in near)
        ]
        if not further:
            break
        shaft.append(draw(st.sampled_from(further)))
    return kind_named("arrow")(circle=tuple(sorted(circle)), shaft=tuple(shaft))


@st.composite
def corners(draw, grid):
    """Up to four digits around a corner."""
    top = Cell(draw(st.integers(1, grid.rows - 1)), draw(st.integers(1, grid.columns - 1)))
    cells = tuple(top.stepped(r, c) for r in (0, 1) for c in (0, 1))
    digits = draw(st.lists(st.sampled_from(grid.digits), min_size=1, max_size=4).map(tuple))
    return kind_named("corner-digits")(cells=draw(st.permutations(cells).map(tuple)), digits=digits)


@st.composite
def diagonal_sums(draw, grid):
    """A diagonal from any side."""
    direction = draw(st.sampled_from(UPRIGHT))
    row = 1 if direction.startswith("down") else grid.rows
    column = 1 if direction.endswith("right") else grid.columns
    starts = [cell for cell in grid.cells() if cell.row == row or cell.column == column]
    value = draw(st.integers(0, max(grid.digits) * min(grid.rows, grid.columns)))
    return kind_named("diagonal-sum")(start=draw(st.sampled_from(starts)), direction=direction, value=value)


@st.composite
def irregular_boxes(draw, grid):
    """Boxes by rows of the grid in any order: every box as many cells as digits, in shapes that need not hang
    together."""
    cells = draw(st.permutations(list(grid.cells())))
    size = len(grid.digits)
    return Boxes(cells=tuple(tuple(cells[start : start + size]) for start in range(0, len(cells), size)))


def _lines(grid, name):
    kind = kind_named(name)
    if name == "gap-line":
        return st.builds(kind, path=paths(grid), gap=st.integers(1, 4))
    if name == "thermometer":
        return st.builds(kind, path=paths(grid), strict=st.booleans())
    if name == "sum-line":
        return st.builds(kind, path=paths(grid), value=st.integers(0, 5 * max(grid.digits)))
    return st.builds(kind, path=paths(grid))


def _pairs(grid, name):
    kind = kind_named(name)
    if name == "ratio-pair":
        return st.builds(kind, cells=neighbours(grid), ratio=st.integers(1, 4))
    if name == "sum-pair":
        return st.builds(kind, cells=neighbours(grid), value=st.integers(0, 2 * max(grid.digits)))
    return st.builds(kind, cells=neighbours(grid))


def constraints(grid: Grid, name: str) -> st.SearchStrategy[Constraint]:
    """Valid constraints of one kind on a square grid with as many digits as columns."""
    kind = kind_named(name)
    if name in ("sandwich", "skyscraper", "x-sum"):
        return outside_clues(grid, name)
    if "path" in kind.model_fields:
        return _lines(grid, name)
    if name.endswith("-pair"):
        return _pairs(grid, name)
    special = {
        "arrow": arrows,
        "boxes": irregular_boxes,
        "cage": cages,
        "corner-digits": corners,
        "diagonal-sum": diagonal_sums,
    }
    if name in special:
        return special[name](grid)
    if name == "greater":
        return neighbours(grid).map(lambda two: kind(greater=two[0], less=two[1]))
    if name == "diagonal":
        return st.builds(kind, direction=st.sampled_from(["down", "up"]))
    if name == "all-marked":
        return st.builds(kind, of=st.sampled_from(["consecutive-pair", "ratio-pair", "sum-pair"]))
    if name == "unread-mark":
        return st.builds(kind, shape=TEXTS.filter(bool), cells=cell_sets(grid, 0))
    if "cells" in kind.model_fields:
        return st.builds(kind, cells=cell_sets(grid))
    return st.builds(kind)


@st.composite
def rule_sets(draw, name, grid=None):
    """A grid and a tuple of constraints that fit together, the first of them of the kind `name`."""
    grid = grid or draw(grids())
    first = draw(constraints(grid, name))
    others: list[Constraint] = []
    if name == "box-sum-line":
        others.append(draw(irregular_boxes(grid)))
    if name == "all-marked":
        fewest = 1 if first.of == "sum-pair" else 0
        others += draw(st.lists(_pairs(grid, first.of), min_size=fewest, max_size=3, unique_by=lambda c: c.identity()))
    if name in ("sandwich", "skyscraper", "x-sum") and draw(st.booleans()):
        others += [Rows(), Columns()]
    return grid, (first, *others)


@st.composite
def puzzles(draw):
    """Puzzles that have no problems, of one to four kinds."""
    grid = draw(grids(4, 6))
    found: dict[object, Constraint] = {}
    for name in draw(st.lists(st.sampled_from(NAMES), min_size=1, max_size=4)):
        for constraint in draw(rule_sets(name, grid))[1]:
            kind = type(constraint)
            found.setdefault(kind if kind.once else (kind, constraint.identity()), constraint)
    digits = st.sampled_from(grid.digits)
    return Puzzle(
        title=draw(st.none() | TEXTS),
        setter=draw(st.none() | TEXTS),
        rules_text=draw(st.none() | TEXTS),
        grid=grid.model_copy(update={"labels": draw(labels(grid))}),
        givens=draw(st.dictionaries(st.sampled_from(list(grid.cells())), digits, max_size=8)),
        constraints=tuple(found.values()),
    )


def labels(grid):
    """Letters for some of the digits."""
    letters = {str(digit): chr(ord("A") + digit) for digit in grid.digits}
    return st.sets(st.sampled_from(sorted(letters))).map(lambda names: {name: letters[name] for name in sorted(names)})


COORDINATES = st.floats(-100, 5000, allow_nan=False)
POINTS = st.tuples(COORDINATES, COORDINATES)
POLYGONS = st.lists(POINTS, min_size=3, max_size=6).map(tuple)


@st.composite
def readings(draw):
    """Readings that have no problems."""
    puzzle = draw(puzzles())
    alternatives = st.builds(
        Alternative,
        value=st.sampled_from(puzzle.grid.digits) | st.just(puzzle.constraints[:1]) | st.just(()),
        confidence=st.floats(0, 1),
    )
    items = tuple(
        Item(
            item=pointer,
            where=draw(POLYGONS),
            confidence=draw(st.floats(0, 1)),
            how=draw(st.sampled_from(["vector", "ocr", "shape", "text", "house-style", "inferred"])),
            alternatives=tuple(draw(st.lists(alternatives, max_size=2))),
        )
        for pointer in (*map(given_pointer, puzzle.givens), *map(constraint_pointer, range(len(puzzle.constraints))))
    )
    verdict = draw(st.sampled_from(["clean", "query", "faulty"]))
    query = st.builds(
        Query, item=st.none() | st.just("/givens/r1c1"), where=st.none() | POLYGONS, why=TEXTS.filter(bool)
    )
    return Reading(
        puzzle=None if verdict == "faulty" else "page-p1-1.puzzle.json",
        source=Source(file=draw(TEXTS.filter(bool)), sha256="0" * 64, page=draw(st.integers(1, 9))),
        frame=Frame(width=draw(st.floats(1, 5000)), height=842.5, unit=draw(st.sampled_from(["px", "pt"]))),
        corners=tuple(draw(st.lists(POINTS, min_size=4, max_size=4))),
        verdict=verdict,
        items=() if verdict == "faulty" else items,
        queries=() if verdict == "clean" else tuple(draw(st.lists(query, max_size=3))),
    )
