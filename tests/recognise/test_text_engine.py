"""Tesseract in process: what it says to itself stays there."""

from __future__ import annotations

import numpy as np
import pytest

from recognise.text.engine import engine


def test_slivers_leave_nothing_on_standard_error(capfd: pytest.CaptureFixture[str]) -> None:
    """Blocks of dust so narrow that a piece of them, scaled to Tesseract's height, is less than a pixel wide."""
    for seed in (25, 34):
        dust = np.random.default_rng(seed).random((290, 5)) < 0.3
        engine().read(np.where(dust, 0, 255).astype(np.uint8), single_line=True)
    assert capfd.readouterr().err == ""
