"""Puzzle files and readings into the folder: each whole or not at all, and nothing that a person wrote is lost."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from clueprint.archive.jobs import GridRead
from clueprint.aside import free_name
from schema.files import PUZZLE_SUFFIX, READING_SUFFIX
from schema.whole import write_whole

WRITING = ".writing"
"""Folder in DIR where files are written before they get their names."""


@dataclass(frozen=True, slots=True)
class Filed:
    """The files of one grid, relative to the folder, and the SHA-256 of what was written into them."""

    puzzle: str | None
    puzzle_sha256: str | None
    reading: str
    reading_sha256: str

    @property
    def names(self) -> tuple[str, ...]:
        """Its files."""
        return tuple(filter(None, (self.puzzle, self.reading)))


def clear_up(into: Path) -> None:
    """Make the folder ready; what a killed run had half written is removed. Raises OSError."""
    writing = into / WRITING
    writing.mkdir(exist_ok=True)
    for part in writing.iterdir():
        part.unlink()


def file_grids(into: Path, stem: str, page: int, grids: Sequence[GridRead], before: Iterable[Filed]) -> list[Filed]:
    """Write the files of a page. `before` are those of an earlier reading of it: a file that says something else than
    was written then, or that is no longer wanted, is kept as NAME.before. Raises OSError."""
    earlier = {name: sha for name, sha in _names(before) if name is not None}
    filed = []
    for number, grid in enumerate(grids, start=1):
        base = f"{stem}-p{page}-{number}"
        puzzle = None
        if grid.puzzle is not None:
            puzzle = _written(into, base + PUZZLE_SUFFIX, grid.puzzle, earlier)
        reading = _written(into, base + READING_SUFFIX, grid.reading, earlier)
        filed.append(Filed(puzzle and base + PUZZLE_SUFFIX, puzzle, base + READING_SUFFIX, reading))
    put_away(into, earlier.keys() - {name for one in filed for name in one.names})
    return filed


def put_away(into: Path, names: Iterable[str]) -> None:
    """Keep files of the folder, as far as they are there, as NAME.before. Raises OSError."""
    for name in names:
        path = into / name
        if path.exists():
            path.replace(free_name(path))


def _names(filed: Iterable[Filed]) -> list[tuple[str | None, str | None]]:
    return [pair for one in filed for pair in ((one.puzzle, one.puzzle_sha256), (one.reading, one.reading_sha256))]


def _written(into: Path, name: str, text: str, earlier: dict[str, str | None]) -> str:
    path, content = into / name, text.encode("utf-8")
    sha256 = hashlib.sha256(content).hexdigest()
    there = _sha256(path)
    if there == sha256:
        return sha256
    path.parent.mkdir(parents=True, exist_ok=True)
    if there is not None and there != earlier.get(name):
        path.replace(free_name(path))
    write_whole(path, content, into / WRITING)
    return sha256


def _sha256(path: Path) -> str | None:
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except FileNotFoundError:
        return None
