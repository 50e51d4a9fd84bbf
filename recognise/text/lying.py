"""Which way up a page is, told by its text: for grids in which nothing stands that can be read one way only."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

import cv2
import numpy as np

from ingest.page import Box, Page
from recognise.text.engine import Engine, Grey, NoEngine, engine
from recognise.text.regions import Lines, Region, letters_in_line, lines_of, text_regions

ENOUGH = 40
"""Letters that tell which way up a page is: a sentence of the rules has more."""
MORE = 1.3
"""So many times as many letters stand in line once a page that lies on its side is turned; then what reads decides."""
SURE = 0.7
"""Lines upside down read as something too, and never as surely."""
BLOCKS, LINES = 3, 4
"""So much text is read: which way is up shows in a line or two."""
BETTER = 1.5
"""By how much the text must read better the one way than the other."""
AGREED = 0.8
"""Part of the letters of a text layer that stand one way: those of credits along a side of the page are few."""


def text_turn(page: Page, grids: Sequence[Box], with_engine: Engine | None = None) -> int | None:
    """The quarter turns clockwise, 0 to 3, after which the page's lines of text are level and read; None where there is
    too little text to tell. `grids` are boxes in pixels of the page's image."""
    level = _grey(page)
    turned = _turned(level, grids, 1)
    seen = lines_of(level, grids), lines_of(*turned)
    in_line = [letters_in_line(lines) for lines in seen]
    if max(in_line) < ENOUGH:
        return None
    try:
        reader = with_engine or engine()
    except NoEngine:
        return None
    score = {0: _read(reader, level, grids, seen[0])}
    on_its_side = in_line[1] > MORE * in_line[0]
    if score[0] < ENOUGH and not on_its_side:
        score[2] = _read(reader, *_turned(level, grids, 2))
    if on_its_side or max(score.values()) < ENOUGH:
        score |= {1: _read(reader, *turned, seen[1]), 3: _read(reader, *_turned(level, grids, 3))}
    best, *others = sorted(score, key=lambda quarters: -score[quarters])
    clear = score[best] >= ENOUGH and all(score[best] > BETTER * score[other] for other in others)
    return best if clear else None


def layer_turn(page: Page) -> int | None:
    """The quarter turns clockwise, 0 to 3, after which the letters of a PDF's text layer stand upright; None where the
    page has too few to tell."""
    glyphs = page.vectors.glyphs if page.vectors is not None else ()
    letters = [glyph for glyph in glyphs if glyph.visible and glyph.text.isalpha()]
    ways = Counter(round(-glyph.angle / 90 - page.turned) % 4 for glyph in letters)
    best, count = ways.most_common(1)[0] if ways else (0, 0)
    return best if count >= max(ENOUGH, AGREED * len(letters)) else None


def _grey(page: Page) -> Grey:
    return np.asarray(cv2.cvtColor(page.image, cv2.COLOR_RGB2GRAY), np.uint8)


def _turned(grey: Grey, grids: Sequence[Box], quarters: int) -> tuple[Grey, list[Box]]:
    """The picture turned clockwise, and the boxes of the grids in it."""
    boxes = list(grids)
    for _ in range(quarters):
        height = grey.shape[0]
        boxes = [(height - y1, x0, height - y0, x1) for x0, y0, x1, y1 in boxes]
        grey = np.rot90(grey, -1)
    return np.ascontiguousarray(grey), boxes


def _read(reader: Engine, grey: Grey, grids: Sequence[Box], seen: Lines | None = None) -> int:
    """How much of the first lines of the largest blocks reads, in letters; `seen` is what stands in lines there."""
    largest = sorted(text_regions(grey, grids, seen), key=_letters, reverse=True)[:BLOCKS]
    lines = [line for region in largest for line in reader.read(_part(grey, region))]
    return sum(sum(character.isalpha() for character in line.text) for line in lines if line.confidence >= SURE)


def _part(grey: Grey, region: Region) -> Grey:
    x0, y0, x1, y1 = region.box
    bottom = min(y1, y0 + (y1 - y0) * LINES / region.lines)
    rows = slice(max(0, int(y0 - region.letter)), int(bottom + region.letter))
    columns = slice(max(0, int(x0 - region.letter)), int(x1 + region.letter))
    return np.ascontiguousarray(grey[rows, columns])


def _letters(region: Region) -> float:
    """About how many letters a block has."""
    return (region.box[2] - region.box[0]) * region.lines / max(region.letter, 1.0)
