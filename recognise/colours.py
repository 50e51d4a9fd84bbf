"""How far two colours are apart."""

from __future__ import annotations

from ingest.page import Colour


def colours_apart(one: Colour, other: Colour) -> int:
    """By how much two colours differ, in the channel in which they differ most."""
    return max(abs(a - b) for a, b in zip(one, other, strict=True))
