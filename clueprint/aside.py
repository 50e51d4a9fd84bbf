"""Files set aside: what is about to be replaced is kept, and nothing that was kept earlier is lost."""

from __future__ import annotations

from pathlib import Path


def free_name(path: Path) -> Path:
    """Under which name a file is kept: NAME.before, or NAME.before-2 and so on where there is such a file already."""
    aside, number = path.with_name(path.name + ".before"), 2
    while aside.exists():
        aside, number = path.with_name(f"{path.name}.before-{number}"), number + 1
    return aside
