"""`clueprint archive`: what it reads, skips and reads again, what it writes, and what it says."""

from __future__ import annotations

import io
import json
import os
import shutil
import sqlite3
import sys
from pathlib import Path

import pytest

from clueprint.commands.archive import archive_command
from fixtures.bench.places import PRESS
from schema.files import load_puzzle
from tests.clueprint.archiving import finished, names, rows
from tests.clueprint.reading_pages import OTHER, blank, page, picture, small

LOOSE = {"r1c1": 1, "r2c3": 1}
STYLE = '[[mark]]\nlooks = "grey line"\nmeans = "palindrome"\n'


@pytest.fixture
def scans(tmp_path):
    """Two years of scans: the same name in both, a copy under another name, frames, and what is no page."""
    folder = tmp_path / "scans"
    for year in ("1998", "1999", ".thumbnails"):
        (folder / year).mkdir(parents=True)
    page(folder / "1998", "a.pdf")
    shutil.copy(folder / "1998" / "a.pdf", folder / "1998" / "copy.pdf")
    page(folder / "1999", "a.pdf", LOOSE)
    frames = [picture(tmp_path, OTHER), blank()]
    frames[0].save(folder / "set", format="TIFF", save_all=True, append_images=frames[1:])
    (folder / "notes.txt").write_text("no page")
    (folder / ".hidden.png").write_bytes(b"no page")
    (folder / ".thumbnails" / "small.png").write_bytes(b"no page")
    return folder


def test_every_option_is_exercised_in_these_modules():
    text = "".join(path.read_text("utf-8") for path in Path(__file__).parent.glob("test_archive*.py"))
    options = [option for p in archive_command.params if p.param_type_name == "option" for option in p.opts]
    assert options and all(f'"{option}"' in text for option in options)


@pytest.mark.usefixtures("alone")
def test_a_folder_of_folders(run, scans, tmp_path):
    into = tmp_path / "out"
    code, out, err = run("archive", scans, "--into", into, "--workers", 1)
    assert (code, err) == (1, "")
    assert [name for name in names(into) if "reading" in name] == [
        "1998/a-p1-1.reading.json",
        "1999/a-p1-1.reading.json",
        "set-p1-1.reading.json",
    ]
    finished(into, 3)
    assert load_puzzle(into / "1998" / "a-p1-1.puzzle.json") == small()
    assert out.startswith("4 pages in ") and "3 puzzles: 2 clean, 1 to look at" in out
    _assert_catalogued(into, scans)
    before = {path: path.stat().st_mtime_ns for path in into.rglob("*.json")}
    code, out, err = run("archive", scans, "--into", into, "--json")
    assert (code, err) == (1, "")
    assert [(p["source"], p["page"], p["puzzle"], p["verdict"]) for p in json.loads(out)["puzzles"]] == [
        (f"{scans}/set", 1, "set-p1-1.puzzle.json", "clean"),
        (f"{scans}/1998/a.pdf", 1, "1998/a-p1-1.puzzle.json", "clean"),
        (f"{scans}/1998/copy.pdf", 1, "1998/a-p1-1.puzzle.json", "clean"),
        (f"{scans}/1999/a.pdf", 1, "1999/a-p1-1.puzzle.json", "query"),
    ]
    assert {path: path.stat().st_mtime_ns for path in into.rglob("*.json")} == before
    assert rows(into, "SELECT run FROM pages WHERE run <> 1") == []


def _assert_catalogued(into, scans):
    """What the tables and views say after the first run."""
    assert rows(into, "SELECT outcome, workers FROM runs") == [("finished", 1)]
    assert len(rows(into, "SELECT 1 FROM sources")) == 4
    assert rows(into, "SELECT count(*), count(DISTINCT sha256) FROM pages") == [(4, 3)]
    assert rows(into, "SELECT * FROM by_verdict") == [("clean", 2), ("query", 1)]
    assert rows(into, "SELECT kind, puzzles, clean FROM by_kind ORDER BY kind") == [
        (kind, 3, 2) for kind in ("boxes", "columns", "rows")
    ]
    assert [row[0] for row in rows(into, "SELECT path FROM to_look_at")] == [f"{scans}/1999/a.pdf"]
    assert rows(into, "SELECT path, page FROM pages_without_puzzle") == [(f"{scans}/set", 2)]
    assert rows(into, "SELECT title, setter, rows FROM puzzles LIMIT 1") == [("Low Tide", "Fixture Press", 4)]


