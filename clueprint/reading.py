"""Sources to puzzle files and readings in a folder."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from PIL import Image as Pillow

from clueprint.archive.names import printable
from clueprint.aside import keep_old
from clueprint.errors import ClueprintError, escaped, unwritable
from clueprint.house_style import load_house_style
from ingest.errors import Unreadable
from ingest.page import Page
from ingest.source import read_source
from recognise.pipeline import PageReading, read_page
from recognise.report import reading_of
from recognise.rules import Statement
from schema.files import PUZZLE_SUFFIX, READING_SUFFIX, puzzle_text, save_puzzle
from schema.puzzle import Puzzle
from schema.reading import Reading, reading_text, save_reading
from schema.words import counted


@dataclass(frozen=True, slots=True)
class ReadPuzzle:
    """One grid that was read; `puzzle` is None when it is faulty. File names are relative to the folder."""

    source: Path
    page: int
    puzzle: str | None
    reading_file: str
    reading: Reading

    def told(self) -> Iterator[str]:
        """The puzzle in lines for a person, with what to look at."""
        yield escaped(f"{self.source.name} page {self.page}: {self.reading.verdict}  {self.puzzle or ''}".rstrip())
        yield from (f"    look at: {query.why}" for query in self.reading.queries)


@dataclass(frozen=True, slots=True)
class Failure:
    """A source, or a page of it, that could not be read."""

    source: Path
    page: int | None
    why: str
    line: str


@dataclass
class Outcome:
    """Everything that one run read and could not read."""

    puzzles: list[ReadPuzzle] = field(default_factory=list)
    failures: list[Failure] = field(default_factory=list)
    empty: list[tuple[Path, int]] = field(default_factory=list)
    """Pages on which there is no puzzle."""

    @property
    def begun(self) -> bool:
        """Whether anything was read, or could not be."""
        return bool(self.puzzles or self.failures or self.empty)

    @property
    def all_clean(self) -> bool:
        """Whether there is nothing to look at."""
        return all(puzzle.reading.verdict == "clean" for puzzle in self.puzzles)

    def document(self) -> dict[str, Any]:
        """What `--json` prints."""
        return {
            "puzzles": [_document(puzzle) for puzzle in self.puzzles],
            "failures": [{"source": printable(str(f.source)), "page": f.page, "why": f.why} for f in self.failures],
        }

    def summed(self) -> str:
        """The outcome in one line for a person."""
        clean = sum(puzzle.reading.verdict == "clean" for puzzle in self.puzzles)
        return f"{counted(len(self.puzzles), 'puzzle')} read, {clean} clean, {len(self.puzzles) - clean} to look at"


def _document(puzzle: ReadPuzzle) -> dict[str, Any]:
    queries = [query.model_dump(mode="json", exclude_none=True) for query in puzzle.reading.queries]
    return {
        "source": printable(str(puzzle.source)),
        "page": puzzle.page,
        "puzzle": puzzle.puzzle,
        "reading": puzzle.reading_file,
        "verdict": puzzle.reading.verdict,
        "queries": queries,
    }


@dataclass(frozen=True, slots=True)
class _Job:
    """Where files and pictures go, and what the house style states."""

    into: Path
    explain: Path | None
    house: tuple[Statement, ...]


def read_sources(
    sources: Sequence[Path],
    into: Path,
    *,
    house_style: Path | None = None,
    explain: Path | None = None,
    outcome: Outcome | None = None,
    page_done: Callable[[], None] = lambda: None,
    done: Callable[[], None] = lambda: None,
) -> Outcome:
    """Read every source into the folder `into`; pictures of each step go to `explain`. `house_style` is a file that
    says what the publication's marks mean where its pages do not (ClueprintError for a wrong one, and where nothing can
    be written). `outcome` is added to, where one is given: so what was read before a stop is known; `page_done` is
    called after each page, `done` after each source. What cannot be read is in the outcome's failures, everything else
    is still read."""
    outcome = Outcome() if outcome is None else outcome
    taken: dict[str, Path] = {}
    job = _Job(into, explain, load_house_style(house_style) if house_style else ())
    for source in sources:
        try:
            _claim_stem(source, taken)
            for page in read_source(source):
                if isinstance(page, Unreadable):
                    _failed(outcome, source, page)
                else:
                    _read_guarded(page, job, outcome)
                page_done()
        except Unreadable as fault:
            _failed(outcome, source, fault)
        done()
    return outcome


def _failed(outcome: Outcome, source: Path, fault: Unreadable) -> None:
    """Keep a fault for the end of the run."""
    outcome.failures.append(Failure(source, fault.page, fault.why, str(fault)))


def _claim_stem(source: Path, taken: dict[str, Path]) -> None:
    """Refuse a second source whose files would overwrite those of the first."""
    first = taken.setdefault(source.stem, source)
    if first != source:
        why = f"its files would be named as those of {first}"
        raise Unreadable(source, None, why, "read it into another folder")


def _read_guarded(page: Page, job: _Job, outcome: Outcome) -> None:
    """Read one page; a fault of our own costs this page, and says whose fault it is."""
    try:
        _read_page(page, job, outcome)
    except ClueprintError:
        raise
    except Exception as fault:
        why = f"clueprint itself failed on it ({type(fault).__name__}: {fault})"
        _failed(outcome, page.source, Unreadable(page.source, page.number, why, "please report it with the page"))


def _read_page(page: Page, job: _Job, outcome: Outcome) -> None:
    source = page.source
    page = replace(page, source=Path(printable(source.name)))
    page_reading = read_page(page, explain=job.explain is not None, house=job.house)
    if job.explain is not None:
        with _writing_into(job.explain):
            _save_pictures(page_reading, job.explain)
    if not page_reading.results:
        outcome.empty.append((source, page.number))
    for number, result in enumerate(page_reading.results, start=1):
        stem = f"{page.source.stem}-p{page.number}-{number}"
        puzzle_file, reading_file = f"{stem}{PUZZLE_SUFFIX}", f"{stem}{READING_SUFFIX}"
        reading = reading_of(page_reading.page, result, puzzle_file)
        puzzle = result.proven.puzzle
        with _writing_into(job.into):
            _save(puzzle, job.into / puzzle_file, reading, job.into / reading_file)
        name = None if puzzle is None else puzzle_file
        outcome.puzzles.append(ReadPuzzle(source, page.number, name, reading_file, reading))


@contextmanager
def _writing_into(folder: Path) -> Iterator[None]:
    """Writing into a folder: where one file cannot be written, no other can, and the run ends."""
    try:
        yield
    except OSError as fault:
        raise unwritable(folder, fault, "name another folder") from None


def _save(puzzle: Puzzle | None, puzzle_file: Path, reading: Reading, reading_file: Path) -> None:
    """Write both files, or neither where there was none before. Raises OSError."""
    keep_old(puzzle_file, None if puzzle is None else puzzle_text(puzzle))
    keep_old(reading_file, reading_text(reading))
    alone = puzzle is not None and not puzzle_file.exists()
    if puzzle is not None:
        save_puzzle(puzzle, puzzle_file)
    try:
        save_reading(reading, reading_file)
    except OSError:
        if alone:
            puzzle_file.unlink()
        raise


def _save_pictures(page_reading: PageReading, folder: Path) -> None:
    page = page_reading.page
    for name, picture in page_reading.pictures.items():
        Pillow.fromarray(picture).save(folder / f"{page.source.stem}-p{page.number}-{name}.png")
