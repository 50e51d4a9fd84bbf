"""A result to the reading that stands beside the puzzle file."""

from __future__ import annotations

from collections.abc import Iterator

from ingest.page import Page
from recognise.asked import asked
from recognise.concluding import Result
from recognise.doubt.puzzle import item_pointers
from recognise.draft import Alternative, Doubt, Draft, Given, Polygon, box_polygon
from recognise.evidence import Flat
from recognise.hand import Pencilled
from recognise.place import corners, to_page
from schema import reading as model


def reading_of(page: Page, result: Result, puzzle_name: str) -> model.Reading:
    """The reading of one grid. `puzzle_name` is the file name of its puzzle; a faulty reading leaves it out."""
    draft, flat = result.proven.draft, result.looked.flat
    faulty = result.proven.puzzle is None
    pointers = [] if faulty else item_pointers(draft)
    return model.Reading(
        puzzle=None if faulty else puzzle_name,
        source=model.Source(file=page.source.name, sha256=page.sha256, page=page.number),
        frame=model.Frame(width=page.frame.width, height=page.frame.height, unit=page.frame.unit),
        corners=tuple(corners(page, result.looked.lattice)),
        verdict="faulty" if faulty else "clean" if result.clean else "query",
        items=() if faulty else tuple(_items(page, flat, draft, pointers)),
        queries=tuple(_query(page, flat, draft, doubt, pointers) for doubt in draft.doubts),
        pencilled={p.cell: _pencilled(page, flat, p) for p in result.looked.hand.pencilled},
    )


def _pencilled(page: Page, flat: Flat, written: Pencilled) -> model.Pencilled:
    where = _polygon(page, flat, box_polygon(written.box))
    return model.Pencilled(digit=written.digit, confidence=written.confidence, where=where)


def _items(page: Page, flat: Flat, draft: Draft, pointers: list[tuple[str, ...]]) -> Iterator[model.Item]:
    for item, names in zip(draft.items, pointers, strict=True):
        if item.where is None:
            continue
        where = _polygon(page, flat, item.where)
        others = tuple(map(_alternative, item.alternatives))
        for name in names:
            yield model.Item(item=name, where=where, confidence=item.confidence, how=item.how, alternatives=others)


def _alternative(other: Alternative) -> model.Alternative:
    value = other.value.digit if isinstance(other.value, Given) else other.value
    return model.Alternative(value=value, confidence=other.confidence)


def _query(page: Page, flat: Flat, draft: Draft, doubt: Doubt, pointers: list[tuple[str, ...]]) -> model.Query:
    names: tuple[str, ...] = ()
    where = doubt.where
    if doubt.item is not None:
        names = pointers[doubt.item] if pointers else ()
        where = where or draft.items[doubt.item].where
    return model.Query(
        item=names[0] if names else None,
        where=None if where is None else _polygon(page, flat, where),
        why=asked(draft, doubt),
    )


def _polygon(page: Page, flat: Flat, where: Polygon) -> tuple[tuple[float, float], ...]:
    return tuple(to_page(page, flat, where))
