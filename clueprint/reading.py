"""Sources to puzzle files and readings in a folder."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from PIL import Image as Pillow

from clueprint.errors import ClueprintError
from clueprint.house_style import load_house_style
from ingest.errors import Unreadable
from ingest.page import Page
from ingest.source import read_source
from recognise.pipeline import PageReading, read_page
from recognise.report import reading_of
from recognise.rules import Statement
from schema.files import puzzle_text, save_puzzle
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
    def all_clean(self) -> bool:
        """Whether there is nothing to look at."""
        return all(puzzle.reading.verdict == "clean" for puzzle in self.puzzles)

    def document(self) -> dict[str, Any]:
        """What `--json` prints."""
        return {
            "puzzles": [_document(puzzle) for puzzle in self.puzzles],
            "failures": [{"source": str(f.source), "page": f.page, "why": f.why} for f in self.failures],
        }

    def told(self) -> Iterator[str]:
        """The outcome in lines for a person: each puzzle, what to look at, and a sum."""
        for puzzle in self.puzzles:
            yield f"{puzzle.source.name} page {puzzle.page}: {puzzle.reading.verdict}  {puzzle.puzzle or ''}".rstrip()
            yield from (f"    look at: {query.why}" for query in puzzle.reading.queries)
        yield from (f"{source.name} page {page}: no puzzle" for source, page in self.empty)
        clean = sum(puzzle.reading.verdict == "clean" for puzzle in self.puzzles)
        yield f"{counted(len(self.puzzles), 'puzzle')} read, {clean} clean, {len(self.puzzles) - clean} to look at"


def _document(puzzle: ReadPuzzle) -> dict[str, Any]:
    queries = [query.model_dump(mode="json", exclude_none=True) for query in puzzle.reading.queries]
    return {
        "source": str(puzzle.source),
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
    done: Callable[[], None] = lambda: None,
) -> Outcome:
    """Read every source into the folder `into`; pictures of each step go to `explain`. `house_style` is a file that
    says what the publication's marks mean where its pages do not (ClueprintError for a wrong one). `done` is called
    after each source. What cannot be read is in the outcome's failures, everything else is still read."""
    outcome = Outcome()
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
    except OSError as fault:
        raise ClueprintError(
            f"{job.into}: nothing can be written there ({fault.strerror})", "name another folder"
        ) from None
    except Exception as fault:
        why = f"clueprint itself failed on it ({type(fault).__name__}: {fault})"
        _failed(outcome, page.source, Unreadable(page.source, page.number, why, "please report it with the page"))


def _read_page(page: Page, job: _Job, outcome: Outcome) -> None:
    into = job.into
    page_reading = read_page(page, explain=job.explain is not None, house=job.house)
    if job.explain is not None:
        _save_pictures(page_reading, job.explain)
    if not page_reading.results:
        outcome.empty.append((page.source, page.number))
    for number, result in enumerate(page_reading.results, start=1):
        stem = f"{page.source.stem}-p{page.number}-{number}"
        puzzle_file, reading_file = f"{stem}.puzzle.json", f"{stem}.reading.json"
        reading = reading_of(page_reading.page, result, puzzle_file)
        puzzle = result.proven.puzzle
        if puzzle is None:
            _keep_old(into / puzzle_file, None)
        else:
            _keep_old(into / puzzle_file, puzzle_text(puzzle))
            save_puzzle(puzzle, into / puzzle_file)
        _keep_old(into / reading_file, reading_text(reading))
        save_reading(reading, into / reading_file)
        name = None if puzzle is None else puzzle_file
        outcome.puzzles.append(ReadPuzzle(page.source, page.number, name, reading_file, reading))


def _keep_old(path: Path, text: str | None) -> None:
    """Set an earlier file that says something else aside: a person may have corrected it."""
    if path.exists() and path.read_text(encoding="utf-8", errors="replace") != text:
        path.replace(path.with_name(path.name + ".before"))


def _save_pictures(page_reading: PageReading, folder: Path) -> None:
    page = page_reading.page
    for name, picture in page_reading.pictures.items():
        Pillow.fromarray(picture).save(folder / f"{page.source.stem}-p{page.number}-{name}.png")
