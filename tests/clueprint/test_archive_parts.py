"""The parts of the archive that need no page to be read: places, likeness, what is walked, pace and times."""

from __future__ import annotations

from pathlib import Path

import pytest

from clueprint.archive.likeness import likeness
from clueprint.archive.names import place_of
from clueprint.archive.progress import WINDOW, Pace
from clueprint.archive.report import duration
from clueprint.archive.sources import common_folder, walked
from schema.cells import Cell
from schema.kinds.cage import Cage
from schema.kinds.palindrome import Palindrome
from tests.clueprint.reading_pages import OTHER, blank, small

BASE = Path("/vol/scans")


def place(path: str, taken: dict[str, str] | None = None, base: Path = BASE) -> str:
    held = {name: Path(holder) for name, holder in (taken or {}).items()}
    return place_of(Path(path), base, held.get)


def test_folders_are_mirrored_below_what_was_named():
    assert place("/vol/scans/1998/a.b.png") == "1998/a.b"
    assert place("/vol/scans/a.png") == "a"
    assert place("/vol/scans/noending") == "noending"


def test_no_source_takes_the_place_of_another():
    beside, elsewhere = {"1998/a": "/vol/scans/1998/a.png"}, {"1998/a": "/other/1998/a.png"}
    assert place("/vol/scans/1998/a.pdf", beside) == "1998/a.pdf"
    assert place("/vol/scans/1998/a.pdf", beside | {"1998/a.pdf": "/x"}) == "1998/a.pdf~2"
    assert place("/vol/scans/1998/a.png", elsewhere) == "scans/1998/a"


def test_names_that_no_file_system_takes_everywhere():
    long = "ä" * 120
    short = place(f"/vol/scans/{long}.png")
    assert len(f"{short}-p2000-99.reading.json.before-99".encode()) <= 255
    assert short != place(f"/vol/scans/{long}ö.png")
    assert place('/vol/scans/what?/"a"\n.png') == "what_/_a__"


def test_the_common_folder(tmp_path):
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "a.png").write_bytes(b"x")
    assert common_folder([tmp_path / "one"]) == tmp_path / "one"
    assert common_folder([tmp_path / "one" / "a.png"]) == tmp_path / "one"
    assert common_folder([tmp_path / "one", tmp_path / "two" / "a.png"]) == tmp_path


def test_what_is_walked(tmp_path):
    into = tmp_path / "out"
    for folder in (into, tmp_path / "deep" / "er", tmp_path / ".cache"):
        folder.mkdir(parents=True)
        blank().save(folder / "a.png")
    blank().save(tmp_path / "deep" / "no-ending", format="TIFF")
    (tmp_path / "notes.txt").write_text("no page")
    (tmp_path / "loop").symlink_to(tmp_path, target_is_directory=True)
    found = [str(path.relative_to(tmp_path)) for path in walked([tmp_path, tmp_path / "nowhere.png"], into)]
    assert found == ["deep/no-ending", "deep/er/a.png", "nowhere.png"]


def puzzle_with(*constraints):
    puzzle = small()
    parts = {name: getattr(puzzle, name) for name in type(puzzle).model_fields}
    return type(puzzle)(**{**parts, "title": "Another title", "constraints": constraints})


def test_likeness_is_of_what_the_puzzle_is():
    cells = tuple(map(Cell.parse, ("r1c1", "r1c2", "r2c2")))
    line, cage = Palindrome(path=cells), Cage(cells=cells, value=7)
    same = puzzle_with(Cage(cells=cells[::-1], value=7), Palindrome(path=cells[::-1]))
    assert likeness(puzzle_with(line, cage)) == likeness(same)
    others = [puzzle_with(line), puzzle_with(line, Cage(cells=cells, value=8)), small(), small(OTHER)]
    assert len({likeness(puzzle) for puzzle in (same, *others)}) == 5


def test_the_pace_is_that_of_late():
    pace = Pace()
    pace.mark(0, 0)
    assert pace.per_hour is None and pace.told(10) == ""
    pace.mark(WINDOW, 10)
    assert pace.per_hour == pytest.approx(60)
    pace.mark(WINDOW + 300, 110)
    assert pace.per_hour == pytest.approx(100 / 300 * 3600)
    assert pace.told(1200).endswith("1,200 pages an hour, 60 min left")


@pytest.mark.parametrize(
    ("seconds", "words"),
    [(8, "8 s"), (89, "89 s"), (600, "10 min"), (7260, "2 h 1 min"), (200_000, "2 days 7 h")],
)
def test_times_as_people_say_them(seconds, words):
    assert duration(seconds) == words
