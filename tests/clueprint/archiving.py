"""What the tests of the archive share: its catalogue as a reader sees it, and what must always hold of a folder."""

from __future__ import annotations

import hashlib
import sqlite3
import subprocess
import sys
from collections import deque
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any, Self

from clueprint.archive import reader
from clueprint.archive.jobs import Answer, Job
from schema.files import load_puzzle
from schema.reading import load_reading

ROOT = Path(__file__).parents[2]


class Alone:
    """A crew of one that does its jobs in this process, where no reading process need start: for tests of what is
    planned, written and entered."""

    def __init__(self, *_: Any) -> None:
        self._jobs: deque[Job] = deque()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._jobs.clear()

    @property
    def at_work(self) -> int:
        return len(self._jobs)

    @property
    def room(self) -> bool:
        return not self._jobs

    def give(self, job: Job) -> None:
        self._jobs.append(job)

    def answers(self, _seconds: float) -> Iterator[tuple[Job, Answer]]:
        job = self._jobs.popleft()
        yield job, self.answer_to(job)

    def answer_to(self, job: Job) -> Answer:
        """What a reading process would answer."""
        return reader.answer_to(job)


def rows(into: Path, query: str) -> list[tuple]:
    """The rows of a query to the catalogue of a folder."""
    with closing(sqlite3.connect(into / "catalogue.sqlite")) as db:
        return db.execute(query).fetchall()


def names(into: Path) -> list[str]:
    """All puzzle files and readings in a folder and what was set aside of them, relative to it."""
    return sorted(str(path.relative_to(into)) for path in into.rglob("*.json*"))


def whole(into: Path) -> None:
    """What holds of a folder at any instant: every file is whole, every entry has its files, none stands twice."""
    for path in into.rglob("*.puzzle.json"):
        load_puzzle(path)
    for path in into.rglob("*.reading.json"):
        load_reading(path)
    if not (into / "catalogue.sqlite").exists() or not rows(into, "SELECT 1 FROM sqlite_master"):
        return
    assert rows(into, "PRAGMA integrity_check") == [("ok",)]
    entries = rows(into, "SELECT puzzle, puzzle_sha256, reading, reading_sha256 FROM puzzles")
    files = [pair for entry in entries for pair in (entry[:2], entry[2:]) if pair[0]]
    assert len({name for name, _ in files}) == len(files)
    for name, sha256 in files:
        assert hashlib.sha256((into / name).read_bytes()).hexdigest() == sha256, name
    assert rows(into, "SELECT 1 FROM puzzles GROUP BY page_id, number HAVING count(*) > 1") == []


def finished(into: Path, puzzles: int) -> None:
    """The same of a folder in which all was read: every file has its entry too, and nothing half written is left."""
    whole(into)
    entered = {name for pair in rows(into, "SELECT puzzle, reading FROM puzzles") for name in pair if name}
    assert {name for name in names(into) if name.endswith(".json")} == entered
    assert len(rows(into, "SELECT 1 FROM puzzles")) == puzzles
    assert list((into / ".writing").iterdir()) == []


def start(*arguments: object, **how) -> subprocess.Popen[str]:
    """`clueprint archive ARGUMENTS...` as a process of its own group."""
    command = [sys.executable, "-m", "clueprint", "archive", *map(str, arguments)]
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, "text": True}
    return subprocess.Popen(command, cwd=ROOT, start_new_session=True, **{**pipes, **how})


def readers_of(pid: int) -> list[int]:
    """The reading processes that a process has started, which run now."""
    return [child for child in _children(pid) if b"clueprint.archive.reader" in _command(child)]


def is_alive(pid: int) -> bool:
    """Whether a reading process is there, and no other program that has its number now."""
    return b"clueprint.archive.reader" in _command(pid)


def _children(pid: int) -> list[int]:
    found = []
    for task in Path(f"/proc/{pid}/task").iterdir():
        found += map(int, (task / "children").read_text().split())
    return found


def _command(pid: int) -> bytes:
    try:
        return Path(f"/proc/{pid}/cmdline").read_bytes()
    except OSError:
        return b""
