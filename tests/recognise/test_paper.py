"""The light of the paper under text."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.text.paper import blurred


@pytest.mark.parametrize("sides", [(41, 41), (3, 81), (81, 3), (9, 9)])
@pytest.mark.parametrize("shape", [(300, 200), (90, 7), (1, 40)])
def test_a_blur_is_what_opencv_gives_to_the_last_bit(sides: tuple[int, int], shape: tuple[int, int]) -> None:
    grey = np.random.default_rng(1).integers(0, 256, shape, dtype=np.uint8)
    across, down = (side / 6 for side in sides)
    for picture in (grey, cv2.blur(grey, (9, 9)), np.full(shape, 255, np.uint8)):
        expected = cv2.GaussianBlur(picture, (0, 0), across, sigmaY=down)
        np.testing.assert_array_equal(blurred(np.asarray(picture, np.uint8), across, down), expected)
