"""A turned page keeps its frame: points go there and back."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ingest.page import Frame, Page


def _page() -> Page:
    image = np.zeros((40, 60, 3), np.uint8)
    image[5, 50] = 255
    return Page(Path("page.png"), "0" * 64, 1, Frame(120, 80, "px"), image, 0.5)


@pytest.mark.parametrize("quarters", range(4))
def test_a_mark_is_found_at_the_same_place_of_the_frame_however_the_page_is_turned(quarters: int) -> None:
    page = _page().turn(quarters)
    y, x = np.argwhere(page.image[..., 0] == 255)[0]
    assert page.to_frame([x + 0.5, y + 0.5]) == pytest.approx([101, 11])


@given(st.integers(0, 3), st.floats(0, 120), st.floats(0, 80))
def test_to_image_undoes_to_frame(quarters: int, x: float, y: float) -> None:
    page = _page().turn(quarters)
    assert page.to_frame(page.to_image([x, y])) == pytest.approx([x, y])
