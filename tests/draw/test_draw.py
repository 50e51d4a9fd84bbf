"""Drawn puzzles are valid files in each format, show everything, and are written whole or not at all."""

from __future__ import annotations

import io
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree as ET

import numpy as np
import pdfplumber
import pytest
from drawn_puzzles import harbour, sample_puzzle
from PIL import Image

from clueprint.draw import FORMATS, Text, draw, picture, to_pdf, to_png, to_svg, to_text
from clueprint.errors import ClueprintError
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds import KINDS
from schema.kinds.base import Constraint

SVG = "{http://www.w3.org/2000/svg}"
GRID_ONLY = ("rows", "columns", "boxes", "all-marked", "knight-apart", "king-apart", "neighbours-not-consecutive")
"""Kinds that draw nothing, or lattice lines only."""


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: str(kind.model_fields["kind"].default))
def test_every_kind_is_drawn_in_every_format(kind: type[Constraint], tmp_path: Path) -> None:
    puzzle = sample_puzzle(kind)
    for suffix in FORMATS:
        draw(puzzle, tmp_path / f"drawn{suffix}")
    assert ET.parse(tmp_path / "drawn.svg").getroot().tag == f"{SVG}svg"
    with pdfplumber.open(tmp_path / "drawn.pdf") as document:
        assert len(document.pages) == 1
    with Image.open(tmp_path / "drawn.png") as image:
        assert image.format == "PNG"
        assert np.asarray(image.convert("L")).min() < 60
    items = {shape.item for shape in picture(puzzle).shapes}
    if puzzle.constraints[0].kind not in GRID_ONLY:
        assert "/constraints/0" in items


def test_svg_holds_each_given_at_its_place() -> None:
    drawn = picture(harbour())
    texts = [e for e in ET.fromstring(to_svg(drawn)).iter(f"{SVG}text") if e.text == "9"]
    given = next(s for s in drawn.shapes if isinstance(s, Text) and s.item == "/givens/r4c4")
    assert [(float(t.get("x", 0)), t.get("text-anchor")) for t in texts] == [
        (pytest.approx(given.at[0], abs=0.001), "middle")
    ]


def test_pdf_text_stands_where_the_picture_says() -> None:
    drawn = picture(harbour())
    given = next(s for s in drawn.shapes if isinstance(s, Text) and s.item == "/givens/r1c2")
    with pdfplumber.open(io.BytesIO(to_pdf(drawn))) as document:
        chars = [c for c in document.pages[0].chars if c["text"] == "5" and c["size"] > 15]
    assert len(chars) == 1
    assert (chars[0]["x0"] + chars[0]["x1"]) / 2 == pytest.approx(given.at[0], abs=0.1)


def test_words_stay_on_the_sheet() -> None:
    long = harbour(rules_text="Every row and column holds each digit. " * 120 + "q" * 400, title="Lights " * 30)
    drawn = picture(long)
    with pdfplumber.open(io.BytesIO(to_pdf(drawn))) as document:
        page = document.pages[0]
        assert max(c["x1"] for c in page.chars) < drawn.width - 40
        assert max(c["bottom"] for c in page.chars) < drawn.height
        assert sum(c["text"] == "q" for c in page.chars) == 400


def test_boxes_are_told_by_thicker_lines() -> None:
    drawn = picture(harbour())
    pixels = np.asarray(Image.open(io.BytesIO(to_png(drawn, 144))).convert("L")) < 128
    lines = [s for s in drawn.shapes if s.layer == "grid"]
    left, top, right, bottom = lines[0].bounds()
    for shape in lines[1:]:
        box = shape.bounds()
        left, top, right, bottom = min(left, box[0]), min(top, box[1]), max(right, box[2]), max(bottom, box[3])
    row = pixels[round((top + (bottom - top) * 2.3 / 9) * 2)]
    cell = (right - left) / 9 * 2

    def thickness(line: int) -> int:
        at = round(left * 2 + line * cell)
        return int(row[at - 8 : at + 8].sum())

    assert thickness(3) > thickness(2) > 0
    assert thickness(6) > thickness(7) > 0


