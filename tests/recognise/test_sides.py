"""What has not the sharp sides of the page's characters is a fold, a stain or print that shows through."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from ingest.page import Box
from recognise.doubt.ink import unexplained_ink
from recognise.draft import box_polygon
from recognise.evidence import Flat
from recognise.pixels import read_stages, stray_beside

CELL, MARGIN, SIZE = 64, 1.0, 6
SIDE = round((SIZE + 2 * MARGIN) * CELL)
CHARACTERS: list[Box] = [
    (x + 0.3, y + 0.2, x + 0.7, y + 0.8) for x, y in [(0, 0), (3, 0), (5, 1), (0, 3), (2, 4), (5, 5), (4, 3), (1, 5)]
]


def _page(blur: float, mark_blur: float, mark: str) -> np.ndarray:
    """Ink of digits, blurred by the camera, and of a pale mark that is softer than that, in pixels."""
    digits = np.zeros((SIDE, SIDE), np.uint8)
    for x0, _, _, y1 in CHARACTERS:
        at = round((x0 + MARGIN) * CELL), round((y1 + MARGIN) * CELL)
        cv2.putText(digits, "5", at, cv2.FONT_HERSHEY_SIMPLEX, 1.6, (204,), 5, cv2.LINE_AA)
    pale = np.zeros((SIDE, SIDE), np.float32)
    x, y = round((2.6 + MARGIN) * CELL), round((2.4 + MARGIN) * CELL)
    if mark == "disc":
        cv2.circle(pale, (x, y), round(0.3 * CELL), (0.3,), -1)
    else:
        cv2.line(pale, (x, y), (x + round(1.3 * CELL), y), (0.3,), round(0.2 * CELL))
    ink = digits / np.float32(255) + (cv2.GaussianBlur(pale, (0, 0), mark_blur) if mark_blur else pale)
    noise = np.random.default_rng(3).normal(0, 0.02, ink.shape)
    return np.clip(cv2.GaussianBlur(ink, (0, 0), blur) + noise, 0, 1).astype(np.float32)


def _found(ink: np.ndarray, characters: list[Box]) -> list[Box]:
    blank = np.full((SIDE, SIDE, 3), 255, np.uint8)
    maps = np.zeros((SIDE, SIDE), np.float32)
    flat = Flat(blank, SIZE, SIZE, CELL, MARGIN, maps, maps)
    claimed = [box_polygon((x0 - 0.05, y0 - 0.05, x1 + 0.15, y1 + 0.05)) for x0, y0, x1, y1 in CHARACTERS]
    return unexplained_ink(ink, 0.05, flat, claimed, characters)


@pytest.mark.parametrize("mark", ["disc", "line"])
@pytest.mark.parametrize("blur", [1.0, 2.5])
def test_a_pale_mark_as_sharp_as_the_characters_is_found(mark: str, blur: float) -> None:
    assert _found(_page(blur, 0, mark), CHARACTERS)


@pytest.mark.parametrize("mark", ["disc", "line"])
def test_what_fades_out_on_all_sides_is_no_print(mark: str) -> None:
    ink = _page(1.0, 8.0, mark)
    assert _found(ink, CHARACTERS) == []
    assert _found(ink, []), "without characters nothing tells that it is too soft"


def test_too_few_characters_cannot_tell() -> None:
    assert _found(_page(1.0, 8.0, "disc"), CHARACTERS[:3])


def test_a_few_characters_tell_what_is_much_softer() -> None:
    few = CHARACTERS[:5]
    assert _found(_page(1.0, 12.0, "disc"), few) == []
    assert _found(_page(1.0, 3.0, "disc"), few), "perhaps print"
    assert _found(_page(1.0, 0, "disc"), few)


def test_a_shadow_that_somebody_wrote_on_is_no_stray_ink() -> None:
    ink = _page(1.0, 8.0, "line")
    at = round((2.9 + MARGIN) * CELL), round((2.5 + MARGIN) * CELL)
    written = (2.85, 2.1, 3.25, 2.55)
    shade = (255 * (1 - ink)).astype(np.uint8)
    cv2.putText(shade, "7", at, cv2.FONT_HERSHEY_SIMPLEX, 0.7, (90,), 2, cv2.LINE_AA)
    for k in range(SIZE + 1):
        edge, end = round((k + MARGIN) * CELL), round((SIZE + MARGIN) * CELL)
        cv2.line(shade, (edge, CELL), (edge, end), (0,), 2)
        cv2.line(shade, (CELL, edge), (end, edge), (0,), 2)
    maps = np.zeros((SIDE, SIDE), np.float32)
    flat = Flat(np.dstack([shade] * 3), SIZE, SIZE, CELL, MARGIN, maps, maps)
    evidence, stages = read_stages(flat)
    evidence = replace(evidence, stray=((2.0, 2.0, 4.0, 3.0),))
    assert stray_beside([], evidence, stages, flat)
    assert stray_beside([written], evidence, stages, flat) == ()
