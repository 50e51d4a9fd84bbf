"""What the places of marks are measured on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import cv2
import numpy as np

from ingest import channels
from ingest.page import Box, Colour, Point
from recognise.geometry import box_at
from recognise.marks.discs import Round, evenest, measure_round
from recognise.marks.silhouette import silhouette
from recognise.marks.standing import Standing
from recognise.pixels.frame import Colours, Grey, Raster

FAINT = 0.15
"""As a part of the darkness of print: what is paler shows through from the other side of the paper, or is a stain."""

BAND, PATCH, BEYOND = 0.02, (0.05, 0.2), (0.3, 0.42)
"""In cells: half the width of what is looked at along a lattice line; how far off a mark paper cuts the line off, and
from where to where the line is as it is elsewhere."""
BEFORE_CIRCLE = 0.2, 0.27
"""In cells: from where to where it is where a circle on the next corner hides it farther out."""
FRAME = 0.15
"""In cells: as far in from its outline the frame of a grid, as wide as any is printed, can hide what a line looks
like farther along."""
BESIDE_LINE = (0.05, 0.11)
"""In cells: from where to where, across a thick lattice line, a figure on it stands out of it to each side."""
DARK_LINE, LIGHTER = 0.6, 0.1
"""Ink of a lattice line on which a grey figure shows light, and by how much at least; grain makes half of that."""
RUNS, CUT = 0.6, 0.55
"""Parts of a line's usual ink: it has no less where it runs on, and less where it is cut off, be it by a gap so narrow
that the blur of a thick line's ends half fills it."""
GROUND = 40
"""Percentile of the ink about a filled circle that is of its ground: the widest digit covers less than half of it."""
WITHIN_DISC, SMOOTH = 0.7, 0.015
"""Part of a disc's radius within which it is no outline; in cells, what takes away the grain of paper and camera."""
DARK_AND_LIGHT, WRITTEN = (0.1, 0.92), 0.18
"""Parts of a disc that are darker than its ground and than its lightest strokes; how much lighter these are at least,
as a part of what is between ground and paper: plain dots have 0.15 at most, those with numbers 0.21 and more."""
PLAINLY = 0.3
"""The same of a number that needs nobody else to see it."""
PLAIN = 0.08
"""Dots of which the lightest parts are no lighter than this have no strokes on them: nearly all plain dots. On five
worn pages, one with dots of 0.09 cells, plain ones have 0.076 at most, those with numbers 0.22 and more."""


