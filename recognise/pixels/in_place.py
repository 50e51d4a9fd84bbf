"""A third look at cells in which nothing was read, at the place where the givens of the page stand.

A line that runs into a character makes one piece of both, and no cut parts what is equally dark. But the givens of a
grid stand at one place in their cells, in one size: there the ink is looked at with all that is around it, as the
network was taught to see characters that lines cross, at several shifts, and the mean tells.
"""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from ingest.page import Box, Point
from recognise.evidence import Glyph, Guess
from recognise.geometry import holds
from recognise.pixels.cells import ENOUGH, HEIGHT_OFF, PALEST, SURE, Usual
from recognise.pixels.frame import Grey, Raster
from recognise.pixels.glyphs import CharacterReader, mean_of
from recognise.quantiles import percentile
from schema.cells import Cell

EVEN = 0.03
"""In cells: print stands in the middle of its cells, or off it, to this standard deviation; old-style figures and a
grid that was found askew do not, and tell no place."""
SHIFTS = (-0.04, 0.0, 0.04)
"""In cells: how far off its place a character is looked for, across and down."""
WIDE = 0.6
"""Width of a figure as a part of its height."""
TALLEST = 1.1
"""Times the usual height: what stands at the place of a character is no taller."""
INKED = 95.0
"""Percentile of the ink at the place that must be that of characters."""
BELIEVED = 0.6
"""From this mean probability on a character is taken for one."""
MOST = 0.97
"""The most that this look alone is believed."""

NOUGHT, RING = "0", 0.5
"""What is so likely a nought in a grid that has none is perhaps a ring, and no character."""

InPlace = tuple[Box, tuple[Guess, ...]]
"""Where a character would stand, and what it reads as."""


def place_of(glyphs: Iterable[Glyph], usual: Usual) -> Point | None:
    """Where in their cells the sure characters of usual height stand, in cells; None where they do not agree."""
    middles = [
        (glyph.centre[0] % 1, glyph.centre[1] % 1)
        for glyph in glyphs
        if glyph.confidence >= SURE and len(glyph.text) == 1
        and abs(glyph.size - usual.height) <= HEIGHT_OFF * usual.height
    ]  # fmt: skip
    if len(middles) < ENOUGH or max(np.std(middles, axis=0)) > EVEN:
        return None
    across, down = np.median(middles, axis=0)
    return float(across), float(down)


def look_in_place(
    drawn: Grey,
    raster: Raster,
    usual: Usual,
    place: Point,
    taken: Collection[Cell],
    reader: CharacterReader,
    allowed: str,
) -> dict[Cell, InPlace]:
    """For each cell that is not `taken` and has ink at the place of a character: the box, and what it reads as.
    `drawn` is ink without lattice lines, `allowed` the characters that may stand there."""
    grey = np.rint(255 * (1 - np.clip(drawn / max(usual.dark, 1e-3), 0, 1))).astype(np.uint8)
    boxes, crops = {}, []
    for row, column in itertools.product(range(raster.rows), range(raster.columns)):
        cell = Cell(row + 1, column + 1)
        box = _around((column + place[0], row + place[1]), usual.height)
        if cell not in taken and percentile(drawn[raster.slices(box)], INKED) >= PALEST * usual.dark:
            boxes[cell] = box
            crops += list(_windows(grey, raster, box))
    read = iter(reader.read(crops, allowed) if crops else [])
    looks = len(SHIFTS) ** 2
    means = {cell: mean_of(list(itertools.islice(read, looks))) for cell in boxes}
    return {
        cell: (_ink_of(box, drawn, raster, usual) if means[cell][0].text == NOUGHT else box, means[cell])
        for cell, box in boxes.items()
    }


def _ink_of(box: Box, drawn: Grey, raster: Raster, usual: Usual) -> Box:
    """The box of the ink about the place of a character, as far to each side as one is tall: a nought is narrow, a ring
    is not."""
    x, y, half = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2, TALLEST * usual.height / 2
    rows, columns = raster.slices((x - half, y - half, x + half, y + half))
    inked = np.argwhere(drawn[rows, columns] >= PALEST * usual.dark)
    if not len(inked):
        return box
    (top, left), (bottom, right) = inked.min(axis=0), inked.max(axis=0) + 1
    ends = (columns.start + left, rows.start + top, columns.start + right, rows.start + bottom)
    x0, y0, x1, y1 = ((float(end) - raster.origin) / raster.cell for end in ends)
    return x0, y0, x1, y1


def without_nought(guesses: tuple[Guess, ...]) -> tuple[Guess, ...]:
    """What is read in a grid without a nought: a blurred 8 or 6 looks like one; nothing where it is perhaps a ring."""
    nought = sum(guess.probability for guess in guesses if guess.text == NOUGHT)
    if nought >= RING:
        return (Guess("", 1.0),)
    return tuple(replace(g, probability=g.probability / (1 - nought)) for g in guesses if g.text != NOUGHT)


def in_place(seen: Mapping[Cell, InPlace], like: Glyph) -> list[Glyph]:
    """The characters among them, with the colour of another one."""
    found = []
    for box, guesses in seen.values():
        best = guesses[0]
        if best.text and best.probability >= BELIEVED:
            kept = (Guess(best.text, min(best.probability, MOST)), *guesses[1:])
            found.append(Glyph(box, kept, box[3] - box[1], like.colour, "ocr"))
    return found


def shows(seen: InPlace, glyph: Glyph) -> bool:
    """Whether this look reads a character in its place as it was read before."""
    best = seen[1][0]
    return holds(seen[0], glyph.centre) and best.text == glyph.text and best.probability >= BELIEVED


def doubted(glyph: Glyph, seen: InPlace | None) -> Glyph:
    """A character, with the mean of both readings where this look shows another one in its place."""
    if seen is None:
        return glyph
    best = seen[1][0]
    if not holds(seen[0], glyph.centre) or not best.text or best.text == glyph.text or best.probability < BELIEVED:
        return glyph
    return replace(glyph, guesses=mean_of([glyph.guesses, seen[1]]))


def _around(middle: Point, height: float) -> Box:
    (x, y), half = middle, height / 2
    return x - WIDE * half, y - half, x + WIDE * half, y + half


def _windows(grey: npt.NDArray[np.uint8], raster: Raster, box: Box) -> Iterator[npt.NDArray[np.uint8]]:
    from recognise.glyphs.window import window  # noqa: PLC0415 - loads OpenCV's resizing only when reading

    for x, y in itertools.product(SHIFTS, SHIFTS):
        at: Sequence[float] = [
            v * raster.cell + raster.origin for v in (box[0] + x, box[1] + y, box[2] + x, box[3] + y)
        ]
        yield window(grey, (at[0], at[1], at[2], at[3]))
