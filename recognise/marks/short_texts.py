"""Whole short texts at a place by a network of their own: totals, values, digits in circles, letters on edges.

Characters that touch walls, lines, rims or each other cannot be cut apart and read one by one; this network sees the
place as it is, was taught on places with all such ink, and says which characters stand there in reading order. Several
digits at once by one network: Goodfellow et al., Multi-digit number recognition, arXiv:1312.6082."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache
from pathlib import Path
from threading import Lock

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box, Point
from recognise.evidence import Guess
from recognise.marks.short_text_classes import CLASSES, DARKEST, END, HEIGHT, PAPER, SLOTS, WIDTH
from recognise.pixels.frame import Colours

HERE = Path(__file__).parent
CIRCLE, LEAST = 1.25, 0.16
"""As a part of the radius of a circle, half the side of the window around it; half the least side, in cells."""
EDGE, MIDDLE = 0.36, 0.48
"""In cells: half the height of a window on an edge, and of one around the middle of a cell."""
CORNER = (-0.04, -0.1, 0.92, 0.62)
"""In cells, from the upper left corner of a cell: the window of small characters there."""
HIGH, WIDE = 1.0, 0.75
"""Half the height of a window around ink, as a part of its height at least, and of its width at least."""
BATCH = 64
KNOWN = 1024
"""Windows whose scores are kept: marks are looked at again once the rules are known, in the same windows."""
KEPT, LEAST_LIKELY = 4, 0.01
"""So many texts of a window are followed, and told where they are so likely."""

Window = npt.NDArray[np.uint8]
"""HEIGHT x WIDTH x 3."""


def around(at: Point, half: float) -> Box:
    """The window of so much half height around a point."""
    wide = half * WIDTH / HEIGHT
    return at[0] - wide, at[1] - half, at[0] + wide, at[1] + half


def circle_window(at: Point, radius: float) -> Box:
    """The window around a circle: a square, so that digits in line get as many pixels as they can."""
    half = max(LEAST, CIRCLE * radius)
    return at[0] - half, at[1] - half, at[0] + half, at[1] + half


def ink_window(ink: Box) -> Box:
    """The window around the ink of characters, with room for such beside them as were not found."""
    x0, y0, x1, y1 = ink
    return around(((x0 + x1) / 2, (y0 + y1) / 2), max(HIGH * (y1 - y0), WIDE * (x1 - x0)))


def corner_window(corner: Point) -> Box:
    """The window of the small characters of a cell, by its upper left corner."""
    return corner[0] + CORNER[0], corner[1] + CORNER[1], corner[0] + CORNER[2], corner[1] + CORNER[3]


def cut(picture: Window | Colours, box: Box, cell: float, margin: float) -> Window:
    """A window of a flattened grid, in bytes or 0 to 1, with `cell` pixels a cell and `margin` cells of page around
    it; what is beyond the picture repeats its border. `box` is in cells."""
    x0, y0, x1, y1 = (round((value + margin) * cell) for value in box)
    height, width = picture.shape[:2]
    own = picture[max(0, y0) : max(1, y1), max(0, x0) : max(1, x1)]
    inner = np.asarray(own if own.dtype == np.uint8 else own * 255, np.uint8)
    missing = max(0, -y0), max(0, y1 - height), max(0, -x0), max(0, x1 - width)
    if any(missing):
        inner = cv2.copyMakeBorder(inner, *missing, cv2.BORDER_REPLICATE)
    larger = inner.shape[1] < WIDTH
    way = cv2.INTER_LINEAR if larger else cv2.INTER_AREA
    return np.asarray(cv2.resize(inner, (WIDTH, HEIGHT), interpolation=way), np.uint8)


def normalised(windows: Sequence[Window]) -> npt.NDArray[np.float32]:
    """The network's input (n, 3, HEIGHT, WIDTH): each channel against its ground: 0 for that, -1 for black, 1
    for what is twice as light or more."""
    stack = np.stack(windows).astype(np.float32) / 255
    ground = np.quantile(stack.reshape(len(stack), -1, 3), PAPER, axis=1)
    against = stack / np.maximum(ground, DARKEST).astype(np.float32)[:, None, None, :] - 1
    return np.ascontiguousarray(np.minimum(against, 1).transpose(0, 3, 1, 2))


class ShortTextReader:
    """Reads windows (`cut`) with the network, run by OpenCV's dnn."""

    def __init__(self, weights: Path = HERE / "short_texts.onnx") -> None:
        self._net = cv2.dnn.readNetFromONNX(str(weights))
        self._lock = Lock()
        self._known: dict[bytes, npt.NDArray[np.float64]] = {}

    def read(self, windows: Sequence[Window], allowed: Iterable[str]) -> list[tuple[Guess, ...]]:
        """What may stand in each window, likeliest first ("" for nothing), given that all characters are `allowed`."""
        if not windows:
            return []
        kept = np.full(END + 1, -np.inf)
        kept[[*(CLASSES.index(character) for character in allowed), END]] = 0.0
        scores = self._scores(windows) + kept
        chances = np.exp(scores - scores.max(axis=-1, keepdims=True))
        chances /= chances.sum(axis=-1, keepdims=True)
        return [_likeliest(one) for one in chances]

    def _scores(self, windows: Sequence[Window]) -> npt.NDArray[np.float64]:
        keys = [window.tobytes() for window in windows]
        with self._lock:
            known = self._known
            if len(known) > KNOWN:
                known.clear()
            new = {key: window for key, window in zip(keys, windows, strict=True) if key not in known}
            unseen = list(new.values())
            found = [row for at in range(0, len(unseen), BATCH) for row in self._run(unseen[at : at + BATCH])]
            known |= zip(new, found, strict=True)
            return np.array([known[key] for key in keys])

    def _run(self, windows: Sequence[Window]) -> npt.NDArray[np.float64]:
        """The network's scores; those of a window do not depend on what is read beside it."""
        self._net.setInput(normalised(windows))
        return np.array(self._net.forward(), np.float64).reshape(len(windows), SLOTS, END + 1)


@cache
def short_text_reader() -> ShortTextReader:
    """The network that the project carries, loaded once."""
    return ShortTextReader()


def _likeliest(chances: npt.NDArray[np.float64]) -> tuple[Guess, ...]:
    """The likeliest texts of the chances (SLOTS, END + 1) of each character; a text ends where its first end is."""
    begun: list[tuple[str, float]] = [("", 1.0)]
    ended: list[tuple[str, float]] = []
    for slot in chances:
        longer = [
            (text, int(which), chance * float(slot[which]))
            for text, chance in begun
            for which in np.argsort(-slot)[:KEPT]
        ]
        ended += [(text, chance) for text, which, chance in longer if which == END]
        going = [(text + CLASSES[which], chance) for text, which, chance in longer if which != END]
        begun = sorted(going, key=lambda one: -one[1])[:KEPT]
    best = sorted([*ended, *begun], key=lambda one: -one[1])[:KEPT]
    return tuple(Guess(text, chance) for text, chance in best if chance >= LEAST_LIKELY) or (Guess(*best[0]),)
