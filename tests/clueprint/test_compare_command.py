"""`clueprint compare` on real pages: its document, its marked proofs, its report, and bad input."""

from __future__ import annotations

import json
import re
from html.parser import HTMLParser

import numpy as np
import pikepdf
import pypdfium2
import pytest
from PIL import Image, ImageDraw

from clueprint.draw import draw
from schema.cells import Cell
from schema.files import save_puzzle
from tests.clueprint.reading_pages import page, picture, small

MISPRINT = {**{str(c): d for c, d in small().givens.items()}, "r2c3": 4}
"""One given of the source is printed otherwise."""


@pytest.fixture
def source(tmp_path):
    path = tmp_path / "low-tide.puzzle.json"
    save_puzzle(small(), path)
    return path


def compared(run, *arguments):
    status, out, err = run("compare", *arguments, "--json")
    return status, json.loads(out), err


def test_a_true_proof_is_the_same(run, tmp_path, source):
    status, document, err = compared(run, page(tmp_path, "proof.pdf"), source)
    assert (status, err) == (0, "") and len(document.pop("corners")) == 4
    assert document == {"verdict": "same", "differences": [], "queries": [], "page": 1}


def test_the_document(run, tmp_path, source):
    status, document, err = compared(run, page(tmp_path, "proof.pdf", MISPRINT), source)
    assert (status, err) == (1, "")
    (difference,) = document["differences"]
    where = difference.pop("where")
    assert difference == {
        "item": "/givens/r2c3",
        "change": "changed",
        "expected": 1,
        "found": 4,
        "page": 1,
        "why": "the proof has 4 in r2c3, the source 1",
        "note": "the puzzle as the proof prints it has no solution",
    }
    assert document["verdict"] == "different" and document["queries"] == []
    corners = np.array(document["corners"])
    cell = (corners[1, 0] - corners[0, 0]) / 4
    assert np.allclose((np.mean(where, axis=0) - corners[0]) / cell, [2.5, 1.5], atol=0.1)


def test_several_pages_are_searched(run, tmp_path, source):
    other = small({"r1c1": 4, "r4c4": 3, "r2c2": 1}).model_copy(update={"title": "High Tide"})
    draw(other, tmp_path / "other.pdf")
    whole = pikepdf.open(tmp_path / "other.pdf")
    with pikepdf.open(page(tmp_path, "proof.pdf", MISPRINT)) as second:
        whole.pages.extend(second.pages)
    whole.save(tmp_path / "issue.pdf")
    _, document, _ = compared(run, tmp_path / "issue.pdf", source)
    assert document["page"] == 2 and [d["page"] for d in document["differences"]] == [2]


def test_a_given_missing_from_a_scan_is_a_difference_only_on_blank_paper(run, tmp_path, source):
    fewer = {cell: digit for cell, digit in MISPRINT.items() if cell != "r2c3"}
    proof = page(tmp_path, "proof.png", fewer)
    _, document, _ = compared(run, proof, source)
    assert [(d["item"], d["change"]) for d in document["differences"]] == [("/givens/r2c3", "missing")]
    corners = np.array(document["corners"])
    cell = (corners[1, 0] - corners[0, 0]) / 4
    x, y = corners[0] + cell * np.array([2.5, 1.5])
    with Image.open(proof) as image:
        pen = ImageDraw.Draw(image)
        pen.line((x - cell / 4, y + cell / 4, x + cell / 4, y - cell / 4), fill="black", width=5)
        image.save(proof)
    _, document, _ = compared(run, proof, source)
    assert document["differences"] == [] and "/givens/r2c3" in {query["item"] for query in document["queries"]}


# ------------------------------------------------------------------------------------------------ marked proofs


