"""How sure the lattice network is of what it is nearly sure of, as counted.

Temperatures (`fixtures.training.lattice_report`) are right on the whole; near to certainty, where most marks of a clean
page lie, the network errs less often than it says. Counted on 1,600 samples of the training half that it had never seen
(numbers 900000 on), as printed and worn, and worn anew (three times, each counted for a third): what was said to be
there with a doubt of 0.005 to 0.02, 0.001 to 0.005 and 0.0002 to 0.001, and was not; in brackets what the doubts add up
to:

    drawn links       24.0 of 3,355 (32)     8.7 of 7,658 (18)     0.3 of 5,311 (2.7)
    walls of cages    47.3 of 9,480 (91)    17.7 of 28,839 (64)    1.0 of 26,644 (13)
    marks on edges    22.3 of 3,206 (32)     3.7 of 6,448 (15)     0 of 6,403 (3.1)
    bulbs              2.3 of 366 (3.7)      0 of 449 (1.2)        0 of 82 (0.1)
    heads of arrows    1.0 of 229 (2.3)      0.3 of 426 (1.0)      0 of 430 (0.2)
    tints             13.0 of 4,383 (43)     4.0 of 7,531 (19)     0.3 of 4,025 (2.1)

They were counted for an earlier network; near to certainty this one errs no more often on the testing half
(FIGURES.md). A power of the doubt, below `NEARLY`, follows each row. Circles and squares (32 of 1,506, where 15 were
expected: rings that are marks of no kind) are left as they are told, and so is all that is said not to be there.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Probabilities = npt.NDArray[np.float64]

NEARLY = 0.02
"""Greater doubts are taken as they are told."""
LINKS, WALLS, EDGES = 1.4, 1.6, 1.6
BULBS_AND_HEADS, TINTS = 1.5, 1.7
"""Powers of the doubt, by the rows of the table above."""


def less(doubt: Probabilities, power: float) -> Probabilities:
    """Doubts as counted, of doubts as told."""
    return np.asarray(doubt * np.minimum(1.0, doubt / NEARLY) ** (power - 1))


def of_classes(told: Probabilities, there: slice, power: float) -> Probabilities:
    """Probabilities (planes, classes, ...) of classes that exclude each other, where the classes in `there`, taken
    together, are nearly sure."""
    some = told[:, there].sum(axis=1, keepdims=True)
    doubt = np.maximum(1 - some, 1e-12)
    left = less(doubt, power)
    counted: Probabilities = told * (left / doubt)
    counted[:, there] = told[:, there] * ((1 - left) / np.maximum(some, 1e-12))
    return counted


def of_each(told: Probabilities, power: float) -> Probabilities:
    """Probabilities of what is there or not, each by itself."""
    return np.asarray(1 - less(1 - told, power))
