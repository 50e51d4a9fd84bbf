"""What came of an archive: for people in lines, for programs as the document of `read`."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator

from clueprint.archive.catalogue import Catalogue
from clueprint.archive.plan import Counts
from clueprint.archive.work import Tally

_PUZZLES = "SELECT * FROM every_puzzle WHERE source IN (SELECT source FROM sources WHERE run = ?)"
_FAILURES = (
    "SELECT s.named, f.page, f.why, f.remedy FROM failures f"
    " JOIN sources s ON s.source = f.source OR (s.sha256 = f.sha256 AND f.page IS NOT NULL)"
    " WHERE s.run = ? ORDER BY s.source, f.page"
)


def document(catalogue: Catalogue) -> Iterator[str]:
    """What `--json` prints, piece by piece: of each source of the run all that the catalogue has, whenever it was
    read."""
    yield '{\n  "puzzles": ['
    yield from _listed(_puzzle(catalogue, row) for row in _puzzles(catalogue))
    yield '],\n  "failures": ['
    failures = catalogue.rows(_FAILURES, catalogue.run)
    yield from _listed({"source": row["named"], "page": row["page"], "why": row["why"]} for row in failures)
    yield "]\n}\n"


def _listed(parts: Iterator[dict[str, object]]) -> Iterator[str]:
    between = ""
    for part in parts:
        yield f"{between}\n    {json.dumps(part, ensure_ascii=False)}"
        between = ","
    yield "\n  " if between else ""


def _puzzles(catalogue: Catalogue) -> Iterator[sqlite3.Row]:
    yield from catalogue.rows(f"{_PUZZLES} ORDER BY source, page, number", catalogue.run)


def _puzzle(catalogue: Catalogue, row: sqlite3.Row) -> dict[str, object]:
    query = "SELECT item, place, why FROM queries WHERE puzzle_id = ? ORDER BY query_id"
    return {
        "source": row["named"],
        "page": row["page"],
        "puzzle": row["puzzle"],
        "reading": row["reading"],
        "verdict": row["verdict"],
        "queries": [_query(found) for found in catalogue.rows(query, row["puzzle_id"])],
    }


def _query(row: sqlite3.Row) -> dict[str, object]:
    item = {} if row["item"] is None else {"item": row["item"]}
    where = {} if row["place"] is None else {"where": json.loads(row["place"])}
    return {**item, **where, "why": row["why"]}


def failure_lines(catalogue: Catalogue) -> Iterator[str]:
    """A line for everything that could not be read, in this run or before."""
    for row in catalogue.rows(_FAILURES, catalogue.run):
        place = f"{row['named']}, page {row['page']}" if row["page"] else row["named"]
        yield f"{place}: {row['why']}; {row['remedy']}"


def verdicts(catalogue: Catalogue) -> dict[str, int]:
    """How many puzzles the sources of the run have, by verdict; the same one under two names counts once."""
    query = f"SELECT verdict, count(DISTINCT puzzle_id) FROM ({_PUZZLES}) GROUP BY verdict"
    return dict(map(tuple, catalogue.rows(query, catalogue.run)))


def told(catalogue: Catalogue, counts: Counts, tally: Tally) -> Iterator[str]:
    """The end of a run, for a person."""
    pace = f", {per_hour(counts, tally.seconds):,.0f} an hour" if counts.done else ""
    before = f"; {counts.before:,} were finished before" if counts.before else ""
    yield f"{_count(counts.done, 'page')} in {duration(tally.seconds)}{pace}{before}"
    found = verdicts(catalogue)
    puzzles, clean, faulty = sum(found.values()), found.get("clean", 0), found.get("faulty", 0)
    look = puzzles - clean
    of_them = f", of them {faulty:,} faulty" if faulty else ""
    yield f"{_count(puzzles, 'puzzle')}: {clean:,} clean, {look:,} to look at{of_them}"
    failures = sum(1 for _ in failure_lines(catalogue))
    if failures:
        yield f"{_count(failures, 'failure')}; try them again with --again failures"
    yield f"catalogue: {catalogue.path}"
    if tally.stopped:
        left = f"about {counts.total - counts.before - counts.done:,} pages are left"
        yield f"stopped; {left}; the same command goes on, without --again"


def per_hour(counts: Counts, seconds: float) -> float:
    """Pages an hour."""
    return counts.done / max(seconds, 1e-9) * 3600


def duration(seconds: float) -> str:
    """A time as people say it."""
    minutes = round(seconds / 60)
    if seconds < 90:
        return f"{seconds:.0f} s"
    if minutes < 90:
        return f"{minutes} min"
    hours = minutes // 60
    return f"{hours} h {minutes % 60} min" if hours < 48 else f"{hours // 24} days {hours % 24} h"


def _count(number: int, noun: str) -> str:
    return f"{number:,} {noun}" if number == 1 else f"{number:,} {noun}s"
