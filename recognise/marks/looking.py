"""What the places of marks are measured on."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ingest.page import Box, Point
from recognise.marks.discs import Round, measure_round
from recognise.marks.silhouette import silhouette
from recognise.marks.standing import Standing
from recognise.pixels.frame import Colours, Grey, Raster

FAINT = 0.15
"""As a part of the darkness of print: what is paler shows through from the other side of the paper, or is a stain."""


@dataclass(frozen=True, slots=True)
class Looking:
    """What places are measured on: ink with and without the lattice, colours relative to paper, and where ink stands
    out from it, which it must where the network is in doubt."""

    whole: Grey
    drawn: Grey
    relative: Colours
    raster: Raster
    floor: float
    standing: Standing

    def round_at(self, place: Point, sizes: tuple[float, float], on_lattice: bool = True) -> Round | None:
        """The circle about a place."""
        ink = self.whole if on_lattice else self.drawn
        return measure_round(place, ink, self.relative, self.raster, self.floor, *sizes)

    def figure_at(
        self, place: Point, sizes: tuple[float, float], along: float | None = None, on_lattice: bool = True
    ) -> dict[str, float] | None:
        """How likely each simple figure stands about a place; see `recognise.marks.silhouette`."""
        return silhouette(place, self.whole if on_lattice else self.drawn, self.raster, self.floor, sizes, along)

    def is_faint(self, box: Box) -> bool:
        """Whether no ink in a box, the lattice aside, is nearly as dark as print is on this page."""
        inked = self.whole[::4, ::4]
        inked = inked[inked > self.floor]
        if not inked.size:
            return False
        own = self.drawn[self.raster.slices(box)]
        return float(np.percentile(own, 98)) < FAINT * float(np.percentile(inked, 90))
