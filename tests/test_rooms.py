"""The rooms import one way, and nothing that a room has no business with."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
VISION = {"cv2", "skimage", "PIL", "pypdfium2", "pdfplumber", "tesserocr", "pytesseract"}
OURS = {"schema", "checker", "ingest", "recognise", "clueprint", "fixtures"}

MAY_IMPORT = {
    "schema": set(),
    "checker": {"schema"},
    "ingest": set(),
    "recognise": {"ingest", "schema", "checker"},
    "clueprint": {"schema", "checker", "ingest", "recognise"},
    "fixtures": OURS,
}


def _imports(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name.split(".")[0] for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: a relative import hides which room it leads to"
            yield (node.module or "").split(".")[0]


def _modules(room: str) -> list[Path]:
    modules = sorted((ROOT / room).rglob("*.py"))
    assert modules, room
    return modules


@pytest.mark.parametrize("room", MAY_IMPORT)
def test_rooms_import_one_way(room: str) -> None:
    wrong = [
        f"{path.relative_to(ROOT)} imports {name}"
        for path in _modules(room)
        for name in _imports(path)
        if name in OURS - MAY_IMPORT[room] - {room}
    ]
    assert wrong == []


@pytest.mark.parametrize("room", ["schema", "checker"])
def test_puzzles_are_checked_without_a_vision_library(room: str) -> None:
    wrong = [f"{p.relative_to(ROOT)} imports {n}" for p in _modules(room) for n in _imports(p) if n in VISION]
    assert wrong == []


def test_only_the_checker_knows_the_solver() -> None:
    rooms = OURS - {"fixtures"}
    users = {
        path.relative_to(ROOT).parts[0] for room in rooms for path in _modules(room) if "ortools" in _imports(path)
    }
    assert users == {"checker"}


def test_no_deep_learning_library_at_run_time() -> None:
    """Networks run by OpenCV; training alone may import torch."""
    users = {
        path.relative_to(ROOT).parts[:2]
        for room in OURS
        for path in _modules(room)
        if {"torch", "onnx", "onnxruntime"} & set(_imports(path))
    }
    assert users <= {("fixtures", "training")}
