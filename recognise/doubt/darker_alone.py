"""A stain that passes for a mark: a filled circle in a cell that is darker than all others of its page.

A drop or a thumb leaves a round spot in the middle of a cell that looks like the circles that mark cells, but for its
tone: print inks all circles of one kind alike, and where there are two kinds each has several."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from recognise.draft import Polygon
from recognise.evidence import Disc
from recognise.geometry import disc_polygon
from recognise.pixels.frame import Raster

OTHERS = 4
"""So many other filled circles at least tell which tones a page has."""
APART = 20
"""Grey levels, paper being 255, in every channel: on worn scans and photos (train half, 6014, 6070, 6126, 6182) the
circles of one kind lie within 6 of their median, a stain of a third of the ink of black 35 below it."""
MIDDLE = 0.2
"""In cells: how far from the middle of its cell the circle lies at most that marks it."""


def darker_alone(discs: Sequence[Disc], raster: Raster) -> Iterator[Polygon]:
    """The outline, in cells, of each filled circle in a cell that no other circle of the page comes near in tone."""
    filled = [disc for disc in discs if disc.fill is not None and _marks_a_cell(disc, raster)]
    for disc in filled:
        others = [other.fill for other in filled if other is not disc and other.fill is not None]
        if len(others) >= OTHERS and bool((np.array(others) - np.array(disc.fill) > APART).all()):
            yield disc_polygon(disc.centre, disc.radius)


def _marks_a_cell(disc: Disc, raster: Raster) -> bool:
    return raster.cell_of(*disc.centre) is not None and all(abs(v % 1 - 0.5) <= MIDDLE for v in disc.centre)
