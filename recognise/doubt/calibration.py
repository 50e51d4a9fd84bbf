"""How often a character is right at the confidence that the glyph network states.

Measured by `python -m fixtures.training.glyph_reliability` on worn pages, set in designs that the network was not
trained on: 60 pages (numbers 100 to 159), half scans and half photos, most of them brought down to 26 to 62 pixels a
cell or put out of focus; 1,751 givens and clues read. Stated and right: 0.5 to 0.6: 14 of 18; 0.6 to 0.7: 19 of 23;
0.7 to 0.8: 22 of 24; 0.8 to 0.9: 43 of 44; 0.9 to 0.95: 99 of 99; 0.95 to 0.98: 94 of 94; 0.98 to 0.99: 172 of 172;
0.99 to 0.995: 299 of 299; above: 974 of 974. Of 3,291 digits of 116 newspaper photos, which were only measured,
those stated above 0.9 were all right (3,272; 2,910 of them above 0.99). Scans and photos do not differ by more than
chance. The share of wrong ones falls with the doubt that is stated: 12 of 74 at 0.5 to 0.8 (doubt 0.35), 2 of 52 at
0.8 to 0.9 (0.15), none of 4,910 above. A power law through the first two, 0.975 times the doubt to the power of
1.71, expects 2 to 3 wrong above 0.9; the table follows it, and stops at the 3 in 10,000 that the count above 0.99
(4,183, none wrong: Laplace's rule of succession) bears out. Below 0.5 the network is taken at its word."""

from __future__ import annotations

import numpy as np

_STATED = (0.0, 0.5, 0.65, 0.85, 0.9, 0.93, 0.95, 0.97, 0.98, 0.99, 0.995, 1.0)
_RIGHT = (0.0, 0.5, 0.84, 0.96, 0.981, 0.99, 0.994, 0.9976, 0.9988, 0.9996, 0.9997, 0.9998)


def calibrated(stated: float) -> float:
    """The share of characters that are right among those with that stated confidence."""
    return float(np.interp(stated, _STATED, _RIGHT))
