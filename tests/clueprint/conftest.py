"""The archive without its reading processes, and a page that was read for the desk."""

import shutil

import pytest
from starlette.testclient import TestClient

from clueprint.desk.server import Desk, application
from clueprint.desk.shelf import Shelf
from clueprint.reading import read_sources
from schema.reading import Alternative, Item, Query, load_reading, save_reading
from tests.clueprint.archiving import Alone
from tests.clueprint.desk_asking import NAME, R1C1
from tests.clueprint.reading_pages import page


@pytest.fixture
def alone(monkeypatch):
    """Archives read in this process: each reading process takes seconds to start."""
    monkeypatch.setattr("clueprint.archive.crew.Crew", Alone)


@pytest.fixture(scope="session")
def read_once(tmp_path_factory):
    """A page that was read, as read."""
    folder = tmp_path_factory.mktemp("desk")
    (folder / "read").mkdir()
    read_sources([page(folder, "tide.png")], folder / "read")
    return folder


@pytest.fixture
def folder(read_once, tmp_path):
    """The same to work on, with doubt about the 1 in r1c1, which may be a 4, and about a place."""
    shutil.copytree(read_once, tmp_path, dirs_exist_ok=True)
    file = tmp_path / "read" / NAME
    reading = load_reading(file)
    items = tuple(_doubtful(item) if item.item == R1C1 else item for item in reading.items)
    place = reading.items[2].where
    queries = (Query(item=R1C1, why="it was hard to read"), Query(where=place, why="there is ink here"))
    save_reading(reading.model_copy(update={"items": items, "queries": queries, "verdict": "query"}), file)
    return tmp_path / "read"


def _doubtful(item: Item) -> Item:
    return item.model_copy(update={"confidence": 0.6, "alternatives": (Alternative(value=4, confidence=0.4),)})


@pytest.fixture
def desk(folder):
    return Desk(Shelf(folder))


@pytest.fixture
def client(desk):
    return TestClient(application(desk, "token"), base_url="http://127.0.0.1")
