"""JSON Schemas (draft 2020-12) of the puzzle file and of the reading: `python -m schema.generate` writes them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from pydantic import BaseModel

from schema.files import pretty
from schema.puzzle import Puzzle
from schema.reading import Reading
from schema.whole import write_whole

_DRAFT = "https://json-schema.org/draft/2020-12/schema"

DOCUMENTS: dict[str, type[BaseModel]] = {"puzzle.schema.json": Puzzle, "reading.schema.json": Reading}
"""The generated files of this folder."""


def schema_text(model: type[BaseModel]) -> str:
    """A model's JSON Schema as it stands in its file."""
    schema = _tidied(model.model_json_schema(mode="validation"))
    if model is Puzzle:  # in code a puzzle's format goes without saying, in a file it must stand
        schema["required"] = ["format", *schema["required"]]
    return pretty({"$schema": _DRAFT, **schema}) + "\n"


def main() -> None:
    """Writes every schema beside this module."""
    for name, model in DOCUMENTS.items():
        write_whole(Path(__file__).with_name(name), schema_text(model).encode("utf-8"))


def _tidied(node: Any) -> Any:
    """A schema without pydantic's titles and the OpenAPI word `discriminator`. A constraint's `kind`, which has a
    default in code, must stand in a file."""
    if isinstance(node, list):
        return [_tidied(item) for item in node]
    if not isinstance(node, dict):
        return node
    tidy = {
        key: _named(value) if key in ("properties", "$defs") else _tidied(value)
        for key, value in node.items()
        if not (key == "discriminator" or (key == "title" and isinstance(value, str)))
    }
    if "kind" in tidy.get("properties", ()):
        tidy["required"] = ["kind", *tidy.get("required", ())]
    return tidy


def _named(parts: dict[str, Any]) -> dict[str, Any]:
    """Parts by name, where `title` and `discriminator` are names like any other."""
    return {name: _tidied(part) for name, part in parts.items()}


if __name__ == "__main__":
    main()
