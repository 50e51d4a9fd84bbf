"""Circles on corners that walls of cages run through, read whole by the network of short texts.

A wall adds ink, and makes an 8 of a 3 or a 6; where it is painted over, digits lose what lay under it. So the network
looks at both pictures, close enough that the digits fill the window, and what it reads in both tells. Of 98 such
circles on 13 pages it read 78 right as they are, with more around them, and 85 so; of something wrong it was sure in 7
and in 1."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

import cv2
import numpy as np

from recognise.evidence import Guess
from recognise.geometry import box_at
from recognise.marks.circles_alike import Told
from recognise.marks.short_texts import Window, cut, short_text_reader
from recognise.marks.text_ink import DASH, Print, Wall, runs_through
from recognise.marks.text_places import Place
from recognise.pixels.glyphs import DIGITS

CLOSE, AROUND = 1.0, 1.6
"""As parts of a circle's radius: half the side of the window that the network sees, and of what is painted over."""
SOME = 0.4
"""How sure the network is at least of what counts."""
REACH = 2
"""In pixels: from how far beside a wall the colours are taken that it is painted over with."""


def is_crossed(place: Place, walls: Sequence[Wall]) -> bool:
    """Whether a place is a hollow circle on a corner through which walls run."""
    circle = place.radius > 0 and place.frame is None and not place.dark and place.allowed == DIGITS
    return circle and place.on_lattice and any(runs_through(wall, place) for wall in walls)


def freed(
    places: Iterable[Place], told: Mapping[Place, Told], walls: Sequence[Wall], seen: Print
) -> dict[Place, tuple[Guess, ...]]:
    """What stands in those of some places that are circles which walls run through, as far as the network is sure of
    anything, and unless the other circles of the page have plainly `told` it."""
    crossed = [place for place in places if is_crossed(place, walls) and not (place in told and told[place].plain)]
    found = zip(crossed, read_crossed(crossed, walls, seen), strict=True)
    return {place: guesses for place, guesses in found if guesses[0].probability >= SOME}


def read_crossed(places: Sequence[Place], walls: Sequence[Wall], seen: Print) -> list[tuple[Guess, ...]]:
    """What stands in each of some circles, likeliest first, its digits in the order of their size."""
    windows = [window for place in places for window in _windows(place, walls, seen)]
    told = short_text_reader().read(windows, DIGITS)
    return [_together(told[at : at + 2]) for at in range(0, len(told), 2)]


def _windows(place: Place, walls: Sequence[Wall], seen: Print) -> tuple[Window, Window]:
    """The window of a circle as it is, and without the walls that run through it."""
    around = seen.raster.slices(box_at(place.middle, AROUND * place.radius))
    picture = np.asarray(np.clip(seen.relative[around], 0, 1) * 255, np.uint8)
    covered = np.zeros(seen.whole.shape, np.uint8)
    for wall in walls:
        if runs_through(wall, place):
            (x0, y0), (x1, y1) = wall
            box = min(x0, x1) - DASH, min(y0, y1) - DASH, max(x0, x1) + DASH, max(y0, y1) + DASH
            covered[seen.raster.slices(box)] = 1
    freed = cv2.inpaint(np.ascontiguousarray(picture), np.ascontiguousarray(covered[around]), REACH, cv2.INPAINT_TELEA)
    return _window(place, picture, around, seen), _window(place, np.asarray(freed, np.uint8), around, seen)


def _window(place: Place, picture: Window, around: tuple[slice, slice], seen: Print) -> Window:
    """The window of a circle in a part of the page."""
    cell, origin = seen.raster.cell, seen.raster.origin
    x, y = ((origin - part.start) / cell for part in reversed(around))
    left, top, right, bottom = box_at(place.middle, CLOSE * place.radius)
    return cut(picture, (left + x, top + y, right + x, bottom + y), cell, 0.0)


def _together(told: Sequence[Sequence[Guess]]) -> tuple[Guess, ...]:
    """What several looks tell, each as much as the others."""
    chances: dict[str, float] = defaultdict(float)
    for guesses in told:
        for guess in guesses:
            chances["".join(sorted(guess.text))] += guess.probability / len(told)
    return tuple(Guess(text, chance) for text, chance in sorted(chances.items(), key=lambda one: -one[1]))
