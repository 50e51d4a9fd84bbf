"""Questions about how lines go on in a cell where several of one look meet, which the proof of the page answers.

All ways to join what meets there are known: which arms go on into each other, and which end. A printed puzzle has one
solution: where no other way leaves one, the lines were printed as they are read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from checker.search import Effort
from recognise.doubt.ways import proves
from recognise.draft import Doubt, Draft, Value, only_constraint
from recognise.marks.lines import MEET, ends_words
from schema.cells import Cell
from schema.kinds.base import Constraint
from schema.paths import path_of

SECONDS = 4.0
"""Of work, for all such questions of a page."""
MOST = 4
"""Arms that meet in a cell: of these there are ten ways to go on."""

Path = tuple[Cell, ...]


def without_crossed(draft: Draft) -> Draft:
    """The draft, which has one solution, without the questions about cells in which lines meet that the proof
    answers."""
    effort = Effort(SECONDS)
    cells = {cell for doubt in draft.doubts if (cell := _cell_of(draft, doubt)) is not None}
    answered = {cell for cell in sorted(cells) if _no_other_way(draft, cell, effort)}
    return replace(draft, doubts=tuple(doubt for doubt in draft.doubts if _cell_of(draft, doubt) not in answered))


def _cell_of(draft: Draft, doubt: Doubt) -> Cell | None:
    """The cell of such a question."""
    if doubt.item is None:
        return None
    path = _path(draft.items[doubt.item].value)
    return next((cell for cell in path if doubt.why in (f"{MEET} {cell}", ends_words(cell))), None)


def _no_other_way(draft: Draft, cell: Cell, effort: Effort) -> bool:
    """Whether the puzzle has no single solution with the lines in a cell joined in any other way. Not told of
    lines of two kinds, nor of such as begin at one of their ends: with a bulb, or a number."""
    meeting = [index for index, item in enumerate(draft.items) if cell in _path(item.value)]
    lines = [line for index in meeting if (line := only_constraint(draft.items[index].value)) is not None]
    like = lines[0].model_copy(update={"path": ()})
    if hasattr(like, "value") or like.marks[0] == "tube":
        return False
    if any(line.model_copy(update={"path": ()}) != like for line in lines):
        return False
    arms = [arm for line in lines for arm in _arms(_path((line,)), cell)]
    if len(arms) > MOST:
        return False
    read = {frozenset(_path((line,))) for line in lines}
    ways = (paths for paths in joined(arms) if _may_end(like, lines, cell) or not any(_ends(p, cell) for p in paths))
    others = [paths for paths in ways if {frozenset(path) for path in paths} != read]
    return bool(others) and all(_is_refuted(draft, meeting, like, paths, effort) for paths in others)


def _may_end(like: Constraint, lines: Iterable[Constraint], cell: Cell) -> bool:
    """Whether lines of a kind may end in a cell: those that end in circles do where one of them does."""
    return like.marks[0] != "ringed-line" or any(_ends(_path((line,)), cell) for line in lines)


def _ends(path: Path, cell: Cell) -> bool:
    return cell in (path[0], path[-1])


def _is_refuted(draft: Draft, meeting: Sequence[int], like: Constraint, paths: Sequence[Path], effort: Effort) -> bool:
    stated = tuple(like.model_copy(update={"path": path}) for path in paths)
    instead: dict[int, Value] = {index: stated if index == meeting[0] else () for index in meeting}
    return effort.left > 0 and proves(draft, instead, effort) == 0.0


def joined(arms: Sequence[Path]) -> Iterator[tuple[Path, ...]]:
    """All ways in which arms, each from the cell where they meet to its end, go on into each other or end there; no
    line goes through a cell twice."""
    if not arms:
        yield ()
        return
    first, *rest = arms
    for others in joined(rest):
        yield first, *others
    for at, other in enumerate(rest):
        whole = (*first[::-1], *other[1:])
        if len(set(whole)) == len(whole):
            for others in joined([*rest[:at], *rest[at + 1 :]]):
                yield whole, *others


def _arms(path: Path, cell: Cell) -> Iterator[Path]:
    """The parts of a path on both sides of a cell, each beginning there."""
    at = path.index(cell)
    yield from (arm for arm in (path[at::-1], path[at:]) if len(arm) > 1)


def _path(value: Value) -> Path:
    return path_of(only_constraint(value))
