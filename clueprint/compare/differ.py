"""Givens, marks, boxes and size of a grid of the proof against the source."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from clueprint.compare.blank import is_blank_cell, is_blank_mark
from clueprint.compare.match import cells_on, paired, spread
from clueprint.compare.phrases import changed, name_of
from clueprint.compare.printed import Printed
from clueprint.compare.result import Change, Finding
from clueprint.compare.source import is_drawn, places
from clueprint.compare.words import PrintedWords
from recognise.draft import Doubt, Given, Item, Polygon, box_polygon
from recognise.geometry import bounds
from schema.cells import Cell
from schema.files import constraint_document
from schema.kinds.base import Constraint
from schema.kinds.boxes import Boxes
from schema.pointers import constraint_pointer, given_pointer
from schema.puzzle import Puzzle

_BESIDE = ("outside", "outside-diagonal", "rule")
"""Families that do not stand on the cells that they speak of."""
_STRAY = "; it stands far from the grid, and may be no part of the puzzle"
_OVERLOOKED = "; there is ink, and it may have been overlooked"
_NEAR = "; something that was not read stands on its cells"


FAR = 1.0
"""In cells: clues begin nearer to the grid than this; a page number in line with a column does not."""


class Differ:
    """Holds one grid of the proof against the source."""

    def __init__(self, source: Puzzle, proof: Printed, words: PrintedWords) -> None:
        """`words` are those that the proof prints for this grid: what has no mark may be printed as words alone."""
        self.source = source
        self.proof = proof
        self.stated = words.stated
        self.exact = words.exact
        self.places = places(source)
        self.by_vectors = proof.grid.looked.by_vectors
        self.unsettled: set[Cell] = set()
        self.page = proof.grid.page.number

    def findings(self) -> list[Finding]:
        """Everything that differs, or may differ: size, boxes, givens, marks."""
        size = self.size()
        if size is not None:
            return [size]
        return [*self.boxes(), *self.givens(), *self.constraints()]

    def _finding(
        self, why: str, change: Change, where: Polygon | None, *, sure: bool, item: str | None = None,
        expected: Any = None, found: Any = None,
    ) -> Finding:  # fmt: skip
        on_page = self.proof.grid.corners if where is None else self.proof.grid.on_page(where)
        return Finding(why, item, change, expected, found, self.page, on_page, sure=sure)

    def size(self) -> Finding | None:
        """A grid of another size: nothing else can be compared then."""
        ours = (self.source.grid.rows, self.source.grid.columns)
        theirs = (self.proof.draft.grid.rows, self.proof.draft.grid.columns)
        if ours == theirs:
            return None
        why = (
            f"the proof has {theirs[0]} rows and {theirs[1]} columns, the source {ours[0]} and {ours[1]};"
            " the rest was not compared"
        )
        expected, found = ({"rows": rows, "columns": columns} for rows, columns in (ours, theirs))
        return self._finding(why, "changed", None, sure=True, item="/grid", expected=expected, found=found)

    def givens(self) -> Iterator[Finding]:
        """Digits in cells."""
        for cell in sorted({*self.source.givens, *self.proof.givens}):
            yield from self._given(cell)

    def _given(self, cell: Cell) -> Iterator[Finding]:
        label = self.source.grid.label
        ours, index = self.source.givens.get(cell), self.proof.givens.get(cell)
        pointer = given_pointer(cell)
        if index is None:
            assert ours is not None
            place = box_polygon((cell.column - 1, cell.row - 1, cell.column, cell.row))
            unread = self.proof.unread_at(place, [cell])
            blank = self.by_vectors or is_blank_cell(self.proof.grid, cell)
            why = f"the source has {label(ours)} in {cell}, the proof nothing"
            why += _unread(unread) or ("" if blank else _OVERLOOKED)
            sure = unread is None and blank
            yield self._finding(why, "missing", place, sure=sure, item=pointer, expected=ours)
            return
        item = self.proof.item(index)
        assert isinstance(item.value, Given)
        theirs = item.value.digit
        if theirs == ours:
            return
        self.proof.told.add(index)
        shown = self.proof.draft.grid.label(theirs)
        sure = self.proof.is_sure(index)
        if ours is None:
            why = f"the proof has {shown} in {cell}, the source nothing" + self._doubts(index)
            yield self._finding(why, "extra", item.where, sure=sure, found=theirs)
            return
        may_be = self.proof.may_be(index, Given(cell, ours))
        why = f"the proof has {shown} in {cell}, the source {label(ours)}" + self._doubts(index, may_be)
        doubtful = may_be or bool(self.proof.doubts.get(index))
        yield self._finding(why, "changed", item.where, sure=not doubtful, item=pointer, expected=ours, found=theirs)

    def _doubts(self, index: int, may_be: bool = False) -> str:
        said = [doubt.why for doubt in self.proof.doubts.get(index, ())]
        if may_be:
            said.append("it may be read as in the source")
        elif not said and not self.proof.is_sure(index):
            said.append("it was hard to read")
        return f" ({'; '.join(said)})" if said else ""

    def constraints(self) -> Iterator[Finding]:
        """Marks and clues, paired by what they say, then by likeness."""
        owners: list[tuple[Constraint, int]] = [
            (one, number)
            for number, constraint in enumerate(self.source.constraints)
            if is_drawn(constraint) and constraint.understood
            for one in spread(constraint)
        ]
        expected, marks = [one for one, _ in owners], self.proof.marks
        for pair in paired(self.source.grid, expected, [mark.constraint for mark in marks]):
            if pair.exact:
                continue
            if pair.expected is not None:
                self.unsettled |= self._cells(expected[pair.expected])
            pointer = None if pair.expected is None else constraint_pointer(owners[pair.expected][1])
            if pair.found is None:
                assert pair.expected is not None and pointer is not None
                yield from self._missing(expected[pair.expected], pointer)
            else:
                mark = marks[pair.found]
                ours = None if pair.expected is None else expected[pair.expected]
                yield self._otherwise(ours, pointer, mark.constraint, mark.index)
        yield from self._strange()

    def _missing(self, constraint: Constraint, pointer: str) -> Iterator[Finding]:
        if "rule" in constraint.marks and constraint.kind in self.stated:
            return
        place = self._place(constraint, pointer)
        cells = self._cells(constraint)
        unread = self.proof.unread_at(place, sorted(cells))
        clear = self.proof.is_clear(cells)
        blank = self.by_vectors or is_blank_mark(self.proof.grid, self.source, pointer)
        why = f"the {name_of(constraint)} is not on the proof"
        why += _unread(unread) or ("" if clear else _NEAR) or ("" if blank else _OVERLOOKED)
        sure = unread is None and clear and blank
        yield self._finding(why, "missing", place, sure=sure, item=pointer, expected=constraint_document(constraint))

    def _cells(self, *constraints: Constraint | None) -> frozenset[Cell]:
        """The cells that marks stand on; none for numbers beside the grid."""
        on_grid = (c for c in constraints if c is not None and c.marks[0] not in _BESIDE)
        return frozenset(cell for c in on_grid for cell in cells_on(self.source.grid, c))

    def _place(self, constraint: Constraint, pointer: str) -> Polygon:
        """Where an item of the source should stand."""
        cells: tuple[Cell, ...] = getattr(constraint, "cells", ())
        if len(cells) == 1:
            cell = cells[0]
            return box_polygon((cell.column - 1, cell.row - 1, cell.column, cell.row))
        return self.places.get(pointer) or box_polygon((0, 0, self.source.grid.columns, self.source.grid.rows))

    def _otherwise(self, ours: Constraint | None, pointer: str | None, theirs: Constraint, index: int) -> Finding:
        """A mark of the proof that the source does not have, or has otherwise."""
        self.proof.told.add(index)
        may_be = ours is not None and (self.proof.may_be(index, (ours,)) or self._lost_figure(ours, theirs))
        said = changed(ours, theirs) if ours is not None else f"the {name_of(theirs)} is not in the source"
        if index in self.proof.known.contested:
            said += "; it looks like marks that mean this"
        clear = self.proof.is_clear(self._cells(ours, theirs))
        stray = ours is None and self._is_far(index)
        sure = self.proof.is_sure(index) and not may_be and clear and not stray
        return self._finding(
            said + self._doubts(index, may_be) + ("" if clear else _NEAR) + (_STRAY if stray else ""),
            "extra" if ours is None else "changed",
            self.proof.item(index).where,
            sure=sure,
            item=pointer,
            expected=None if ours is None else constraint_document(ours),
            found=constraint_document(theirs),
        )

    def _lost_figure(self, ours: Constraint, theirs: Constraint) -> bool:
        """Whether a number that is read by its looks lacks or has more of the figures of the source's: small ones are
        overlooked, and specks taken for them, without a doubt about the rest."""
        one, other = (str(getattr(c, "value", "")) for c in (ours, theirs))
        shorter, longer = sorted((one, other), key=len)
        return (
            not self.exact and len(shorter) < len(longer) and (longer.startswith(shorter) or longer.endswith(shorter))
        )

    def _is_far(self, index: int) -> bool:
        """Whether an item stands so far from the grid that it may be something else on the page."""
        where = self.proof.item(index).where
        if where is None:
            return False
        x0, y0, x1, y1 = bounds(where)
        grid = self.source.grid
        return max(-x1, -y1, x0 - grid.columns, y0 - grid.rows) > FAR

    def _strange(self) -> Iterator[Finding]:
        """Marks that are seen well and that are none of the source's."""
        for index in sorted(self.proof.known.strange - self.proof.told):
            item = self.proof.item(index)
            self.proof.told.add(index)
            assert not isinstance(item.value, Given)
            looks = next(u.looks for u in self.proof.grid.draft.undecided if index in u.items)
            where = sorted({cell for c in item.value for cell in cells_on(self.source.grid, c)})
            cells = f" at {', '.join(map(str, where[:4]))}" if where and "at r" not in looks else ""
            why = f"the proof has a mark{cells} that the source does not have: {looks}" + self._doubts(index)
            # Part of a mark of the source that was not followed may look like one of its own.
            sure = self.proof.is_sure(index) and not (self.unsettled | self.proof.doubtful).intersection(where)
            yield self._finding(why, "extra", item.where, sure=sure, found=constraint_document(item.value[0]))

    def boxes(self) -> Iterator[Finding]:
        """The boxes that the proof's lines or tints show."""
        ours = next(((n, c) for n, c in enumerate(self.source.constraints) if isinstance(c, Boxes)), None)
        seen = self.proof.grid.looked.boxes
        theirs = seen.cells
        if ours is None:
            wholes = theirs is not None and all(len(box) == len(self.source.grid.digits) for box in theirs)
            if wholes and theirs is not None and not _fenced(theirs, self.source.constraints):
                boxes = Boxes(cells=theirs)
                why = "the lines of the proof show boxes, and the source has none"
                yield self._finding(why, "extra", None, sure=True, found=constraint_document(boxes))
            return
        number, boxes = ours
        if theirs is not None and Boxes(cells=theirs).identity() == boxes.identity():
            return
        pointer, expected = constraint_pointer(number), constraint_document(boxes)
        if theirs is None:
            why = "the lines of the proof show no boxes"
            sure = "boxes" not in self.stated and self.proof.grid.looked.by_vectors
            yield self._finding(why, "missing", None, sure=sure, item=pointer, expected=expected)
            return
        found = Boxes(cells=theirs)
        cells = _moved(boxes, found)
        may_be = any(b is not None and Boxes(cells=b).identity() == boxes.identity() for b in seen.alternatives)
        sure = not may_be or self.proof.grid.looked.by_vectors
        where = box_polygon(_around(cells))
        why = f"the boxes of the proof run otherwise at {', '.join(map(str, cells[:6]))}" + (
            " and more" if len(cells) > 6 else ""
        )
        yield self._finding(
            why, "changed", where, sure=sure, item=pointer, expected=expected, found=constraint_document(found)
        )


