"""`clueprint draw`: a puzzle file drawn as SVG, PDF, PNG or text."""

from __future__ import annotations

from pathlib import Path

import click

from clueprint.commands.options import not_a_puzzle
from clueprint.draw import draw as draw_into
from schema.files import BadFile, load_puzzle


@click.command()
@click.argument("puzzle", type=click.Path(path_type=Path))
@click.option(
    "-o", "--output", type=click.Path(path_type=Path), required=True, metavar="OUT", help="OUT.svg, .pdf, .png or .txt."
)
def draw(puzzle: Path, output: Path) -> None:
    """Draw PUZZLE into a file: .svg, .pdf or .png, or .txt for the givens alone, as its name says."""
    try:
        drawn = load_puzzle(puzzle)
    except BadFile as fault:
        raise not_a_puzzle(fault, "name a puzzle file") from None
    draw_into(drawn, output)
