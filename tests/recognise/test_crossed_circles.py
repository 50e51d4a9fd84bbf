"""Circles on corners that walls of cages run through, read with the walls and without."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import pytest

from recognise.evidence import Glyph, Guess
from recognise.marks.circles_alike import Told
from recognise.marks.crossed_circles import freed, is_crossed, read_crossed
from recognise.marks.text_ink import Print, Wall
from recognise.marks.text_places import in_circle
from recognise.marks.whole_texts import weighed
from recognise.pixels.blobs import Pieces, Tones
from recognise.pixels.frame import Raster

CELL, SIZE, SCALE = 128, 4, 4
NO_PIECES = Pieces(np.zeros((1, 1), np.int32), (), Tones(1.0, 0.0))
WALL: Wall = ((1.9, 1.0), (1.9, 3.0))
CIRCLE = in_circle((2.0, 2.0), 0.23)


def _print(digits: str, wall: Wall | None) -> Print:
    """A grid with digits in a circle on the corner in its middle, through which dashes of a wall run, upright."""
    picture = np.full((SIZE * CELL * SCALE,) * 2, 255, np.uint8)
    whole = CELL * SCALE
    for at in range(SIZE + 1):
        cv2.line(picture, (0, at * whole), (SIZE * whole, at * whole), 60, 8)
        cv2.line(picture, (at * whole, 0), (at * whole, SIZE * whole), 60, 8)
    middle = (2 * whole, 2 * whole)
    cv2.circle(picture, middle, round(0.23 * whole), 255, -1)
    cv2.circle(picture, middle, round(0.23 * whole), 60, 8)
    (wide, tall), _ = cv2.getTextSize(digits, cv2.FONT_HERSHEY_SIMPLEX, 2.6, 9)
    cv2.putText(
        picture,
        digits,
        (middle[0] - wide // 2, middle[1] + tall // 2),
        cv2.FONT_HERSHEY_SIMPLEX,
        2.6,
        40,
        9,
        cv2.LINE_AA,
    )
    if wall is not None:
        x = round(wall[0][0] * whole)
        for y in range(round(wall[0][1] * whole), round(wall[1][1] * whole), 50):
            cv2.line(picture, (x, y), (x, y + 28), 30, 12)
    small = cv2.resize(picture, (SIZE * CELL,) * 2, interpolation=cv2.INTER_AREA).astype(np.float32) / 255
    relative = np.repeat(small[..., None], 3, axis=2)
    ink = 1 - small
    return Print(ink, ink, relative, NO_PIECES, Raster(SIZE, SIZE, CELL, 0), 0.05)


def test_circles_are_crossed_by_the_walls_that_run_through_them() -> None:
    assert is_crossed(CIRCLE, [WALL])
    assert not is_crossed(CIRCLE, [((1.7, 1.0), (1.7, 3.0))])
    assert not is_crossed(replace(CIRCLE, dark=True), [WALL])


@pytest.mark.parametrize(("digits", "x"), [("35", 1.9), ("67", 1.88), ("67", 1.94), ("247", 1.92)])
def test_digits_are_read_whatever_runs_through_them(digits: str, x: float) -> None:
    """With walls, 67 is 17 to the network, without them 57."""
    wall = (x, 1.0), (x, 3.0)
    (guesses,) = read_crossed([CIRCLE], [wall], _print(digits, wall))
    assert guesses[0].text == digits


def test_what_others_plainly_tell_is_not_looked_at() -> None:
    seen = _print("35", WALL)
    assert set(freed([CIRCLE], {}, [WALL], seen)) == {CIRCLE}
    assert not freed([CIRCLE], {CIRCLE: Told((), 1.0, plain=True)}, [WALL], seen)


@pytest.mark.parametrize(
    ("sure", "told", "texts", "doubted"),
    [
        (1.0, [("58", 0.5), ("35", 0.49)], ["58", "35"], True),  # a wall that makes an 8 of a 3 makes both sure of it
        (1.0, [("58", 0.7), ("35", 0.3)], ["58"], False),
        (0.3, [("35", 0.7), ("58", 0.3)], ["35", "58"], True),
        (0.3, [("58", 0.85), ("35", 0.1)], ["58"], False),
    ],
)
def test_what_a_wall_may_have_made_is_doubted(
    sure: float, told: list[tuple[str, float]], texts: list[str], doubted: bool
) -> None:
    read = Glyph((1.85, 1.95, 2.15, 2.05), (Guess("58", sure),), 0.1, (0, 0, 0), "ocr")
    guesses = tuple(Guess(text, chance) for text, chance in told)
    (glyph,), _ = weighed([read], [CIRCLE], {}, {CIRCLE: []}, _print("35", WALL), {CIRCLE: guesses})
    assert [guess.text for guess in glyph.guesses] == texts
    assert (glyph.confidence < 0.85) == doubted
