"""Givens of the proof against those of the source."""

from __future__ import annotations

from collections.abc import Iterator

from clueprint.compare.blank import is_blank_cell
from clueprint.compare.held import OVERLOOKED, Held, square, unread_words
from clueprint.compare.result import Finding
from clueprint.compare.source import marks_of
from recognise.draft import Given
from schema.cells import Cell
from schema.pointers import given_pointer

_ON_A_MARK = "; a mark passes there, and a piece of it may look like a figure"


def given_findings(held: Held) -> Iterator[Finding]:
    """Digits in cells."""
    for cell in sorted({*held.source.givens, *held.proof.givens}):
        yield from _given(held, cell)


def _given(held: Held, cell: Cell) -> Iterator[Finding]:
    label = held.source.grid.label
    ours, index = held.source.givens.get(cell), held.proof.givens.get(cell)
    pointer = given_pointer(cell)
    if index is None:
        assert ours is not None
        place = square(cell)
        unread = held.proof.unread_at(place, [cell])
        blank = held.by_vectors or is_blank_cell(held.proof.grid, cell)
        why = f"the source has {label(ours)} in {cell}, the proof nothing"
        why += unread_words(unread) or ("" if blank else OVERLOOKED)
        sure = unread is None and blank
        yield held.finding(why, "missing", place, sure=sure, item=pointer, expected=ours)
        return
    item = held.proof.item(index)
    assert isinstance(item.value, Given)
    theirs = item.value.digit
    if theirs == ours:
        return
    held.proof.told.add(index)
    shown = held.proof.draft.grid.label(theirs)
    sure = held.proof.is_sure(index)
    if ours is None:
        crossed = not held.by_vectors and any(cell in held.cells(c) for c in marks_of(held.source))
        why = f"the proof has {shown} in {cell}, the source nothing" + held.doubts(index)
        why += _ON_A_MARK if crossed else ""
        yield held.finding(why, "extra", item.where, sure=sure and not crossed, found=theirs)
        return
    may_be = held.proof.may_be(index, Given(cell, ours))
    why = f"the proof has {shown} in {cell}, the source {label(ours)}" + held.doubts(index, may_be)
    doubtful = may_be or bool(held.proof.doubts.get(index))
    yield held.finding(why, "changed", item.where, sure=not doubtful, item=pointer, expected=ours, found=theirs)
