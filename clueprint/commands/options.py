"""What several commands take and say alike."""

from __future__ import annotations

import os
import shlex
from pathlib import Path

import click

from clueprint.errors import ClueprintError
from schema.files import BadFile


def _named(_ctx: click.Context, _param: click.Parameter, value: str) -> Path:
    """A folder. An empty name, as of a variable that a script forgot to set, does not mean the one we are in."""
    if not value:
        raise click.BadParameter("the name of the folder is empty")
    return Path(value)


into_option = click.option(
    "--into", required=True, metavar="DIR", type=click.Path(), callback=_named, help="Where the files go."
)
house_style_option = click.option(
    "--house-style",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="What this publication's marks mean where its pages do not say it.",
)
json_option = click.option("--json", "as_json", is_flag=True, help="Print one JSON document.")


def make_folder(folder: Path) -> None:
    """Make a folder and those that it lies in, where they are not there. Raises ClueprintError."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise ClueprintError(f"{folder}: it cannot be made a folder ({fault.strerror})", "name another") from None


def desk_hint(into: Path) -> str:
    """How a person goes on who has something to look at."""
    return f"to answer in a browser, beside the page: clueprint desk {shlex.quote(str(into))}"


def not_a_puzzle(bad: BadFile, remedy: str) -> ClueprintError:
    """The error for a file that is no puzzle file: none at all, a page that nobody has read yet, one with a fault."""
    if bad.path.is_dir():
        return ClueprintError(f"{bad.path}: it is a folder", "name the puzzle files in it")
    if not os.path.lexists(bad.path):
        return ClueprintError(f"{bad.path}: there is no such file", "check the name")
    from ingest.source import looks_like_source  # noqa: PLC0415 - brings the vision libraries, which checking needs not

    try:
        is_page = bad.path.is_file() and looks_like_source(bad.path)
    except OSError:
        is_page = False
    if is_page:
        return ClueprintError(f"{bad.path}: it is a page, not a puzzle file", "`clueprint read` makes one of it")
    return ClueprintError(str(bad), remedy)
