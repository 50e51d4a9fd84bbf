"""Circles and dots of one page are of one size: those measured otherwise are measured anew."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import cv2
import numpy as np

from ingest.page import Colour, Point
from recognise.evidence import Disc
from recognise.marks.discs import Round
from recognise.marks.looking import Looking
from recognise.marks.shades import DARK
from recognise.marks.sights import Sight

ALIKE, ODD_SIZE, ODD_CIRCLE = 3, 0.25, 0.15
"""Dots with numbers on them that tell how large such dots are, and the part of that by which one of them is odd; the
same of circles on corners and of those in which lines end, which are larger and measured better."""
MOSTLY = 70
"""Percentile of the radii of dots with numbers that is theirs: what is measured wrong is the inner side of a ring, or
what stands in it, and smaller."""
OFF_CORNER = 0.06
"""In cells: how far off its corner the middle of a circle may be, by row and column together: middles are sought in
steps of four hundredths, grids found to three."""
PAPER = (255, 255, 255)
MIXED, SHADE = 0.5, 20
"""Of a dot with a number on it: the part of paper in what is measured as its colour is less, and by how much that is
off the mixture of both at most, of 255."""
ARMS, ACROSS, BRIDGED = 0.46, 0.21, 0.04
"""In cells, of signs between cells: how far along the edge their arms are looked for, how far across it, and half of
what the lattice line that is taken out under them cuts out."""


def in_one_size(discs: Sequence[Disc], written: Sequence[Disc], looking: Looking) -> list[Disc]:
    """The discs, those with a number on them measured anew where they are not of the size of the others, and as large
    as these where nothing else is seen: the hole of an 8 is round as well. Of those without, what seems smaller is as
    large as the others of its look: of a thin ring on a dashed line a gap may be measured, or its inner side."""
    usual = float(np.percentile([disc.radius for disc in written], MOSTLY)) if len(written) >= ALIKE else 0.0
    found = list(discs)
    for dark in (True, False):
        alike = [at for at, disc in enumerate(discs) if disc not in written and is_dark(disc) == dark]
        for at, larger in _grown([discs[at] for at in alike], looking).items():
            found[alike[at]] = larger
    for at, disc in enumerate(discs):
        if disc in written and abs(disc.radius - usual) > ODD_SIZE * usual > 0:
            anew = looking.round_at(disc.centre, ((1 - ODD_SIZE) * usual, (1 + ODD_SIZE) * usual))
            smaller = disc.radius < usual
            found[at] = replace(disc, radius=anew.radius if anew else usual if smaller else disc.radius)
    return found


def _grown(discs: Sequence[Disc], looking: Looking) -> dict[int, Disc]:
    """Of dots of one look, by their place, those that seem smaller than most, as large as these are; one that seems
    far smaller only where a circle of that size shows about its place."""
    usual = float(np.median([disc.radius for disc in discs])) if len(discs) >= ALIKE else 0.0
    larger = {}
    for at, disc in enumerate(discs):
        if disc.radius >= usual:
            continue
        sizes = (1 - ODD_SIZE) * usual, (1 + ODD_SIZE) * usual
        anew = disc if disc.radius >= sizes[0] else looking.round_at(disc.centre, sizes)
        if anew is not None and sizes[0] <= anew.radius <= sizes[1]:
            larger[at] = replace(disc, radius=usual, fill=anew.fill, outline=anew.outline)
    return larger


def of_one_size(
    rounds: Sequence[tuple[Point, float, Round | None]], looking: Looking
) -> Iterator[tuple[Point, float, Round | None]]:
    """Circles on corners (place, chance, as measured), measured anew where they are not of the size of the others: the
    digits in one, or a wall beside it, are round as well. What then was measured about another middle is no circle."""
    radii = [found.radius for place, _, found in rounds if found and math.dist(found.centre, place) <= OFF_CORNER]
    usual = float(np.median(radii)) if len(radii) >= ALIKE else 0.0

    def is_odd(found: Round | None) -> bool:
        return abs((found.radius if found else 0.0) - usual) > ODD_CIRCLE * usual > 0

    for place, chance, found in rounds:
        sizes = (1 - ODD_SIZE) * usual, (1 + ODD_SIZE) * usual
        best = (looking.round_at(place, sizes) or found) if is_odd(found) else found
        if best and is_odd(best) and math.dist(best.centre, place) > OFF_CORNER:
            best = replace(best, centre=place, radius=usual)
        yield place, chance, best


def arms_of_signs(signs: Sequence[Sight], looking: Looking) -> float:
    """How far, in cells, the arms of the signs of a page reach along their edges: they are of one size, and what runs
    into one of them makes only that longer. 0 where too few show it."""
    reaches = [_arms(sign.place, sign.plane, looking) for sign in signs]
    return float(np.median(reaches)) if len(reaches) >= ALIKE else 0.0


def _arms(place: Point, plane: int, looking: Looking) -> float:
    """How far one piece of ink about the middle of an edge reaches along it, to the side to which it reaches less: both
    arms are of one length."""
    x, y = place
    half = (ACROSS, ARMS) if plane == 0 else (ARMS, ACROSS)
    window = looking.drawn[looking.raster.slices((x - half[0], y - half[1], x + half[0], y + half[1]))]
    inked = (window > looking.floor).astype(np.uint8)
    size = 2 * looking.raster.px(BRIDGED) + 1
    joined = cv2.morphologyEx(inked, cv2.MORPH_CLOSE, np.ones((size, size), np.uint8))
    _, labels, stats, _ = cv2.connectedComponentsWithStats(joined, connectivity=8)
    if len(stats) < 2:
        return 0.0
    largest = 1 + int(np.argmax(stats[1:, cv2.CC_STAT_AREA]))
    ends = np.flatnonzero((labels == largest).any(axis=1 - plane))
    middle = joined.shape[plane] / 2
    return float(min(middle - ends[0], ends[-1] + 1 - middle)) / looking.raster.cell


def is_dark(disc: Disc) -> bool:
    """Whether characters on a disc are printed in paper's colour."""
    return disc.fill is not None and sum(disc.fill) < 3 * DARK


