"""Percentiles and medians, beside numpy's own."""

from __future__ import annotations

import numpy as np
import pytest

from recognise.quantiles import median, percentile


@pytest.mark.parametrize("kind", [np.uint8, np.int64, np.float32, np.float64])
@pytest.mark.parametrize("shape", [(1,), (2,), (7, 5), (200,), (301,)])
def test_they_are_what_numpy_gives_to_the_last_bit(kind: type, shape: tuple[int, ...]) -> None:
    values = (np.random.default_rng(len(shape)).random(shape) * 255).astype(kind)
    before = values.copy()
    for percent in (0, 2.5, 20, 30, 80, 95, 100):
        seen, expected = percentile(values, percent), np.percentile(values, percent)
        assert seen.dtype == expected.dtype and seen == expected
    assert median(values) == np.median(values)
    np.testing.assert_array_equal(values, before)
