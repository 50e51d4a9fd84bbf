"""Reads strips of type with the network of lines.

The network scores a character, or none, at each step along a line (connectionist temporal classification: Graves et
al., ICML 2006). The likeliest at each step are taken, of neighbouring equal ones one."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from threading import Lock

import cv2
import numpy as np
import numpy.typing as npt

from recognise.worn_type.classes import CHARACTERS, STEP
from recognise.worn_type.strips import Grey

HERE = Path(__file__).parent


@dataclass(frozen=True, slots=True)
class Character:
    """A character that was read, how likely it is, and where it stands, in pixels of its strip."""

    text: str
    chance: float
    at: float


class LineReader:
    """The network, run by OpenCV's dnn."""

    def __init__(self, weights: Path = HERE / "lines.onnx") -> None:
        self._net = cv2.dnn.readNetFromONNX(str(weights))
        self._lock = Lock()

    def read(self, strip: Grey) -> list[Character]:
        """What stands in a strip (HEIGHT, width), from left to right."""
        scores = self.scores(strip)
        chances = np.exp(scores - scores.max(axis=0))
        chances /= chances.sum(axis=0)
        best = chances.argmax(axis=0)
        found: list[Character] = []
        before = 0
        for step, which in enumerate(best.tolist()):
            chance = float(chances[which, step])
            if which and which != before:
                found.append(Character(CHARACTERS[which - 1], chance, (step + 0.5) * STEP))
            elif which and chance > found[-1].chance:
                found[-1] = Character(found[-1].text, chance, found[-1].at)
            before = which
        return found

    def scores(self, strip: Grey) -> npt.NDArray[np.float64]:
        """Scores (classes, steps) of a strip."""
        with self._lock:
            self._net.setInput((strip.astype(np.float32) / 255 - 1)[None, None])
            return np.array(self._net.forward(), np.float64)[0, :, 0]


@cache
def line_reader() -> LineReader:
    """The network that the project carries, loaded once."""
    return LineReader()
