"""`clueprint read`: files, names, exit statuses, and what it says, page by page."""

from __future__ import annotations

import errno
import hashlib
import io
import json
import os
import sys
from pathlib import Path

import pytest
from PIL import Image

from clueprint import reading as reading_module
from clueprint.commands.read import read as read_command
from fixtures.bench.places import PRESS
from ingest.source import read_source
from schema.files import load_puzzle
from schema.reading import load_reading, save_reading
from tests.clueprint.reading_pages import OTHER, blank, page, picture, small, stacked


def names(folder):
    return sorted(path.name for path in folder.iterdir())


def test_every_option_is_exercised_in_this_module():
    text = Path(__file__).read_text(encoding="utf-8") + Path(__file__).with_name("test_json.py").read_text("utf-8")
    options = [option for p in read_command.params if p.param_type_name == "option" for option in p.opts]
    assert options and all(f'"{option}"' in text for option in options)


def test_a_clean_page(run, tmp_path):
    into = tmp_path / "new" / "folder"
    source = page(tmp_path, "tide.pdf")
    code, out, err = run("read", source, "--into", into)
    assert (code, err) == (0, "")
    assert names(into) == ["tide-p1-1.puzzle.json", "tide-p1-1.reading.json"]
    assert out.splitlines() == [
        "tide.pdf page 1: clean  tide-p1-1.puzzle.json",
        "1 puzzle read, 1 clean, 0 to look at",
    ]
    assert load_puzzle(into / "tide-p1-1.puzzle.json") == small()
    reading = load_reading(into / "tide-p1-1.reading.json")
    assert reading.puzzle == "tide-p1-1.puzzle.json"
    assert reading.verdict == "clean" and not reading.queries
    assert (reading.source.file, reading.source.page) == ("tide.pdf", 1)
    assert reading.source.sha256 == hashlib.sha256(source.read_bytes()).hexdigest()
    assert (reading.frame.unit, round(reading.frame.width), round(reading.frame.height)) == ("pt", 595, 842)
    assert {item.item for item in reading.items} >= {f"/givens/{cell}" for cell in small().givens}


def test_something_to_look_at(run, tmp_path):
    source = page(tmp_path, "loose.pdf", {"r1c1": 1, "r2c3": 1})
    code, out, err = run("read", source, "--into", tmp_path / "out")
    assert (code, err) == (1, "")
    assert out.startswith("loose.pdf page 1: query  loose-p1-1.puzzle.json\n    look at: there are several solutions")
    counted, hint = out.splitlines()[-2:]
    assert counted == "1 puzzle read, 0 clean, 1 to look at"
    assert hint.endswith(f"clueprint desk {tmp_path / 'out'}")
    assert load_reading(tmp_path / "out" / "loose-p1-1.reading.json").verdict == "query"


def test_frames_of_a_tiff_are_pages_and_one_of_them_has_no_puzzle(run, tmp_path):
    frames = [picture(tmp_path), blank(), picture(tmp_path, OTHER)]
    frames[0].save(tmp_path / "set.tif", save_all=True, append_images=frames[1:], compression="tiff_lzw")
    code, out, err = run("read", tmp_path / "set.tif", "--into", tmp_path / "out")
    assert (code, err) == (0, "")
    assert [name for name in names(tmp_path / "out") if "puzzle" in name] == [
        "set-p1-1.puzzle.json",
        "set-p3-1.puzzle.json",
    ]
    assert "set.tif page 2: no puzzle" in out
    assert load_puzzle(tmp_path / "out" / "set-p1-1.puzzle.json").givens == small().givens
    assert load_puzzle(tmp_path / "out" / "set-p3-1.puzzle.json").givens == small(OTHER).givens
    assert load_reading(tmp_path / "out" / "set-p3-1.reading.json").source.page == 3


def test_grids_of_a_page_are_counted_from_the_top(run, tmp_path):
    stacked(picture(tmp_path, OTHER), picture(tmp_path)).save(tmp_path / "two.png")
    run("read", tmp_path / "two.png", "--into", tmp_path / "out")
    assert load_puzzle(tmp_path / "out" / "two-p1-1.puzzle.json").givens == small(OTHER).givens
    assert load_puzzle(tmp_path / "out" / "two-p1-2.puzzle.json").givens == small().givens
    assert len(names(tmp_path / "out")) == 4