def as_set(pdf, rotation, crop, unit):
    """The page turned, cropped and scaled as a typesetter's program may leave it; its content stays where it is."""
    with pikepdf.open(pdf, allow_overwriting_input=True) as document:
        first = document.pages[0]
        first.obj.Rotate = rotation
        if crop:
            x0, y0, x1, y1 = map(float, first.mediabox)
            first.obj.CropBox = pikepdf.Array([x0 + 20, y0 + 30, x1 - 10, y1 - 5])
        if unit != 1:
            first.obj.UserUnit = unit
        document.save()
    return pdf


@pytest.mark.parametrize(
    ("rotation", "crop", "unit"), [(0, False, 1), (90, True, 1), (180, True, 2), (270, False, 1.5)]
)
def test_annotations_stand_on_what_they_are_about(run, tmp_path, source, rotation, crop, unit):
    """Content stays where it is in user space whatever the page's frame, and so must annotations: the cell r2c3 as we
    draw it lies, in user space, where it lies on the upright page, counted from its foot."""
    proof = as_set(page(tmp_path, "proof.pdf", MISPRINT), rotation, crop, unit)
    marked = tmp_path / "marked.pdf"
    status, document, _ = compared(run, proof, source, "--marked", marked)
    assert status == 1 and len(document["differences"]) == 1
    with pikepdf.open(marked) as written:
        (note,) = written.pages[0].obj.Annots
        assert str(note.Contents).startswith("1 changed: the proof has 4 in r2c3") and str(note.T) == "clueprint"
        vertices = np.array([float(v) for v in note.Vertices]).reshape(-1, 2)
        rectangle = [float(v) for v in note.Rect]
        style, picture_of_it = note.BS, note.AP.N
        assert float(style.W) > 0 and "/BBox" in picture_of_it
        assert written.pages[0].obj.get("/Rotate", 0) == rotation
    upright = _cell_box(tmp_path, Cell(2, 3))
    middle = vertices.mean(axis=0)
    assert upright[0] < middle[0] < upright[2] and upright[1] < middle[1] < upright[3]
    assert np.ptp(vertices, axis=0).max() < upright[2] - upright[0]
    assert rectangle[0] < vertices[:, 0].min() and rectangle[3] > vertices[:, 1].max()


def _cell_box(folder, cell):
    """A cell in user space of a page as drawn: found by the ink of its frame in a picture of that page."""
    draw(small(), folder / "plain.pdf")
    document = pypdfium2.PdfDocument(folder / "plain.pdf")
    height = document[0].get_size()[1]
    dark = document[0].render(scale=2).to_numpy()[..., 0] < 128
    document.close()
    columns, rows = np.nonzero(dark.sum(axis=0) > 150)[0], np.nonzero(dark.sum(axis=1) > 150)[0]
    left, right, top, bottom = columns[0] / 2, columns[-1] / 2, rows[0] / 2, rows[-1] / 2
    wide, high = (right - left) / 4, (bottom - top) / 4
    x0, y0 = left + (cell.column - 1) * wide, top + (cell.row - 1) * high
    return x0, height - y0 - high, x0 + wide, height - y0


def test_a_marked_page_shows_its_frames(run, tmp_path, source):
    proof, marked = page(tmp_path, "proof.pdf", MISPRINT), tmp_path / "marked.pdf"
    compared(run, proof, source, "--marked", marked)
    before, after = (_shown(path) for path in (proof, marked))
    changed = np.abs(before.astype(int) - after).max(axis=2) > 60
    blue = (after[..., 2].astype(int) - after[..., 0] > 60) & changed
    assert blue.sum() > 100  # drawn by any viewer that shows annotations


def _shown(path):
    document = pypdfium2.PdfDocument(path)
    image = document[0].render(scale=2, rev_byteorder=True).to_numpy()[..., :3].copy()
    document.close()
    return image


