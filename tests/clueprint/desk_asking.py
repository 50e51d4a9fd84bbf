"""What the tests of the desk share: a reading with two queries, and what a page asks of the server about it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from starlette.testclient import TestClient

from clueprint.desk.edits import State
from schema.files import load_puzzle
from schema.reading import load_reading

NAME = "tide-p1-1.reading.json"
PUZZLE = NAME.replace("reading", "puzzle")
R1C1 = "/givens/r1c1"


def state_of(folder: Path) -> State:
    """What stands in a folder, before anybody changes it."""
    return State(load_puzzle(folder / PUZZLE), load_reading(folder / NAME))


def sheet(client: TestClient) -> dict[str, Any]:
    """The view of the reading."""
    return client.get(f"/token/api/sheet/{NAME}").json()


def edit(client: TestClient, **wish: object) -> Any:
    """What comes of a wish."""
    return client.post(f"/token/api/edit/{NAME}", json={"version": sheet(client)["version"], "wish": wish})


def save(client: TestClient) -> Any:
    """What comes of saving."""
    return client.post(f"/token/api/save/{NAME}", json={"version": sheet(client)["version"]})
