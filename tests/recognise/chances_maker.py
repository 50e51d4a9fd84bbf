"""What the lattice network would say if it were sure: chances made from labels, and flat pictures to measure on."""

from dataclasses import replace
from itertools import pairwise

import cv2
import numpy as np

from fixtures.training.lattice_labels import Labels, Link, Node
from recognise.evidence import Evidence, Flat
from recognise.glyphs import GlyphReader
from recognise.marks.heads import HEADS
from recognise.marks.network import Chances
from recognise.marks.read import MarkReader
from recognise.marks.spoken import SILENT, Spoken
from recognise.pixels.read import read_stages
from schema.cells import Cell

CELL = 64
MARGIN = 3
DOUBT = 1e-4
WAYS = {(0, 1): 0, (1, 1): 1, (1, 0): 2, (1, -1): 3}
"""The plane of a link by its step down and across."""


def sure(labels: Labels) -> Chances:
    """Every class as labelled, but for a little doubt."""
    planes = {
        "link": labels.link,
        "edge": labels.edge,
        "wall": labels.wall,
        "corner": labels.corner[None],
    }
    bits = {"node": labels.node, "side": labels.side, "pointer": labels.pointer}
    heads = {}
    for head in HEADS:
        if head.exclusive:
            one_hot = np.arange(len(head.classes))[None, :, None, None] == planes[head.name][:, None]
            heads[head.name] = np.where(one_hot, 1 - DOUBT * (len(head.classes) - 1), DOUBT)
        elif head.name == "edge_text":
            heads[head.name] = np.where(labels.edge_text[:, None] > 0, 1 - DOUBT, DOUBT)
        else:
            on = bits[head.name][None] >> np.arange(len(head.classes))[:, None, None] & 1
            heads[head.name] = np.where(on > 0, 1 - DOUBT, DOUBT)[None]
    rows, columns = labels.node.shape
    return Chances(rows - 2, columns - 2, heads)


def changed(chances: Chances, head: str, place: tuple[int, ...], chance: float) -> Chances:
    """The same with one probability set; `place` is (plane, class, row, column)."""
    heads = {name: values.copy() for name, values in chances.heads.items()}
    heads[head][place] = chance
    return replace(chances, heads=heads)


class Told:
    """A lattice reader that says what it is told to."""

    def __init__(self, chances: Chances) -> None:
        self._chances = chances

    def look(self, flat: Flat) -> Chances:
        return self._chances


class Sheet:
    """A flat picture of a grid to draw on, in cells."""

    def __init__(self, rows: int = 6, columns: int = 6) -> None:
        self.rows, self.columns = rows, columns
        high, wide = ((n + 2 * MARGIN) * CELL for n in (rows, columns))
        self.image = np.full((high, wide, 3), 255, np.uint8)
        for row in range(rows + 1):
            self.line((0, row), (columns, row), (0, 0, 0), 0.03)
        for column in range(columns + 1):
            self.line((column, 0), (column, rows), (0, 0, 0), 0.03)

    def _at(self, point: tuple[float, float]) -> tuple[int, int]:
        return round((point[0] + MARGIN) * CELL), round((point[1] + MARGIN) * CELL)

    def line(self, start, end, colour, width) -> None:
        cv2.line(self.image, self._at(start), self._at(end), colour, max(1, round(width * CELL)), cv2.LINE_AA)

    def circle(self, centre, radius, colour, width=0.06) -> None:
        thick = -1 if width == 0 else round(width * CELL)
        cv2.circle(self.image, self._at(centre), round(radius * CELL), colour, thick, cv2.LINE_AA)

    def path(self, cells, colour, width) -> None:
        for one, other in pairwise(cells):
            self.line(one.centre, other.centre, colour, width)

    def dashes(self, start, end, colour, width=0.03, period=0.2) -> None:
        length = max(abs(end[0] - start[0]), abs(end[1] - start[1]))
        for k in range(round(length / period)):
            a, b = k * period / length, min(1.0, (k + 0.6) * period / length)
            ends = [tuple(s + (e - s) * t for s, e in zip(start, end, strict=True)) for t in (a, b)]
            self.line(*ends, colour, width)

    @property
    def flat(self) -> Flat:
        none = np.zeros(self.image.shape[:2], np.float32)
        return Flat(self.image, self.rows, self.columns, CELL, float(MARGIN), none, none)


def looked_at(sheet: Sheet, chances: Chances, glyphs: GlyphReader, spoken: Spoken = SILENT) -> Evidence:
    """What is read of a sheet where the network says this, and the rules speak of that."""
    return read_stages(sheet.flat, None, glyphs, MarkReader(glyphs, Told(chances), spoken))[0]


def linked(labels: Labels, cells: str, kind: Link) -> list[Cell]:
    """Label a line through cells, which ends at the first and the last."""
    path = [Cell.parse(text) for text in cells.split()]
    for pair in pairwise(path):
        one, other = sorted(pair)
        labels.link[WAYS[other.row - one.row, other.column - one.column], one.row, one.column] = kind
    for end in (path[0], path[-1]):
        labels.node[end.row, end.column] |= Node.END
    return path
