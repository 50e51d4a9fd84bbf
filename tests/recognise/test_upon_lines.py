"""Small things upon lines, within what these claim, between the middles of their cells."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import pytest

from ingest.page import Box
from recognise.doubt.upon_lines import upon_lines
from recognise.draft import Polygon, box_polygon
from recognise.evidence import Flat, Trace
from recognise.support import claims
from tests.recognise.evidence_maker import trace

CELL, MARGIN = 64, 1.0
SIZE = 8 * CELL
BARE = np.zeros((SIZE, SIZE), np.float32)
FLAT = Flat(np.full((SIZE, SIZE, 3), 250, np.uint8), 6, 6, CELL, MARGIN, BARE, BARE)
LINE = trace("r2c2 r2c3 r2c4 r3c5 r4c5", width=0.16)
TUBE = replace(trace("r2c2 r2c3 r2c4 r3c5 r4c5", width=0.3), outlined=True)
WAVE = trace("r2c2 r2c3 r2c4 r2c5", width=0.08, sway=0.1)
AT = (3.0, 1.5)
"""Between two cells of all of them, on a lattice line."""


def _at(x: float, y: float) -> tuple[int, int]:
    return round((x + MARGIN) * CELL), round((y + MARGIN) * CELL)


def _drawn(line: Trace, ink: float) -> np.ndarray:
    """The ink of a line: whole, in dashes, as a tube, or as a wave."""
    level = BARE.copy()
    ways = [[_at(*line.nodes[node].centre) for node in link] for link in line.links]
    if line.sway:
        along = np.linspace(0, 3, 300)
        way = np.stack([1.5 + along, 1.5 + line.sway * np.sin(2 * np.pi * along / 0.4)], axis=1)
        points = np.rint((way + MARGIN) * CELL * 16).astype(np.int32)
        cv2.polylines(level, [points[:, None]], False, ink, round(line.width * CELL), cv2.LINE_AA, 4)
        return level
    for start, end in ways:
        cv2.line(level, start, end, ink, round(line.width * CELL), cv2.LINE_AA)
    for start, end in ways if line.outlined else ():
        cv2.line(level, start, end, 0.0, round((line.width - 0.05) * CELL), cv2.LINE_AA)
    if line.dashed:
        level[:, ::16] = level[:, 1::16] = level[:, 2::16] = level[:, 3::16] = 0.0
    return level


def _asked(line: Trace, sign: float, ink: float = 0.35, known: tuple[Polygon, ...] = ()) -> list[Box]:
    """What is asked about on a line that is `ink` dark, with a small `o` on it that is `sign` dark."""
    level = _drawn(line, ink)
    if sign:
        cv2.circle(level, _at(*AT), round(0.06 * CELL), sign, 2, cv2.LINE_AA)
    level = cv2.GaussianBlur(level, (0, 0), 0.6) + np.random.default_rng(3).normal(0, 0.01, level.shape)
    return list(upon_lines(level.clip(0, 1).astype(np.float32), FLAT, [*claims(line), *known], [line]))


DASHES = replace(LINE, dashed=True)
LINES = pytest.mark.parametrize("line", [LINE, DASHES, TUBE, WAVE], ids=["line", "dashes", "tube", "wave"])


@LINES
def test_a_small_character_within_the_claim_of_a_line_is_asked_about(line: Trace) -> None:
    (box,) = _asked(line, 0.95)
    assert box[0] < AT[0] < box[2] and box[1] < AT[1] < box[3]


@LINES
def test_a_line_alone_is_not(line: Trace) -> None:
    assert _asked(line, 0.0) == []


@pytest.mark.parametrize("options", [
    {"sign": 0.45},  # grain
    {"sign": 0.95, "ink": 0.85},  # nobody sees it on a dark line
    {"sign": 0.95, "known": (box_polygon((2.9, 1.4, 3.1, 1.6)),)},  # it was read
], ids=["pale", "dark line", "read"])  # fmt: skip
def test_what_is_no_darker_or_known_is_not(options: dict) -> None:
    assert _asked(LINE, **options) == []


def test_on_a_line_of_bare_paper_stands_nothing() -> None:
    assert list(upon_lines(BARE, FLAT, list(claims(TUBE)), [TUBE])) == []
