"""The archive without its reading processes."""

import pytest

from tests.clueprint.archiving import Alone


@pytest.fixture
def alone(monkeypatch):
    """Archives read in this process: each reading process takes seconds to start."""
    monkeypatch.setattr("clueprint.archive.crew.Crew", Alone)
