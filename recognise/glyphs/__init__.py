"""Reads single printed characters with our own small network: `GlyphReader`.

`window.window` cuts out what it wants to see.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from recognise.glyphs.reader import GlyphReader

__all__ = ["GlyphReader"]


def __getattr__(name: str) -> object:
    """Loaded on first use: training imports the classes on machines without OpenCV."""
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module("recognise.glyphs.reader"), name)
