"""What the network that reads lines of type tells apart, and the size in which it sees them."""

from __future__ import annotations

CHARACTERS = " " + "".join(map(chr, range(0x21, 0x7F))) + "×÷·"
"""Its classes from 1 on, in their order; class 0 is that no character stands here, or the same as before."""
PLAIN = str.maketrans({"“": '"', "”": '"', "‘": "'", "’": "'", "–": "-", "—": "-", "•": "·", "…": "..."})
"""How characters are written that it does not tell apart."""

HEIGHT = 32
"""Pixels that a line is high, with some paper above and below."""
SMALL, BASE = 10.5, 22.0
"""Pixels that its small letters are high, and where they stand; what is a quarter off was taught too."""
STRETCH = 1.3
"""How much wider than high its pixels are spread: a narrow letter needs two steps, and a step between two alike."""
STEP = 4
"""Pixels across from one step to the next."""
