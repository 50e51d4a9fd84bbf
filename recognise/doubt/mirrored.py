"""Marks that hardly show where the other side of the paper plainly shows through: its digits, which read in a mirror.

What hardly shows may be a mark that the press left nearly bare. But where several bare cells hold a digit as a mirror
has it, the paper lets the print of its other side through, and they say how dark that comes. Where nothing in the cells
that a question is about is darker, what is seen there is of that print too: it is as pale as all of it, and a press
that misses one mark by just as much, and its neighbours not at all, is much rarer than a page with a back. So is ink
that nothing explains, within such a digit, or as high as one in the middle of a cell unless it reads as one as it
stands: what shows through of a line and of a digit on it makes one figure, which no mirror has. Where marks of this
side are about as pale, such a figure may be one of theirs, and is asked about."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import cv2
import numpy as np

from ingest.page import Box
from recognise.doubt.pale import peak_of, window_of
from recognise.draft import Doubt, Draft
from recognise.evidence import Flat, Guess
from recognise.geometry import bounds, box_at, filled, middle, within
from recognise.marks.cell_questions import left_out
from recognise.marks.line_questions import cells_of_faded
from recognise.pixels.frame import Grey, Mask, Raster
from recognise.pixels.glyphs import DIGITS, CharacterReader
from recognise.pixels.ink import Ink
from recognise.pixels.printed import joined_pieces
from recognise.pixels.standout import SPOT_BLUR, paper_of
from schema.cells import Cell

SEVERAL = 2
"""Digits of the other side that show that it does: a stain is hardly ever one, and no two are."""
MIRRORED, UPRIGHT = 0.95, 0.3
"""Probability from which on ink reads as a digit in a mirror, and below which as it stands as any: some digits are
alike both ways, and tell nothing."""
STANDING_OUT = (1.5, 2.5)
"""So many times what all but the largest answers of blank paper reach; where little is enough a figure and what shows
through beside it are one piece."""
FAINT = 0.015
"""Ink (0 to 1) by which a digit stands out from any paper."""
JOIN, AREA = 0.06, 0.015
"""In cells, and in square cells: strokes that a pale print parts are nearer than twice the first; a thin 1 covers the
second."""
TALL, OFF = (0.3, 0.85), 0.2
"""In cells: how high digits in cells are, and how far off the middle of its cell one stands at most."""
CLAIM = 0.06
"""In cells: how far ink may stand outside the polygon that claims it."""
BORDER = 0.08
"""In cells: ink nearer to a lattice line may be a rest of it."""
AS_DARK = 1.15
"""Times the ink of the digits: paper is not even."""
ABOUT_AS_PALE = 2.0
"""Times what shows through: fine strokes lose half of their ink in blur, and areas do not."""
DARKEST_OF_CELL = 99
"""Percentile of the ink in a cell that the finest line through it reaches, and the grain of paper does not."""


def without_mirrored(draft: Draft, ink: Ink, flat: Flat, reader: CharacterReader) -> Draft:
    """A draft without the questions about lines, circles and squares that hardly show, and about ink that nothing
    explains, that are no darker than the digits of the paper's other side."""
    asked = {doubt.why: cells for doubt in draft.doubts if (cells := _cells_of(doubt.why))}
    stray = [bounds(doubt.where) for doubt in draft.doubts if doubt.stray and doubt.where]
    if not asked and not stray:
        return draft
    raster = Raster.of(flat)
    claimed = filled(flat, [polygon for item in draft.items for polygon in item.claimed])
    grown = cv2.dilate(claimed, np.ones((2 * raster.px(CLAIM) + 1,) * 2, np.uint8))
    free = (grown == 0) & ~ink.grid
    level = np.where(free, ink.level, 0).astype(np.float32)
    digits = _of_other_side(level, free, raster, reader)
    if len(digits) < SEVERAL:
        return draft
    darkest = AS_DARK * float(np.median([dark for _, dark in digits]))
    back = _Back(level, raster, tuple(box for box, _ in digits), darkest)
    through = back.strays(stray, reader, alone=not _has_pale_marks(draft, ink.level, raster, darkest))

    def shows_through(doubt: Doubt) -> bool:
        if doubt.stray and doubt.where:
            return bounds(doubt.where) in through
        return doubt.why in asked and all(map(back.is_as_pale, asked[doubt.why]))

    return replace(draft, doubts=tuple(doubt for doubt in draft.doubts if not shows_through(doubt)))


