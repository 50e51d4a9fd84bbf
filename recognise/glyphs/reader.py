"""Single characters by our own network, run by OpenCV's dnn."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path

import cv2
import numpy as np
import numpy.typing as npt

from recognise.evidence import Guess
from recognise.glyphs.classes import CHARACTERS, NOTHING, SIDE
from recognise.glyphs.window import Grey, normalised

HERE = Path(__file__).parent
BATCH = 128
"""Windows a run of the network: more need memory and save no time."""
LEAST = 0.0005
"""Guesses below this probability are left out."""

KNOWN = 4096
"""Windows whose scores are kept: marks are looked at several times, at several cuts, and many give the same window."""

Probabilities = npt.NDArray[np.float64]
_Key = tuple[tuple[int, ...], bytes]


class GlyphReader:
    """Reads windows around single characters (`recognise.glyphs.window.window`).

    Probabilities are calibrated by one temperature, measured on fonts that the network never saw."""

    def __init__(self, weights: Path = HERE / "glyphs.onnx", settings: Path = HERE / "glyphs.json") -> None:
        self._net = cv2.dnn.readNetFromONNX(str(weights))
        self._temperature = float(json.loads(settings.read_text(encoding="utf-8"))["temperature"])
        self._known: dict[_Key, Probabilities] = {}

    def read(self, crops: Sequence[Grey], allowed: str | None = None) -> list[tuple[Guess, ...]]:
        """What each crop may be, best first; `NOTHING` ("") is one of the answers.

        Crops are grey, dark on light or light on dark. With `allowed`, only those characters and NOTHING are
        answers, and their probabilities add up to 1: 0 and O, 1 and I, 5 and S look alike, and only the caller knows
        which can stand there. Raises ValueError for a character in `allowed` that the network does not know."""
        known = _columns(allowed)
        texts = [*CHARACTERS, NOTHING]
        found = []
        for row in self.probabilities(crops, allowed):
            order = [k for k in known[np.argsort(-row[known])] if row[k] >= LEAST]
            found.append(tuple(Guess(texts[k], float(row[k])) for k in order))
        return found

    def probabilities(self, crops: Sequence[Grey], allowed: str | None = None) -> Probabilities:
        """The same as an array (crops, classes) in the order of CHARACTERS, NOTHING last; 0 for what is not allowed."""
        scores = self._scores(crops) / self._temperature
        known = _columns(allowed)
        kept = np.full_like(scores, -np.inf)
        kept[:, known] = scores[:, known]
        if len(kept):
            kept -= kept.max(axis=1, keepdims=True)
        raised = np.exp(kept)
        return np.asarray(raised / raised.sum(axis=1, keepdims=True))

    def _scores(self, crops: Sequence[Grey]) -> Probabilities:
        keys = [(crop.shape, crop.tobytes()) for crop in crops]
        if len(self._known) > KNOWN:
            self._known.clear()
        known = self._known
        new = {key: crop for key, crop in zip(keys, crops, strict=True) if key not in known}
        known |= zip(new, self._run(list(new.values())), strict=True)
        return np.array([known[key] for key in keys]).reshape(-1, len(CHARACTERS) + 1)

    def _run(self, crops: Sequence[Grey]) -> Probabilities:
        """The network's scores (crops, classes); those of a window do not depend on what is read beside it."""
        found = np.empty((len(crops), len(CHARACTERS) + 1))
        for first in range(0, len(crops), BATCH):
            part = crops[first : first + BATCH]
            self._net.setInput(normalised(part).reshape(-1, 1, SIDE, SIDE))
            found[first : first + len(part)] = self._net.forward()
        return found


def _columns(allowed: str | None) -> npt.NDArray[np.intp]:
    """Indices of the allowed classes, NOTHING always among them."""
    if allowed is None:
        return np.arange(len(CHARACTERS) + 1)
    unknown = sorted(set(allowed) - set(CHARACTERS))
    if unknown:
        raise ValueError(f"the glyph network knows no {' '.join(unknown)}")
    return np.array([*(CHARACTERS.index(c) for c in sorted(set(allowed))), len(CHARACTERS)])
