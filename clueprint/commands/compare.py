"""`clueprint compare`: a proof against the puzzle file that it was set from."""

from __future__ import annotations

import json
from pathlib import Path

import click

from clueprint.commands.options import json_option, not_a_puzzle
from clueprint.compare import compare_proof
from clueprint.compare.output import check_names, rendered, write_all
from clueprint.errors import EXIT_FINE, EXIT_LOOK, ClueprintError
from ingest.errors import Unreadable
from schema.files import PUZZLE_SUFFIX, BadFile, load_puzzle


@click.command()
@click.argument("proof", type=click.Path(path_type=Path))
@click.argument("source", type=click.Path(path_type=Path))
@click.option(
    "--marked",
    type=click.Path(path_type=Path),
    metavar="OUT",
    help="Write the proof with each difference marked: OUT.pdf with annotations for a PDF, OUT.png for an image.",
)
@click.option(
    "--report", type=click.Path(path_type=Path), metavar="OUT.html", help="Write a page to look at, all in one file."
)
@json_option
def compare(proof: Path, source: Path, marked: Path | None, report: Path | None, as_json: bool) -> int:
    """Compare PROOF, a PDF or an image of the printed page, with SOURCE, the puzzle file that it was set from.

    Every difference is told with its place on the page; what could not be read for sure is listed to look at. Exit
    status 0 means that the proof is as the source, and that nothing about it is in doubt.
    """
    check_names(proof, source, marked, report)
    if proof.name.endswith(PUZZLE_SUFFIX) and not source.name.endswith(PUZZLE_SUFFIX):
        raise ClueprintError(f"{proof}: it is a puzzle file, not a proof", "name the proof first, then its puzzle file")
    try:
        puzzle = load_puzzle(source)
        comparison = compare_proof(proof, puzzle)
    except BadFile as fault:
        raise not_a_puzzle(fault, "name the puzzle file that the proof was set from") from None
    except Unreadable as fault:
        raise ClueprintError(str(fault), "") from None
    write_all(rendered(proof, source, puzzle, comparison, marked, report))
    if as_json:
        click.echo(json.dumps(comparison.document(), indent=2, ensure_ascii=False))
    else:
        click.echo("\n".join(comparison.told()))
    return EXIT_FINE if comparison.verdict == "same" else EXIT_LOOK
