"""What `clueprint read --json` prints: one document, with the keys that other programs rely on."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from schema.reading import load_reading
from tests.clueprint.reading_pages import blank, page

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def read(tmp_path_factory):
    """One run over a clean page, one in query, one without a puzzle and one that is no picture."""
    folder = tmp_path_factory.mktemp("pages")
    blank().save(folder / "blank.png")
    (folder / "rubbish.png").write_bytes(b"no picture")
    sources = [page(folder, "clean.pdf"), page(folder, "loose.pdf", {"r1c1": 1}), folder / "blank.png"]
    sources.append(folder / "rubbish.png")
    command = [
        sys.executable,
        "-m",
        "clueprint",
        "read",
        *map(str, sources),
        "--into",
        str(folder / "out"),
        "--json",
    ]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    return done, folder, json.loads(done.stdout)


def test_the_document_is_all_there_is(read):
    done, folder, document = read
    assert done.returncode == 2
    assert set(document) == {"puzzles", "failures"}
    assert done.stderr.startswith(f"clueprint: {folder / 'rubbish.png'}: ") and done.stderr.count("\n") == 1


def test_puzzles(read):
    _, folder, document = read
    clean, loose = document["puzzles"]
    for puzzle, name in ((clean, "clean"), (loose, "loose")):
        assert set(puzzle) == {"source", "page", "puzzle", "reading", "verdict", "queries"}
        assert puzzle["source"] == str(folder / f"{name}.pdf") and puzzle["page"] == 1
        assert puzzle["puzzle"] == f"{name}-p1-1.puzzle.json" and puzzle["reading"] == f"{name}-p1-1.reading.json"
        assert (folder / "out" / puzzle["puzzle"]).is_file()
    assert clean["verdict"] == "clean" and clean["queries"] == []
    assert loose["verdict"] == "query" and loose["queries"]


def test_queries_are_those_of_the_reading(read):
    _, folder, document = read
    loose = document["puzzles"][1]
    reading = load_reading(folder / "out" / loose["reading"])
    assert [query["why"] for query in loose["queries"]] == [query.why for query in reading.queries]
    assert all(set(query) <= {"item", "where", "why"} for query in loose["queries"])


def test_failures(read):
    _, folder, document = read
    (failure,) = document["failures"]
    assert set(failure) == {"source", "page", "why"}
    assert failure["source"] == str(folder / "rubbish.png") and failure["page"] is None and failure["why"]
