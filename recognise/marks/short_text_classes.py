"""What the network of short texts tells apart, and the window that it sees."""

from __future__ import annotations

SIGNS = "<>^_"
"""What signs are called that point left, right, up or down: they are no characters."""
CLASSES = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ+-×÷" + SIGNS
"""One each; the class behind them is the end."""
END = len(CLASSES)
SLOTS = 5
"""Characters of a text at most."""
WIDTH, HEIGHT = 64, 48
"""Pixels of the network's window."""
PAPER, DARKEST = 0.85, 0.2
"""The share of the pixels that are darker than what is taken for the ground; the least of white it can be."""
SORTS = ("middle of a cell", "edge", "circle", "corner of a cell", "beside the grid")
"""The sorts of places that it was taught."""