def test_a_page_without_a_puzzle_is_no_failure(run, tmp_path):
    blank().save(tmp_path / "blank.png")
    code, out, err = run("read", tmp_path / "blank.png", "--into", tmp_path / "out")
    assert (code, err, names(tmp_path / "out")) == (0, "", [])
    assert out.splitlines() == ["blank.png page 1: no puzzle", "0 puzzles read, 0 clean, 0 to look at"]


def unreadable(folder):
    """Sources that cannot be read, by what is wrong with them."""
    (folder / "rubbish.png").write_bytes(b"no picture at all")
    (folder / "empty.pdf").write_bytes(b"")
    (folder / "cut.pdf").write_bytes((PRESS / "quiet-ledger.pdf").read_bytes()[:300])
    (folder / "folder").mkdir()
    return [folder / name for name in ("rubbish.png", "empty.pdf", "cut.pdf", "folder", "nowhere.png")]


def test_bad_sources_get_their_lines_and_the_others_are_read(run, tmp_path):
    bad = unreadable(tmp_path)
    code, out, err = run("read", *bad[:3], page(tmp_path, "tide.pdf"), *bad[3:], "--into", tmp_path / "out")
    assert code == 2
    assert "tide.pdf page 1: clean" in out
    assert names(tmp_path / "out") == ["tide-p1-1.puzzle.json", "tide-p1-1.reading.json"]
    lines = err.splitlines()
    assert len(lines) == len(bad) and "Traceback" not in err
    for path, line in zip(bad, lines, strict=True):
        assert line.startswith(f"clueprint: {path}") and "; " in line


def test_sources_of_one_stem_do_not_overwrite_each_other(run, tmp_path):
    first, second = page(tmp_path, "tide.pdf"), page(tmp_path, "tide.png", OTHER)
    code, _, err = run("read", first, second, "--into", tmp_path / "out")
    assert code == 2
    assert len(err.splitlines()) == 1 and str(second) in err and str(first) in err
    assert load_puzzle(tmp_path / "out" / "tide-p1-1.puzzle.json").givens == small().givens


def test_files_that_say_something_else_are_set_aside(run, tmp_path):
    source, into = page(tmp_path, "tide.pdf"), tmp_path / "out"
    assert run("read", source, "--into", into)[0] == 0
    assert run("read", source, "--into", into)[0] == 0
    assert names(into) == ["tide-p1-1.puzzle.json", "tide-p1-1.reading.json"]
    corrected = (into / "tide-p1-1.puzzle.json").read_text("utf-8").replace("Low Tide", "High Tide")
    (into / "tide-p1-1.puzzle.json").write_text(corrected, "utf-8")
    assert run("read", source, "--into", into)[0] == 0
    assert (into / "tide-p1-1.puzzle.json.before").read_text("utf-8") == corrected
    assert load_puzzle(into / "tide-p1-1.puzzle.json") == small()
    (into / "tide-p1-1.puzzle.json").write_text(corrected.replace("High", "Spring"), "utf-8")
    assert run("read", source, "--into", into)[0] == 0
    assert (into / "tide-p1-1.puzzle.json.before").read_text("utf-8") == corrected, "what was kept earlier is kept"
    assert "Spring Tide" in (into / "tide-p1-1.puzzle.json.before-2").read_text("utf-8")


def test_what_was_read_before_a_full_disk_is_told_and_nothing_is_half_there(run, tmp_path, monkeypatch):
    """The second reading finds no room."""
    saved = []

    def save(reading, path):
        saved.append(path)
        if len(saved) == 2:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        save_reading(reading, path)

    monkeypatch.setattr(reading_module, "save_reading", save)
    sources = [page(tmp_path, name) for name in ("a.pdf", "b.pdf", "c.pdf")]
    code, out, err = run("read", *sources, "--into", tmp_path / "out")
    assert code == 2
    assert out.splitlines()[0].startswith("a.pdf page 1: clean") and "1 puzzle read" in out
    (line,) = err.splitlines()
    assert str(tmp_path / "out") in line and "make room" in line
    assert names(tmp_path / "out") == ["a-p1-1.puzzle.json", "a-p1-1.reading.json"]


def test_what_was_read_before_ctrl_c_is_told(run, tmp_path, monkeypatch):
    def stopped(source):
        if source.name == "b.pdf":
            raise KeyboardInterrupt
        return read_source(source)

    monkeypatch.setattr(reading_module, "read_source", stopped)
    sources = [page(tmp_path, name) for name in ("a.pdf", "b.pdf")]
    code, out, err = run("read", *sources, "--into", tmp_path / "out")
    assert code == 130
    assert "a.pdf page 1: clean" in out and "1 puzzle read" in out
    assert err == "clueprint: stopped by the keyboard\n"


