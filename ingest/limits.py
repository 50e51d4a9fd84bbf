"""How much a source may ask of this machine. Sources are hostile until decoded."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Limits:
    """Bounds on one source. The defaults admit an A3 scan at 600 ppi and refuse what no page needs."""

    bytes: int = 512 * 2**20
    pages: int = 2000
    pixels: int = 120_000_000
    """Of one page as stored. A4 at 600 ppi has 35 million, A3 at 600 ppi 70 million."""
    working_pixels: int = 14_000_000
    """Of one page as worked on; a larger one is reduced. A4 at 400 ppi, or a 12-megapixel photo whole."""
    seconds: float = 60.0
    """For decoding one page."""
    memory: int = 3 * 2**30
    """That the decoding process may take beyond what it starts with."""


DEFAULT = Limits()
