"""Channels taken together, beside numpy's own reductions."""

from __future__ import annotations

import numpy as np
import pytest

from ingest import channels


@pytest.mark.parametrize("kind", [np.uint8, np.int16, np.float32, np.float64])
@pytest.mark.parametrize("count", [1, 3, 4])
def test_they_are_what_numpy_gives(kind: type, count: int) -> None:
    picture = (np.random.default_rng(count).random((40, 30, count)) * 255).astype(kind)[:, 3:]
    for own, numpys in ((channels.least, np.min), (channels.most, np.max), (channels.mean, np.mean)):
        seen, expected = own(picture), numpys(picture, axis=-1)
        assert seen.dtype == expected.dtype
        np.testing.assert_array_equal(seen, expected)