@dataclass(frozen=True)
class Looking:
    """What places are measured on: ink with and without the lattice, colours relative to paper, and where ink stands
    out from it, which it must where the network is in doubt."""

    whole: Grey
    drawn: Grey
    relative: Colours
    raster: Raster
    floor: float
    standing: Standing

    @cached_property
    def grey(self) -> Grey:
        """How light each pixel is relative to paper, in the mean of its colours."""
        return np.asarray(channels.mean(self.relative), np.float32)

    def round_at(self, place: Point, sizes: tuple[float, float], on_lattice: bool = True) -> Round | None:
        """The circle about a place."""
        ink = self.whole if on_lattice else self.drawn
        return measure_round(place, ink, self.relative, self.raster, self.floor, *sizes)

    def evenest(self, places: Sequence[Point], radius: float) -> Colour:
        """The fill of a circle about that of some places about which it is most even."""
        return evenest(places, radius, self.relative, self.raster)

    def ring_at(self, place: Point, sizes: tuple[float, float]) -> Round | None:
        """The ring about a place, of however fine a line, that is bare inside."""
        return measure_round(place, self.whole, self.relative, self.raster, self.floor, *sizes, ring=True)

    def filled_round_at(self, place: Point, sizes: tuple[float, float]) -> Round | None:
        """The circle about a place that is filled: a digit in it that is darker than its ground, and may be larger than
        it, tells nothing of its size."""
        inked = self.drawn[self.raster.slices(box_at(place, sizes[1]))]
        inked = inked[inked > self.floor]
        if not inked.size:
            return None
        level = float(np.percentile(inked, GROUND))
        return measure_round(place, np.minimum(self.drawn, level), self.relative, self.raster, self.floor, *sizes)

    def figure_at(
        self, place: Point, sizes: tuple[float, float], along: float | None = None, on_lattice: bool = True
    ) -> dict[str, float] | None:
        """How likely each simple figure stands about a place; see `recognise.marks.silhouette`."""
        return silhouette(place, self.whole if on_lattice else self.drawn, self.raster, self.floor, sizes, along)

    def written_light(self, place: Point, radius: float, *, plainly: bool = False) -> Colour | None:
        """The ground of a dark disc that has lighter strokes on it, or has them `plainly`, as a number in the colour of
        paper has; None where its ground is all alike."""
        lighter, ground = self._on_dark(place, radius)
        return ground if lighter >= (PLAINLY if plainly else WRITTEN) else None

    def light_on_dark(self, place: Point, radius: float) -> float:
        """How much lighter than its ground the lightest parts of a dark disc are, as a part of what is between ground
        and paper."""
        return self._on_dark(place, radius)[0]

    def is_plain(self, place: Point, radius: float) -> bool:
        """Whether the ground of a dark disc is all alike: no strokes are on it, whatever it looks like."""
        return self.light_on_dark(place, radius) <= PLAIN

    def _on_dark(self, place: Point, radius: float) -> tuple[float, Colour]:
        """How much lighter than its ground the lightest parts of a dark disc are, and its ground."""
        x, y = (self.raster.at(at) - 0.5 for at in place)
        reach = max(WITHIN_DISC * radius * self.raster.cell, 1.0)
        rows, columns = (np.arange(max(0, int(at - reach)), int(at + reach) + 2) for at in (y, x))
        part = self.relative[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
        part = cv2.GaussianBlur(part, (0, 0), max(SMOOTH * self.raster.cell, 0.5))
        inside = np.hypot(*np.meshgrid(rows - y, columns - x, indexing="ij"))[: len(part), : part.shape[1]] <= reach
        colours = part[inside]
        shades = colours.mean(axis=1)
        dark, light = np.quantile(shades, DARK_AND_LIGHT)
        red, green, blue = (round(255 * float(v)) for v in np.clip(colours[shades <= dark].mean(axis=0), 0, 1))
        return float((light - dark) / max(1 - dark, 1e-6)), (red, green, blue)

    def is_faint(self, box: Box) -> bool:
        """Whether no ink in a box, the lattice aside, is nearly as dark as print is on this page."""
        return self.darkest(box) < FAINT * self._print()

    def as_print(self, box: Box) -> float:
        """How much darker than its ground the darkest in a box off the lattice is, as a part of what print is on this
        page, also where it is too pale to count as ink."""
        dark = 1 - self.relative[self.raster.slices(box)].min(axis=-1)
        return float(np.percentile(dark, 98) - np.median(dark)) / max(self._print(), self.floor) if dark.size else 1.0

    def _print(self) -> float:
        """How dark print is; 0 on a page without any."""
        inked = self.whole[::4, ::4]
        inked = inked[inked > self.floor]
        return float(np.percentile(inked, 90)) if inked.size else 0.0

    def is_cut(self, place: Point, *, upright: bool) -> bool:
        """Whether a patch of paper cuts the lattice line off about a place on it: what stands there is printed on this
        side."""
        x, y = place

        def along(near: float, far: float) -> Grey:
            ends = sorted((near, far))
            box = (
                (x - BAND, y + ends[0], x + BAND, y + ends[1])
                if upright
                else (x + ends[0], y - BAND, x + ends[1], y + BAND)
            )
            return np.asarray(self.whole[self.raster.slices(box)].max(axis=1 if upright else 0), np.float32)

        def runs(way: int) -> bool:
            return any(float(along(way * a, way * b).min()) > RUNS * usual for a, b in (BEYOND, BEFORE_CIRCLE))

        usual = max(float(np.median(along(way * BEYOND[0], way * BEYOND[1]))) for way in (-1, 1))
        cut = all(float(along(way * PATCH[0], way * PATCH[1]).min()) < CUT * usual for way in (-1, 1))
        return usual > self.floor and cut and runs(-1) and runs(1)

    def shows_light(self, place: Point, *, upright: bool) -> bool:
        """Whether something on a dark lattice line about a place is lighter than that: where the lattice is taken out,
        nothing of it is left."""
        x, y = place

        def strip(near: float, far: float) -> Grey:
            across, along = (-BESIDE_LINE[1], BESIDE_LINE[1]), sorted((near, far))
            (a, b), (c, d) = (across, along) if upright else (along, across)
            part = self.whole[self.raster.slices((x + a, y + c, x + b, y + d))]
            return part if upright else part.T

        line = np.minimum(*(strip(sign * BEYOND[0], sign * BEYOND[1]).mean(axis=0) for sign in (-1, 1)))
        on_line = strip(-BESIDE_LINE[1], BESIDE_LINE[1])[:, line >= DARK_LINE]
        return bool((on_line <= line[line >= DARK_LINE] - LIGHTER).any())

    def beside_line(self, place: Point, *, upright: bool) -> float:
        """The darkest ink beside the lattice line that a figure on it has, over what stands there farther along the
        line: a thick line takes what stands upon it along when it is taken out."""
        x, y = place

        def strip(across: tuple[float, float], along: tuple[float, float]) -> Grey:
            (a, b), (c, d) = sorted(across), sorted(along)
            box = (x + a, y + c, x + b, y + d) if upright else (x + c, y + a, x + d, y + b)
            return self.whole[self.raster.slices(box)]

        def shows(side: int) -> float:
            across = side * BESIDE_LINE[0], side * BESIDE_LINE[1]
            usual = min(darkest(strip(across, (sign * BEYOND[0], sign * BEYOND[1]))) for sign in (-1, 1))
            return darkest(strip(across, (-BESIDE_LINE[1], BESIDE_LINE[1]))) - usual

        def darkest(ink: Grey) -> float:
            return float(np.percentile(ink, 95))  # the edge of the line itself may be in it, here as there

        return max(shows(-1), shows(1))

    def over_line(self, place: Point, *, upright: bool) -> float:
        """How much more ink a figure has on a lattice line and close beside it, at its darkest, than the line has
        there farther along, on either side."""
        x, y = place
        at, cells = (y, self.raster.rows) if upright else (x, self.raster.columns)

        def across(near: float, far: float) -> Grey:
            inside = FRAME - at, cells - FRAME - at
            side, along = (-BESIDE_LINE[1], BESIDE_LINE[1]), np.clip(sorted((near, far)), *inside)
            (a, b), (c, d) = (side, along) if upright else (along, side)
            own = self.whole[self.raster.slices((x + a, y + c, x + b, y + d))]
            return np.asarray(np.percentile(own, 95, axis=0 if upright else 1), np.float32)

        line = np.maximum(*(across(sign * BEYOND[0], sign * BEYOND[1]) for sign in (-1, 1)))  # it may lean
        return float((across(-BESIDE_LINE[1], BESIDE_LINE[1]) - line).max())

    def darkest(self, box: Box) -> float:
        """The darkest ink in a box, the lattice and specks of a pixel or two aside."""
        return float(np.percentile(self.drawn[self.raster.slices(box)], 98))