def uncovered(discs: Sequence[Disc], written: Sequence[Disc]) -> list[Disc]:
    """The discs; of a dark one with a number on it the rim shows the colour where a light number covers the rest of it,
    and what was measured as its ground is neither. Such are as large as dark ones without a number, and where no rim
    shows as dark as these, if what was measured is their colour mixed with that of paper."""
    plain = [disc for disc in discs if is_dark(disc) and disc not in written]
    found = list(discs)
    for at, disc in enumerate(discs):
        if disc not in written or disc.fill in (None, PAPER):
            continue
        if any(abs(other.radius - disc.radius) <= ODD_SIZE * other.radius for other in plain):
            rim = disc.outline
            if rim is None:
                found[at] = replace(disc, fill=_unmixed(disc, plain))
            elif sum(rim) < 3 * DARK and not is_dark(disc):
                found[at] = replace(disc, fill=rim, outline=None)
    return found


def _unmixed(disc: Disc, plain: Sequence[Disc]) -> Colour | None:
    """The usual colour of the dark discs without a number, where there are enough of them and that of another one is
    more of it than of paper; its own elsewhere."""
    fills = [other.fill for other in plain if other.fill]
    if len(fills) < ALIKE or disc.fill is None:
        return disc.fill
    usual = np.median(fills, axis=0)
    own, paper = np.array(disc.fill) - usual, np.array(PAPER) - usual
    part = float(own @ paper / (paper @ paper))
    if not 0 < part < MIXED or np.abs(own - part * paper).max() > SHADE:
        return disc.fill
    red, green, blue = (round(float(v)) for v in usual)
    return red, green, blue