def test_the_document_is_that_of_read(run, tmp_path):
    sources = [page(tmp_path, "tide.pdf"), page(tmp_path, "loose.png", LOOSE), tmp_path / "nowhere.png"]
    (tmp_path / "rubbish.png").write_bytes(b"no picture at all")
    sources.append(tmp_path / "rubbish.png")
    style = tmp_path / "style.toml"
    style.write_text(STYLE, encoding="utf-8")
    how = ("--json", "--house-style", style)
    read = run("read", *sources, "--into", tmp_path / "one", *how)
    archived = run("archive", *sources, "--into", tmp_path / "two", *how, "--workers", 2)
    assert json.loads(archived[1]) == json.loads(read[1])
    assert archived[0] == read[0] == 2
    assert archived[2] == read[2]
    for name in names(tmp_path / "one"):
        assert (tmp_path / "two" / name).read_text("utf-8") == (tmp_path / "one" / name).read_text("utf-8")


@pytest.mark.usefixtures("alone")
def test_what_changed_is_read_again_and_what_a_person_wrote_is_kept(run, tmp_path):
    source, into = page(tmp_path, "tide.pdf"), tmp_path / "out"
    copy = tmp_path / "copy.pdf"
    shutil.copy(source, copy)
    assert run("archive", source, copy, "--into", into)[0] == 0
    file = into / "tide-p1-1.puzzle.json"
    corrected = file.read_text("utf-8").replace("Low Tide", "High Tide")
    file.write_text(corrected, "utf-8")
    times = source.stat()
    page(tmp_path, "tide.pdf", OTHER)
    os.utime(source, ns=(times.st_atime_ns, times.st_mtime_ns))  # even with the old date on it
    assert run("archive", source, copy, "--into", into)[0] == 0
    assert load_puzzle(file) == small(OTHER)
    assert file.with_name(file.name + ".before").read_text("utf-8") == corrected
    # The copy still holds the first puzzle, which stood in the other's place.
    assert load_puzzle(into / "copy-p1-1.puzzle.json") == small()
    finished(into, 2)


@pytest.mark.usefixtures("alone")
def test_a_file_that_was_only_touched_is_not_read_again(run, tmp_path):
    source, into = page(tmp_path, "tide.pdf"), tmp_path / "out"
    assert run("archive", source, "--into", into)[0] == 0
    os.utime(source, (1, 1))
    assert "0 pages in" in run("archive", source, "--into", into)[1]
    assert rows(into, "SELECT run FROM pages") == [(1,)]


@pytest.mark.usefixtures("alone")
def test_a_house_style_and_again_read_everything_anew(run, tmp_path):
    source, into, style = page(tmp_path, "tide.pdf"), tmp_path / "out", tmp_path / "style.toml"
    style.write_text(STYLE, encoding="utf-8")
    assert run("archive", source, "--into", into)[0] == 0
    assert run("archive", source, "--into", into, "--house-style", style)[1].startswith("1 page in ")
    assert run("archive", source, "--into", into, "--house-style", style)[1].startswith("0 pages in ")
    again = run("archive", source, "--into", into, "--house-style", style, "--again", "all")
    assert again[0] == 0 and again[1].startswith("1 page in ")
    finished(into, 1)
    assert names(into) == ["tide-p1-1.puzzle.json", "tide-p1-1.reading.json"]


def test_a_page_that_takes_too_long_is_tried_twice_and_set_aside(run, tmp_path):
    # Loading the networks alone takes longer than that, looking at the file far less.
    source, into = PRESS / "quiet-ledger-scan.jpg", tmp_path / "out"
    code, out, err = run("archive", source, "--into", into, "--time-limit", 0.4, "--workers", 1)
    assert code == 2
    assert err == (
        f"clueprint: {source}, page 1: reading it takes more than 0.4 seconds; allow more with --time-limit\n"
    )
    assert rows(into, "SELECT page, attempts, set_aside FROM failures") == [(1, 2, 1)]
    code, out, _ = run("archive", source, "--into", into)
    assert code == 2 and "--again failures" in out and rows(into, "SELECT 1 FROM pages") == []
    code, out, err = run("archive", source, "--into", into, "--again", "failures")
    assert (code, err) == (0, "")
    assert rows(into, "SELECT 1 FROM failures") == []
    finished(into, 1)


def test_a_page_that_takes_too_much_memory_costs_itself(run, tmp_path):
    blank((9000, 9000)).save(tmp_path / "large.png")
    source, into = page(tmp_path, "tide.png"), tmp_path / "out"
    code, _, err = run("archive", tmp_path / "large.png", source, "--into", into, "--memory", 0.3, "--workers", 1)
    assert code == 2
    (line,) = err.splitlines()
    assert line.startswith(f"clueprint: {tmp_path}/large.png, page 1: ") and "memory" in line
    assert rows(into, "SELECT attempts, set_aside FROM failures") == [(2, 1)]
    assert load_puzzle(into / "tide-p1-1.puzzle.json") == small()


