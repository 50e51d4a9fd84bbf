"""Writes files whole or not at all."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

_PREFIX = 40
"""Characters of a name that its temporary name has too; a character takes up to 4 bytes, a name has at most 255."""


def write_whole(path: Path, content: bytes, beside: Path | None = None) -> None:
    """Write under a temporary name beside `path` (or in the folder `beside`, on the same disk), flush to the disk, then
    rename: a reader sees the old file or the new one, never half of it. Raises OSError when that cannot be done; what
    was there before then stays."""
    handle, name = tempfile.mkstemp(dir=beside or path.parent, prefix=f".{path.name[:_PREFIX]}.", suffix=".part")
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
    _sync_directory(path.parent)


def _mode(path: Path) -> int:
    """The permissions that the file has, or that a plain `open` would give a new one; mkstemp's are for secrets."""
    if path.exists():
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def _sync_directory(folder: Path) -> None:
    if not hasattr(os, "O_DIRECTORY"):
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
