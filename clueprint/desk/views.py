"""What the page is told of a puzzle: plain documents."""

from __future__ import annotations

from typing import Any

from checker.items import Items
from checker.prove import Proof
from checker.wording import describe
from clueprint.desk.places import cell_polygon
from clueprint.desk.sheet import Sheet
from clueprint.draw.lattice import puzzle_shapes
from clueprint.draw.primitives import Circle, Polyline, Shape, bounds_of, in_paint_order
from schema.files import constraint_document
from schema.pointers import constraint_pointer, given_pointer
from schema.puzzle import Puzzle
from schema.reading import Alternative


def sheet_view(sheet: Sheet) -> dict[str, Any]:
    """Everything that the page shows of a puzzle, but the proof and the scan."""
    puzzle, reading = sheet.state.puzzle, sheet.state.reading
    grid = puzzle.grid
    return {
        "version": sheet.version,
        "title": puzzle.title or "",
        "verdict": sheet.verdict,
        "unsaved": sheet.unsaved,
        "canUndo": sheet.can_undo,
        "source": {"file": reading.source.file, "page": reading.source.page},
        "frame": {"width": reading.frame.width, "height": reading.frame.height},
        "corners": reading.corners,
        "grid": {
            "rows": grid.rows,
            "columns": grid.columns,
            "labels": {str(digit): grid.label(digit) for digit in grid.digits},
        },
        "cells": {str(cell): cell_polygon(puzzle, reading, cell) for cell in grid.cells()},
        "items": _items(sheet),
        "queries": [query.model_dump(mode="json", exclude_none=True) for query in reading.queries],
        "drawing": drawing(puzzle),
    }


def _items(sheet: Sheet) -> list[dict[str, Any]]:
    puzzle, reading = sheet.state.puzzle, sheet.state.reading
    words = Items.of(puzzle)
    documents = {constraint_pointer(n): constraint_document(c) for n, c in enumerate(puzzle.constraints)}
    givens = {given_pointer(cell): digit for cell, digit in puzzle.givens.items()}
    found = []
    placed = {item.item: item for item in reading.items}
    for pointer in (*givens, *documents):
        item = placed.get(pointer)
        found.append(
            {
                "item": pointer,
                "words": describe(words, pointer),
                "digit": givens.get(pointer),
                "constraint": documents.get(pointer),
                "where": item and item.where,
                "confidence": item and item.confidence,
                "answered": pointer in sheet.state.answered,
                "alternatives": [_alternative(puzzle, other) for other in item.alternatives] if item else [],
            }
        )
    return found


def _alternative(puzzle: Puzzle, other: Alternative) -> dict[str, Any]:
    if isinstance(other.value, int):
        words = puzzle.grid.label(other.value)
    else:
        words = "; ".join(_in_words(constraint_document(constraint)) for constraint in other.value) or "nothing"
    return {"words": words, "confidence": other.confidence}


def _in_words(document: dict[str, Any]) -> str:
    parts = [document["kind"]]
    for name, value in document.items():
        if name != "kind":
            parts.append(f"{name} {' '.join(map(str, value)) if isinstance(value, list) else value}")
    return " ".join(parts)


def drawing(puzzle: Puzzle) -> dict[str, Any]:
    """The puzzle as shapes in cells, bottom first, each with the item that it shows."""
    shapes = puzzle_shapes(puzzle)
    return {"box": bounds_of(shapes), "shapes": [_shape(shape) for shape in in_paint_order(shapes)]}


def _shape(shape: Shape) -> dict[str, Any]:
    common: dict[str, Any] = {"item": shape.item}
    if isinstance(shape, Polyline | Circle):
        paint = shape.paint
        common |= {"stroke": paint.stroke, "fill": paint.fill, "width": paint.width, "dash": paint.dash}
        common |= {"round": paint.round}
    if isinstance(shape, Polyline):
        return {**common, "shape": "line", "points": shape.points, "closed": shape.closed}
    if isinstance(shape, Circle):
        return {**common, "shape": "circle", "centre": shape.centre, "radius": shape.radius}
    more = {"size": shape.size, "colour": shape.colour, "weight": shape.weight, "anchor": shape.anchor}
    return {**common, "shape": "text", "at": (shape.at[0], shape.baseline), "text": shape.text, **more}


def proof_view(proof: Proof | None) -> dict[str, Any]:
    """How many solutions the puzzle has."""
    if proof is None:
        return {"outcome": "working"}
    return {
        "outcome": proof.outcome,
        "differ": [str(cell) for cell in proof.differ],
        "conflict": [{"item": suspect.item, "why": suspect.why} for suspect in proof.conflict],
        "note": proof.note,
    }
