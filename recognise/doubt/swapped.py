"""Lines of one kind that meet in a cell may go on otherwise there than straight ahead: where the puzzle as read has no
single solution, the other ways are tried, and the only one that leaves a single solution is taken."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

from recognise.doubt.only_one import only_one
from recognise.draft import Doubt, Draft, Value, only_constraint
from schema.cells import Cell
from schema.kinds.base import Constraint
from schema.naming import stated_by
from schema.paths import path_of
from schema.words import listed, with_article

SECONDS, ONE = 4.0, 0.5
"""Of work, for all ways of a page, and for one of them; nearly all take milliseconds."""

Path = tuple[Cell, ...]


def settled_by_swapping(draft: Draft) -> Draft | None:
    """The draft with two of its lines gone on into each other where they meet, each marked `inferred` and put to a
    person; None unless that is the only such way with exactly one solution, and all could be tried."""
    return only_one(_swapped(draft), SECONDS, ONE)


def _swapped(draft: Draft) -> Iterator[Draft]:
    """The draft with any two of its lines of one kind read otherwise where they meet."""
    lines = [(place, only) for place, item in enumerate(draft.items) if (only := _line(item.value))]
    for (place, one), (partner, other) in combinations(lines, 2):
        for changed in ways_to_go_on(one, other):
            yield _with(draft, (place, partner), changed)


def _line(value: Value) -> Constraint | None:
    """The line that an item states, and nothing more: a number says at which end it begins."""
    only = only_constraint(value)
    return only if path_of(only) and not hasattr(only, "value") else None


def ways_to_go_on(one: Constraint, other: Constraint) -> Iterator[tuple[Constraint, Constraint]]:
    """The other two lines that two of one kind may be. Those that end in circles end nowhere else."""
    paths = path_of(one), path_of(other)
    if one.model_copy(update={"path": paths[1]}) != other:
        return
    ends = {end for path in paths for end in (path[0], path[-1])} if one.marks[0] == "ringed-line" else set()
    for cell in (set(paths[0]) & set(paths[1])) - ends:
        for first, second in rejoined(*paths, cell):
            yield one.model_copy(update={"path": first}), one.model_copy(update={"path": second})


def rejoined(first: Path, second: Path, cell: Cell) -> Iterator[tuple[Path, Path]]:
    """The other two paths that have the same steps as two which share a cell, where that is no end of both."""
    (before, after), (near, far) = _arms(first, cell), _arms(second, cell)
    for paths in (
        (_through(before, near), _through(after, far)),
        (_through(before, far), _through(after, near)),
    ):
        if all(len(path) == len(set(path)) > 1 for path in paths):
            yield paths


def _arms(path: Path, cell: Cell) -> tuple[Path, Path]:
    """What a path has before and from a cell on, both beginning there."""
    at = path.index(cell)
    return path[at::-1], path[at:]


def _through(one: Path, other: Path) -> Path:
    """A path along one arm to the cell where it begins, and along the other."""
    return (*one[::-1], *other[1:])


def _with(draft: Draft, places: tuple[int, int], changed: tuple[Constraint, Constraint]) -> Draft:
    items = list(draft.items)
    for place, line in zip(places, changed, strict=True):
        items[place] = replace(items[place], value=(line,), how="inferred", alternatives=(), slips=())
    names = listed([with_article(stated_by(line)) for line in changed])
    why = f"two lines meet, and only as {names} do they leave exactly one solution"
    return replace(draft, items=tuple(items)).doubting(Doubt(why, item=places[0], also=(places[1],)))
