"""Print and handwriting of one page told apart by what both of them are like, once most of each is known.

How far a thing lies from the print says nothing of how far it lies from the handwriting: a digit on a fold is far from
both places of print and like none of the pen strokes. The two groups that distance alone has made are compared by
Fisher's linear discriminant (R. A. Fisher, The use of multiple measurements in taxonomic problems, 1936), with the
scatter that both have in common, and made anew a few times."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from recognise.hand.strokes import Floats

FEWEST = 8
"""Fewer things of one group do not tell what it is like."""
ROUNDS = 3
CAPPED = 6.0
"""Deviations from the middle of a group count no more than this, in what print usually varies."""
OWN = 0.7
"""Weight of the correlations between features, against none: few things are measured by many features."""
LEAST = 0.5
"""Variance that every feature has at least, in squares of what print usually varies."""
SURE = 4.0
"""What leans so far to one group makes it in the next round."""
BETWEEN = 0.05
"""Part of the things that may lie between the groups: groups that run into each other tell nothing."""

Flags = npt.NDArray[np.bool_]


def leaning(features: Floats, printed: Flags, written: Flags) -> Floats:
    """For each thing the logarithm of how much likelier it is of the print than of the handwriting: 0 where either
    group is too small to tell, or they are not apart. `features` (n, k) are in units of what print varies; the flags
    are the first groups."""
    lean = np.zeros(len(features))
    for _ in range(ROUNDS):
        if min(printed.sum(), written.sum()) < FEWEST:
            break
        print_, hand = (np.median(features[group], axis=0) for group in (printed, written))
        around = np.concatenate([features[printed] - print_, features[written] - hand]).clip(-CAPPED, CAPPED)
        scatter = around.T @ around / len(around)
        scatter = OWN * scatter + (1 - OWN) * np.diag(np.diag(scatter)) + LEAST * np.eye(len(scatter))
        lean = (features - (print_ + hand) / 2) @ np.linalg.solve(scatter, print_ - hand)
        printed, written = lean > SURE, lean < -SURE
    between = np.abs(lean) < SURE
    return np.asarray(lean * (between.sum() <= BETWEEN * len(lean)), np.float64)
