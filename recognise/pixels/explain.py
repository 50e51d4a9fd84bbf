"""Pictures of what the pixel reader saw, stage by stage."""

from __future__ import annotations

from collections.abc import Iterable

import cv2
import numpy as np

from ingest.page import Box, Colour, Image
from recognise.evidence import Evidence, Flat, Glyph, Trace
from recognise.pixels.frame import Raster
from recognise.pixels.read import Stages

PALE = 0.55
"""How much of the page is washed out under what is drawn over it."""
CHARACTER, TINT, LINE, DISC, REST = (0, 110, 60), (230, 150, 0), (200, 0, 90), (90, 0, 200), (220, 0, 0)


def explain_pixels(flat: Flat, evidence: Evidence, stages: Stages) -> dict[str, Image]:
    """One picture for each stage by its name, each of the flattened picture's size: `ground`, `ink`, `characters`,
    `lines`, `rest`."""
    raster = Raster.of(flat)
    return {
        "ground": np.asarray(np.clip(stages.ground.colour, 0, 255), np.uint8),
        "ink": _grey(stages.ink.drawn),
        "characters": _characters(_washed(flat), evidence.glyphs, raster),
        "lines": _lines(_washed(flat), evidence.traces, raster),
        "rest": _rest(_washed(flat), evidence, raster),
    }


def _grey(ink: np.ndarray[tuple[int, ...], np.dtype[np.float32]]) -> Image:
    level = np.asarray(np.rint(255 * (1 - np.clip(ink, 0, 1))), np.uint8)
    return np.repeat(level[..., None], 3, axis=-1)


def _washed(flat: Flat) -> Image:
    return np.asarray(255 - (255 - flat.image.astype(np.float32)) * (1 - PALE), np.uint8)


def _frame(canvas: Image, box: Box, colour: Colour, raster: Raster) -> tuple[int, int]:
    """Draw a box; returns its top left corner in pixels."""
    x0, y0, x1, y1 = (round(raster.at(v)) for v in box)
    cv2.rectangle(canvas, (x0 - 2, y0 - 2), (x1 + 2, y1 + 2), colour, 1)
    return x0, y0


def _write(canvas: Image, text: str, at: tuple[int, int], colour: Colour, raster: Raster) -> None:
    plain = text.encode("ascii", "replace").decode()
    cv2.putText(canvas, plain, at, cv2.FONT_HERSHEY_SIMPLEX, raster.cell / 160, colour, 1, cv2.LINE_AA)


def _characters(canvas: Image, glyphs: Iterable[Glyph], raster: Raster) -> Image:
    for glyph in glyphs:
        x, y = _frame(canvas, glyph.box, CHARACTER, raster)
        _write(canvas, f"{glyph.text} {glyph.confidence:.2f}", (x - 2, y - 5), CHARACTER, raster)
    return canvas


def _lines(canvas: Image, traces: Iterable[Trace], raster: Raster) -> Image:
    for trace in traces:
        points = [(round(raster.at(c.centre[0])), round(raster.at(c.centre[1]))) for c in trace.nodes]
        for one, other in trace.links:
            cv2.line(canvas, points[one], points[other], LINE, 3, cv2.LINE_AA)
        for node, radius in trace.discs:
            cv2.circle(canvas, points[node], raster.px(radius), DISC, 2, cv2.LINE_AA)
        for place, note in enumerate(trace.ambiguous):
            _write(canvas, note, (points[0][0], points[0][1] + 14 * (place + 1)), REST, raster)
    return canvas


def _rest(canvas: Image, evidence: Evidence, raster: Raster) -> Image:
    for tint in evidence.tints:
        x, y = tint.cell.centre
        cv2.circle(canvas, (round(raster.at(x)), round(raster.at(y))), raster.px(0.06), TINT, -1)
    for shape in evidence.shapes:
        at = _frame(canvas, shape.box, REST, raster)
        _write(canvas, shape.name, at, REST, raster)
    for box in (*evidence.unexplained, *evidence.stray):
        _frame(canvas, box, REST, raster)
    return canvas
