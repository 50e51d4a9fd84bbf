"""Readings: round trips, problems, their schema; and that the generated schemas are not stale."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
import strategies
from hypothesis import HealthCheck, given, settings
from jsonschema import Draft202012Validator

import schema
from schema.cells import Cell
from schema.files import BadDocument, BadFile
from schema.generate import DOCUMENTS, schema_text
from schema.reading import Reading, load_reading, reading_from, reading_text, save_reading

SCHEMA = Draft202012Validator(json.loads(schema_text(Reading)))
SQUARE = [[10, 10], [20.5, 10], [20.5, 20], [10, 20]]


def document(**changes):
    whole = {
        "puzzle": "tide-p1-1.puzzle.json",
        "source": {"file": "tide.pdf", "sha256": "a" * 64, "page": 1},
        "frame": {"width": 595, "height": 842, "unit": "pt"},
        "corners": SQUARE,
        "verdict": "query",
        "items": [
            {
                "item": "/givens/r1c2",
                "where": SQUARE,
                "confidence": 0.75,
                "how": "ocr",
                "alternatives": [{"value": 3, "confidence": 0.2}, {"value": [], "confidence": 0.01}],
            }
        ],
        "queries": [{"item": "/givens/r1c2", "why": "5 or 3"}, {"where": SQUARE, "why": "ink that nothing explains"}],
    }
    return {key: value for key, value in {**whole, **changes}.items() if value is not None}


def problems_of(content):
    with pytest.raises(BadDocument) as caught:
        reading_from(json.dumps(content).encode())
    return [(problem.at, problem.why) for problem in caught.value.problems]


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(reading=strategies.readings())
def test_round_trip(reading):
    text = reading_text(reading)
    assert reading_from(text.encode()) == reading
    assert reading_text(reading_from(text.encode())) == text
    assert SCHEMA.is_valid(json.loads(text))


def test_only_what_the_contract_names_is_needed():
    reading = reading_from(json.dumps(document()).encode())
    assert reading.items[0].alternatives[0].value == 3
    assert reading.items[0].alternatives[1].value == ()
    assert SCHEMA.is_valid(document())


def test_keys_of_later_versions_are_kept(tmp_path):
    path = tmp_path / "tide.reading.json"
    save_reading(reading_from(json.dumps(document(remarks={"r1c1": {"digit": 4}})).encode()), path)
    assert json.loads(path.read_text())["remarks"] == {"r1c1": {"digit": 4}}
    assert save_and_load(load_reading(path), path) == load_reading(path)


def save_and_load(reading, path):
    save_reading(reading, path)
    return load_reading(path)


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"puzzle": None}, [("", "a reading with verdict 'query' names its puzzle file")]),
        ({"verdict": "faulty"}, [("/puzzle", "a faulty reading has no puzzle file")]),
        ({"verdict": "clean"}, [("/verdict", "a reading with queries is not clean")]),
        ({"verdict": "sure"}, [("/verdict", "must be 'clean', 'query' or 'faulty', not 'sure'")]),
        ({"corners": SQUARE[:3]}, [("/corners", "needs 4 or more entries, and has 3")]),
        ({"items": document()["items"] * 2}, [("/items/1/item", "/givens/r1c2 has an entry already: /items/0")]),
        ({"queries": [{"why": ""}]}, [("/queries/0/why", None)]),
        ({"queries": [{"item": "r1c1", "why": "5 or 3"}]}, [("/queries/0/item", None)]),
        ({"source": {"file": "a", "sha256": "A" * 64, "page": 0}}, [("/source/sha256", None), ("/source/page", None)]),
        ({"frame": {"width": 0, "height": 1, "unit": "mm"}}, [("/frame/width", None), ("/frame/unit", None)]),
    ],
)
def test_problems(changes, expected):
    found = problems_of(document(**changes))
    assert [at for at, _ in found] == [at for at, _ in expected]
    assert all(told == why for (_, told), (_, why) in zip(found, expected, strict=True) if why)


def test_an_alternative_is_a_digit_or_constraints():
    item = {**document()["items"][0], "alternatives": [{"value": [{"kind": "rainbow"}], "confidence": 0.5}]}
    found = problems_of(document(items=[item]))
    assert found == [("/items/0/alternatives/0/value", "neither a digit nor a list of constraints")]


def test_confidence_is_a_chance():
    item = {**document()["items"][0], "confidence": 1.2}
    assert problems_of(document(items=[item])) == [("/items/0/confidence", "must be at most 1.0, not 1.2")]


def test_a_bad_reading_names_what_it_should_be(tmp_path):
    path = tmp_path / "tide.reading.json"
    path.write_text("{")
    with pytest.raises(BadFile, match="no reading: it is no JSON"):
        load_reading(path)


@pytest.mark.parametrize("name", DOCUMENTS)
def test_generated_schemas_are_not_stale(name):
    """Run `python -m schema.generate` when this fails."""
    text = Path(schema.__file__).with_name(name).read_text(encoding="utf-8")
    assert text == schema_text(DOCUMENTS[name])
    Draft202012Validator.check_schema(json.loads(text))
    assert json.loads(text)["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_what_is_written_by_hand_stands_beside_the_items():
    written = {"r1c1": {"digit": 5, "confidence": 0.9, "where": SQUARE}, "r9c9": {"confidence": 0.3, "where": SQUARE}}
    reading = reading_from(json.dumps(document(pencilled=written)).encode())
    assert reading.pencilled[Cell(1, 1)].digit == 5
    assert reading.pencilled[Cell(9, 9)].digit is None
    assert json.loads(reading_text(reading))["pencilled"] == written
    assert SCHEMA.is_valid(json.loads(reading_text(reading)))
    assert "pencilled" not in json.loads(reading_text(reading_from(json.dumps(document()).encode())))
    assert problems_of(document(pencilled={"one": written["r1c1"]}))
