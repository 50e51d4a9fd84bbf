"""The picture of a flattened grid as both readers' disagreements are settled by it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
import numpy.typing as npt

from recognise.evidence import Flat, Guess


class Reader(Protocol):
    """Reads single characters: `recognise.glyphs.GlyphReader`."""

    def read(self, crops: Sequence[npt.NDArray[np.uint8]], allowed: str | None = None) -> list[tuple[Guess, ...]]:
        """For each grey crop its likeliest characters, best first; '' stands for no character."""


@dataclass(frozen=True, slots=True)
class Picture:
    """The ink of a flattened grid, for looking whether a line is there: 0 to 1, without the lattice; `floor` is what
    paper and noise reach. `reader` reads characters at places that only the PDF knows."""

    drawn: npt.NDArray[np.float32]
    floor: float
    flat: Flat
    reader: Reader | None = None
