"""The demo: its table and its exit status say what was read wrong."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clueprint.reading import read_sources
from fixtures.demo import __main__ as demo
from fixtures.demo.pages import DemoPage, demo_pages, kinds_told, shown
from schema.files import load_puzzle, save_puzzle


@pytest.fixture(scope="module")
def one_page():
    return next(page for page in demo_pages() if page.path.name == "quiet-ledger.pdf")


@pytest.fixture
def run(monkeypatch, capsys, tmp_path):
    def runs(*pages: DemoPage):
        monkeypatch.setattr(demo, "demo_pages", lambda: list(pages))
        status = demo.main([str(tmp_path / "out")])
        return status, *capsys.readouterr()

    return runs


def spoilt(page: DemoPage, folder) -> DemoPage:
    """The page with an expectation that it does not meet: one given less, another title."""
    puzzle = load_puzzle(page.expected)
    givens = dict(list(puzzle.givens.items())[1:])
    save_puzzle(puzzle.model_copy(update={"givens": givens, "title": "Loud Ledger"}), folder / "other.puzzle.json")
    return replace(page, expected=folder / "other.puzzle.json")


def test_every_page_of_the_press_is_read():
    pages = demo_pages()
    assert len(pages) == 9
    assert {page.path.suffix for page in pages} == {".pdf", ".jpg"}
    assert all(page.path.is_file() and page.expected.is_file() for page in pages)


def test_a_page_read_right(run, one_page, tmp_path):
    status, out, err = run(one_page)
    assert (status, err) == (0, "")
    assert "1 of 1 pages read exactly as printed; 1 clean, 0 for a person to look at; 0 clean and wrong" in out
    assert {path.name for path in (tmp_path / "out").iterdir()} >= {
        "quiet-ledger-p1-1.puzzle.json",
        "quiet-ledger-p1-1.reading.json",
        "quiet-ledger-p1-reading.png",
    }
    assert "filled grid: the thermometer from r7c6 to r8c7: digits must rise, and 7 in r7c6 has 6 in r8c6" in out


def test_a_page_read_wrong_is_told_and_fails(run, one_page, tmp_path):
    status, out, _ = run(spoilt(one_page, tmp_path))
    assert status == 1
    assert "NO (2)" in out
    assert "title: 'Quiet Ledger', not 'Loud Ledger'" in out
    assert "0 of 1 pages read exactly as printed" in out
    assert "1 clean and wrong" in out


def test_a_page_with_no_puzzle_on_it(one_page, tmp_path):
    outcome = read_sources([], tmp_path)
    result = shown(one_page, outcome, tmp_path)
    assert result.wrong == ("0 puzzles found, not 1",)
    assert result.puzzle is None and result.proof is None


def test_kinds_told(one_page):
    assert kinds_told(load_puzzle(one_page.expected)) == "rows, columns, boxes"


@pytest.mark.parametrize("arguments", [[], ["a", "b"]])
def test_usage(arguments, capsys):
    assert demo.main(arguments) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1


def test_a_folder_that_cannot_be_made(tmp_path, capsys):
    (tmp_path / "file").write_text("here")
    assert demo.main([str(tmp_path / "file")]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1
