"""The puzzles of a folder: by the catalogue of an archive where there is one, else by looking through it."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from functools import lru_cache
from glob import escape
from pathlib import Path

from clueprint.archive.store import NAME
from clueprint.errors import ClueprintError
from schema.files import READING_SUFFIX, BadFile, load_puzzle
from schema.reading import Point, load_reading


@dataclass(frozen=True, slots=True)
class Entry:
    """One puzzle on the shelf; `reading` is its file, relative to the folder."""

    reading: str
    verdict: str
    queries: int
    title: str
    source: str
    page: int


@lru_cache(maxsize=100_000)
def _entry_of(path: Path, name: str, _modified: int) -> Entry | None:
    """What a reading says; each file is read again only when it has changed."""
    try:
        reading = load_reading(path)
        puzzle = load_puzzle(path.parent / Path(reading.puzzle).name) if reading.puzzle else None
    except BadFile:
        return None
    title = (puzzle and puzzle.title) or ""
    return Entry(name, reading.verdict, len(reading.queries), title, reading.source.file, reading.source.page)


@dataclass(frozen=True, slots=True)
class Neighbour:
    """A puzzle of a page; `corners` are those of its grid on the page."""

    reading: str
    title: str
    verdict: str
    corners: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Part:
    """Some of the puzzles, and how many there are; `next` is where the next part begins, None after the last."""

    total: int
    puzzles: list[Entry]
    next: int | None


class Shelf:
    """The puzzles of a folder. Raises ClueprintError for what is no folder."""

    def __init__(self, folder: Path, scans: tuple[Path, ...] = ()) -> None:
        if not folder.is_dir():
            raise ClueprintError(f"{folder}: it is no folder", "name the one that readings were written into")
        self.folder = folder.resolve()
        self._scans = scans
        self._catalogue = self.folder / NAME

    def entries(self, verdict: str, words: str, first: int, count: int) -> Part:
        """A part of the puzzles of a verdict ('' for any) in whose title or source the words stand."""
        if self._catalogue.exists():
            return self._catalogued(verdict, words, first, count)
        found = [
            entry
            for entry in self._looked_through()
            if verdict in ("", entry.verdict) and words.lower() in f"{entry.title} {entry.source}".lower()
        ]
        return Part(len(found), found[first : first + count], first + count if first + count < len(found) else None)

    def _catalogued(self, verdict: str, words: str, first: int, count: int) -> Part:
        where = "WHERE (? = '' OR verdict = ?) AND instr(lower(ifnull(title, '') || ' ' || path), lower(?))"
        values = (verdict, verdict, words)
        with closing(self._connected()) as db:
            total = db.execute(f"SELECT count(DISTINCT puzzle_id) FROM every_puzzle {where}", values).fetchone()[0]
            rows = db.execute(
                f"SELECT reading, verdict, queries, title, path, page FROM every_puzzle {where}"
                " GROUP BY puzzle_id ORDER BY source, page, number LIMIT ? OFFSET ?",
                (*values, count, first),
            ).fetchall()
        found = [self._as_on_disk(Entry(r[0], r[1], r[2], r[3] or "", Path(r[4]).name, r[5])) for r in rows]
        # What was saved since the catalogue was written may have another verdict.
        found = [entry for entry in found if verdict in ("", entry.verdict)]
        return Part(total - len(rows) + len(found), found, first + count if first + count < total else None)

    def _as_on_disk(self, entry: Entry) -> Entry:
        """The catalogue says how a puzzle was read; what was saved since stands in its file."""
        return self._entry(self.folder / entry.reading) or entry

    def _connected(self) -> sqlite3.Connection:
        return sqlite3.connect(f"file:{self._catalogue}?mode=ro", uri=True, timeout=60)

    def _looked_through(self) -> Iterator[Entry]:
        for path in sorted(self.folder.rglob(f"*{READING_SUFFIX}")):
            if entry := self._entry(path):
                yield entry

    def _entry(self, path: Path) -> Entry | None:
        try:
            return _entry_of(path, str(path.relative_to(self.folder)), path.stat().st_mtime_ns)
        except OSError:
            return None

    def reading_file(self, name: str) -> Path:
        """The file of a reading by its name. Raises KeyError for what is no reading in this folder."""
        path = (self.folder / name).resolve()
        if not (path.is_relative_to(self.folder) and path.name.endswith(READING_SUFFIX) and path.is_file()):
            raise KeyError(name)
        return path

    def of_page(self, reading_file: Path) -> list[Neighbour]:
        """The puzzles of the page of a reading, itself among them, in the order of the page."""
        own = load_reading(reading_file).source
        found: list[tuple[int, Neighbour]] = []
        head, _, _ = reading_file.name.removesuffix(READING_SUFFIX).rpartition("-")
        for path in reading_file.parent.glob(f"{escape(head)}-*{READING_SUFFIX}"):
            number = path.name[len(head) + 1 : -len(READING_SUFFIX)]
            entry = self._entry(path) if number.isdigit() else None
            if entry is None or (reading := load_reading(path)).puzzle is None or reading.source != own:
                continue
            found.append((int(number), Neighbour(entry.reading, entry.title, entry.verdict, reading.corners)))
        return [neighbour for _, neighbour in sorted(found, key=lambda pair: pair[0])]

    def places(self, reading_file: Path, file: str, sha256: str) -> Iterator[Path]:
        """Where the page of a reading may be, likeliest first."""
        if self._catalogue.exists():
            with closing(self._connected()) as db:
                yield from (Path(row[0]) for row in db.execute("SELECT path FROM sources WHERE sha256 = ?", (sha256,)))
        for folder in (*self._scans, self.folder, reading_file.parent):
            yield folder / file
            yield from folder.rglob(file)
        yield from (self.folder.parent / file, Path.cwd() / file)
