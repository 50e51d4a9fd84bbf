"""`clueprint house-style`: a draft of a house style from pages that print their rules."""

from __future__ import annotations

from pathlib import Path

import click

from clueprint.aside import keep_old
from clueprint.errors import EXIT_CANNOT, EXIT_FINE, EXIT_LOOK, complain, unwritable
from clueprint.house_style import Meanings, collect, drafted
from ingest.errors import Unreadable
from ingest.source import read_source
from recognise.pipeline import read_page
from schema.whole import write_whole


@click.command("house-style")
@click.argument("pages", nargs=-1, required=True, metavar="PAGE...", type=click.Path(path_type=Path))
@click.option(
    "-o",
    "out",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Write it there, not to the screen; what a file of that name says is kept as FILE.before.",
)
def house_style(pages: tuple[Path, ...], out: Path | None) -> int:
    """Draft a house style from pages that print what their marks mean.

    What the rules on each PAGE (an image or a PDF) say of its marks is put together. Looks that several pages give
    different meanings are left in the draft as comments.
    """
    found: Meanings = {}
    failed = False
    for source in pages:
        try:
            for page in read_source(source):
                if isinstance(page, Unreadable):
                    raise page
                for result in read_page(page).results:
                    collect(found, result.proven.draft.settled, f"{source.name} page {page.number}")
        except Unreadable as fault:
            complain(fault)
            failed = True
    text = drafted(found)
    if out is None:
        click.echo(text, nl=False)
    elif found or not failed:
        try:
            keep_old(out, text)
            write_whole(out, text.encode())
        except OSError as fault:
            raise unwritable(out, fault) from None
    if failed:
        return EXIT_CANNOT
    return EXIT_FINE if found and all(len(meanings) == 1 for meanings in found.values()) else EXIT_LOOK
