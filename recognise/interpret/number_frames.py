"""Flags, tags and plates of any shape in which the numbers of marks stand: where all numbers of one kind have one, it
is how the page sets them and says no more."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from recognise.draft import Item, box_polygon
from recognise.evidence import Glyph, Shape
from recognise.geometry import holds
from recognise.interpret.making import Making
from recognise.interpret.mark import CHARACTERS, Left
from schema.kinds.base import Constraint

LARGEST = 3.0
"""How many times as tall as its number a frame is at most."""

Framed = tuple[int, Shape]
"""The index of an item, and the frame of its number."""


def take_number_frames(making: Making, left: Left, glyphs: Sequence[Glyph]) -> None:
    """Let the marks of each kind claim the frames in which their numbers, some of `glyphs`, stand."""
    by_kind: dict[str, list[Framed | None]] = {}
    for index, item in enumerate(making.items):
        number = _number(item, glyphs)
        if number and isinstance(item.value, tuple):
            found = [shape for shape in left.shapes if _is_frame(shape, number)]
            by_kind.setdefault(_kind(item.value), []).append((index, found[0]) if len(found) == 1 else None)
    taken: list[Shape] = []
    for framed in by_kind.values():
        whole = [one for one in framed if one is not None]
        if len(whole) == len(framed):
            for index, frame in whole:
                item = making.items[index]
                making.items[index] = replace(item, claims=(*(item.claims or (item.where,)), box_polygon(frame.box)))
            taken += [frame for _, frame in whole]
    left.take_shapes(lambda shape: any(shape is one for one in taken))


def _kind(value: tuple[Constraint, ...]) -> str:
    return value[0].kind


def _number(item: Item, glyphs: Sequence[Glyph]) -> list[Glyph]:
    """The characters that an item has claimed."""
    claims = set(item.claims or ())
    return [glyph for glyph in glyphs if box_polygon(glyph.box) in claims]


def _is_frame(shape: Shape, number: Sequence[Glyph]) -> bool:
    tallest = max(glyph.box[3] - glyph.box[1] for glyph in number)
    fits = shape.box[3] - shape.box[1] <= LARGEST * tallest
    return shape.name not in CHARACTERS and fits and all(holds(shape.box, glyph.centre) for glyph in number)