def test_each_page_is_told_when_it_is_read(run, tmp_path, monkeypatch):
    told = []

    def watched(source):
        for found in read_source(source):
            told.append(sys.stdout.getvalue())
            yield found

    frames = [picture(tmp_path), blank()]
    frames[0].save(tmp_path / "a.tif", save_all=True, append_images=frames[1:])
    monkeypatch.setattr(reading_module, "read_source", watched)
    monkeypatch.setattr(sys, "stdout", io.StringIO())
    run("read", tmp_path / "a.tif", page(tmp_path, "b.pdf"), "--into", tmp_path / "out")
    assert [len(text.splitlines()) for text in told] == [0, 1, 2]
    assert told[1].startswith("a.tif page 1: clean") and told[2].endswith("a.tif page 2: no puzzle\n")


def test_a_name_of_two_lines_is_told_on_one(run, tmp_path):
    code, out, _ = run("read", page(tmp_path, "low\ntide.pdf"), "--into", tmp_path / "out")
    assert code == 0
    assert out.splitlines()[0] == "low\\ntide.pdf page 1: clean  low\\ntide-p1-1.puzzle.json"


def test_a_name_that_is_no_utf_8_is_read(run, tmp_path):
    source = page(tmp_path, "tide.pdf").rename(tmp_path / os.fsdecode(b"tide\xff.pdf"))
    code, out, err = run("read", source, "--into", tmp_path / "out", "--json")
    (found,) = json.loads(out)["puzzles"]
    assert (code, err) == (0, "")
    assert found["source"] == str(tmp_path / "tide\\xff.pdf")
    assert load_puzzle(tmp_path / "out" / found["puzzle"]) == small()


def test_pictures_of_what_each_step_saw(run, tmp_path):
    source = page(tmp_path, "tide.pdf")
    code, _, _ = run("read", source, "--into", tmp_path / "out", "--explain", tmp_path / "why")
    assert code == 0
    pictures = names(tmp_path / "why")
    assert {"tide-p1-grids.png", "tide-p1-reading.png"} <= set(pictures)
    for name in pictures:
        with Image.open(tmp_path / "why" / name) as shown:
            assert min(shown.size) > 100 and len(shown.convert("RGB").getcolors(1 << 24)) > 2
    assert names(tmp_path / "out") == ["tide-p1-1.puzzle.json", "tide-p1-1.reading.json"]


@pytest.mark.parametrize("option", ["--into", "--explain"])
def test_a_folder_that_is_a_file(run, tmp_path, option):
    (tmp_path / "file").write_text("here")
    others = ["--into", tmp_path / "out"] if option == "--explain" else []
    code, out, err = run("read", page(tmp_path, "tide.pdf"), *others, option, tmp_path / "file")
    assert (code, out) == (2, "")
    assert len(err.splitlines()) == 1 and str(tmp_path / "file") in err
    assert (tmp_path / "file").read_text() == "here"


@pytest.mark.parametrize(
    "arguments",
    [["read"], ["read", "x.pdf"], ["read", "--into", "out"], ["read", "--frob", "x"], ["read", "x.pdf", "--into", ""]],
)
def test_usage_errors_are_one_line(run, arguments):
    code, out, err = run(*arguments)
    assert (code, out) == (2, "")
    assert len(err.splitlines()) == 1 and "--help" in err


@pytest.mark.parametrize("form", [".pdf", "-scan.jpg", "-photo.jpg"])
def test_the_press_page_in_every_form(run, tmp_path, form):
    code, out, err = run("read", PRESS / f"quiet-ledger{form}", "--into", tmp_path)
    stem = f"quiet-ledger{form.partition('.')[0]}"
    assert (code, err) == (0, ""), out
    assert load_puzzle(tmp_path / f"{stem}-p1-1.puzzle.json") == load_puzzle(PRESS / "quiet-ledger.puzzle.json")


def test_a_house_style_that_nothing_needs_changes_nothing(run, tmp_path):
    style = tmp_path / "style.toml"
    style.write_text('[[mark]]\nlooks = "grey line"\nmeans = "palindrome"\n', encoding="utf-8")
    source = page(tmp_path, "tide.pdf")
    assert run("read", source, "--into", tmp_path / "out", "--house-style", style)[0] == 0
    assert load_puzzle(tmp_path / "out" / "tide-p1-1.puzzle.json") == small()