def test_a_marked_image(run, tmp_path, source):
    proof, marked = page(tmp_path, "proof.png", MISPRINT), tmp_path / "marked.png"
    _, document, _ = compared(run, proof, source, "--marked", marked)
    (difference,) = document["differences"]
    with Image.open(proof) as plain, Image.open(marked) as framed:
        assert framed.width == plain.width and framed.height > plain.height + 20  # the strip that explains
        before, after = (np.asarray(i.convert("RGB")).astype(int) for i in (plain, framed))
    spots = np.argwhere(np.abs(before - after[: before.shape[0]]).max(axis=2) > 60)
    (x0, y0), (x1, y1) = np.min(difference["where"], axis=0), np.max(difference["where"], axis=0)
    assert abs(spots[:, 1].min() - x0) < 15 and abs(spots[:, 0].max() - y1) < 15
    assert spots[:, 0].min() < y0 and spots[:, 1].max() >= x1 - 15


# ------------------------------------------------------------------------------------------------ report


class Outside(HTMLParser):
    """Collects what a page loads or links to, and its identifiers."""

    def __init__(self):
        super().__init__()
        self.links: list[str] = []
        self.ids: list[str] = []
        self.tags: list[str] = []

    def handle_starttag(self, tag, attributes):
        self.tags.append(tag)
        for name, value in attributes:
            if name in ("href", "src", "data", "action"):
                self.links.append(value or "")
            if name == "id":
                self.ids.append(value or "")


def test_a_report_needs_nothing_else(run, tmp_path, source):
    report = tmp_path / "report.html"
    status, document, _ = compared(run, page(tmp_path, "proof.pdf", MISPRINT), source, "--report", report)
    text = report.read_text(encoding="utf-8")
    assert status == 1 and document["differences"][0]["why"] in text
    seen = Outside()
    seen.feed(text)
    assert all(link.startswith(("#", "data:image/")) for link in seen.links)
    assert {link[1:] for link in seen.links if link.startswith("#")} <= set(seen.ids)
    assert len(seen.ids) == len(set(seen.ids)) and "script" not in seen.tags
    assert seen.tags.count("svg") == 2 and 'lang="en"' in text
    assert not re.search(r"url\(|@import", text)


def test_texts_of_a_report_are_escaped(run, tmp_path, source):
    puzzle = small(MISPRINT).model_copy(update={"title": "<b>Low</b> & Tide"})
    draw(puzzle, tmp_path / "proof.pdf")
    report = tmp_path / "report.html"
    run("compare", tmp_path / "proof.pdf", source, "--report", report)
    seen = Outside()
    seen.feed(report.read_text(encoding="utf-8"))
    assert "b" not in seen.tags


# ------------------------------------------------------------------------------------------------ bad input


@pytest.mark.parametrize(
    ("proof", "source", "options", "told"),
    [
        ("absent.pdf", "good", (), "absent.pdf: there is no such file"),
        ("proof.pdf", "absent.puzzle.json", (), "absent.puzzle.json: there is no such file"),
        ("good.puzzle.json", "proof.pdf", (), "name the proof first"),
        ("proof.pdf", "good", ("--marked", "out.png"), "end the name in .pdf"),
        ("proof.png", "good", ("--marked", "out.pdf"), "end the name in .png"),
        ("proof.pdf", "good", ("--report", "out.txt"), "end the name in .html"),
        ("proof.pdf", "good", ("--report", "nowhere/out.html"), "there is no folder"),
        ("rubbish.pdf", "good", ("--report", "out.html"), "rubbish.pdf: "),
        ("proof.pdf", "good", ("--marked", "proof.pdf"), "it would overwrite"),
    ],
)
def test_bad_input_is_one_line_and_nothing_is_written(run, tmp_path, monkeypatch, proof, source, options, told):
    monkeypatch.chdir(tmp_path)
    save_puzzle(small(), tmp_path / "good")
    page(tmp_path, "proof.pdf")
    picture(tmp_path).save(tmp_path / "proof.png")
    (tmp_path / "rubbish.pdf").write_bytes(b"%PDF-1.7 no more than this")
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    status, out, err = run("compare", proof, source, *options)
    assert (status, out) == (2, "") and err.count("\n") == 1 and told in err
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == before
