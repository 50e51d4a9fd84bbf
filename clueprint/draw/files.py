"""Writes files whole or not at all."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from clueprint.errors import ClueprintError


def write_whole(path: Path, content: bytes) -> None:
    """Write under a temporary name beside `path`, flush to the disk, then rename: a reader sees the old file or the new
    one, never half of it. Raises ClueprintError when that cannot be done; what was there before then stays."""
    try:
        _write(path, content)
    except OSError as error:
        raise ClueprintError(
            f"{path}: cannot be written ({error.strerror or error})",
            "choose a folder that exists and is writable",
        ) from error


def _write(path: Path, content: bytes) -> None:
    handle, name = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        temporary.chmod(_mode(path))
        temporary.replace(path)
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise


def _mode(path: Path) -> int:
    """The mode that the file has, or that a new one would get; mkstemp makes private files."""
    if path.exists():
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
