"""Crests of a profile, against SciPy's search for peaks, which takes long to load."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest
from scipy.signal import find_peaks

from recognise.worn_type.crests import crests


@pytest.mark.parametrize("seed", range(60))
def test_same_as_scipy(seed: int) -> None:
    drawn = np.random.default_rng(seed)
    length = int(drawn.integers(3, 400))
    profile = drawn.integers(0, int(drawn.integers(2, 60)), length).astype(np.float32)  # of few levels: with plateaus
    if seed % 2:
        profile = np.convolve(profile, np.ones(5, np.float32) / 5, "same").astype(np.float32)
    height, distance, prominence = (float(drawn.uniform(low, high)) for low, high in ((0, 40), (1, 20), (0, 20)))
    framed = np.pad(profile, 1)
    expected, _ = find_peaks(framed, height=height, distance=distance, prominence=prominence)
    assert crests(framed, height, distance, prominence).tolist() == expected.tolist()


def test_reading_loads_no_signal_processing() -> None:
    code = "import sys, recognise.pipeline, recognise.text.ocr; sys.exit('scipy.signal' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
