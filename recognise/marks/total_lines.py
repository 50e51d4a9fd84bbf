"""Totals of cages looked at in the line of those of their page: as far from the top and left of their cells.

Givens, walls and lattice lines that a total touches, and that are darker than it, lie outside of that line.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ingest.page import Box
from recognise.marks.text_ink import Print
from recognise.marks.text_looks import MOST_LEFT
from recognise.marks.text_places import Place
from recognise.marks.text_readings import AGREEING, SURE, Reading, is_part, longest
from recognise.marks.totals import FLUSH, LEAST_STARTS, is_flush
from recognise.pixels.frame import Grey, Raster
from recognise.pixels.glyphs import box_around

ROOM = 0.015
"""In cells: how far before and over the line ink still counts, for grids are found to that; below it givens begin."""
WIDE = 4.0
"""As a part of its height: how wide the longest totals are, with their sign."""
FOOT = 0.12
"""As a part of its height: what a figure can do without."""
HALF_INK = 0.5
"""Part of the darkest ink of a number from which on ink is of a stroke."""
SLOT, COVERED = 0.65, 0.2
"""As a part of its height: how wide the place of one more figure behind a number is; the part of it that a figure inks
at least. A given that is printed over it hides the figure, and not its ink."""
CUT = 0.2
"""As a part of its height: how much lower than its line a figure ends that something below it touches."""


@dataclass(frozen=True, slots=True)
class Line:
    """Where the totals of a page stand, from the upper left of their cells."""

    start: float
    top: float
    bottom: float

    @property
    def tall(self) -> float:
        """The height of its figures."""
        return self.bottom - self.top

    def box(self, place: Place) -> Box:
        """The line in one corner."""
        x, y = place.box[:2]
        return x + self.start - ROOM, y + self.top - ROOM, x + self.start + WIDE * self.tall, y + self.bottom

    def above_givens(self) -> Line:
        """The same without the feet of its figures, which large givens run into."""
        return replace(self, bottom=self.bottom - FOOT * self.tall)


Read = Callable[[Sequence[Place], Grey], Sequence[list[Reading]]]
"""What several looks at some ink read at each place."""


def look_in_line(found: dict[Place, list[Reading]], seen: Print, read: Read) -> set[Place]:
    """Put in `found` what is read of totals that seem to be lost in part where those of their page stand, and nowhere
    else: two looks that are sure of one number, with the lattice or without it, and of the longest where these differ.
    The corners in which that is another number than before are returned: they are in doubt."""
    line = line_of(found)
    if line is None:
        return set()
    totals = {place: longest(own) for place, own in found.items() if place.in_corner}
    lost = [
        place
        for place, best in totals.items()
        if is_lost(place, found[place], line, seen.raster) or hides_more(best.text, box_around(best.characters), seen)
    ]
    lines = [(ink, own) for own in (line, line.above_givens()) for ink in (seen.drawn, seen.whole) if lost]
    looks = [read(lost, in_line(ink, lost, own, seen.raster)) for ink, own in lines]
    doubtful = set()
    for at, place in enumerate(lost):
        told = [of_ink[at] for of_ink in looks if settled(of_ink[at])]
        told = [own for own in told if not _leaves_figures(longest(own), totals[place])]
        flush = [own for own in told if is_flush(box_around(longest(own).characters), place, line.start)]
        if flush:
            found[place] = max(flush, key=lambda own: len(longest(own).text))
            doubtful |= {place} if longest(found[place]).text != totals[place].text else set()
    return doubtful


def _leaves_figures(reading: Reading, before: Reading) -> bool:
    """Whether a total has lost figures that were read before, though they stand in its line: their ink is left over."""
    return is_part(reading.text, before.text) and reading.left > MOST_LEFT


def hides_more(text: str, box: Box, seen: Print) -> bool:
    """Whether a number of one figure may have another one that lies under something larger: a given that runs into it
    is one piece with it. Sums have no more than two figures."""
    if len(text) != 1:
        return False
    _, y0, x1, y1 = box
    own = seen.drawn[seen.raster.slices(box)]
    behind = seen.drawn[seen.raster.slices((x1, y0, x1 + SLOT * (y1 - y0), y1))]
    dark = own.size > 0 and behind > HALF_INK * np.percentile(own, 90)
    return bool(np.mean(dark) >= COVERED)


def line_of(found: Mapping[Place, Sequence[Reading]]) -> Line | None:
    """The line of the totals of a page, by those that are surely read and begin and stand as most do; None where there
    are too few."""
    boxes = []
    for place, readings in found.items():
        sure = next((reading for reading in readings if reading.least >= SURE), None)
        if place.in_corner and sure is not None and settled(readings):
            x, y = place.box[:2]
            x0, y0, _, y1 = box_around(sure.characters)
            boxes.append((x0 - x, y0 - y, y1 - y))
    if len(boxes) < LEAST_STARTS:
        return None
    usual = np.median(boxes, axis=0)
    alike = np.abs(np.array(boxes) - usual).max(axis=1) <= FLUSH
    return Line(*map(float, usual)) if 2 * np.count_nonzero(alike) > len(boxes) else None


def settled(readings: Sequence[Reading]) -> bool:
    """Whether two looks at a total, or more, are sure of one number, and no other is as sure of another."""
    sure = {r.text for r in readings if r.least >= SURE and any(map(str.isdecimal, r.text))}
    return len(sure) == 1 and sum(r.text in sure for r in readings) >= AGREEING


def is_lost(place: Place, readings: Sequence[Reading], line: Line, raster: Raster) -> bool:
    """Whether a total was not surely read, begins farther in than those of its page, or has ink in its line that is no
    character's: a figure that is one piece with something else."""
    if not settled(readings):
        return True
    own = next(reading for reading in readings if reading.least >= SURE)
    box = line.box(place)
    known = {label for character in own.characters for label in character.blob.labels}
    boxes = [blob.box(raster) for blob in own.near if not known.intersection(blob.labels)]
    middle, below = box[3] - line.tall / 2, box[3] + CUT * line.tall
    runs_in = any(min(b[2], box[2]) > max(b[0], box[0]) and b[1] < middle and b[3] > below for b in boxes)
    return runs_in or box_around(own.characters)[0] - place.box[0] > line.start + FLUSH


def in_line(ink: Grey, places: Iterable[Place], line: Line, raster: Raster) -> Grey:
    """The ink in the line of totals alone."""
    alone = np.zeros_like(ink)
    for place in places:
        window = raster.slices(line.box(place))
        alone[window] = ink[window]
    return alone
