"""Pages that vector tests draw on."""

import pytest

from tests.recognise.drawn_pages import Sheet


@pytest.fixture
def sheet(tmp_path):
    """A blank PDF page for a puzzle of nine by nine cells."""
    return Sheet(tmp_path / "page.pdf")


@pytest.fixture
def grid_first(sheet):
    """The page of `sheet` has its grid before the test draws anything: marks lie on it, as most programs print them."""
    sheet.grid()
