"""An SQLite file that one process writes: its lock, its tables, its transactions."""

from __future__ import annotations

import fcntl
import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from importlib.resources import files
from pathlib import Path
from typing import Any

from clueprint.errors import ClueprintError

NAME = "catalogue.sqlite"
LOCK = ".archive.lock"
FORM = 1
"""Of the tables (SQLite's `user_version`)."""
BUSY = 60.0
"""Seconds to wait for another program that holds the file."""


class Store:
    """The file of a folder, held for writing. Raises ClueprintError when it cannot be, or where another run holds it;
    sqlite3.Error when the disk fails."""

    def __init__(self, into: Path) -> None:
        self.path = into / NAME
        self._lock = _held(into / LOCK)
        try:
            self._db = _opened(self.path)
        except BaseException:
            os.close(self._lock)
            raise

    def close(self) -> None:
        """Let go of it."""
        self._db.close()
        os.close(self._lock)

    @contextmanager
    def transaction(self) -> Iterator[None]:
        """All of it or nothing."""
        self._db.execute("BEGIN IMMEDIATE")
        try:
            yield
        except BaseException:
            self._db.execute("ROLLBACK")
            raise
        self._db.execute("COMMIT")

    def rows(self, query: str, *values: Any) -> Iterator[sqlite3.Row]:
        """The rows of a query, one by one."""
        with closing(self._db.execute(query, values)) as cursor:
            yield from cursor

    def one(self, query: str, *values: Any) -> Any:
        """The first value of the first row; None where there is none."""
        row = self._db.execute(query, values).fetchone()
        return None if row is None else row[0]

    def do(self, statement: str, *values: Any) -> None:
        """Run a statement that gives no rows."""
        self._db.execute(statement, values)

    def insert(self, table: str, **values: Any) -> int:
        """Add a row. Returns its number."""
        places = ", ".join("?" * len(values))
        cursor = self._db.execute(f"INSERT INTO {table} ({', '.join(values)}) VALUES ({places})", [*values.values()])
        return cursor.lastrowid or 0


def _held(path: Path) -> int:
    """The lock of a folder; the system gives it back when this process ends, however it ends."""
    folder = path.parent
    try:
        lock = os.open(path, os.O_RDWR | os.O_CREAT, 0o666)
    except OSError as fault:
        raise ClueprintError(f"{folder}: nothing can be written there ({fault.strerror})", "name another") from None
    try:
        fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        os.close(lock)
        raise ClueprintError(f"{folder}: another run archives into it", "wait for it or stop it") from None
    return lock


def _opened(path: Path) -> sqlite3.Connection:
    try:
        db = sqlite3.connect(path, timeout=BUSY, isolation_level=None)
        db.row_factory = sqlite3.Row
        db.execute("PRAGMA journal_mode = WAL")
        # A transaction that power failure takes back is read again; the files are on the disk before their entry.
        db.execute("PRAGMA synchronous = NORMAL")
        db.execute("PRAGMA foreign_keys = ON")
        form = db.execute("PRAGMA user_version").fetchone()[0]
        if form == 0:
            script = files("clueprint.archive").joinpath("catalogue.sql").read_text(encoding="utf-8")
            db.executescript(f"BEGIN; {script} PRAGMA user_version = {FORM}; COMMIT;")
    except sqlite3.Error as fault:
        raise ClueprintError(
            f"{path}: no catalogue that can be written ({fault})", "make room, or name another folder"
        ) from None
    if form not in (0, FORM):
        db.close()
        raise ClueprintError(f"{path}: another version of clueprint made it", "use that one, or another folder")
    return db
