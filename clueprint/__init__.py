"""clueprint reads number puzzles from pages and proves them. This package alone is public API.

    from pathlib import Path
    import clueprint

    outcome = clueprint.read_sources([Path("page.pdf")], into=Path("read"))
    puzzle = clueprint.load_puzzle(Path("read/page-p1-1.puzzle.json"))
    proof = clueprint.prove(puzzle)
    comparison = clueprint.compare_proof(Path("proof.pdf"), puzzle)

Names are imported on first use, so that `import clueprint` costs next to nothing.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from checker.filled import Examination, examine, read_filled
    from checker.prove import Proof, prove
    from clueprint.compare import Comparison, compare_proof
    from clueprint.draw import draw as draw_puzzle
    from clueprint.errors import ClueprintError
    from clueprint.reading import Outcome, read_sources
    from schema.cells import Cell
    from schema.files import BadFile, load_puzzle, save_puzzle
    from schema.puzzle import Puzzle
    from schema.reading import Reading, load_reading, save_reading

__all__ = [
    "BadFile",
    "Cell",
    "ClueprintError",
    "Comparison",
    "Examination",
    "Outcome",
    "Proof",
    "Puzzle",
    "Reading",
    "compare_proof",
    "draw_puzzle",
    "examine",
    "load_puzzle",
    "load_reading",
    "prove",
    "read_filled",
    "read_sources",
    "save_puzzle",
    "save_reading",
]

_HOMES = {
    "BadFile": "schema.files:BadFile",
    "Cell": "schema.cells:Cell",
    "ClueprintError": "clueprint.errors:ClueprintError",
    "Comparison": "clueprint.compare:Comparison",
    "Examination": "checker.filled:Examination",
    "Outcome": "clueprint.reading:Outcome",
    "Proof": "checker.prove:Proof",
    "Puzzle": "schema.puzzle:Puzzle",
    "Reading": "schema.reading:Reading",
    "compare_proof": "clueprint.compare:compare_proof",
    "draw_puzzle": "clueprint.draw:draw",
    "examine": "checker.filled:examine",
    "load_puzzle": "schema.files:load_puzzle",
    "load_reading": "schema.reading:load_reading",
    "prove": "checker.prove:prove",
    "read_filled": "checker.filled:read_filled",
    "read_sources": "clueprint.reading:read_sources",
    "save_puzzle": "schema.files:save_puzzle",
    "save_reading": "schema.reading:save_reading",
}


def __getattr__(name: str) -> object:
    home = _HOMES.get(name)
    if home is None:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    module, _, attribute = home.partition(":")
    value: object = getattr(import_module(module), attribute)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
