"""Marks and clues of the proof against those of the source."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from clueprint.compare.blank import is_blank_mark
from clueprint.compare.held import NEAR, OVERLOOKED, Held, square, unread_words
from clueprint.compare.match import cells_on, paired, spread
from clueprint.compare.phrases import changed
from clueprint.compare.result import Finding
from clueprint.compare.source import is_drawn
from recognise.draft import Given, Polygon, box_polygon
from recognise.geometry import bounds
from schema.cells import Cell
from schema.files import constraint_document
from schema.kinds import kind_named
from schema.kinds.base import Constraint
from schema.naming import name_of
from schema.pointers import constraint_pointer

FAR = 1.0
"""In cells: clues begin nearer to the grid than this; a page number in line with a column does not."""
_STRAY = "; it stands far from the grid, and may be no part of the puzzle"


def mark_findings(held: Held) -> Iterator[Finding]:
    """Every mark that differs, or may differ."""
    return _Marks(held).findings()


class _Marks:
    """Goes through the marks once. `unsettled` are the cells of the source's marks that are not on the proof as they
    should be, `otherwise` the marks that the printed rules read otherwise, by the two kinds: number of the constraint
    in the source, index of the item on the proof."""

    def __init__(self, held: Held) -> None:
        self.held = held
        self.unsettled: set[Cell] = set()
        self.otherwise: dict[tuple[str, str], list[tuple[int, int]]] = {}

    def findings(self) -> Iterator[Finding]:
        """Marks and clues, paired by what they say, then by likeness."""
        owners: list[tuple[Constraint, int]] = [
            (one, number)
            for number, constraint in enumerate(self.held.source.constraints)
            if is_drawn(constraint) and constraint.understood
            for one in spread(constraint)
        ]
        expected, marks = [one for one, _ in owners], self.held.proof.marks
        for pair in paired(self.held.source.grid, expected, [mark.constraint for mark in marks]):
            if pair.exact:
                assert pair.expected is not None and pair.found is not None
                self._hold_to_rules(expected[pair.expected], owners[pair.expected][1], marks[pair.found].index)
                continue
            if pair.expected is not None:
                self.unsettled |= self.held.cells(expected[pair.expected])
            pointer = None if pair.expected is None else constraint_pointer(owners[pair.expected][1])
            if pair.found is None:
                assert pair.expected is not None and pointer is not None
                yield from self._missing(expected[pair.expected], pointer)
            else:
                mark = marks[pair.found]
                ours = None if pair.expected is None else expected[pair.expected]
                yield self._otherwise(ours, pointer, mark.constraint, mark.index)
        yield from self._strange()
        yield from self._against_rules()

    def _hold_to_rules(self, ours: Constraint, number: int, index: int) -> None:
        """Keep a mark that the source explains and that looks, by the rules on the page, like one of another kind: two
        colours that changed places are the same ink but for that."""
        where, by_rules = self.held.proof.item(index).where, self.held.proof.grid.by_rules
        for item in by_rules.items if by_rules is not None and where is not None else ():
            if item.where == where and not isinstance(item.value, Given):
                kinds = {c.kind for c in item.value if c.understood}
                if kinds and ours.kind not in kinds:
                    self.otherwise.setdefault((ours.kind, min(kinds)), []).append((number, index))

    def _against_rules(self) -> Iterator[Finding]:
        """Marks that mean one thing in the source and another by the rules that the proof prints."""
        for (ours, theirs), marks in self.otherwise.items():
            numbers = tuple(dict.fromkeys(constraint_pointer(number) for number, _ in marks))
            name, other = kind_named(ours).name, kind_named(theirs).name
            which = f"the {name_of(self.held.source.constraints[marks[0][0]])}"
            more = f" and {len(marks) - 1} more" if len(marks) > 1 else ""
            why = f"by the rules on the proof {which}{more} should be read as {other}, in the source as {name}"
            where = self.held.proof.item(marks[0][1]).where
            found = self.held.finding(why, "changed", where, sure=False, item=numbers[0], expected=ours, found=theirs)
            yield replace(found, items=numbers)

    def _missing(self, constraint: Constraint, pointer: str) -> Iterator[Finding]:
        if "rule" in constraint.marks and constraint.kind in self.held.words.stated:
            return
        place = self._place(constraint, pointer)
        cells = self.held.cells(constraint)
        unread = self.held.proof.unread_at(place, sorted(cells))
        clear = self.held.proof.is_clear(cells)
        blank = self.held.by_vectors or is_blank_mark(self.held.proof.grid, self.held.source, pointer)
        why = f"the {name_of(constraint)} is not on the proof"
        why += unread_words(unread) or ("" if clear else NEAR) or ("" if blank else OVERLOOKED)
        sure = unread is None and clear and blank
        yield self.held.finding(
            why, "missing", place, sure=sure, item=pointer, expected=constraint_document(constraint)
        )

    def _place(self, constraint: Constraint, pointer: str) -> Polygon:
        """Where an item of the source should stand."""
        cells: tuple[Cell, ...] = getattr(constraint, "cells", ())
        if len(cells) == 1:
            return square(cells[0])
        return self.held.places.get(pointer) or box_polygon(
            (0, 0, self.held.source.grid.columns, self.held.source.grid.rows)
        )

    def _otherwise(self, ours: Constraint | None, pointer: str | None, theirs: Constraint, index: int) -> Finding:
        """A mark of the proof that the source does not have, or has otherwise."""
        self.held.proof.told.add(index)
        may_be = ours is not None and (self.held.proof.may_be(index, (ours,)) or self._lost_figure(ours, theirs))
        said = changed(ours, theirs) if ours is not None else f"the {name_of(theirs)} is not in the source"
        if index in self.held.proof.known.contested:
            said += "; it looks like marks that mean this"
        clear = self.held.proof.is_clear(self.held.cells(ours, theirs))
        stray = ours is None and self._is_far(index)
        sure = self.held.proof.is_sure(index) and not may_be and clear and not stray
        return self.held.finding(
            said + self.held.doubts(index, may_be) + ("" if clear else NEAR) + (_STRAY if stray else ""),
            "extra" if ours is None else "changed",
            self.held.proof.item(index).where,
            sure=sure,
            item=pointer,
            expected=None if ours is None else constraint_document(ours),
            found=constraint_document(theirs),
        )

    def _lost_figure(self, ours: Constraint, theirs: Constraint) -> bool:
        """Whether a number that is read by its looks lacks or has more of the figures of the source's, or a sign: small
        ones are overlooked, and specks taken for them, without a doubt about the rest."""
        shorter, longer = sorted((_printed(ours), _printed(theirs)), key=len)
        part = longer.startswith(shorter) or longer.endswith(shorter)
        return not self.held.by_text and len(shorter) < len(longer) and part

    def _is_far(self, index: int) -> bool:
        """Whether an item stands so far from the grid that it may be something else on the page."""
        where = self.held.proof.item(index).where
        if where is None:
            return False
        x0, y0, x1, y1 = bounds(where)
        grid = self.held.source.grid
        return max(-x1, -y1, x0 - grid.columns, y0 - grid.rows) > FAR

    def _strange(self) -> Iterator[Finding]:
        """Marks that are seen well and that are none of the source's."""
        for index in sorted(self.held.proof.known.strange - self.held.proof.told):
            item = self.held.proof.item(index)
            self.held.proof.told.add(index)
            assert not isinstance(item.value, Given)
            looks = next(u.looks for u in self.held.proof.grid.draft.undecided if index in u.items)
            where = sorted({cell for c in item.value for cell in cells_on(self.held.source.grid, c)})
            cells = f" at {', '.join(map(str, where[:4]))}" if where and "at r" not in looks else ""
            why = f"the proof has a mark{cells} that the source does not have: {looks}" + self.held.doubts(index)
            # Part of a mark of the source that was not followed may look like one of its own.
            sure = self.held.proof.is_sure(index) and not (self.unsettled | self.held.proof.doubtful).intersection(
                where
            )
            yield self.held.finding(why, "extra", item.where, sure=sure, found=constraint_document(item.value[0]))


def _printed(constraint: Constraint) -> str:
    """What is printed with a mark: its number, and one letter that stands for the sign beside it, if it has one."""
    value, operation = getattr(constraint, "value", None), getattr(constraint, "operation", "sum")
    return ("" if value is None else str(value)) + ("" if operation == "sum" else operation[0])
