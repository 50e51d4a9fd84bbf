from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from schema.cells import Cell
from schema.files import save_puzzle
from schema.grid import Grid
from schema.kinds.boxes import Boxes
from schema.kinds.columns import Columns
from schema.kinds.rows import Rows
from schema.kinds.unread_mark import UnreadMark
from schema.puzzle import Puzzle

GIVENS = {Cell(1, 1): 1, Cell(1, 2): 2, Cell(2, 1): 3, Cell(3, 2): 1, Cell(4, 3): 1}


@pytest.fixture
def puzzle(tmp_path):
    def make(name="p", givens=GIVENS, extra=()):
        grid = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))
        rules = (Rows(), Columns(), Boxes.regular(grid, 2, 2), *extra)
        path = tmp_path / f"{name}.puzzle.json"
        save_puzzle(Puzzle(grid=grid, givens=givens, constraints=rules), path)
        return path

    return make


UNIQUE = {Cell(1, 1): 1, Cell(2, 3): 1, Cell(3, 2): 1, Cell(1, 2): 2, Cell(2, 1): 3, Cell(3, 1): 2, Cell(1, 3): 3}


def test_several(run, puzzle):
    code, out, err = run("check", puzzle(givens={}))
    assert (code, err) == (1, "")
    assert "several solutions; not forced: 16 cells" in out


def test_none_names_the_conflict(run, puzzle):
    code, out, _ = run("check", "--json", puzzle(givens={Cell(1, 1): 1, Cell(1, 4): 1}))
    answer = json.loads(out)["puzzles"][0]
    assert code == 1
    assert answer["outcome"] == "none"
    assert [part["item"] for part in answer["conflict"]] == ["/constraints/0", "/givens/r1c1", "/givens/r1c4"]


def test_one_with_right_and_wrong_filled_grids(run, puzzle, tmp_path):
    path = puzzle(givens=UNIQUE)
    code, out, _ = run("check", "--json", path)
    answer = json.loads(out)["puzzles"][0]
    assert (code, answer["outcome"]) == (0, "one")
    right = tmp_path / "right.txt"
    right.write_text("\n".join("".join(str(answer["solution"][f"r{r}c{c}"]) for c in range(1, 5)) for r in range(1, 5)))
    assert run("check", path, "--filled", right)[0] == 0
    right.write_text("1123\n....\n....\n....\n")
    code, out, _ = run("check", path, "--filled", right)
    assert code == 1
    assert "the given in r1c2 is 2, not 1" in out


def test_an_unread_mark_is_something_to_look_at(run, puzzle):
    code, out, _ = run("check", puzzle(givens=UNIQUE, extra=[UnreadMark(shape="star", cells=(Cell(1, 1),))]))
    assert code == 1
    assert "1 mark could not be read" in out


HOSTILE = {
    "empty": b"",
    "nan": b'{"format": NaN}',
    "deep": b"[" * 100_000,
    "latin": b'{"title": "\xe9"}',
    "list": b"[]",
    "twice": b'{"format": "clueprint/1", "format": "clueprint/1"}',
}


@pytest.mark.parametrize("name", HOSTILE)
def test_bad_files_get_one_line_and_others_are_checked(run, puzzle, tmp_path, name):
    bad = tmp_path / f"{name}.puzzle.json"
    bad.write_bytes(HOSTILE[name])
    code, out, err = run("check", "--json", bad, puzzle(givens=UNIQUE))
    document = json.loads(out)
    assert code == 2
    assert len(err.splitlines()) == 1 and bad.name in err and "Traceback" not in err
    assert [answer["outcome"] for answer in document["puzzles"]] == ["one"]
    assert document["failures"][0]["puzzle"] == str(bad)
    assert document["failures"][0]["problems"]


@pytest.mark.parametrize("command", [["check"], ["draw", "-o", "out.svg"], ["compare", "page.pdf"]])
def test_a_page_in_the_place_of_a_puzzle_file_is_told_from_a_bad_one(run, tmp_path, command):
    page = tmp_path / "page.pdf"
    page.write_bytes(b"%PDF-1.7 \xe2")
    code, out, err = run(*command, page)
    assert (code, out) == (2, "")
    assert err == f"clueprint: {page}: it is a page, not a puzzle file; `clueprint read` makes one of it\n"
    for name, told in (("nowhere.puzzle.json", "there is no such file; check the name"), ("", "it is a folder")):
        code, _, err = run(*command, tmp_path / name)
        assert code == 2 and err.startswith(f"clueprint: {tmp_path / name}: {told}")


@pytest.mark.parametrize(
    "arguments",
    [
        ["check"],
        ["check", "nowhere.json"],
        ["check", "--time-limit", "nan", "x"],
        ["frob"],
        [],
        ["check", "--frob", "x"],
    ],
)
def test_usage_errors_are_one_line(run, arguments):
    code, out, err = run(*arguments)
    assert (code, out) == (2, "")
    assert len(err.splitlines()) == 1


def test_unreadable_filled_grid(run, puzzle, tmp_path):
    code, out, err = run("check", puzzle(givens=UNIQUE), "--filled", tmp_path / "nowhere.txt", "--json")
    assert code == 2 and len(err.splitlines()) == 1 and "nowhere.txt" in err
    assert json.loads(out)["puzzles"][0]["outcome"] == "one"


def test_version_loads_nothing_heavy():
    program = (
        "import sys; sys.argv = ['clueprint', '--version']\n"
        "from clueprint.cli import main\n"
        "try: main()\n"
        "finally: print(sorted({'ortools', 'cv2', 'skimage', 'pydantic', 'numpy'} & set(sys.modules)))"
    )
    root = Path(__file__).parent.parent.parent
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, cwd=root, check=False)
    assert done.stdout.splitlines()[-1] == "[]"


def test_what_is_written_by_hand_in_a_reading_is_checked_like_a_filled_grid(run, puzzle, tmp_path):
    path = puzzle(givens=UNIQUE)
    square = [[0, 0], [9, 0], [9, 9], [0, 9]]
    reading = {
        "puzzle": path.name,
        "source": {"file": "page.jpg", "sha256": "a" * 64, "page": 1},
        "frame": {"width": 90, "height": 90, "unit": "px"},
        "corners": square,
        "verdict": "query",
        "items": [],
        "queries": [],
        "pencilled": {
            "r4c4": {"digit": 1, "confidence": 0.9, "where": square},
            "r4c1": {"digit": 1, "confidence": 0.8, "where": square},
            "r4c2": {"confidence": 0.2, "where": square},
        },
    }
    written = tmp_path / "page.reading.json"
    written.write_text(json.dumps(reading))
    code, out, _ = run("check", "--json", path, "--filled", written)
    answer = json.loads(out)["puzzles"][0]
    assert code == 1
    assert any("r4c1" in broken["why"] and "r4c4" in broken["why"] for broken in answer["broken"])
    reading["pencilled"] = {"r9c9": {"digit": 1, "confidence": 0.9, "where": square}}
    written.write_text(json.dumps(reading))
    code, _, err = run("check", path, "--filled", written)
    assert code == 2
    assert "r9c9 is no cell of this grid" in err