@pytest.mark.usefixtures("alone")
def test_a_list_of_sources_from_standard_input(run, tmp_path, monkeypatch):
    for year in ("1998", "1999"):
        (tmp_path / year).mkdir()
        page(tmp_path / year, "a.pdf")
    monkeypatch.chdir(tmp_path)
    odd = os.fsdecode(b"caf\xe9.pdf")
    shutil.copy("1998/a.pdf", odd)
    listed = io.TextIOWrapper(io.BytesIO(b"1998/a.pdf\r\n\n1999/a.pdf\ncaf\xe9.pdf\n"))
    monkeypatch.setattr(sys, "stdin", listed)
    code, out, err = run("archive", "--from", "-", "--into", "out", "--json")
    assert (code, err) == (0, "")
    assert [p["source"] for p in json.loads(out)["puzzles"]] == ["1998/a.pdf", "1999/a.pdf", "caf\\xe9.pdf"]
    assert {p["puzzle"] for p in json.loads(out)["puzzles"]} == {"1998/a-p1-1.puzzle.json"}


@pytest.mark.usefixtures("alone")
def test_sources_that_cannot_be_read_are_looked_at_again_when_something_changed(run, tmp_path):
    bad, into = tmp_path / "bad.pdf", tmp_path / "out"
    bad.write_bytes(b"no picture at all")
    assert run("archive", bad, tmp_path / "later.pdf", "--into", into)[0] == 2
    assert rows(into, "SELECT set_aside FROM failures ORDER BY source") == [(1,), (0,)]
    page(tmp_path, "later.pdf")
    code, out, err = run("archive", bad, tmp_path / "later.pdf", "--into", into)
    assert (code, len(err.splitlines())) == (2, 1) and out.startswith("1 page in ")
    style = tmp_path / "style.toml"
    style.write_text('publication = "Harbour Weekly"\n', encoding="utf-8")
    assert run("archive", bad, "--into", into)[0] == 2
    assert rows(into, "SELECT run FROM failures") == [(1,)]
    assert run("archive", bad, "--into", into, "--house-style", style)[0] == 2
    assert rows(into, "SELECT run FROM failures") == [(4,)]
    page(tmp_path, "bad.pdf", OTHER)
    assert run("archive", bad, tmp_path / "later.pdf", "--into", into)[0] == 0
    assert load_puzzle(into / "bad-p1-1.puzzle.json") == small(OTHER)


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--into", "out"], "SOURCE"),
        (["x.pdf"], "--into"),
        (["x.pdf", "--into", "out", "--workers", "0"], "--workers"),
        (["x.pdf", "--into", "out", "--again", "everything"], "--again"),
        (["--from", "nowhere.txt", "--into", "out"], "nowhere.txt"),
        (["x.pdf", "--into", "file"], "file"),
        (["x.pdf", "--into", "out", "--house-style", "nowhere.toml"], "nowhere.toml"),
    ],
)
def test_usage_errors_are_one_line(run, tmp_path, monkeypatch, arguments, says):
    monkeypatch.chdir(tmp_path)
    Path("file").write_text("here")
    code, out, err = run("archive", *arguments)
    assert (code, out) == (2, "")
    assert len(err.splitlines()) == 1 and says in err


@pytest.mark.parametrize(("code", "full"), [(sqlite3.SQLITE_FULL, True), (sqlite3.SQLITE_IOERR, False)])
def test_a_disk_that_gives_out_is_told_with_what_helps(run, tmp_path, monkeypatch, code, full):
    def gives_out(*_anything):
        fault = sqlite3.OperationalError("as the disk says")
        fault.sqlite_errorcode = code
        raise fault

    monkeypatch.setattr("clueprint.archive.catalogue.Catalogue.begin", gives_out)
    status, out, err = run("archive", page(tmp_path, "tide.png"), "--into", tmp_path / "out")
    assert (status, out) == (2, "")
    assert len(err.splitlines()) == 1 and "catalogue.sqlite" in err and ("make room" in err) == full


def test_a_scheduler_that_is_not_there(run, tmp_path, monkeypatch):
    monkeypatch.setattr("clueprint.archive.crew.REACHING", 0.5)
    source = page(tmp_path, "tide.png")
    code, out, err = run("archive", source, "--into", tmp_path / "out", "--scheduler", "tcp://127.0.0.1:9")
    assert (code, out) == (2, "")
    assert len(err.splitlines()) == 1 and "tcp://127.0.0.1:9" in err
