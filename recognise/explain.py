"""Pictures of what each stage saw, for `clueprint read --explain` and for looking at failures."""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np

from ingest.page import Colour, Image, Page, Point
from recognise.draft import Doubt, Draft, Given, Item
from recognise.evidence import Flat
from recognise.place import to_page

SURE: Colour = (0, 120, 60)
UNSURE: Colour = (200, 110, 0)
ASKED: Colour = (200, 0, 40)
LONG_SIDE = 1600
"""Pixels: pictures are for a screen."""


def overlay(page: Page, grids: Sequence[tuple[Flat, Draft]]) -> Image:
    """The page in pale grey with every item of every grid framed where it stands, and what it was read as: green when
    sure, amber when not quite, red where a person is asked to look."""
    factor = min(1.0, LONG_SIDE / max(page.image.shape[:2]))
    small = cv2.resize(page.image, None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA)
    picture = np.asarray(255 - (255 - small.astype(np.int16)) * 0.55, dtype=np.uint8)
    for flat, draft in grids:
        asked = {item for doubt in draft.doubts for item in (doubt.item, *doubt.also)}
        for index, item in enumerate(draft.items):
            if item.where is not None:
                colour = ASKED if index in asked else SURE if item.confidence > 0.99 else UNSURE
                _frame(picture, _pixels(page, flat, item.where, factor), colour, _caption(draft, item))
        for doubt in draft.doubts:
            _show_doubt(picture, page, flat, doubt, factor)
    return picture


def _show_doubt(picture: Image, page: Page, flat: Flat, doubt: Doubt, factor: float) -> None:
    if doubt.where is not None:
        _frame(picture, _pixels(page, flat, doubt.where, factor), ASKED, "?")


def _pixels(page: Page, flat: Flat, where: Sequence[Point], factor: float) -> Image:
    places = page.to_image(to_page(page, flat, where)) * factor
    return np.rint(places).astype(np.int32)


def _caption(draft: Draft, item: Item) -> str:
    if isinstance(item.value, Given):
        return draft.grid.label(item.value.digit)
    return item.value[0].name if item.value else ""


def _frame(picture: Image, points: Image, colour: Colour, caption: str) -> None:
    cv2.polylines(picture, [points.reshape(-1, 1, 2)], True, colour, 1, cv2.LINE_AA)
    x, y = points.reshape(-1, 2).min(axis=0)
    place = (int(x), max(8, int(y) - 2))
    cv2.putText(picture, caption, place, cv2.FONT_HERSHEY_SIMPLEX, 0.35, colour, 1, cv2.LINE_AA)
