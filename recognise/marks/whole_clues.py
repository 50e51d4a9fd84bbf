"""Numbers beside the grid in the light of the network of short texts, which sees a number as a whole.

They were cut apart and read figure by figure: of a number whose figures touch, or of which worn print has lost a
stroke, such readings are in doubt although anybody sees what it is. The network looks at each in several windows, so
that what it reads does not hang on where the number was thought to stand."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

import cv2
import numpy as np

from recognise.evidence import Glyph, Guess
from recognise.marks.seen import Seen
from recognise.marks.short_texts import Window, around, cut, ink_window, short_text_reader
from recognise.pixels.glyphs import DIGITS, mean_of

SURELY_READ = 0.99
"""What was read so surely is looked at in one window; in all of them only where that shows another number."""
AGREED, SURE = 0.9, 0.97
"""How sure the network is at least of what both read, and of what counts against a reading, in the mean of all windows.
On 8 pages of worn print and photos, of which 24 of the 73 numbers had not been surely read, it read each as it was
printed, the least sure at 0.96."""
WEAK, MOST, HALF = 0.8, 0.8, 0.5
"""How sure a reading is at most that gives way to another, the most that is believed that one look alone shows, and how
sure one remains of a sure reading that the network surely reads otherwise."""
BESIDE, LOST = 0.12, 0.06
"""In cells: how far beside a number ink may stand that touches its own, and how far at least where it is more than the
blur of that (`recognise.doubt.ink`)."""
LARGER, ASIDE, HIGHER = (0.85, 1.0, 1.2), (-0.04, 0.04), (-0.03, 0.03)
"""How much larger the windows are than the network learned them, and in cells how far they are moved."""


def clues_again(known: Iterable[Glyph], seen: Seen) -> list[tuple[Glyph, Glyph]]:
    """Those of the numbers beside the grid of which the network has something to say, each with what counts instead:
    what both read is as sure as the surer, what the network surely reads is likelier than another weak reading, and
    where both are sure of something else, one doubts."""
    numbers = [glyph for glyph in known if glyph.text.isdecimal() and seen.raster.cell_of(*glyph.centre) is None]
    first = short_text_reader().read([_windows(glyph, seen, (1.0,), (0.0,), (0.0,))[0] for glyph in numbers], DIGITS)
    pairs = []
    for glyph, told in zip(numbers, first, strict=True):
        after = glyph
        if glyph.confidence < SURELY_READ or told[0].text not in ("", glyph.text):
            windows = _windows(glyph, seen, LARGER, ASIDE, HIGHER)
            after = _weighed(glyph, mean_of(short_text_reader().read(windows, DIGITS)))
        if told[0].text == after.text and told[0].probability >= AGREED:
            after = _with_its_ink(after, seen)
        if after != glyph:
            pairs.append((glyph, after))
    return pairs


def _with_its_ink(glyph: Glyph, seen: Seen) -> Glyph:
    """A number that both read, with all ink that touches its own on its level: cutting it apart loses fine strokes, and
    they are no other character where the network sees none."""
    x0, y0, x1, y1 = glyph.box
    rows, columns = seen.raster.slices((x0 - BESIDE, y0, x1 + BESIDE, y1))
    _, labels = cv2.connectedComponents((seen.ink.level[rows, columns] > 2 * seen.ink.floor).astype(np.uint8))
    own_rows, own_columns = seen.raster.slices(glyph.box)
    own = labels[own_rows.start - rows.start :, own_columns.start - columns.start :][
        : own_rows.stop - own_rows.start, : own_columns.stop - own_columns.start
    ]
    across = np.flatnonzero(np.isin(labels, own[own > 0]).any(axis=0))
    if not across.size:
        return glyph
    left, _, right, _ = seen.raster.box(columns.start + int(across[0]), rows.start, int(np.ptp(across)) + 1, 1)
    box = min(x0, left), y0, max(x1, right), y1
    return replace(glyph, box=box) if max(x0 - left, right - x1) > LOST else glyph


def _windows(
    glyph: Glyph, seen: Seen, larger: Sequence[float], aside: Sequence[float], higher: Sequence[float]
) -> list[Window]:
    """The windows around a number."""
    raster = seen.raster
    (x, y), (_, top, _, bottom) = glyph.centre, ink_window(glyph.box)
    boxes = (
        around((x + right, y + down), part * (bottom - top) / 2)
        for part in larger
        for right in aside
        for down in higher
    )
    return [cut(seen.ink.relative, box, raster.cell, raster.origin / raster.cell) for box in boxes]


def _weighed(glyph: Glyph, told: Sequence[Guess]) -> Glyph:
    """A number as it was read and as the network reads it."""
    own, *others = glyph.guesses
    first, sure = told[0].text, told[0].probability
    if first == own.text:
        if sure < AGREED or sure <= own.probability:
            return glyph
        # What is left for its other readings is less by as much as it is surer.
        part = (1 - sure) / max(1 - own.probability, 1e-9)
        return replace(glyph, guesses=(Guess(own.text, sure), *(_less(guess, part) for guess in others)))
    if not first or sure < SURE:
        return glyph
    if own.probability < WEAK:
        rest = tuple(_less(guess, 1 - MOST) for guess in glyph.guesses if guess.text != first)
        return replace(glyph, guesses=(Guess(first, MOST), *rest))
    rest = tuple(guess for guess in others if guess.text != first)
    own = Guess(own.text, min(own.probability, HALF))
    return replace(glyph, guesses=(own, Guess(first, HALF * sure), *rest))


def _less(guess: Guess, part: float) -> Guess:
    return Guess(guess.text, guess.probability * part)