def test_a_second_clue_at_one_end_stands_further_out() -> None:
    heights = {s.text: s.at[1] for s in picture(harbour()).shapes if isinstance(s, Text) and s.text in ("23", "12")}
    assert heights["12"] < heights["23"]


def test_same_puzzle_same_bytes() -> None:
    assert all(render(harbour()) == render(harbour()) for render in FORMATS.values())


def test_text_form() -> None:
    assert to_text(harbour()).splitlines() == [".5.......", *["........."] * 2, "...9.....", *["........."] * 5]


def test_text_form_sets_blanks_between_long_labels() -> None:
    grid = Grid(rows=2, columns=2, digits=(9, 10), labels={})
    puzzle = harbour(grid=grid, givens={Cell(1, 1): 9, Cell(2, 2): 10}, constraints=())
    assert [line.split() for line in to_text(puzzle).splitlines()] == [["9", "."], [".", "10"]]


def test_characters_beyond_latin_are_embedded() -> None:
    drawn = picture(harbour(title="Ночной порт"))
    with pdfplumber.open(io.BytesIO(to_pdf(drawn))) as document:
        assert "Ночной порт" in document.pages[0].extract_text()


def test_a_character_without_a_font_is_named(tmp_path: Path) -> None:
    with pytest.raises(ClueprintError, match=r"out\.pdf.*U\+6F22"):
        draw(harbour(title="漢"), tmp_path / "out.pdf")
    draw(harbour(title="漢"), tmp_path / "out.svg")
    assert "漢" in (tmp_path / "out.svg").read_text(encoding="utf-8")


def test_markup_in_words_is_only_text() -> None:
    title = "<script> & ]]> \x0b"
    root = ET.fromstring(to_svg(picture(harbour(title=title))))
    assert next(root.iter(f"{SVG}title")).text == "<script> & ]]> \ufffd"


def test_a_failed_drawing_leaves_the_old_file(tmp_path: Path) -> None:
    old = tmp_path / "old.pdf"
    old.write_bytes(b"old")
    with pytest.raises(ClueprintError):
        draw(harbour(title="漢"), old)
    assert old.read_bytes() == b"old"
    with pytest.raises(ClueprintError, match="cannot be written"):
        draw(harbour(), tmp_path / "nowhere" / "out.pdf")
    (tmp_path / "folder.pdf").mkdir()
    with pytest.raises(ClueprintError, match="cannot be written"):
        draw(harbour(), tmp_path / "folder.pdf")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["folder.pdf", "old.pdf"]


@pytest.mark.parametrize(
    ("content", "out"),
    [("{", "out.svg"), ("{}", "out.svg"), (None, "out.svg"), ("good", "out.doc"), ("good", "nowhere/out.svg")],
)
def test_the_command_says_in_one_line_why_not(content: str | None, out: str, tmp_path: Path) -> None:
    source = tmp_path / "in.puzzle.json"
    if content is not None:
        source.write_text(harbour().model_dump_json() if content == "good" else content, encoding="utf-8")
    command = [sys.executable, "-m", "clueprint", "draw", str(source), "-o", str(tmp_path / out)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout, len(done.stderr.splitlines())) == (2, "", 1)
    assert "internal error" not in done.stderr
    assert ("in.puzzle.json" if content != "good" else "out.") in done.stderr
    assert not (tmp_path / out).exists()


def test_a_folder_is_no_file_to_draw_into(tmp_path: Path) -> None:
    (tmp_path / "folder.svg").mkdir()
    with pytest.raises(ClueprintError, match="name a file, not a folder"):
        draw(harbour(), tmp_path / "folder.svg")


def test_the_command_draws(tmp_path: Path) -> None:
    source, out = tmp_path / "in.puzzle.json", tmp_path / "out.txt"
    source.write_text(harbour().model_dump_json(exclude_none=True), encoding="utf-8")
    command = [sys.executable, "-m", "clueprint", "draw", str(source), "-o", str(out)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
    assert out.read_text(encoding="utf-8") == to_text(harbour())
