"""A small network for handwritten digits, which the glyph network has never seen.

64 inputs (the ink of a digit in 8 x 8 squares), one hidden layer, nine answers: a multilayer perceptron. How it was
trained and on what is in `fixtures/training/train_hand_digits.py`, how often it is right in `FIGURES.md` beside this.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from pathlib import Path

import cv2
import numpy as np
import numpy.typing as npt

from recognise.evidence import Guess
from recognise.hand.strokes import Floats, Thing
from recognise.pixels.frame import Grey

HERE = Path(__file__).parent
SIDE = 8
"""Squares along the side of the picture that is read."""
INKED = 0.35
"""Part of the darkest ink from which on a pixel belongs to the digit."""
DIGITS = range(1, 10)
TOGETHER = 0.75
"""Power of the product of what two readers say. It were 1 if they erred independently, and a half if they erred alike
(a pool of opinions whose weights add up to one); they see the same picture, and were taught by others."""
LEAST = 0.01
"""No digit is less likely than this to one reader alone: each errs where the other may be right."""


class HandReader:
    """Reads things in cells as handwritten digits 1 to 9."""

    def __init__(self, weights: Path = HERE / "digits.npz") -> None:
        self._path = weights

    @cached_property
    def _weights(self) -> dict[str, Floats]:
        with np.load(self._path) as kept:
            return {name: kept[name].astype(np.float64) for name in kept.files}

    def read(self, seen: Sequence[Thing]) -> Floats:
        """The probability of each digit, shape (things, 9)."""
        pictures = np.array([squares(_ink(thing)) for thing in seen], np.float64).reshape(-1, SIDE**2)
        kept = self._weights
        hidden = np.maximum(pictures @ kept["w1"] + kept["b1"], 0)
        scores = hidden @ kept["w2"] + kept["b2"]
        raised = np.exp(scores - scores.max(axis=1, keepdims=True))
        return np.asarray(raised / raised.sum(axis=1, keepdims=True), np.float64)


def squares(ink: Grey) -> npt.NDArray[np.float32]:
    """A digit's ink (0 to 1) as SIDE x SIDE means, cut to the digit, its proportions kept, 1 where it is darkest."""
    own = np.argwhere(ink > INKED * max(float(ink.max()), 1e-3))
    picture = np.zeros((SIDE, SIDE), np.float32)
    if not len(own):
        return picture
    (top, left), (bottom, right) = own.min(axis=0), own.max(axis=0) + 1
    part = np.clip(ink[top:bottom, left:right], 0, 1)
    high, wide = (max(1, round(length * SIDE / max(part.shape))) for length in part.shape)
    small = cv2.resize(part, (wide, high), interpolation=cv2.INTER_AREA)
    y, x = (SIDE - high) // 2, (SIDE - wide) // 2
    picture[y : y + high, x : x + wide] = small
    return np.asarray(picture / max(float(picture.max()), 1e-3), np.float32)


def both(print_says: tuple[Guess, ...], hand_says: Floats) -> tuple[Guess, ...]:
    """What a thing may be to the glyph network and to this one together, best first, '' for no digit: their product,
    as each knows what the other does not, to a power for what they have in common; and none only where neither knows
    it."""
    by_print = {guess.text: guess.probability for guess in print_says}
    known = max(1e-9, sum(by_print.get(str(digit), 0.0) for digit in DIGITS))
    none = (1 - min(1.0, known)) * (1 - float(hand_says.max()))
    product = [
        (max(LEAST, by_print.get(str(digit), 0.0) / known) * max(LEAST, float(share))) ** TOGETHER
        for digit, share in zip(DIGITS, hand_says, strict=True)
    ]
    shares = (1 - none) * np.array(product) / sum(product)
    guesses = [Guess(str(digit), float(share)) for digit, share in zip(DIGITS, shares, strict=True)]
    return tuple(sorted((*guesses, Guess("", none)), key=lambda guess: -guess.probability))


def _ink(thing: Thing) -> Grey:
    left, top, right, bottom = thing.inner
    return np.asarray(1 - thing.crop[top:bottom, left:right].astype(np.float32) / 255, np.float32)