@dataclass(frozen=True, slots=True)
class _Back:
    """The other side as it shows: ink (0 to 1) that nothing claims, the boxes of its digits, and how dark it comes."""

    level: Grey
    raster: Raster
    digits: tuple[Box, ...]
    darkest: float

    def is_as_pale(self, cell: Cell | None) -> bool:
        """Whether nothing in a cell is darker."""
        if cell is None:
            return False
        box = self.raster.slices(box_at(cell.centre, 0.5 - BORDER))
        return float(np.percentile(self.level[box], DARKEST_OF_CELL)) <= self.darkest

    def strays(self, boxes: Iterable[Box], reader: CharacterReader, *, alone: bool) -> set[Box]:
        """Those of the boxes of stray ink that are of it: within its digits, and `alone` in mid-cell too."""
        pale = [box for box in boxes if self.is_as_pale(self.raster.cell_of(*middle(box)))]
        found = {box for box in pale if any(within(box, digit) for digit in self.digits)}
        high = [box for box in pale if alone and box not in found and _is_as_high_as_a_digit(box)]
        crops = [window_of(box, self.level, self.raster) for box in high]
        read = reader.read(crops, DIGITS[1:]) if crops else []  # a 0 is in few grids, and a ring looks like one
        return found | {box for box, guesses in zip(high, read, strict=True) if _likeliest(guesses) < UPRIGHT}


def _cells_of(why: str) -> Sequence[Cell]:
    """The cells of what hardly shows; none where a question is about something else."""
    in_cells = left_out(why)
    if in_cells is not None:
        return in_cells[1]
    return sorted(cells_of_faded(why))


def _has_pale_marks(draft: Draft, level: Grey, raster: Raster, darkest: float) -> bool:
    """Whether anything that was read within a cell is about as pale as the other side."""
    most = ABOUT_AS_PALE * darkest
    boxes = (bounds(polygon) for item in draft.items for polygon in item.claimed)
    inner = (box for box in boxes if max(box[2] - box[0], box[3] - box[1]) <= 1)
    return any(float(np.percentile(level[raster.slices(box)], DARKEST_OF_CELL)) <= most for box in inner)


def _of_other_side(level: Grey, free: Mask, raster: Raster, reader: CharacterReader) -> list[tuple[Box, float]]:
    """The box of each digit of the other side, and how dark it is, one in a cell."""
    answer = np.asarray(cv2.GaussianBlur(level, (0, 0), SPOT_BLUR * raster.cell), np.float32)
    paper = paper_of(answer, free, raster)
    found: dict[Cell | None, tuple[Box, float]] = {}
    for times in STANDING_OUT:
        boxes = list(_figures(answer > np.maximum(times * paper, FAINT), raster))
        crops = [window_of(box, level, raster, mirrored) for box in boxes for mirrored in (False, True)]
        read = [_likeliest(guesses) for guesses in (reader.read(crops, DIGITS) if crops else [])]
        for box, upright, mirrored in zip(boxes, read[::2], read[1::2], strict=True):
            if mirrored >= MIRRORED and upright < UPRIGHT:
                cell = raster.cell_of(*middle(box))
                found[cell] = box, peak_of(box, level, raster)
    return list(found.values())


def _figures(standing_out: Mask, raster: Raster) -> Iterator[Box]:
    """What stands in the middle of a cell and is as high as a digit in one."""
    reach = raster.px(JOIN)
    for (y, x), thing in joined_pieces(standing_out, reach, AREA * raster.cell**2):
        height, width = thing.shape
        box = raster.box(x + reach, y + reach, width - 2 * reach, height - 2 * reach)
        if raster.cell_of(*middle(box)) is not None and _is_as_high_as_a_digit(box):
            yield box


def _is_as_high_as_a_digit(box: Box) -> bool:
    """Whether something stands in the middle of a cell, and is as high as digits are."""
    off = max(abs(place % 1 - 0.5) for place in middle(box))
    return off <= OFF and TALL[0] <= box[3] - box[1] <= TALL[1] and box[2] - box[0] <= TALL[1]


def _likeliest(guesses: Sequence[Guess]) -> float:
    """How likely the likeliest digit is."""
    return max((guess.probability for guess in guesses if guess.text), default=0.0)
