"""Pale characters: ink that is too faint for the guard that looks at all of it, where a character would stand.

Small marks are set in black or in a full colour, and what is paler is mostly the print of the other side. But a figure
that the press or a damp hand left pale stands in the middle of its cell, or in the row of the clues, is as large as a
character, has its sharp sides, and rises above what the paper of this very page reaches."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.evidence import Guess
from recognise.geometry import middle, overlap, within
from recognise.glyphs.window import window
from recognise.pixels.frame import Grey, Mask, Raster
from recognise.pixels.glyphs import DIGITS, CharacterReader
from recognise.pixels.printed import joined_pieces
from recognise.pixels.sides import Sides
from recognise.pixels.standout import SPOT_BLUR, paper_of

LEAST, TIMES = 0.05, 4.0
"""Ink (0 to 1) by which it stands out, and how many times what all but the largest answers of blank paper reach: more
than for ink of full strength, for the print of the other side is as pale."""
FAINTEST, READ = 1.5, 0.95
"""The same times for what reads as a digit with that probability: the print of the other side, mirrored and where the
paper lets it through, seldom does. On 40 right worn scans and photos (train half, 5300 to 5330 and 6008 to 6018) it
finds nothing, nor does it at 1.2 times what paper reaches."""
FAINT = 0.02
"""Ink (0 to 1) by which what reads as a digit stands out at least: a tenth of black print."""
MIRRORED, UPRIGHT = 0.95, 0.5
"""Probability from which on what reads as a digit in a mirror is print of the other side, where as it stands it reads
as each digit with less than the second."""
SEVERAL, AS_DARK = 3, 1.15
"""So many digits of the other side show how dark it shows through; paper is not even."""
JOIN = 0.06
"""In cells: strokes of one character that a pale print parts are nearer than twice this."""
TALL, WIDE = (0.2, 0.85), (0.06, 0.95)
"""In cells: how high characters are, and how wide numbers are."""
AREA = 0.015
"""In square cells: the ink of a thin 1; dust covers less."""
FILLED = 0.7
"""Part of its box that a character fills at most, but for a stroke of a 1: stains fill more."""
HALF = 0.5
"""Part of its darkest ink from which on a pixel is that of a stroke, and not of its blur."""
MIDDLE = 0.2
"""In cells: how far off the middle of its cell, or of its line, a given or a clue stands at most."""


def pale_characters(
    level: Grey, free: Mask, raster: Raster, floor: float, sides: Sides, reader: CharacterReader | None = None
) -> Iterator[Box]:
    """Boxes, in cells, of pale ink that may be a given or a clue. `level` is ink from 0 to 1 without shade and lattice
    lines, `free` where nothing is explained, `floor` what paper and noise reach at least; what is fainter still counts
    where it reads as a digit."""
    ink = np.where(free, level, 0).astype(np.float32)
    answer = np.asarray(cv2.GaussianBlur(ink, (0, 0), SPOT_BLUR * raster.cell), np.float32)
    paper = paper_of(answer, free, raster)
    found = list(_characters(answer, np.maximum(TIMES * paper, max(LEAST, floor)), free, raster, sides))
    if reader is None:
        yield from found
        return
    fainter = list(_characters(answer, np.maximum(FAINTEST * paper, FAINT), free, raster, sides))
    # Of what only just stands out the strokes show in part, and a part of a digit may be another one in a mirror.
    found = [next((whole for whole in fainter if within(box, whole)), box) for box in found]
    faint = [box for box in fainter if not any(overlap(box, other) for other in found)]
    here = set(_not_mirrored([*found, *faint], ink, raster, reader))
    yield from (box for box in found if box in here)
    yield from _digits([box for box in faint if box in here], ink, raster, reader)


def _characters(answer: Grey, enough: Grey, free: Mask, raster: Raster, sides: Sides) -> Iterator[Box]:
    """What stands out, is as large as a character and as sharp, and stands where one would."""
    out = (answer > enough) & free
    reach = raster.px(JOIN)
    for (y, x), thing in joined_pieces(out, reach, AREA * raster.cell**2):
        height, width = thing.shape
        box = raster.box(x + reach, y + reach, width - 2 * reach, height - 2 * reach)
        # Where little is enough strokes count with their blur, and would fill their box.
        answered = answer[y : y + height, x : x + width]
        strokes = thing & (answered >= HALF * np.percentile(answered[thing], 95))
        if _like_a_character(strokes, box, raster) and not sides.are_soft(thing, (y, x)):
            yield box


def _digits(boxes: Sequence[Box], ink: Grey, raster: Raster, reader: CharacterReader) -> Iterator[Box]:
    """Those of some boxes in which a digit is read."""
    crops = [window_of(box, ink, raster) for box in boxes]
    for box, guesses in zip(boxes, reader.read(crops, DIGITS) if crops else [], strict=True):
        if guesses and guesses[0].text and guesses[0].probability >= READ:
            yield box


def _not_mirrored(boxes: Sequence[Box], ink: Grey, raster: Raster, reader: CharacterReader) -> Iterator[Box]:
    """Those of some boxes in which no digit stands that the paper shows from its other side. Some digits are alike in
    a mirror, or another digit: they stay, but beside several that are surely of the other side those that are alike in
    a mirror and no darker go with them."""
    crops = [window_of(box, ink, raster, mirrored) for box in boxes for mirrored in (False, True)]
    read = [_likeliest(guesses) for guesses in (reader.read(crops, DIGITS) if crops else [])]
    pairs = list(zip(boxes, read[::2], read[1::2], strict=True))
    other_side = [box for box, upright, mirrored in pairs if mirrored[1] >= MIRRORED and upright[1] < UPRIGHT]
    darkest = AS_DARK * float(np.median([peak_of(box, ink, raster) for box in other_side])) if other_side else 0.0
    for box, upright, mirrored in pairs:
        alike = upright[0] == mirrored[0] and min(upright[1], mirrored[1]) >= UPRIGHT
        goes_with = len(other_side) >= SEVERAL and alike and peak_of(box, ink, raster) <= darkest
        if box not in other_side and not goes_with:
            yield box


def _likeliest(guesses: Sequence[Guess]) -> tuple[str, float]:
    """The likeliest digit, and how likely it is."""
    return max(((g.text, g.probability) for g in guesses if g.text), key=lambda one: one[1], default=("", 0.0))


def peak_of(box: Box, ink: Grey, raster: Raster) -> float:
    """How dark pale ink is at its darkest."""
    return max(float(np.percentile(ink[raster.slices(box)], 95)), 1e-3)


def window_of(box: Box, ink: Grey, raster: Raster, mirrored: bool = False) -> npt.NDArray[np.uint8]:
    """The picture of pale ink, black where it is darkest, as it stands or as a mirror shows it."""
    rows, columns = raster.slices(box)
    grey = np.rint(255 * (1 - np.clip(ink / peak_of(box, ink, raster), 0, 1))).astype(np.uint8)
    start, stop = columns.start, columns.stop
    if mirrored:
        grey, (start, stop) = grey[:, ::-1], (ink.shape[1] - stop, ink.shape[1] - start)
    return window(grey, (start, rows.start, stop, rows.stop))


def _like_a_character(thing: Mask, box: Box, raster: Raster) -> bool:
    """Whether ink is as large as a character and stands where one would."""
    wide, tall = box[2] - box[0], box[3] - box[1]
    area = np.count_nonzero(thing) / raster.cell**2
    if not (TALL[0] <= tall <= TALL[1] and WIDE[0] <= wide <= WIDE[1] and area >= AREA):
        return False
    if wide > TALL[0] and area > FILLED * wide * tall:
        return False
    x, y = middle(box)
    off = [abs(v % 1 - 0.5) for v, most in ((x, raster.columns), (y, raster.rows)) if 0 < v < most]
    return bool(off) and max(off) <= MIDDLE
