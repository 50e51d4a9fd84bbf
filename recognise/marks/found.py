"""What the reader of marks hands to the pixel reader."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.evidence import Disc, Fence, Flat, Glyph, Shape, Trace
from schema.cells import Cell

if TYPE_CHECKING:
    from recognise.pixels.blobs import Pieces
    from recognise.pixels.ink import Ink


@dataclass(frozen=True, slots=True)
class Marks:
    """The marks of a grid, the pixels of the flat picture that they explain, and words on places in doubt. `traces`
    are all lines, those that the tracer of tubes found too; `replaced` are characters read before in whose place others
    stand in `glyphs`; `tint` is how likely the ground of each cell is tinted, `walls` are the boxes of those of tags
    round numbers in the corners of cells."""

    traces: tuple[Trace, ...]
    fences: tuple[Fence, ...]
    discs: tuple[Disc, ...]
    shapes: tuple[Shape, ...]
    glyphs: tuple[Glyph, ...]
    replaced: tuple[Glyph, ...]
    tint: Mapping[Cell, float]
    notes: tuple[str, ...]
    explained: npt.NDArray[np.bool_]
    walls: tuple[Box, ...] = ()


class MarkFinder(Protocol):
    """Finds the marks of a grid: `recognise.marks.read.MarkReader`."""

    def __call__(self, flat: Flat, ink: Ink, pieces: Pieces, known: Sequence[Glyph], tubes: Sequence[Trace]) -> Marks:
        """The marks of a grid. `known` are the characters that were read in its cells and beside it, `tubes` the wide
        lines that the tracer found by thresholds."""
