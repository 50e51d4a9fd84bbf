"""The lattice network, run by OpenCV: what stands at each place of a grid, with calibrated probabilities."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import blake2b
from pathlib import Path

import cv2
import numpy as np
import numpy.typing as npt

from recognise.evidence import Flat
from recognise.marks import calibration
from recognise.marks.heads import FIRST, HEADS, WAYS, Head
from recognise.marks.picture import lattice_picture, normalised
from schema.cells import Cell

HERE = Path(__file__).parent

Probabilities = npt.NDArray[np.float64]
BY_NAME = {head.name: head for head in HEADS}
NODE_POWERS = {
    "BULB": calibration.BULBS_AND_HEADS,
    "HEAD": calibration.BULBS_AND_HEADS,
    "TINT": calibration.TINTS,
}
KNOWN = 8
"""Pictures of grids whose chances are kept: pages have few, and some are looked at without their diagonals too."""
DRAWN_LINKS = slice(1, 4)
"""Lines, shafts and tubes."""
STEPS = {way: plane for plane, way in enumerate(WAYS)}


@dataclass(frozen=True, slots=True)
class Chances:
    """For each head an array (planes, classes, rows + 2, columns + 2) of probabilities; cell r1c1 is at [1, 1]."""

    rows: int
    columns: int
    heads: dict[str, Probabilities]

    def cells(self) -> Iterator[Cell]:
        """The cells of the grid in reading order."""
        return (Cell(row, column) for row in range(1, self.rows + 1) for column in range(1, self.columns + 1))

    def corners(self) -> Iterator[Cell]:
        """The corners at which four cells meet, each by the cell to its upper left."""
        return (cell for cell in self.cells() if cell.row < self.rows and cell.column < self.columns)

    def at(self, name: str, row: int, column: int, plane: int = 0) -> dict[str, float]:
        """The probability of each class at a place, ring included."""
        values = self.heads[name][plane, :, row, column]
        return dict(zip(BY_NAME[name].classes, values.tolist(), strict=True))

    def node(self, cell: Cell, name: str) -> float:
        """The probability of one thing in a cell."""
        return float(self.heads["node"][0, BY_NAME["node"].classes.index(name), cell.row, cell.column])

    def side(self, cell: Cell, name: str) -> float:
        """The probability of a cage's wall inside a cell, along one of its sides."""
        return float(self.heads["side"][0, BY_NAME["side"].classes.index(name), cell.row, cell.column])

    def link(self, one: Cell, other: Cell) -> dict[str, float]:
        """The probability of each class of link between two cells that touch."""
        first, second = sorted((one, other))
        plane = STEPS[second.row - first.row, second.column - first.column]
        return self.at("link", first.row, first.column, plane)

    def links(self) -> Iterator[tuple[Cell, Cell, dict[str, float]]]:
        """Every two cells that touch, in reading order, with what may link them."""
        for cell in self.cells():
            for plane, (down, right) in enumerate(WAYS):
                row, column = cell.row + down, cell.column + right
                if row <= self.rows and 1 <= column <= self.columns:
                    yield cell, Cell(row, column), self.at("link", cell.row, cell.column, plane)


class LatticeReader:
    """Looks at flattened grids."""

    def __init__(self, weights: Path = HERE / "lattice.onnx") -> None:
        self._net = cv2.dnn.readNetFromONNX(str(weights))
        self._known: dict[tuple[tuple[int, ...], bytes], Chances] = {}

    def look(self, flat: Flat) -> Chances:
        """What stands at each place of a grid; a grid is looked at again once its rules are known."""
        picture = lattice_picture(flat)
        key = picture.shape, blake2b(picture.tobytes()).digest()
        if key not in self._known:
            while len(self._known) >= KNOWN:
                self._known.pop(next(iter(self._known)))
            self._net.setInput(normalised(picture))
            self._known[key] = chances(np.asarray(self._net.forward()[0], np.float64))
        return self._known[key]


def chances(scores: npt.NDArray[np.float64]) -> Chances:
    """Probabilities of scores (channels, rows + 2, columns + 2): softmax where a head's classes exclude each other."""
    rows, columns = scores.shape[1] - 2, scores.shape[2] - 2
    return Chances(rows, columns, _counted({head.name: _of(head, scores) for head in HEADS}))


def _counted(told: dict[str, Probabilities]) -> dict[str, Probabilities]:
    """The probabilities of what is nearly sure, as counted (`recognise.marks.calibration`)."""
    node = told["node"].copy()
    for name, power in NODE_POWERS.items():
        place = BY_NAME["node"].classes.index(name)
        node[:, place] = calibration.of_each(node[:, place], power)
    return told | {
        "node": node,
        "link": calibration.of_classes(told["link"], DRAWN_LINKS, calibration.LINKS),
        "edge": _of_likeliest(told["edge"]),
        "side": calibration.of_each(told["side"], calibration.WALLS),
    }


def _of_likeliest(told: Probabilities) -> Probabilities:
    """Of marks on edges each class for itself: at most one of them is nearly sure."""
    for number in range(1, told.shape[1]):
        told = calibration.of_classes(told, slice(number, number + 1), calibration.EDGES)
    return told


def _of(head: Head, scores: npt.NDArray[np.float64]) -> Probabilities:
    first = FIRST[head.name]
    own = scores[first : first + head.channels].reshape(head.planes, len(head.classes), *scores.shape[1:])
    if head.exclusive:
        raised = np.exp(own - own.max(axis=1, keepdims=True))
        return np.asarray(raised / raised.sum(axis=1, keepdims=True))
    return np.asarray(1 / (1 + np.exp(-own)))
