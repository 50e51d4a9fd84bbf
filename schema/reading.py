"""The reading: how a puzzle was read off a page. It stands beside the puzzle file, under the same stem."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, ValidationError

from schema.cells import Cell
from schema.faults import faults_of
from schema.files import BadDocument, BadFile, constraint_document, decoded, pretty, read_checked
from schema.pointers import Problem
from schema.puzzle import AnyConstraint
from schema.whole import write_whole

_ALTERNATIVE = re.compile(r"/items/\d+/alternatives/\d+/value")
_PLACES = 2
"""Decimals of a coordinate: a hundredth of a pixel or of a point is finer than anything that is printed."""

Coordinate = Annotated[float, Field(allow_inf_nan=False), AfterValidator(lambda value: round(value, _PLACES))]
Point = tuple[Coordinate, Coordinate]
"""[x, y] in the page as a viewer shows it, origin top left, x rightwards, y downwards, in the frame's unit."""
Polygon = Annotated[tuple[Point, ...], Field(min_length=3)]
Confidence = Annotated[float, Field(ge=0, le=1), AfterValidator(lambda value: round(value, 6))]
Pointer = Annotated[str, Field(pattern=r"^(/([^/~]|~[01])*)*$")]
"""A JSON Pointer (RFC 6901) into the puzzle file."""
Verdict = Literal["clean", "query", "faulty"]
How = Literal["vector", "ocr", "shape", "text", "house-style", "inferred"]


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)


class Source(_Part):
    """The file that the page came from; pages count from 1."""

    file: Annotated[str, Field(min_length=1)]
    sha256: Annotated[str, Field(pattern="^[0-9a-f]{64}$")]
    page: Annotated[int, Field(ge=1)]


class Frame(_Part):
    """The page as a viewer shows it: pixels after EXIF orientation, or points (1/72 inch) after crop box, rotation and
    UserUnit."""

    width: Annotated[float, Field(gt=0, allow_inf_nan=False)]
    height: Annotated[float, Field(gt=0, allow_inf_nan=False)]
    unit: Literal["px", "pt"]


class Alternative(_Part):
    """What else an item may be: a digit, or the constraints that would stand for it; an empty list is nothing."""

    value: int | tuple[AnyConstraint, ...]
    confidence: Confidence


class Item(_Part):
    """One given, outside clue or drawn constraint: where it stands on the page and how sure it is."""

    item: Pointer
    where: Polygon
    confidence: Confidence
    how: How
    alternatives: tuple[Alternative, ...] = ()


class Query(_Part):
    """Something that a person must look at: an item, or a place on the page where there is none, or both. A query of
    neither is about the puzzle as a whole, such as a proof that found two solutions."""

    item: Pointer | None = None
    where: Polygon | None = None
    why: Annotated[str, Field(min_length=1)]


class Pencilled(_Part):
    """What somebody has written into a cell by hand; `digit` is absent where it cannot be told."""

    digit: int | None = None
    confidence: Confidence
    where: Polygon


class Reading(BaseModel):
    """How one grid of one page was read. Keys that this version does not know are kept as they are."""

    model_config = ConfigDict(frozen=True, extra="allow", strict=True)

    format: Literal["clueprint-reading/1"] = "clueprint-reading/1"
    puzzle: Annotated[str, Field(min_length=1)] | None = None
    source: Source
    frame: Frame
    corners: Annotated[tuple[Point, ...], Field(min_length=4, max_length=4)]
    verdict: Verdict
    items: tuple[Item, ...]
    queries: tuple[Query, ...]
    pencilled: dict[Cell, Pencilled] = Field(default_factory=dict)
    """Handwriting by cell: no part of the puzzle."""

    def problems(self) -> Iterator[Problem]:
        """What does not fit together."""
        if self.verdict == "faulty" and self.puzzle is not None:
            yield Problem("/puzzle", "a faulty reading has no puzzle file")
        if self.verdict != "faulty" and self.puzzle is None:
            yield Problem("", f"a reading with verdict {self.verdict!r} names its puzzle file")
        if self.verdict == "clean" and self.queries:
            yield Problem("/verdict", "a reading with queries is not clean")
        named: dict[str, int] = {}
        for index, item in enumerate(self.items):
            if named.setdefault(item.item, index) != index:
                yield Problem(f"/items/{index}/item", f"{item.item} has an entry already: /items/{named[item.item]}")


def load_reading(path: Path) -> Reading:
    """The reading in a file. Raises BadFile, which holds every problem."""
    return read_checked(path, reading_from, "reading")


def reading_from(data: bytes) -> Reading:
    """The reading in the bytes of its file. Raises BadDocument."""
    decoded(data)
    try:
        reading = Reading.model_validate_json(data)
    except ValidationError as error:
        raise BadDocument(_told_once(faults_of(error))) from None
    if problems := list(reading.problems()):
        raise BadDocument(problems)
    return reading


def _told_once(problems: list[Problem]) -> list[Problem]:
    """Problems with one for each alternative's value, of which pydantic tells what is wrong with it as a digit and
    what is wrong with it as constraints."""
    told: dict[Problem, None] = {}
    for problem in problems:
        value = _ALTERNATIVE.match(problem.at)
        told[Problem(value[0], "neither a digit nor a list of constraints") if value else problem] = None
    return list(told)


def save_reading(reading: Reading, path: Path) -> None:
    """Writes a reading whole or not at all. Raises BadFile for one that does not fit together, and OSError."""
    if problems := list(reading.problems()):
        raise BadFile(path, problems, "reading")
    write_whole(path, reading_text(reading).encode("utf-8"))


def reading_text(reading: Reading) -> str:
    """The reading's file as text."""
    document = reading.model_dump(mode="json", exclude_none=True)
    document["items"] = [_item_document(item) for item in reading.items]
    if not reading.pencilled:
        del document["pencilled"]
    return pretty(document) + "\n"


def _item_document(item: Item) -> dict[str, Any]:
    document = item.model_dump(mode="json", exclude={"alternatives"})
    document["alternatives"] = [
        {
            "value": other.value if isinstance(other.value, int) else [constraint_document(c) for c in other.value],
            "confidence": other.confidence,
        }
        for other in item.alternatives
    ]
    return document
