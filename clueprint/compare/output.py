"""The files that a comparison leaves: checked before anything is read, made before any is written."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from clueprint.compare.marked_image import marked_png
from clueprint.compare.marked_pdf import marked_pdf
from clueprint.compare.report import report as report_of
from clueprint.compare.result import Comparison
from clueprint.draw.files import write_drawing
from clueprint.errors import ClueprintError
from schema.puzzle import Puzzle

_PDF_HEADER_WITHIN = 1024
"""Readers accept a PDF whose header comes after some bytes of rubbish (ISO 32000-1, annex H, note 13)."""


def check_names(proof: Path, source: Path, marked: Path | None, report: Path | None) -> None:
    """Raises ClueprintError for names that cannot be written as what they say, or that would overwrite the input."""
    if marked is not None:
        wanted = ".pdf" if is_pdf(proof) else ".png"
        if marked.suffix.lower() != wanted:
            what = "a PDF" if wanted == ".pdf" else "an image"
            raise ClueprintError(f"{marked}: the proof is {what}", f"end the name in {wanted}")
    if report is not None and report.suffix.lower() not in (".html", ".htm"):
        raise ClueprintError(f"{report}: a report is an HTML page", "end the name in .html")
    outputs = [path.absolute() for path in (marked, report) if path is not None]
    for path in outputs:
        if path in (proof.absolute(), source.absolute()):
            raise ClueprintError(f"{path}: it would overwrite what is compared", "name another file")
        if not path.parent.is_dir():
            raise ClueprintError(f"{path}: there is no folder {path.parent}", "make it, or name another")


def is_pdf(path: Path) -> bool:
    """Whether a file is a PDF by its content. False where it cannot be opened: reading it will say why."""
    try:
        with path.open("rb") as stream:
            return b"%PDF-" in stream.read(_PDF_HEADER_WITHIN)
    except OSError:
        return False


def rendered(
    proof: Path, source: Path, puzzle: Puzzle, comparison: Comparison, marked: Path | None, report: Path | None
) -> dict[Path, bytes]:
    """The content of each file that was asked for. Raises ClueprintError where one cannot be made."""
    files: dict[Path, bytes] = {}
    if marked is not None:
        if is_pdf(proof):
            files[marked] = marked_pdf(proof, comparison)
        elif comparison.shown is not None:
            files[marked] = marked_png(comparison.shown, comparison)
    if report is not None:
        files[report] = report_of(puzzle, (proof.name, source.name), comparison, comparison.shown)
    return files


def write_all(files: Mapping[Path, bytes]) -> None:
    """Write each file whole or not at all. Raises ClueprintError."""
    for path, content in files.items():
        write_drawing(path, content)
