"""Cells and how they are written: `r3c7` is row 3 from the top, column 7 from the left, counted from 1."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

_PATTERN = re.compile(r"r([1-9][0-9]?)c([1-9][0-9]?)")


@dataclass(frozen=True, order=True, slots=True)
class Cell:
    """One cell of a grid; rows and columns count from 1."""

    row: int
    column: int

    def __str__(self) -> str:
        return f"r{self.row}c{self.column}"

    @classmethod
    def parse(cls, text: object) -> Cell:
        """Read `r3c7`. Raises ValueError when the text is anything else."""
        if isinstance(text, Cell):
            return text
        match = _PATTERN.fullmatch(text) if isinstance(text, str) else None
        if match is None:
            raise ValueError(f"{text!r} is no cell; write a cell as r3c7")
        return cls(int(match[1]), int(match[2]))

    def touches(self, other: Cell) -> bool:
        """Whether the two cells share a side or a corner (a cell does not touch itself)."""
        return max(abs(self.row - other.row), abs(self.column - other.column)) == 1

    def beside(self, other: Cell) -> bool:
        """Whether the two cells share a side."""
        return abs(self.row - other.row) + abs(self.column - other.column) == 1

    def stepped(self, rows: int, columns: int) -> Cell:
        """The cell that many rows down and columns right; it may lie off the grid."""
        return Cell(self.row + rows, self.column + columns)

    @property
    def centre(self) -> tuple[float, float]:
        """The middle of the cell as (x, y) in cells: r1c1 covers [0, 1] x [0, 1]."""
        return self.column - 0.5, self.row - 0.5

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(
            cls.parse, serialization=core_schema.plain_serializer_function_ser_schema(str)
        )

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        return {"type": "string", "pattern": f"^{_PATTERN.pattern}$"}
