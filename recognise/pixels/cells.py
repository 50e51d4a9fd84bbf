"""A second look at every cell, without connected pieces of the whole picture.

In each cell the ink is cut at several parts of the cell's own darkest ink; what stands there at each cut is boxed and
read, so that a blurred, pale, broken or touched character is seen by at least some of them. The mean over the cuts says
what the cell holds; characters that are already sure give the size that the others must have.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

import cv2
import numpy as np
import numpy.typing as npt

from recognise.evidence import Glyph, Guess
from recognise.pixels.frame import Grey, Mask, Raster
from recognise.pixels.glyphs import CharacterReader, mean_of
from recognise.quantiles import percentile
from schema.cells import Cell

CUTS = (0.35, 0.5, 0.65)
"""Parts of the darkest ink of the cell at which it is cut."""
DARKER_CUTS = (*CUTS, 0.75, 0.85)
"""The same in cells where nothing was read: a line that runs through a character may be nearly as dark."""
INNER = 0.06
"""In cells: what is nearer to the cell's border may be a rest of a line."""
PALEST = 0.3
"""A cell whose darkest ink is less than this part of that of the other characters holds none."""
DARKEST = 99.0
"""Percentile of a cell's ink that counts as its darkest."""
HEIGHT_OFF = 0.18
"""Characters of one grid differ in height by no more than this part (round ones reach over the line)."""
SURE = 0.9
"""From here on a character tells the others' size, and a second look by itself is believed."""
ENOUGH = 4
"""So many sure characters tell a size."""
NEIGHBOURS = 2
"""So many cuts next to each other must show a character for it to be believed by them alone."""
NEW = 0.995
"""The most that a second look alone is believed."""
PAD = 3
"""Pixels around a character that its picture keeps."""
NEAR_PIECE = 0.08
"""In cells: pieces nearer than this to the largest one may be of the same character."""


@dataclass(frozen=True, slots=True)
class Usual:
    """What the sure characters of a grid have in common: height in cells and ink of their strokes."""

    height: float
    dark: float


@dataclass(frozen=True, slots=True)
class Look:
    """What one cell shows: the box in pixels at the middle cut, and the mean guesses; `best` is the probability of the
    likeliest character at the two neighbouring cuts that show it best; `hung` says that at every cut what stands there
    runs on out of the cell, as a line does that is as dark as the character on it."""

    box: tuple[int, int, int, int]
    guesses: tuple[Guess, ...]
    best: float = 0.0
    hung: bool = False

    @property
    def sees_line(self) -> bool:
        """Whether it saw no character, but a line with whatever stands on that: it says nothing of a character."""
        return self.hung and not self.guesses[0].text


def usual_of(glyphs: Sequence[Glyph], drawn: Grey, raster: Raster) -> Usual | None:
    """The common size of the sure characters; None while there are too few, or they do not agree."""
    sure = [g for g in glyphs if g.confidence >= SURE and len(g.text) == 1]
    if len(sure) < ENOUGH:
        return None
    dark = [float(percentile(drawn[raster.slices(g.box)], 90)) for g in sure]
    return Usual(float(np.median([g.size for g in sure])), float(np.median(dark)))


def look_again(
    drawn: Grey, raster: Raster, usual: Usual, reader: CharacterReader, allowed: str, taken: Collection[Cell] = ()
) -> dict[Cell, Look]:
    """Every cell in which something of a character's size stands, and what it reads as. `drawn` is ink without lattice
    lines; `allowed` the characters that may stand there, 'nothing' always among them; `taken` the cells in which one
    was read before."""
    boxes: list[tuple[Cell, tuple[int, int, int, int]]] = []
    crops: list[npt.NDArray[np.uint8]] = []
    free: set[Cell] = set()
    for row in range(raster.rows):
        for column in range(raster.columns):
            cell = Cell(row + 1, column + 1)
            for box, crop, hangs in _proposals(drawn, raster, cell, usual, whole=cell not in taken):
                boxes.append((cell, box))
                crops.append(crop)
                free |= set() if hangs else {cell}
    read = reader.read(crops, allowed) if crops else []
    by_cell: dict[Cell, list[tuple[tuple[int, int, int, int], tuple[Guess, ...]]]] = {}
    for (cell, box), guesses in zip(boxes, read, strict=True):
        by_cell.setdefault(cell, []).append((box, guesses))
    return {cell: replace(_together(seen), hung=cell not in free) for cell, seen in by_cell.items()}


