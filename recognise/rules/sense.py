"""What each sentence of a text states, by its sense: a small language network that reads the whole text at once.

It knows English from before (all-MiniLM-L6-v2, Apache 2.0: Wang et al., "MiniLM", NeurIPS 2020) and learnt from
rules texts what their sentences state (`fixtures/training/train_sense.py`). It knows nothing of our lexicon and
grammar: where it agrees with them, two readers that know nothing of each other agree.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from recognise.rules.wordpieces import WordPieces

WEIGHTS = Path(__file__).with_name("sense.npz")
HEADS = 12
_TINY = 1e-12

Numbers = NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class _Layer:
    """Weights of one layer, each (outputs, inputs) or (outputs,): attention, what follows it, and their norms."""

    asked: Numbers
    asked_bias: Numbers
    told: Numbers
    told_bias: Numbers
    first_norm: Numbers
    wide: Numbers
    wide_bias: Numbers
    narrow: Numbers
    narrow_bias: Numbers
    second_norm: Numbers


class Sense:
    """The network, its weights read from a file."""

    def __init__(self, weights: Path = WEIGHTS) -> None:
        with np.load(weights) as kept:
            self.answers = str(kept["answers"]).split("\n")
            self._pieces = WordPieces(str(kept["vocabulary"]).split("\n"))
            self._words, self._places = _full(kept, "words"), _full(kept, "places")
            self._norm, self._head = _full(kept, "norm"), _full(kept, "head")
            self._head_bias = _full(kept, "head_bias")
            names = _Layer.__dataclass_fields__
            self._layers = [
                _Layer(*(_full(kept, f"{at}.{name}") for name in names)) for at in range(int(kept["layers"]))
            ]

    def of(self, sentences: Sequence[str]) -> list[dict[str, float]]:
        """For each sentence of a text, in order, the chance of each answer: a kind with what tells its variants apart
        (`cage product`, `!all-marked`), `other` for a rule of no kind, `half` for one that is told together with a
        sentence beside it."""
        pieces = [self._pieces.of(sentence)[: self._longest] for sentence in sentences]
        found: list[dict[str, float]] = []
        for run in _runs([len(p) for p in pieces], len(self._places) - 1):
            context = [pieces[at] for at in run]
            found += self._told(context)[len(found) - run.start :]
        return found

    @property
    def _longest(self) -> int:
        return (len(self._places) - 3) // 2

    def _told(self, pieces: Sequence[Sequence[int]]) -> list[dict[str, float]]:
        ids = [self._pieces.start]
        spans = []
        for one in pieces:
            spans.append((len(ids), len(ids) + len(one) + 1))
            ids += [*one, self._pieces.end]
        states = self._encoded(np.array(ids))
        means = np.stack([states[start:end].mean(axis=0) for start, end in spans])
        chances = 1 / (1 + np.exp(-(means @ self._head.T + self._head_bias)))
        return [dict(zip(self.answers, map(float, row), strict=True)) for row in chances]

    def _encoded(self, ids: NDArray[np.int64]) -> Numbers:
        """The states (pieces, width) of the last layer."""
        states = _normed(self._words[ids] + self._places[: len(ids)], self._norm)
        for layer in self._layers:
            states = _normed(states + _attended(states, layer), layer.first_norm)
            raised = _gelu(states @ layer.wide.T + layer.wide_bias)
            states = _normed(states + raised @ layer.narrow.T + layer.narrow_bias, layer.second_norm)
        return states


@lru_cache(maxsize=1)
def _sense() -> Sense:
    return Sense()


@lru_cache(maxsize=64)
def senses(sentences: tuple[str, ...]) -> tuple[dict[str, float], ...]:
    """What each sentence of a text states, in order: answers to their chances."""
    return tuple(_sense().of(sentences)) if sentences else ()


def _runs(lengths: Sequence[int], room: int) -> Iterator[range]:
    """Which sentences are looked at together: as many as there is room for, and again the last of the run before."""
    start = at = 0
    used = 0
    while at < len(lengths):
        if used + lengths[at] + 1 > room:
            yield range(start, at)
            start = at - 1 if lengths[at - 1] + lengths[at] + 2 <= room else at
            used = sum(length + 1 for length in lengths[start:at])
        used += lengths[at] + 1
        at += 1
    if lengths:
        yield range(start, at)


def _full(kept: np.lib.npyio.NpzFile, name: str) -> Numbers:
    """Weights as kept: whole numbers, and a step for each row."""
    weights = np.asarray(kept[name], np.float32)
    return weights * kept[f"{name}.step"][:, None] if f"{name}.step" in kept else weights


def _normed(states: Numbers, norm: Numbers) -> Numbers:
    off = states - states.mean(axis=1, keepdims=True)
    spread = np.sqrt((off**2).mean(axis=1, keepdims=True) + _TINY)
    normed: Numbers = off / spread * norm[0] + norm[1]
    return normed


def _attended(states: Numbers, layer: _Layer) -> Numbers:
    """What each piece takes in of the others."""
    asked = (states @ layer.asked.T + layer.asked_bias).reshape(len(states), 3, HEADS, -1).transpose(1, 2, 0, 3)
    scores: Numbers = asked[0] @ asked[1].transpose(0, 2, 1) / np.float32(np.sqrt(asked.shape[-1]))
    scores = np.exp(scores - scores.max(axis=2, keepdims=True))
    shares = scores / scores.sum(axis=2, keepdims=True)
    told = (shares @ asked[2]).transpose(1, 0, 2).reshape(len(states), -1)
    taken_in: Numbers = told @ layer.told.T + layer.told_bias
    return taken_in


def _gelu(x: Numbers) -> Numbers:
    # The error function by its tangent form: off by 0.001 at most (Hendrycks and Gimpel, arXiv 1606.08415).
    raised: Numbers = 0.5 * x * (1 + np.tanh(np.float32(0.7978845608) * (x + np.float32(0.044715) * (x * x * x))))
    return raised
