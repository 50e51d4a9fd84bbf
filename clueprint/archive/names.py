"""Names: what a file is called where people read it, and where in the folder the files of a source go."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Callable
from pathlib import Path, PurePosixPath

_LONGEST = 180
"""Bytes of a name in the folder before `-pPAGE-N.reading.json.before-N`; file systems have 255."""
_FORBIDDEN = '\\:*?"<>|'
"""Not possible in names everywhere: an archive may move to another machine."""


def printable(name: str) -> str:
    """A file name as text: bytes of it that are no UTF-8 as escapes."""
    return os.fsencode(name).decode("utf-8", "backslashreplace")


def absolute(path: Path) -> Path:
    """The path from the root, without `..`; links stay."""
    return Path(os.path.normpath(Path.cwd() / path))


def place_of(path: Path, base: Path, holder: Callable[[str], Path | None]) -> str:
    """What the names of a source's files begin with, relative to the folder: its folders below `base`, and the stem of
    its name. Where `holder` has another source in that place, the whole name if that one is beside it, else below the
    name of `base`, and then numbers. Both paths are absolute."""
    below = path.relative_to(base) if path.is_relative_to(base) else path.relative_to(path.anchor)
    *folders, name = (_short(_sound(part)) for part in below.parts)
    stem = _short(_sound(path.stem))
    place = _joined(*folders, stem)
    there = holder(place)
    if there is not None and there.parent == path.parent:
        place = _joined(*folders, name)
    elif there is not None:
        place = _joined(_sound(base.name), *folders, stem)
    first, number = place, 2
    while holder(place) is not None:
        place, number = f"{first}~{number}", number + 1
    return place


def _joined(*parts: str) -> str:
    return str(PurePosixPath(*parts))


def _sound(part: str) -> str:
    return "".join("_" if c in _FORBIDDEN or not c.isprintable() else c for c in printable(part))


def _short(name: str) -> str:
    """The name, or where it is too long its beginning and a digest of the rest."""
    data = name.encode("utf-8")
    if len(data) <= _LONGEST:
        return name
    digest = hashlib.sha256(data).hexdigest()[:12]
    return f"{data[: _LONGEST - 13].decode('utf-8', 'ignore')}-{digest}"
