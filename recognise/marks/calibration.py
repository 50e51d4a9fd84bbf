"""How sure the lattice network is of what it is nearly sure of, as counted.

Temperatures (`fixtures.training.lattice_report`) are right on the whole; near to certainty, where most marks of a clean
page lie, the network errs less often than it says. Counted on 1,600 samples of the training half that it had never seen
(numbers 900000 on), as printed and worn, and three times more each worn anew: what was said to be there with a doubt of
0.005 to 0.02, 0.001 to 0.005 and 0.0002 to 0.001, and was not (in brackets what the doubts add up to):

    drawn links        64 of 7,117 (69)      22 of 15,085 (36)     1 of 9,684 (5.0)
    walls of cages    122 of 20,795 (201)    47 of 56,176 (127)    3 of 47,997 (25)
    marks on edges     49 of 6,677 (67)       9 of 12,498 (30)     0 of 11,792 (5.6)
    bulbs               5 of 716 (7.4)        0 of 768 (2.1)       0 of 131 (0.1)
    heads of arrows     3 of 496 (5.0)        1 of 836 (1.9)       0 of 792 (0.4)

A power of the doubt, below `NEARLY`, follows each row; those taken here stay below the likeliest ones for all but links
and walls (1.3, 1.45, 1.75, 1.85, 1.5), which have the most behind them. Circles and squares (70 of 3,054, where 30 were
expected: rings that are marks of no kind) are left as they are told, and so is all that is said not to be there.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Probabilities = npt.NDArray[np.float64]

NEARLY = 0.02
"""Greater doubts are taken as they are told."""
LINKS, WALLS, EDGES, BULBS_AND_HEADS = 1.3, 1.45, 1.6, 1.4


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
