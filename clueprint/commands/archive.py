"""`clueprint archive`: a back catalogue to puzzle files, readings and one catalogue of them."""

from __future__ import annotations

import hashlib
import os
from pathlib import Path
from typing import TYPE_CHECKING

import click

from clueprint.archive.catalogue import Catalogue
from clueprint.archive.plan import Again
from clueprint.archive.progress import shown
from clueprint.archive.report import document, failure_lines, told, verdicts
from clueprint.archive.sources import listed
from clueprint.archive.work import Wish, archive
from clueprint.commands.options import desk_hint, house_style_option, into_option, json_option, make_folder
from clueprint.errors import EXIT_CANNOT, EXIT_FINE, EXIT_LOOK, complain
from clueprint.stop import Stop

if TYPE_CHECKING:
    from recognise.rules import Statement

SECONDS = 300.0
"""That a page may take: the hardest that were seen took a minute on one core."""
GIBIBYTES = 3.0
"""That a page may take of memory: an A4 page at 600 ppi takes less than one."""


@click.command(name="archive")
@click.argument("sources", nargs=-1, metavar="SOURCE...", type=click.Path(path_type=Path))
@into_option
@click.option("--from", "list_file", metavar="FILE", help="More sources, one path a line; `-` is standard input.")
@house_style_option
@click.option(
    "--again",
    type=click.Choice(["failures", "all"]),
    help="Also do again what was set aside as unreadable, or everything.",
)
@click.option(
    "--workers",
    type=click.IntRange(1, 1024),
    metavar="N",
    help="Pages read at once on this machine; as many as it has cores by default.",
)
@click.option("--scheduler", metavar="ADDRESS", help="Have the workers of this dask scheduler read, on any machines.")
@click.option(
    "--time-limit",
    type=click.FloatRange(0, 86400, min_open=True),
    default=SECONDS,
    show_default=True,
    metavar="SECONDS",
    help="Time that one page may take.",
)
@click.option(
    "--memory",
    type=click.FloatRange(0, 1024, min_open=True),
    default=GIBIBYTES,
    show_default=True,
    metavar="GIB",
    help="Memory that one page may take.",
)
@json_option
def archive_command(
    sources: tuple[Path, ...],
    into: Path,
    list_file: str | None,
    house_style: Path | None,
    again: Again | None,
    workers: int | None,
    scheduler: str | None,
    time_limit: float,
    memory: float,
    as_json: bool,
) -> int:
    """Read a back catalogue: every image and PDF of each SOURCE, a file or a folder with all folders in it.

    Several pages are read at once. Folders are mirrored in DIR; DIR/catalogue.sqlite lists all that
    was read. Run the same command again after any stop: what is finished is not read again, what changed is. Ctrl-C
    finishes the pages in work and stops; a second one drops them.
    """
    named = (*sources, *(listed(list_file) if list_file else ()))
    if not named:
        raise click.UsageError("no SOURCE given", click.get_current_context())
    house, digest = _house_style(house_style) if house_style else ((), "")
    wish = Wish(
        sources=named,
        into=into,
        workers=workers or len(os.sched_getaffinity(0)),
        seconds=time_limit,
        memory=int(memory * 2**30),
        house=house,
        house_style=digest,
        scheduler=scheduler,
        again=again,
    )
    make_folder(into)
    catalogue = Catalogue(into)
    try:
        return _archived(wish, catalogue, as_json)
    finally:
        catalogue.close()


def _house_style(path: Path) -> tuple[tuple[Statement, ...], str]:
    """What a house style states, and the SHA-256 of its file. Raises ClueprintError."""
    from clueprint.house_style import load_house_style  # noqa: PLC0415 - slow to import, and seldom needed

    return load_house_style(path), hashlib.sha256(path.read_bytes()).hexdigest()


def _archived(wish: Wish, catalogue: Catalogue, as_json: bool) -> int:
    with Stop(_stopping) as stop, shown(quiet=as_json) as progress:
        counts, tally = archive(wish, catalogue, stop, progress)
    failed = False
    for line in failure_lines(catalogue):
        complain(line)
        failed = True
    if as_json:
        for piece in document(catalogue):
            click.echo(piece, nl=False)
    else:
        click.echo("\n".join(told(catalogue, counts, tally)))
        if set(verdicts(catalogue)) - {"clean"}:
            click.echo(desk_hint(wish.into))
    if tally.stopped:
        if as_json:
            complain("stopped; the same command goes on, without --again")
        return EXIT_LOOK
    if failed:
        return EXIT_CANNOT
    return EXIT_FINE if set(verdicts(catalogue)) <= {"clean"} else EXIT_LOOK


def _stopping() -> None:
    complain("stopping when the pages in work are read; once more drops them")
