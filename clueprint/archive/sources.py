"""What a person names (folders, files, a list) to files, and where in the folder the files of each go."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

from clueprint.archive.names import absolute
from clueprint.errors import ClueprintError
from ingest.source import looks_like_source


def walked(sources: Iterable[Path], into: Path) -> Iterator[Path]:
    """Every file to archive: a file is itself, a folder all images and PDFs in it and its folders, in order, without
    hidden ones, links to folders, and `into`. What is not there, and a folder that cannot be opened, is yielded all the
    same."""
    aside = os.path.realpath(into)
    for source in sources:
        if source.is_dir():
            yield from _in_folder(source, aside)
        else:
            yield source


def common_folder(sources: Iterable[Path]) -> Path:
    """The folder in which everything is that a person named: the one folder itself, that of the one file."""
    folders = [path if path.is_dir() else path.parent for path in map(absolute, sources)]
    return Path(os.path.commonpath(folders))


def _in_folder(folder: Path, aside: str) -> Iterator[Path]:
    closed: list[OSError] = []
    for place, folders, names in os.walk(folder, onerror=closed.append):
        here = Path(place)
        folders[:] = sorted(n for n in folders if not n.startswith(".") and os.path.realpath(here / n) != aside)
        for name in sorted(names):
            if not name.startswith(".") and _is_page_file(here / name):
                yield here / name
    # Nobody may think that what is in them was read.
    yield from (Path(os.fsdecode(fault.filename)) for fault in closed)


def _is_page_file(path: Path) -> bool:
    try:
        return path.is_file() and looks_like_source(path)
    except OSError:
        return False


def listed(file: str) -> list[Path]:
    """The paths of a list, one a line; `-` is standard input. Raises ClueprintError."""
    try:
        data = sys.stdin.buffer.read() if file == "-" else Path(file).read_bytes()
    except OSError as fault:
        raise ClueprintError(f"{file}: it cannot be read ({fault.strerror})", "name a list of files") from None
    return [Path(os.fsdecode(line)) for line in data.splitlines() if line.strip()]
