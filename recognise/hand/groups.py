"""Print and handwriting of one page told apart by what both of them are like.

How far a thing lies from the print says nothing of how far it lies from the handwriting: a digit on a fold is far from
the place of print and like none of the pen strokes, and a neat hand that writes as large as the print stands near it
and is of another ink. So all the things of a page are shared out between two groups, each with a middle and a scatter
of its own (a mixture of two t-distributions, by classification EM: G. Celeux and G. Govaert, A classification EM
algorithm for clustering and two stochastic versions, 1992; D. Peel and G. McLachlan, Robust mixture modelling using the
t distribution, 2000): print varies little, a hand in every way."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from recognise.hand.strokes import Floats

FEWEST = 8
"""Fewer things of one group do not tell what it is like."""
ROUNDS = 6
CAPPED = 6.0
"""Deviations from the middle of a group count no more than this, in what print usually varies."""
OWN = 0.7
"""Weight of the correlations between features, against none: few things are measured by many features."""
LEAST = 0.5
"""Variance that every feature has at least, in squares of what print usually varies."""
TAILS = 6.0
"""Degrees of freedom of the t-distributions: what is far from both groups belongs surely to neither."""
LIKEST = 0.995
"""Correlations of two shapes above this are as good as one."""
SURE = 4.0
"""What leans so far to one group is sure enough of it for saying that the groups are apart."""
BETWEEN = 0.15
"""Part of the things that may lie between the groups: groups that run into each other tell nothing."""

Flags = npt.NDArray[np.bool_]


def leaning(features: Floats, alike: Floats, off: Floats) -> Floats:
    """For each thing the logarithm of how much likelier it is of the print than of the handwriting: 0 where there are
    no two groups, or they are not apart. `features` (n, k) are in units of what print varies, `alike` (n, n) holds the
    correlations of the shapes, -1 of each with itself, `off` (n,) how far each is from the densest print: where the
    groups begin."""
    none = np.zeros(len(features))
    printed = off < _between(np.minimum(off, CAPPED))
    lean = none
    for _ in range(ROUNDS):
        if min(printed.sum(), (~printed).sum()) < FEWEST:
            return none
        # Equal printed digits have one shape: how like a thing is to the likest printed one is a feature too.
        like = np.where(printed[None], alike, -1.0).max(axis=1)
        both = np.column_stack([features, -np.log(1 - np.minimum(like, LIKEST))])
        lean = _likelihood(both, printed) - _likelihood(both, ~printed) + np.log(printed.sum() / (~printed).sum())
        if (printed == (lean > 0)).all():
            break
        printed = lean > 0
    apart = (np.abs(lean) < SURE).sum() <= BETWEEN * len(lean)
    return np.asarray(lean if apart else none, np.float64)


def _between(values: Floats) -> float:
    """The threshold that leaves least variance on both of its sides (N. Otsu, A threshold selection method from
    gray-level histograms, 1979)."""
    ordered = np.sort(values)
    cuts = range(FEWEST, len(ordered) - FEWEST + 1)
    if not cuts:
        return float(ordered[-1])
    best = max(cuts, key=lambda k: k * (len(ordered) - k) * (ordered[:k].mean() - ordered[k:].mean()) ** 2)
    return float(ordered[best - 1] + ordered[best]) / 2


def _likelihood(features: Floats, group: Flags) -> Floats:
    """The logarithm of the density of a group at each thing, but for a constant."""
    middle = np.median(features[group], axis=0)
    around = (features[group] - middle).clip(-CAPPED, CAPPED)
    scatter = around.T @ around / len(around)
    scatter = OWN * scatter + (1 - OWN) * np.diag(np.diag(scatter)) + LEAST * np.eye(len(scatter))
    apart = features - middle
    squares = np.einsum("ij,ij->i", apart @ np.linalg.inv(scatter), apart)
    size = float(np.linalg.slogdet(scatter)[1])
    return np.asarray(-size / 2 - (TAILS + len(scatter)) / 2 * np.log1p(squares / TAILS), np.float64)
