"""Gradients that a program drew step by step: strokes of a tube, each a little paler than the one before, or strips of
a tint. They are one thing of one colour."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from recognise.vectors.inks import Ink, darkness, near
from recognise.vectors.painting import polygon_area
from recognise.vectors.patches import joined_patches
from recognise.vectors.place import Floats

STEP = 14
"""Grey levels from one step of a gradient to the next, at most; two colours of a page differ by more."""
STEPS = 4
"""A gradient has so many steps at least, each of another colour."""
SAME_PEN = 1e-3
"""In cells: by how much strokes of one width differ."""
APART = 3
"""Places in the paint order from one step to the next: a program may set a colour or a clip as a thing of its own."""
TOUCH = 0.02
"""In cells: strips that follow each other touch."""


def as_one(inks: Sequence[Ink]) -> list[Ink]:
    """The inks, in paint order; the strokes of a gradient in its darkest colour, the strips of one as one ink."""
    found: list[Ink] = []
    chain: list[Ink] = []
    for ink in inks:
        if chain and not _goes_on(chain[-1], ink):
            found += _whole(chain)
            chain = []
        chain.append(ink)
    return found + list(_whole(chain))


def _goes_on(one: Ink, other: Ink) -> bool:
    """Whether an ink is the next step of a gradient."""
    alike = one.role == other.role and one.opaque == other.opaque and abs(one.width - other.width) <= SAME_PEN
    # Of many steps of a stroke two may round to one colour; areas of one colour that touch are two things.
    shaded = near(one.colour, other.colour, STEP) and (one.colour != other.colour or one.role == "stroke")
    follows = one.order < other.order <= one.order + APART
    (left, top, right, bottom), box = one.box, other.box
    meet = left <= box[2] + TOUCH and box[0] <= right + TOUCH and top <= box[3] + TOUCH and box[1] <= bottom + TOUCH
    return alike and shaded and follows and meet


def _whole(chain: Sequence[Ink]) -> Iterator[Ink]:
    # The sides of a cell's border in two shades, cell after cell, are none.
    if len({ink.colour for ink in chain}) < STEPS:
        yield from chain
        return
    colour = max((ink.colour for ink in chain), key=darkness)
    if chain[0].role == "stroke":
        yield from (replace(ink, colour=colour) for ink in chain)
        return
    patch = chain[0].whole
    for ink in chain[1:]:
        patch = joined_patches(patch, ink.whole)
    outlines = tuple(outline for ink in chain for outline in ink.outlines)
    closed = tuple(each for ink in chain for each in ink.closed)
    whole = replace(chain[0], outlines=outlines, closed=closed, colour=colour, patch=patch, whole=patch)
    if _are_stacked(chain):
        # In print its steps show as lines across.
        whole = replace(whole, outlines=(_around(outlines),), closed=(True,), grain=outlines)
    yield whole


def _are_stacked(chain: Sequence[Ink]) -> bool:
    """Whether strips, one beside the other and all equally long, make up one rectangle."""
    boxes = np.array([ink.box for ink in chain])
    stacked = any((np.ptp(boxes[:, [axis, axis + 2]], axis=0) <= TOUCH).all() for axis in (0, 1))
    return stacked and all(_is_rectangle(ink) for ink in chain)


def _is_rectangle(ink: Ink) -> bool:
    across, down = np.ptp(ink.outlines[0], axis=0)
    area = abs(polygon_area(ink.outlines[0]))
    return len(ink.outlines) == 1 and not ink.curved and bool(area >= (1 - TOUCH) * across * down)


def _around(outlines: Sequence[Floats]) -> Floats:
    """The rectangle round outlines."""
    points = np.concatenate(outlines)
    (left, top), (right, bottom) = points.min(axis=0), points.max(axis=0)
    return np.array([(left, top), (right, top), (right, bottom), (left, bottom), (left, top)])
