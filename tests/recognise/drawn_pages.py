"""Pages drawn with a general PDF toolkit, cell by cell, for tests of the vector reader."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
from reportlab.lib.colors import Color
from reportlab.pdfgen.canvas import Canvas

from ingest.page import Page
from ingest.pdf import pdf_pages
from recognise.evidence import Evidence, Lattice
from recognise.vectors import read_vectors
from schema.cells import Cell

SIDE, LEFT, TOP = 30.0, 100.0, 150.0
"""Side of a cell and place of the grid, in points from the page's top left."""
WIDTH, HEIGHT = 500.0, 600.0
BLACK = "#000000"

Points = list[tuple[float, float]]


class Sheet:
    """A page on which to draw in cells."""

    def __init__(self, path: Path, rows: int = 9, columns: int = 9) -> None:
        self.path, self.rows, self.columns = path, rows, columns
        self.canvas = Canvas(str(path), pagesize=(WIDTH, HEIGHT))

    def at(self, x: float, y: float) -> tuple[float, float]:
        """A point in cells as the toolkit counts: from the bottom left, upwards."""
        return LEFT + x * SIDE, HEIGHT - TOP - y * SIDE

    def line(self, points: Points, width: float, colour: str | Color = BLACK, closed: bool = False) -> None:
        """A stroked polyline; `width` in cells."""
        self.canvas.setLineWidth(width * SIDE)
        self.canvas.setStrokeColor(colour)
        self.canvas.drawPath(self.path_of(points, closed), stroke=1, fill=0)

    def area(self, points: Points, colour: str | Color, stroke: str | None = None, width: float = 0.03) -> None:
        """A filled polygon."""
        self.canvas.setFillColor(colour)
        self.canvas.setStrokeColor(stroke or colour)
        self.canvas.setLineWidth(width * SIDE)
        self.canvas.drawPath(self.path_of(points, True), stroke=int(stroke is not None), fill=1)

    def path_of(self, points: Points, closed: bool) -> object:
        """A path of the toolkit."""
        path = self.canvas.beginPath()
        path.moveTo(*self.at(*points[0]))
        for point in points[1:]:
            path.lineTo(*self.at(*point))
        if closed:
            path.close()
        return path

    def bar(self, x0: float, y0: float, x1: float, y1: float, colour: str = "#000000") -> None:
        """A filled rectangle."""
        self.area([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], colour)

    def disc(
        self, x: float, y: float, radius: float, fill: str | None, stroke: str | None = None, width: float = 0.03
    ) -> None:
        """A circle."""
        self.canvas.setLineWidth(width * SIDE)
        self.canvas.setFillColor(fill or "#ffffff")
        self.canvas.setStrokeColor(stroke or "#000000")
        self.canvas.circle(*self.at(x, y), radius * SIDE, stroke=int(stroke is not None), fill=int(fill is not None))

    def text(
        self, x: float, y: float, text: str, size: float = 0.5, font: str = "Helvetica", colour: str = BLACK
    ) -> None:
        """Text centred at a point; `size` in cells."""
        self.canvas.setFont(font, size * SIDE)
        self.canvas.setFillColor(colour)
        across, up = self.at(x, y)
        self.canvas.drawCentredString(across, up - 0.35 * size * SIDE, text)

    def grid(self, thin: float = 0.02, thick: float = 0.06, box: int = 3) -> None:
        """Lattice lines as long strokes."""
        for k in range(self.columns + 1):
            self.line([(k, 0), (k, self.rows)], thin if k % box else thick)
        for k in range(self.rows + 1):
            self.line([(0, k), (self.columns, k)], thin if k % box else thick)

    def page(self) -> Page:
        """Finish, and read the file."""
        self.canvas.save()
        (page,) = pdf_pages(self.path, "0" * 64)
        assert isinstance(page, Page)
        return page

    def lattice(self, page: Page) -> Lattice:
        """Where the grid is, a pixel off, as pixels would find it."""
        xs = (LEFT + SIDE * np.arange(self.columns + 1)) * page.scale + 0.6
        ys = (TOP + SIDE * np.arange(self.rows + 1)) * page.scale - 0.6
        return Lattice(np.stack(np.meshgrid(xs, ys), axis=-1))

    def evidence(self) -> Evidence:
        """Finish, and have the vector reader look."""
        page = self.page()
        found = read_vectors(page, self.lattice(page))
        assert found is not None
        return found


Drawing = Callable[[Sheet], None]


def ends(cells: str) -> list[tuple[float, float]]:
    """`r1c1 r2c2` as the points in the middle of the cells."""
    return [Cell.parse(cell).centre for cell in cells.split()]


def nothing_else(found: Evidence) -> bool:
    """Whether there is nothing but lattice lines."""
    return not (found.glyphs or found.tints or found.discs or found.traces or found.shapes or found.unexplained)
