"""A second opinion on what a sentence states, by the company its concepts keep.

Logistic regression, one for each kind, on the concepts of a sentence and on which stand side by side. It knows nothing
of grammar, and so it has an opinion where the patterns have none: what it says alone is always put to a person. Learnt
from the tests' texts (`tests/recognise/opinion_maker.py`), never from those that are for measuring.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from itertools import pairwise
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from recognise.rules.lexicon import bag
from recognise.rules.pattern import named

_PASSED_OVER = bag("HOLD ALL IT ONE TOWARDS MEAN MAY GIVEN AND TWO SOME UNKNOWN")
"""Concepts that stand between others without parting them."""

RULE_OF_NO_KIND = "other"
"""The answer for rules that the contract does not have."""

WEIGHTS = Path(__file__).with_name("opinion.npz")


def features(concepts: Iterable[str], besides: Iterable[str] = ()) -> frozenset[str]:
    """What is looked at: each concept by name, each two that stand side by side, and what words may stand for
    besides."""
    names = [named(c) for c in concepts]
    told = ["^", *(n for n in names if n not in _PASSED_OVER), "$"]
    return frozenset(names) | {f"{a} {b}" for a, b in pairwise(told)} | {f"~{name}" for name in besides}


@lru_cache(maxsize=1)
def _learnt() -> tuple[dict[str, int], list[str], NDArray[np.float64]]:
    with np.load(WEIGHTS) as kept:
        places = {name: at for at, name in enumerate(str(kept["features"]).split("\n"))}
        return places, str(kept["answers"]).split("\n"), kept["weights"].astype(float) * float(kept["step"])


def opinion(looked_at: Iterable[str]) -> dict[str, float]:
    """Each answer (a kind, with what tells its variants apart: `cage product`, `!all-marked`) to its chance, by the
    features of a sentence or of a whole text."""
    places, answers, weights = _learnt()
    rows = [places[name] for name in looked_at if name in places]
    chances = 1 / (1 + np.exp(-(weights[rows].sum(axis=0) + weights[-1])))
    return dict(zip(answers, map(float, chances), strict=True))
