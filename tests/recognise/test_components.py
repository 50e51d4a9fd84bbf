"""Pieces of masks, against OpenCV's own count of them."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.components import components


@pytest.mark.parametrize("connectivity", [4, 8])
@pytest.mark.parametrize("share", [0.0, 0.01, 0.3, 1.0])
def test_same_as_opencv(share: float, connectivity: int) -> None:
    mask = np.random.default_rng(1).random((90, 130)) < share
    mask[20:40, 100:] = share > 0
    labels, stats = components(mask, connectivity)
    _, expected, of_each, _ = cv2.connectedComponentsWithStats(mask.view(np.uint8), connectivity=connectivity)
    assert (labels == expected).all()
    assert (stats[1:] == of_each[1:]).all()
    assert not stats[0].any()
