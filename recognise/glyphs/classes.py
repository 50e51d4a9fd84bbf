"""What the glyph network tells apart, and the window that it sees."""

from __future__ import annotations

CHARACTERS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ+-×÷/<>"
"""One class each, in the order of the network's outputs; the last output is NOTHING."""

NOTHING = ""
"""The text of what is no character: blank paper, a piece of line, a smudge, a part of a mark, half a character."""

DIGITS = "0123456789"

SIDE = 32
"""Pixels of the network's window."""
FILL = 0.7
"""Share of the window that the longer side of a character's box takes."""
FAINT = 0.08
"""Contrast (of white) below which a window is left faint, so that blank paper is not blown up to ink."""
