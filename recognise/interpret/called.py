"""What a mark that no rule explains is called: by a person's word for its shape."""

from __future__ import annotations

import numpy as np

from recognise.evidence import Shape

_STAR_CORNERS = range(8, 17, 2)
"""Corners that a star of four to eight rays has."""
_RAYS = 1.25
"""How much farther from the middle than the corners between them the tips of a star lie, at least."""
_EVEN = 0.15
"""How much the tips, and the corners between them, differ in how far from the middle they lie, in their mean."""
_PLAIN = {"glyph-path": "figure"}


def called(shape: Shape) -> str:
    """The name of a shape, in a word or two."""
    if shape.name in ("glyph-path", "mark") and _is_star(np.array(shape.where, dtype=np.float64)):
        return "star"
    return _PLAIN.get(shape.name, shape.name)


def _is_star(points: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> bool:
    """Whether every other corner of an outline (n, 2) is a tip, and the others lie much nearer to the middle."""
    if len(points) > 1 and np.allclose(points[0], points[-1]):
        points = points[:-1]
    if len(points) not in _STAR_CORNERS:
        return False
    far = np.hypot(*(points - points.mean(axis=0)).T)
    tips, notches = sorted((far[::2], far[1::2]), key=lambda part: -float(part.mean()))
    even = all(np.ptp(part) <= _EVEN * part.mean() for part in (tips, notches))
    return even and bool(tips.min() >= _RAYS * notches.max())
