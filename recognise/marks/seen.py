"""What the reader of marks goes by on one grid."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from recognise.evidence import Flat, Glyph
from recognise.marks.looking import Looking
from recognise.marks.network import Chances
from recognise.marks.spoken import Spoken, weighed
from recognise.marks.standing import Standing
from recognise.marks.under_diagonals import Freed
from recognise.pixels.blobs import Pieces
from recognise.pixels.frame import Raster
from recognise.pixels.ink import Ink


@dataclass(frozen=True, slots=True)
class Seen:
    """What the lattice network says, as it is (`told`) and in the light of the rules (`chances`), which speak of
    `spoken`; the flat picture, its ink and the pieces of that; and what printed diagonals hide."""

    told: Chances
    chances: Chances
    spoken: Spoken
    flat: Flat
    ink: Ink
    pieces: Pieces
    raster: Raster
    looking: Looking
    freed: Freed | None = None

    @classmethod
    def of(
        cls,
        told: Chances,
        spoken: Spoken,
        flat: Flat,
        ink: Ink,
        pieces: Pieces,
        known: Sequence[Glyph],
        freed: Freed | None = None,
    ) -> Seen:
        """What there is to go by where the characters in `known` were read before."""
        raster = Raster.of(flat)
        looking = Looking(ink.all, ink.drawn, ink.relative, raster, ink.floor, Standing(ink, raster, known))
        return cls(told, weighed(told, spoken), spoken, flat, ink, pieces, raster, looking, freed)

    @property
    def standing(self) -> Standing:
        """Where ink stands out from the paper."""
        return self.looking.standing
