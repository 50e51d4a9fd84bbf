"""Digits in a circle on a corner that no single look at it shows all of."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import pytest

from recognise.evidence import Guess
from recognise.glyphs import GlyphReader
from recognise.marks import texts
from recognise.marks.several_looks import put_together, with_strokes
from recognise.marks.text_ink import Print, Wall
from recognise.marks.text_places import in_circle, in_frame, on_edge
from recognise.marks.text_readings import Reading, read_at
from recognise.marks.texts import read_texts
from recognise.pixels.blobs import Blob, Pieces, Tones, find_pieces
from recognise.pixels.frame import Raster
from recognise.pixels.glyphs import Character

PLACE = in_circle((1.0, 1.0), 0.22)
NOTHING = Pieces(np.zeros((1, 1), np.int32), (), Tones(1.0, 0.0))
SLOTS = {"tl": (0.93, 0.92), "tr": (1.07, 0.92), "bl": (0.93, 1.08), "br": (1.07, 1.08)}
WALL: Wall = ((0.93, 0.5), (0.93, 1.5))


def _character(text: str, slot: str, sure: float = 1.0, size: tuple[float, float] = (0.1, 0.13)) -> Character:
    (x, y), (w, h) = SLOTS[slot], size
    guesses = (Guess(text, sure),)
    return Character(Blob(0, 0, 1, 1, 1, (1,)), (x - w / 2, y - h / 2, x + w / 2, y + h / 2), guesses, guesses)


def _look(*characters: Character) -> Reading:
    return Reading(characters, NOTHING, (), 0.2)


FOUR, SEVEN, EIGHT = _character("4", "tr"), _character("7", "bl"), _character("8", "br")


@pytest.mark.parametrize(
    ("looks", "digits"),
    [
        ((_look(SEVEN, EIGHT), _look(FOUR, EIGHT)), "478"),
        ((_look(SEVEN, EIGHT), _look(SEVEN)), ""),
        ((_look(SEVEN, EIGHT), _look(_character("5", "tl", 0.7))), ""),
        ((_look(SEVEN, EIGHT), _look(_character("5", "tl", 0.7)), _look(_character("5", "tl", 0.7))), "578"),
        ((_look(SEVEN, EIGHT), _look(_character("9", "br", 0.98))), ""),
        ((_look(SEVEN, EIGHT), _look(_character("1", "tl", size=(0.04, 0.13)))), ""),
        ((_look(SEVEN, EIGHT), _look(_character("1", "tl", size=(0.08, 0.13)))), "178"),
        ((_look(SEVEN, EIGHT), _look(_character("6", "tl", size=(0.05, 0.07)))), ""),
        ((_look(SEVEN, EIGHT), _look(_character("2", "tl", size=(0.08, 0.09)))), "278"),
    ],
    ids=["one each", "nothing new", "seen once", "seen twice", "in its place", "a dash", "a 1", "a speck", "a low 2"],
)
def test_digits_of_several_looks_count_together(looks: tuple[Reading, ...], digits: str) -> None:
    found = put_together(PLACE, looks[0], looks, [WALL])
    assert "".join(sorted(character.guesses[0].text for character, _ in found)) == digits


@pytest.mark.parametrize(
    ("framed", "at", "wide", "digits"),
    [(True, (40, 34), 3, "178"), (False, (40, 34), 3, ""), (True, (40, 34), 9, ""), (True, (40, 38), 3, "")],
    ids=["in a frame", "in a circle", "no stroke", "not at its side"],
)
def test_a_stroke_that_hangs_from_a_frame_is_a_1(framed: bool, at: tuple[int, int], wide: int, digits: str) -> None:
    """Its flag went with the frame; one look hardly reads the rest as a 1, the other as nothing."""
    raster = Raster(2, 2, 100, 50)
    place = in_frame((0.76, 0.82, 1.24, 1.18), (0.78, 0.84, 1.22, 1.16)) if framed else PLACE
    stroke = Blob(at[0] + 100, at[1] + 100, wide, 13, 3 * 13, (7,))
    hardly = (Guess("1", 0.51),)
    unread = replace(_look(SEVEN, EIGHT), near=(stroke,))
    read = replace(unread, characters=(SEVEN, EIGHT, Character(stroke, stroke.box(raster), hardly, hardly)))
    found = put_together(place, unread, with_strokes((unread, read), place, raster), [])
    assert "".join(sorted(character.guesses[0].text for character, _ in found)) == digits


@pytest.mark.parametrize(("walls", "digits"), [([], "17"), ([((0.5, 0.95), (1.5, 0.95))], "7")], ids=["bare", "walls"])
def test_old_style_figures_in_a_circle_are_low(walls: list[Wall], digits: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A 1 as high as a small letter, of a cell of 200 pixels; where a wall runs through, that may be a dash of it to
    who reads digit by digit."""
    monkeypatch.setattr(texts, "weighed", lambda glyphs, owners, hard, *_: (glyphs, [*hard.values()]))
    cell = 200
    picture = np.full((4 * cell, 4 * cell), 255, np.uint8)
    at = 2 * cell
    cv2.circle(picture, (at, at), 52, 0, 2, cv2.LINE_AA)
    cv2.line(picture, (at - 14, at - 1), (at - 14, at + 12), 0, 3, cv2.LINE_AA)
    cv2.line(picture, (at - 14, at - 1), (at - 18, at + 3), 0, 2, cv2.LINE_AA)
    cv2.line(picture, (at - 19, at + 13), (at - 9, at + 13), 0, 2, cv2.LINE_AA)
    cv2.putText(picture, "7", (at + 1, at + 14), cv2.FONT_HERSHEY_SIMPLEX, 1.1, 0, 3, cv2.LINE_AA)
    relative = np.repeat(picture[..., None], 3, axis=2).astype(np.float32) / np.float32(255)
    ink = 1 - relative.min(axis=-1)
    seen = Print(ink, np.zeros_like(ink), relative, NOTHING, Raster(2, 2, cell, cell), 0.05)
    glyphs, _ = read_texts([in_circle((1.0, 1.0), 0.26)], seen, GlyphReader(), walls)
    assert "".join(sorted("".join(glyph.text for glyph in glyphs))) == digits


class _Steep:
    """Takes a steep 7 for a stroke unless only figures are asked for."""

    def read(self, crops, allowed=None):
        text = "/" if allowed is None else "7"
        return [(Guess(text, 0.9),) for _ in crops]


def test_only_figures_stand_in_circles_on_corners() -> None:
    raster = Raster(2, 2, 100, 100)
    ink = np.zeros((400, 400), np.float32)
    ink[190:212, 196:206] = 1.0
    pieces = find_pieces(ink, raster, Tones(1.0, 0.0))
    assert read_at(in_circle((1.0, 1.0), 0.22), ink, pieces, raster, _Steep()).text == "7"
    assert read_at(on_edge((1.0, 1.0)), ink, pieces, raster, _Steep()).text != "7"
