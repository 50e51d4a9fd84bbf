"""Writes drawings, with the remedy in words where that fails."""

from __future__ import annotations

from pathlib import Path

from clueprint.errors import unwritable
from schema.whole import write_whole


def write_drawing(path: Path, content: bytes) -> None:
    """Write a file whole or not at all. Raises ClueprintError when that cannot be done; what was there then stays."""
    try:
        write_whole(path, content)
    except OSError as error:
        raise unwritable(path, error) from None