def _together(seen: Sequence[tuple[tuple[int, int, int, int], tuple[Guess, ...]]]) -> Look:
    """The looks at one cell as one. At some cuts a fold or a line hangs on to the character, and it reads as nothing;
    at others it falls apart: two cuts that agree tell, and what the others say still counts for how sure it is."""
    readings = [guesses for _, guesses in seen]
    likeliest = max(mean_of(readings), key=lambda g: g.probability if g.text else 0.0, default=None)
    if likeliest is None or not likeliest.text or len(readings) < NEIGHBOURS:
        return Look(seen[len(seen) // 2][0], mean_of(readings))
    chances = [next((g.probability for g in guesses if g.text == likeliest.text), 0.0) for guesses in readings]
    pairs = [sum(chances[k : k + NEIGHBOURS]) / NEIGHBOURS for k in range(len(chances) - NEIGHBOURS + 1)]
    first = int(np.argmax(pairs))
    shown = [guesses for guesses in readings if guesses and guesses[0].text]
    return Look(seen[first][0], mean_of(shown or readings), pairs[first])


def _proposals(
    drawn: Grey, raster: Raster, cell: Cell, usual: Usual, whole: bool
) -> list[tuple[tuple[int, int, int, int], npt.NDArray[np.uint8], bool]]:
    """For each cut of a cell's ink the box of what stands there, its window, and whether it goes on beyond the cell;
    with `whole` at more cuts, and without what does."""
    from recognise.glyphs.window import window  # noqa: PLC0415 - loads OpenCV's resizing only when reading

    x, y = (cell.column - 1) * raster.cell + raster.origin, (cell.row - 1) * raster.cell + raster.origin
    near = raster.px(INNER)
    part = drawn[y + near : y + raster.cell - near, x + near : x + raster.cell - near]
    peak = float(percentile(part, DARKEST))
    if peak < PALEST * usual.dark:
        return []
    found = []
    for cut in DARKER_CUTS if whole else CUTS:
        mask = _character(part > cut * peak, raster, usual.height)
        hangs = mask is not None and _reaches_out(mask)
        if mask is None or (whole and hangs):
            continue
        ys, xs = np.nonzero(mask)
        box = (int(xs.min()), int(ys.min()), int(xs.max()) + 1, int(ys.max()) + 1)
        own = cv2.dilate(mask.astype(np.uint8), np.ones((2 * PAD + 1, 2 * PAD + 1), np.uint8)) > 0
        shown = np.where(own, np.clip(part / peak, 0, 1), 0)
        grey = cv2.copyMakeBorder(
            np.rint(255 * (1 - shown)).astype(np.uint8), PAD, PAD, PAD, PAD, cv2.BORDER_CONSTANT, value=(255,)
        )
        padded = (box[0] + PAD, box[1] + PAD, box[2] + PAD, box[3] + PAD)
        on_page = (box[0] + x + near, box[1] + y + near, box[2] + x + near, box[3] + y + near)
        found.append((on_page, window(np.asarray(grey, np.uint8), padded), hangs))
    return found


def _character(mask: Mask, raster: Raster, height: float) -> Mask | None:
    """The pixels of the largest piece with what stands close to it; None when it has not the others' height."""
    count, labels, stats, _ = cv2.connectedComponentsWithStats(mask.astype(np.uint8), connectivity=8)
    if count < 2:
        return None
    largest = 1 + int(stats[1:, 4].argmax())
    own = labels == largest
    if abs(stats[largest, 3] - height * raster.cell) > HEIGHT_OFF * height * raster.cell:
        reach = 2 * raster.px(NEAR_PIECE) + 1
        touched = np.zeros(count, np.bool_)
        touched[labels[cv2.dilate(own.astype(np.uint8), np.ones((reach, reach), np.uint8)) > 0]] = True
        touched[0] = False
        own = touched[labels]
    rows = np.nonzero(own.any(axis=1))[0]
    tall = int(rows[-1] - rows[0]) + 1
    fits = abs(tall - height * raster.cell) <= max(HEIGHT_OFF * height * raster.cell, 2)
    return np.asarray(own, np.bool_) if fits else None


def _reaches_out(mask: Mask) -> bool:
    """Whether ink reaches the border of what is looked at of a cell: a bend in a line looks like a 7 there."""
    return bool(mask[0].any() or mask[-1].any() or mask[:, 0].any() or mask[:, -1].any())


def agreed(glyph: Glyph, look: Look) -> Glyph:
    """A character with what the second look adds: where both read the same the doubts multiply (they err on the same
    picture, so no more than one of them counts in full); where they differ, both are kept with their mean."""
    first = {g.text: g.probability for g in glyph.guesses}
    second = {g.text: g.probability for g in look.guesses}
    best = look.guesses[0].text
    if best == glyph.text:
        sure = max(first[best], second[best])
        others = [(text, p * (1 - sure) / max(1e-9, 1 - first[best])) for text, p in first.items() if text != best]
        return replace(glyph, guesses=(Guess(best, sure), *(Guess(text, p) for text, p in others)))
    texts = {*first, *second}
    mean = [Guess(text, (first.get(text, 0.0) + second.get(text, 0.0)) / 2) for text in texts]
    return replace(glyph, guesses=tuple(sorted(mean, key=lambda g: -g.probability)))


def at_most(glyph: Glyph, sure: float) -> Glyph:
    """A character that is no surer than so; what is taken from it nothing stands for."""
    best, *rest = glyph.guesses
    return replace(glyph, guesses=(Guess(best.text, min(best.probability, sure)), *rest))


def added(looks: Mapping[Cell, Look], taken: set[Cell], raster: Raster, like: Glyph) -> list[Glyph]:
    """Characters in cells where only the second look saw one, with the colour of another character."""
    found = []
    for cell, look in looks.items():
        best = look.guesses[0]
        if cell in taken or not best.text or max(best.probability, look.best) < SURE:
            continue
        x0, y0, x1, y1 = look.box
        box = raster.box(x0, y0, x1 - x0, y1 - y0)
        guesses = (Guess(best.text, min(best.probability, NEW)), *look.guesses[1:])
        found.append(Glyph(box, guesses, box[3] - box[1], like.colour, "ocr"))
    return found