def _fenced(boxes: Sequence[Sequence[Cell]], constraints: Sequence[Constraint]) -> bool:
    """Whether what looks like boxes is cages."""
    cages = {frozenset(getattr(c, "cells", ())) for c in constraints if c.marks[:1] == ("cage",)}
    return all(frozenset(box) in cages for box in boxes)


def _moved(ours: Boxes, theirs: Boxes) -> list[Cell]:
    """The cells whose box is another, each box of the proof taken for the one that it shares most cells with."""
    moved: list[Cell] = []
    for box in theirs.cells:
        best = max(ours.cells, key=lambda other: len(set(box) & set(other)))
        moved += set(box) - set(best)
    return sorted(moved) or sorted(cell for box in ours.cells for cell in box)


def _around(cells: Sequence[Cell]) -> tuple[float, float, float, float]:
    rows, columns = [cell.row for cell in cells], [cell.column for cell in cells]
    return min(columns) - 1, min(rows) - 1, max(columns), max(rows)


def _unread(unread: Item | Doubt | None) -> str:
    if unread is None:
        return ""
    return "; something stands there that was not read" + (f" ({unread.why})" if isinstance(unread, Doubt) else "")


def split(findings: Sequence[Finding]) -> tuple[list[Finding], list[Finding]]:
    """Differences, and what a person must look at."""
    return [f for f in findings if f.sure], [replace(f, sure=False) for f in findings if not f.sure]
