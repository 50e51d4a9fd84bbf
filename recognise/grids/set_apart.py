"""Grids in pictures whose cells stand apart, as tiles do: each with an outline of its own on paper as light as it is,
or light ones on a dark ground. Laid flat, they are closed up to a grid of single lines, as all readers know it."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Image
from recognise.evidence import Flat
from recognise.grids.ink import Grey, luminance

REACH = 0.22
"""In cells: half the widest gap, the outlines of both cells in it, and a bit of the cells themselves."""
OWN = 0.05
"""In cells: so much at the ends of REACH shows the cells themselves."""
MIDST = (0.14, 0.86)
"""The part of an edge that tells what its gap looks like: corners are round."""
HALO = 0.025
"""In cells: blur around an outline, and how far it strays from straight."""
ROUND, CORNER = 0.05, 0.2
"""In cells: so much deeper into its cell the outline leads where it is no farther from a corner."""
DARKER, HUE = 0.15, 30.0
"""What lies on a gap is by such a part of the paper's brightness darker than all that is to be seen along it, or by
that much of another colour (0 to 255) than the cells and the outlines are."""
SPECK = 0.045
"""In cells: what is narrower is grain, or runs on across the gap by itself."""
STRAY = 0.1
"""In cells: so far from where it usually ends a gap ends where paper curls; what reaches farther is a mark."""
PARTS = 3
"""Of an edge, each of which tells for itself how far the gap reaches."""
WIDER = 1.35
"""Gaps between boxes are by this wider than the others."""
THIN, THICK = 0.025, 0.07
"""In cells: how thick lattice lines are drawn, and those of boxes."""
PRINT = 0.2
"""How bright they are drawn, compared with the cells."""
DIM = 64.0
"""Brightness from which on differences count as parts of it: below, they are grain."""
GROUND = 0.6
"""Of the brightness of the cells: what lies around a grid of light cells on a dark ground is darker than this."""

Floats = npt.NDArray[np.float32]


def inverse(grey: Grey) -> Grey:
    """The picture with light and dark changed for one another, so that what is darker than the paper by a part of its
    brightness is lighter by nearly that part, in the light and in shadow."""
    return np.asarray(255 * DIM / (grey.astype(np.float32) + DIM), np.uint8)


def closed_up(flat: Flat) -> Flat:
    """The same grid with lattice lines in the middles of its gaps, thick ones where gaps are wider; what lies on a gap
    stays, or runs on across it; dark ground beside it is turned to paper."""
    picture = flat.image.astype(np.float32)
    for upright in (False, True):
        side = np.ascontiguousarray(picture.swapaxes(0, 1)) if upright else picture
        lines, cells = (flat.columns, flat.rows) if upright else (flat.rows, flat.columns)
        _close(side, lines, cells, flat.cell, round(flat.margin * flat.cell))
        picture = np.ascontiguousarray(side.swapaxes(0, 1)) if upright else side
    image = np.clip(picture, 0, 255).astype(np.uint8)
    return replace(flat, image=_with_light_ground(image, flat), page=None)


def _close(picture: Floats, lines: int, cells: int, cell: int, margin: int) -> None:
    """Closes the gaps along the rows: `lines` cells below one another, `cells` beside one another."""
    reach = round(REACH * cell)
    bands = [
        _Band(picture[at - reach : at + reach + 1, margin : margin + cells * cell], cell, (k == 0) - (k == lines))
        for k, at in ((k, margin + k * cell) for k in range(lines + 1))
    ]
    thin = WIDER * min(band.wide for band in bands[1:-1])
    thick = any(band.wide > thin for band in bands[1:-1])
    for band in bands:
        box = thick if band.beyond else band.wide > thin
        band.close(THICK if box else THIN)


class _Band:
    """What lies along one line of gaps: (2 x reach + 1, length, 3), the gap in the middle rows; a view of the picture,
    which is painted on. `beyond` is 1 where no cells lie above it, -1 where none lie below."""

    def __init__(self, part: Floats, cell: int, beyond: int) -> None:
        self.part, self.cell, self.beyond = part, cell, beyond
        self.reach = len(part) // 2
        grey = luminance(np.clip(part, 0, 255).astype(np.uint8)).astype(np.float32)
        own = max(1, round(OWN * cell))
        sides = [np.median(self._spans(rows), axis=(0, 2)) for rows in (grey[:own], grey[-own:])]
        edges = np.minimum(*sides) if not beyond else sides[1 if beyond > 0 else 0]
        self.paper = np.repeat(np.maximum(edges, 1.0), cell)
        self.grey = grey / self.paper
        self.profile = np.median(self._spans(self.grey), axis=(1, 2))
        self.dark = self.grey < (1 + self.profile.min()) / 2
        self.ends = [self._end(rows) for rows in (self.dark[self.reach :: -1], self.dark[self.reach :])]
        self.wide = float(np.median(self.ends[0] + self.ends[1]))

    def _spans(self, rows: Floats) -> Floats:
        """The midst of every edge: (rows, edges, places)."""
        first, last = (round(share * self.cell) for share in MIDST)
        return rows.reshape(len(rows), -1, self.cell)[:, :, first:last]

    def _end(self, dark: npt.NDArray[np.bool_]) -> Floats:
        """How far from its middle, where the first row is, the gap reaches on one side at each place, in pixels: as far
        as near by, for marks hide it, and corners are round."""
        ends = np.where(dark, np.arange(len(dark))[:, None], -1).max(axis=0)
        edges = self._spans(ends[None].astype(np.float32))[0]
        known = np.stack([np.median(part, axis=1) for part in np.array_split(edges, PARTS, axis=1)], axis=-1)
        usual = float(np.median(known))
        known[np.abs(known - usual) > STRAY * self.cell] = usual
        parts = MIDST[0] + (MIDST[1] - MIDST[0]) * (np.arange(PARTS) + 0.5) / PARTS
        middles = (np.arange(len(known))[:, None] + parts) * self.cell
        return np.asarray(np.interp(np.arange(len(ends)), middles.ravel(), known.ravel()), np.float32)

    def close(self, thickness: float) -> None:
        """Paints cells over the gap and a line along its middle, where it shows."""
        kept = self._lies_on()
        rows = np.arange(-self.reach, self.reach + 1)[:, None]
        along = np.arange(self.part.shape[1]) % self.cell
        corner = np.where(np.minimum(along, self.cell - along) <= CORNER * self.cell, ROUND * self.cell, 0)
        halo = HALO * self.cell + 1 + corner
        above, below = (np.minimum(end + halo, self.reach - 1) for end in self.ends)
        over = (rows >= -above) & (rows <= below)
        shows = (self.dark & over).any(axis=0)
        self.part[:] = np.where((over & ~kept)[..., None], self._across(above, below), self.part)
        thick = max(0, round(thickness * self.cell / 2))
        line = self.part[self.reach - thick : self.reach + thick + 1]
        line[:, shows] = np.minimum(line[:, shows], PRINT * self.paper[shows, None])

    def _lies_on(self) -> npt.NDArray[np.bool_]:
        """The pixels darker, or of other colour, than a gap is anywhere along it."""
        halo = max(1, round(HALO * self.cell))
        rows = np.pad(self.profile, halo, mode="edge")
        lowest = np.min([rows[k : k + len(self.profile)] for k in range(2 * halo + 1)], axis=0)
        if self.beyond and min(self.profile[0], self.profile[-1]) < GROUND:
            lowest[:] = self.profile.min()  # dark ground around the grid, whose outer cells have round corners
        darker = self.grey < (lowest - DARKER)[:, None]
        speck = np.ones((max(1, round(SPECK * self.cell)),) * 2, np.uint8)
        kept = (darker | (self._hue_off() > HUE)).astype(np.uint8)
        return np.asarray(cv2.morphologyEx(kept, cv2.MORPH_OPEN, speck) > 0, np.bool_)

    def _hue_off(self) -> Floats:
        """How far the colour of each pixel is from all those between the cells' beside it and the gap's darkest."""
        hues = self.part - self.part.mean(axis=2, keepdims=True)
        spans = np.stack([np.median(self._spans(hues[..., k]), axis=2) for k in range(3)], axis=-1)
        dark = np.median(spans[int(self.profile.argmin())], axis=0)
        edge = np.arange(self.part.shape[1]) // self.cell
        return np.minimum(*(_from_segment(hues, spans[row][edge], dark) for row in (0, -1)))

    def _across(self, above: Floats, below: Floats) -> Floats:
        """The cells on both sides run on into one another; where cells lie on one side only, their colour."""
        rows = np.arange(-self.reach, self.reach + 1)[:, None]
        share = np.clip((rows + above) / (above + below), 0, 1)[..., None]
        places = np.arange(self.part.shape[1])
        first = self.part[np.maximum(self.reach - above.astype(int) - 1, 0), places]
        last = self.part[np.minimum(self.reach + below.astype(int) + 1, 2 * self.reach), places]
        if self.beyond:
            inside = last if self.beyond > 0 else first
            first = last = np.repeat(np.median(inside.reshape(-1, self.cell, 3), axis=1), self.cell, axis=0)
        return np.asarray(first * (1 - share) + last * share, np.float32)


def _from_segment(points: Floats, start: Floats, end: Floats) -> Floats:
    """How far points (rows, places, 3) are from the segments between `start` (places, 3) and `end` (3)."""
    way = end - start
    length = np.maximum((way**2).sum(axis=-1), 1e-6)
    share = np.clip(((points - start) * way).sum(axis=-1) / length, 0, 1)
    return np.asarray(np.linalg.norm(points - (start + share[..., None] * way), axis=-1), np.float32)


def _with_light_ground(image: Image, flat: Flat) -> Image:
    """The closed picture of a grid, with light and dark changed for one another around it where its ground is dark;
    what is coloured keeps its hue."""
    edge, reach = round(flat.margin * flat.cell), round(REACH * flat.cell)
    grey = luminance(flat.image)
    paper = float(np.median(luminance(image)[edge:-edge, edge:-edge]))
    beside = np.concatenate([grey[edge - 2 * reach : edge - reach], grey[-edge + reach : -edge + 2 * reach]])
    ground = float(np.median(beside[:, edge:-edge]))
    if ground >= GROUND * paper:
        return image
    line = round(THICK * flat.cell / 2)
    part = flat.image.astype(np.float32)
    turned = part + (paper + ground - part.max(axis=2) - part.min(axis=2))[..., None]
    out = np.clip(turned, 0, 255).astype(np.uint8)
    inner = slice(edge - line, -(edge - line))
    out[inner, inner] = image[inner, inner]
    return np.asarray(out, np.uint8)
