"""Files set aside: what is about to be replaced is kept, and nothing that was kept earlier is lost."""

from __future__ import annotations

from pathlib import Path

from schema.whole import write_whole


def free_name(path: Path) -> Path:
    """Under which name a file is kept: NAME.before, or NAME.before-2 and so on where there is such a file already."""
    aside, number = path.with_name(path.name + ".before"), 2
    while aside.exists():
        aside, number = path.with_name(f"{path.name}.before-{number}"), number + 1
    return aside


def keep_old(path: Path, text: str | None) -> None:
    """Keep a copy of an earlier file that says something else: a person may have corrected it. Where no `text` comes
    in its place it goes. Raises OSError."""
    if not path.is_file() or (old := path.read_bytes()) == (text.encode() if text is not None else None):
        return
    write_whole(free_name(path), old)
    if text is None:
        path.unlink()
