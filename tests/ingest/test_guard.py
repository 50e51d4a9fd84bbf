"""The child process that decodes a page."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

MANY_CORES = """
import os
from pathlib import Path
import cv2, numpy as np
from ingest.guard import guarded
from ingest.limits import Limits

def threads(path):
    cv2.warpAffine(np.zeros((2000, 2000, 3), np.uint8), np.float32([[1, 0.1, 0], [0, 1, 0]]), (2000, 2000))
    yield len(os.listdir("/proc/self/task"))

cv2.setNumThreads(32)
print(*guarded(threads, (Path("page.png"),), Path("page.png"), Limits()))
"""


def test_decoding_starts_no_threads_on_a_machine_of_many_cores() -> None:
    root = Path(__file__).parents[2]
    done = subprocess.run([sys.executable, "-c", MANY_CORES], cwd=root, capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["1"]
