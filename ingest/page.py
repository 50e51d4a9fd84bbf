"""A page as everything after `ingest` sees it: upright, one frame, origin top left."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Literal

import numpy as np
import numpy.typing as npt

Image = npt.NDArray[np.uint8]
"""Height x width x 3, RGB."""

Point = tuple[float, float]
Colour = tuple[int, int, int]
"""Red, green and blue, 0 to 255."""
Box = tuple[float, float, float, float]
"""x0, y0, x1, y1 with x0 <= x1 and y0 <= y1."""


@dataclass(frozen=True, slots=True)
class Frame:
    """The page as a viewer shows it. For an image in pixels (`px`) after EXIF orientation; for a PDF in points (`pt`,
    1/72 inch) of the displayed page, its crop box, rotation and UserUnit applied."""

    width: float
    height: float
    unit: Literal["px", "pt"]


@dataclass(frozen=True, slots=True)
class VectorPath:
    """One painted path of a PDF page, in page points, in paint order. Curves are flattened to polylines; `subpaths`
    are its pieces, `closed` says which of them are closed."""

    subpaths: tuple[tuple[Point, ...], ...]
    closed: tuple[bool, ...]
    stroke: Colour | None
    fill: Colour | None
    width: float
    dash: tuple[float, ...] = ()
    opacity: float = 1.0
    curved: tuple[bool, ...] = ()
    """Whether each subpath holds a Bezier curve."""
    order: int = 0
    """Place in the page's paint order, counted together with glyphs; what has a higher one lies on top."""
    cap: Literal["butt", "round", "square"] = "butt"
    """How ends of strokes (and of dashes) look."""
    even_odd: bool = False
    """Fill by the even-odd rule; otherwise by the nonzero winding number rule (ISO 32000-1, 8.5.3.3)."""
    clip: tuple[tuple[Point, ...], ...] = ()
    """Polygons in page points; only what lies inside every one is seen. Empty when nothing is cut away."""
    grain: tuple[tuple[Point, ...], ...] = ()
    """Where a tiling pattern fills it: outlines of what the pattern paints, `fill` being the colour of that."""
    painted: float = 1.0
    """The part of a filled area that is painted: less than all of it by a tiling pattern."""
    is_sign: bool = False
    """Whether it is a character out of a fount of signs, which is no figure and no letter."""


@dataclass(frozen=True, slots=True)
class VectorGlyph:
    """One character of the PDF's text layer; `visible` is False for text drawn in no colour (render mode 3) or hidden
    under a picture. `box` is its ink or font box on the page, `size` its font size, both in points."""

    text: str
    box: Box
    size: float
    font: str
    colour: Colour
    upright: bool
    visible: bool
    order: int = 0
    """Place in the page's paint order, counted together with paths."""
    spaced: bool = False
    """Whether a blank stands before this character in the text layer."""
    angle: float = 0.0
    """Where its base line runs, in degrees clockwise on the page: 0 rightwards, 90 downwards."""
    picture: npt.NDArray[np.uint8] | None = field(default=None, compare=False, repr=False)
    """Where `text` is empty because the file gives the character no meaning, and of figures and signs, whose meaning
    may be wrong: what it looks like, alone, grey and dark on light, as the page shows it; None where that is not
    known."""
    as_path: bool = False
    """Whether it is a drawing, such as a disc out of a fount of signs, whose outline is among the page's paths."""
    buried: Literal["", "part", "whole"] = ""
    """Whether it is not `visible` because something was painted over it later, or because it has the colour of its
    ground; in `part` where some of it is seen."""


@dataclass(frozen=True, slots=True)
class Vectors:
    """What a PDF page draws, in page points. `pictures` are the boxes of raster images on it."""

    paths: tuple[VectorPath, ...]
    glyphs: tuple[VectorGlyph, ...]
    pictures: tuple[Box, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Page:
    """One page of a source; equal only to itself.

    `image` is the page rendered or decoded, in RGB; `scale` is its pixels per frame unit, so that a point (x, y) of
    the frame lies at (x * scale, y * scale) in the image. For an image source `scale` is 1, unless it was too large to
    work on and was reduced. `turned` is the number of quarter turns clockwise that were applied to `image` to bring
    text upright; the frame is always the page as displayed, and `to_frame` undoes the turn."""

    source: Path
    sha256: str
    number: int
    frame: Frame
    image: Image
    scale: float
    vectors: Vectors | None = None
    turned: int = 0

    def to_frame(self, points: npt.ArrayLike) -> npt.NDArray[np.float64]:
        """Points (..., 2) of `image`, in pixels, to points of the frame."""
        places = np.asarray(points, dtype=np.float64)
        x, y = places[..., 0], places[..., 1]
        height, width = self.image.shape[:2]
        x, y = ((x, y), (y, width - x), (width - x, height - y), (height - y, x))[self.turned]
        return np.stack([x, y], axis=-1) / self.scale

    def to_image(self, points: npt.ArrayLike) -> npt.NDArray[np.float64]:
        """Points (..., 2) of the frame to pixels of `image`."""
        places = np.asarray(points, dtype=np.float64) * self.scale
        x, y = places[..., 0], places[..., 1]
        height, width = self.image.shape[:2]
        x, y = ((x, y), (width - y, x), (width - x, height - y), (y, height - x))[self.turned]
        return np.stack([x, y], axis=-1)

    def turn(self, quarters: int) -> Page:
        """The same page with its image turned that many quarter turns clockwise; the frame stays."""
        turned_image = np.ascontiguousarray(np.rot90(self.image, -quarters))
        return replace(self, image=turned_image, turned=(self.turned + quarters) % 4)
