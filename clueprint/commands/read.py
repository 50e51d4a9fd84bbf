"""`clueprint read`: pages to puzzle files and readings."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from pathlib import Path

import click
from rich.console import Console
from rich.progress import Progress

from clueprint.commands.options import desk_hint, house_style_option, into_option, json_option, make_folder
from clueprint.errors import EXIT_CANNOT, EXIT_FINE, EXIT_LOOK, complain, escaped
from clueprint.reading import Outcome, read_sources


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
    outcome = Outcome()
    bar = Progress(console=Console(stderr=True), transient=True, disable=as_json or not sys.stderr.isatty())
    task = bar.add_task("reading", total=len(sources))
    told = _told_as_read(outcome, as_json)

    def tell() -> None:
        bar.stop()
        next(told)
        bar.start()

    def done() -> None:
        tell()
        bar.advance(task)

    try:
        with bar:
            read_sources(
                sources, into, house_style=house_style, explain=explain, outcome=outcome, page_done=tell, done=done
            )
    finally:
        # What was read before a stop is read, and in the folder.
        next(told)
        if outcome.begun and not as_json:
            click.echo(outcome.summed())
    if as_json:
        click.echo(json.dumps(outcome.document(), indent=2, ensure_ascii=False))
    elif not outcome.all_clean:
        click.echo(desk_hint(into))
    if outcome.failures:
        return EXIT_CANNOT
    return EXIT_FINE if outcome.all_clean else EXIT_LOOK


def _told_as_read(outcome: Outcome, as_json: bool) -> Iterator[None]:
    """At each step tells what the outcome has more."""
    puzzles, empty, failures = 0, 0, 0
    while True:
        lines = [line for puzzle in outcome.puzzles[puzzles:] for line in puzzle.told()]
        lines += [f"{escaped(source.name)} page {page}: no puzzle" for source, page in outcome.empty[empty:]]
        if lines and not as_json:
            click.echo("\n".join(lines))
        for failure in outcome.failures[failures:]:
            complain(failure.line)
        puzzles, empty, failures = len(outcome.puzzles), len(outcome.empty), len(outcome.failures)
        yield
