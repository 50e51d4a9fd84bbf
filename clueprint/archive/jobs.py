"""What is asked of a worker and what it answers: plain data that goes from process to process and to other machines."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from recognise.rules import Statement


@dataclass(frozen=True, slots=True)
class Stamp:
    """What tells without reading it that a file is as it was: its bytes, and in nanoseconds when its content and when
    anything about it last changed. Nobody sets the last one back."""

    size: int
    modified: int
    changed: int

    @classmethod
    def of(cls, path: Path) -> Stamp:
        """The stamp of a file as it is now. Raises OSError."""
        status = path.stat()
        return cls(status.st_size, status.st_mtime_ns, status.st_ctime_ns)


@dataclass(frozen=True, slots=True)
class Survey:
    """Find out what a source holds."""

    source: int
    path: Path


@dataclass(frozen=True, slots=True)
class ReadPage:
    """Read one page of a source. `stem` begins the names of its files, `house` is what the house style states."""

    source: int
    path: Path
    stamp: Stamp
    sha256: str
    page: int
    stem: str
    house: tuple[Statement, ...] = ()


Job = Survey | ReadPage


@dataclass(frozen=True, slots=True)
class Surveyed:
    """What a source holds, as long as its stamp is this one."""

    stamp: Stamp
    sha256: str
    pages: int


@dataclass(frozen=True, slots=True)
class GridRead:
    """One grid of a page: the texts of its files, and what the catalogue says of it. `puzzle` is None when faulty;
    `queries` are as in the reading; `likeness` is the same for puzzles with the same grid, givens and constraints."""

    reading: str
    verdict: str
    queries: tuple[dict[str, Any], ...]
    puzzle: str | None = None
    title: str | None = None
    setter: str | None = None
    rows: int | None = None
    columns: int | None = None
    kinds: tuple[str, ...] = ()
    likeness: str | None = None


@dataclass(frozen=True, slots=True)
class PageRead:
    """A page as it was read; no grids where there is no puzzle on it. `seconds` is the time that it took."""

    grids: tuple[GridRead, ...]
    seconds: float


@dataclass(frozen=True, slots=True)
class Failed:
    """Nothing came of a job. `page` is None where the source as a whole cannot be read."""

    page: int | None
    why: str
    remedy: str
    lost: bool = False
    """Whether it took the reading process with it, or would have: worth a second try, when less is going on."""
    passing: bool = False
    """Whether that may be otherwise in the next run, with the same file: it is not there, it was being written."""


Answer = Surveyed | PageRead | Failed


@dataclass(frozen=True, slots=True)
class Terms:
    """What a page may take of a worker, and which program reads it."""

    version: str
    seconds: float
    memory: int
    """Bytes of address space beyond what the reading process starts with."""
