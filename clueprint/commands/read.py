"""`clueprint read`: pages to puzzle files and readings."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import click
from rich.console import Console
from rich.progress import Progress

from clueprint.commands.options import desk_hint, house_style_option, into_option, json_option, make_folder
from clueprint.errors import EXIT_CANNOT, EXIT_FINE, EXIT_LOOK, complain
from clueprint.reading import read_sources


@click.command()
@click.argument("sources", nargs=-1, required=True, metavar="SOURCE...", type=click.Path(path_type=Path))
@into_option
@house_style_option
@click.option(
    "--explain",
    metavar="DIR",
    type=click.Path(path_type=Path),
    help="Leave pictures of what each step saw in this folder.",
)
@json_option
def read(sources: tuple[Path, ...], into: Path, house_style: Path | None, explain: Path | None, as_json: bool) -> int:
    """Read every puzzle on the pages of each SOURCE, an image or a PDF.

    Each puzzle becomes STEM-pPAGE-N.puzzle.json with its reading beside it, N counting the grids of a page.
    """
    for folder in filter(None, (into, explain)):
        make_folder(folder)
    with Progress(console=Console(stderr=True), transient=True, disable=as_json or not sys.stderr.isatty()) as progress:
        task = progress.add_task("reading", total=len(sources))
        outcome = read_sources(
            sources, into, house_style=house_style, explain=explain, done=lambda: progress.advance(task)
        )
    for failure in outcome.failures:
        complain(failure.line)
    if as_json:
        click.echo(json.dumps(outcome.document(), indent=2, ensure_ascii=False))
    else:
        click.echo("\n".join(outcome.told()))
        if not outcome.all_clean:
            click.echo(desk_hint(into))
    if outcome.failures:
        return EXIT_CANNOT
    return EXIT_FINE if outcome.all_clean else EXIT_LOOK
