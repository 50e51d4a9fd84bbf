"""How often a character is right at the confidence that the glyph network states.

Measured as `python -m fixtures.training.glyph_reliability` does, totals read where cages begin, on worn pages set in
designs that the network was not trained on: 90 pages (numbers 100 to 189), half scans and half photos, most of them
brought down to 26 to 62 pixels a cell or put out of focus; 2,718 givens, clues and totals read. Stated and right: 0.5
to 0.8: 60 of 90; 0.8 to 0.9: 81 of 84; 0.9 to 0.95: 134 of 134; 0.95 to 0.98: 85 of 85; 0.98 to 0.99: 172 of 173; 0.99
to 0.995: 274 of 275; above: 1,876 of 1,877. Of the three wrong ones above 0.9 the first was seen by one look alone and
is in doubt since, the second is a clue beside which the reader says that something is no number, the third is a given
where a total was not read. Scans and photos do not differ by more than chance. Of 3,294 digits of 116 newspaper
photos, which were only measured, all 3,275 stated above 0.9 are right. What is stated from 0.5 to 0.8 is right as often
as stated; from there on the doubt falls faster than is stated (a power law through 3 of 84 at 0.85, of exponent 1.71,
as with the network before), down to what a count of very many bears out: 615 pages of the same sort with givens alone
(numbers 0 to 660, those that the camera cut off left out: `glyph_reliability OUT.csv 0 661 full`), 37,187 givens on
scans and photos. Stated and right there: 0.5 to 0.8: 280 of 302; 0.8 to 0.9: 248 of 250; 0.9 to 0.95: 237 of 237; 0.95
to 0.995: 658 of 658; 0.995 to 0.999: 2,164 of 2,164; 0.999 to 0.9999: 2,246 of 2,246; above: 14,526 of 14,526 on scans
and 16,440 of 16,440 on photos, so that one table holds for both. Of n without an error the doubt is taken for 1 in n or
more; Jeffreys' prior makes half an error of none. A number of which a digit is lost, because it runs into an arrow or
another number, is no misread character, and no figure here counts it: the guards that look at all ink do.
Below 0.5 the network is taken at its word."""

from __future__ import annotations

import numpy as np

_STATED = (0.0, 0.5, 0.65, 0.85, 0.9, 0.93, 0.95, 0.97, 0.98, 0.99, 0.995, 0.998, 0.9995, 0.9999, 1.0)
_RIGHT = (0.0, 0.5, 0.67, 0.96, 0.981, 0.99, 0.994, 0.9976, 0.9988, 0.9996, 0.9997, 0.9998, 0.9999, 0.99995, 0.99995)


def calibrated(stated: float) -> float:
    """The share of characters that are right among those with that stated confidence."""
    return float(np.interp(stated, _STATED, _RIGHT))
