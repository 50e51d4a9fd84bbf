"""The page that a reading was made from, as a picture for a browser."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from functools import lru_cache
from pathlib import Path

import cv2
import numpy as np

from clueprint.desk.shelf import Shelf
from ingest.errors import Unreadable
from ingest.page import Page
from ingest.source import read_source
from schema.reading import Reading

LONGEST = 2600
"""Pixels of the longer side: as much as a large screen shows at twice its size."""
QUALITY = 88
SECONDS = 90
"""That decoding a page may take."""


class NoScan(Exception):
    """The page of a reading cannot be shown; says why."""


def scan(shelf: Shelf, reading_file: Path, reading: Reading) -> bytes:
    """The page as a JPEG; it covers the reading's frame. Raises NoScan."""
    file, sha256 = reading.source.file, reading.source.sha256
    for path in shelf.places(reading_file, file, sha256):
        if path.is_file() and _sha256(path, path.stat().st_mtime_ns) == sha256:
            return _picture(path, sha256, reading.source.page)
    raise NoScan(f"{file} is not found, or is not the file that was read; name its folder with --scans")


@lru_cache(maxsize=64)
def _sha256(path: Path, _modified: int) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


@lru_cache(maxsize=8)
def _picture(path: Path, _sha256: str, number: int) -> bytes:
    # In a process of its own, begun anew: this one has threads, which a fork would not survive.
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))}
    command = [sys.executable, "-m", "clueprint.desk.scans", str(path), str(number)]
    try:
        done = subprocess.run(command, capture_output=True, timeout=SECONDS, env=environment, check=False)
    except subprocess.TimeoutExpired:
        raise NoScan(f"{path.name}: decoding it takes too long") from None
    if done.returncode != 0:
        raise NoScan(done.stderr.decode("utf-8", "replace").strip() or f"{path.name}: it cannot be decoded")
    return done.stdout


def main(path: Path, number: int) -> int:
    """Write a page to standard output as a JPEG; why there is none, to standard error."""
    try:
        page = next(iter(read_source(path, only=number)))
    except Unreadable as fault:
        page = fault
    if not isinstance(page, Page):
        sys.stderr.write(str(page))
        return 1
    image = page.image
    factor = LONGEST / max(image.shape[:2])
    if factor < 1:
        image = np.asarray(cv2.resize(image, None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA), np.uint8)
    _, data = cv2.imencode(".jpg", cv2.cvtColor(image, cv2.COLOR_RGB2BGR), [cv2.IMWRITE_JPEG_QUALITY, QUALITY])
    sys.stdout.buffer.write(data.tobytes())
    return 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), int(sys.argv[2])))
