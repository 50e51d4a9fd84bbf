"""`clueprint desk`: a page on this machine to look at readings beside their scans."""

from __future__ import annotations

import secrets
import socket
import threading
import webbrowser
from pathlib import Path

import click
import uvicorn

from clueprint.desk.server import Desk, application
from clueprint.desk.shelf import Shelf
from clueprint.errors import EXIT_FINE, EXIT_LOOK, ClueprintError, complain
from clueprint.stop import Stop

HERE = "127.0.0.1"
"""This machine only."""
LOOK = 0.2
"""Seconds between two looks at whether to end."""


@click.command()
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
@click.option(
    "--scans",
    multiple=True,
    metavar="FOLDER",
    type=click.Path(path_type=Path),
    help="Where the pages are that were read, if not beside DIR; may be given several times.",
)
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=0,
    metavar="NUMBER",
    help="Port to listen at; any free one by default.",
)
@click.option("--no-browser", is_flag=True, help="Only print the address; open no browser.")
def desk(folder: Path, scans: tuple[Path, ...], port: int, no_browser: bool) -> int:
    """Look at the puzzles in DIR beside their scans, answer queries, add or change marks and rules, and save.

    DIR is a folder that `read` or `archive` wrote. The page is for this machine alone; nothing is saved until you say
    so. Its keys are listed on it. Ctrl-C ends it.
    """
    work = Desk(Shelf(folder, scans))
    listening = listening_at(port)
    address = f"http://{HERE}:{listening.getsockname()[1]}/{(token := secrets.token_urlsafe(24))}/"
    click.echo(address)
    if not no_browser:
        webbrowser.open(address)
    _serve(uvicorn.Config(application(work, token), log_level="critical", access_log=False), listening)
    unsaved = work.unsaved
    work.close()
    for name in unsaved:
        complain(f"{name}: changed on the desk and not saved")
    return EXIT_LOOK if unsaved else EXIT_FINE


def _serve(config: uvicorn.Config, listening: socket.socket) -> None:
    """Answer until Ctrl-C, or until the system asks to end."""
    server = uvicorn.Server(config)
    # In a thread, where uvicorn leaves signals to us: it would end the program by the one it got.
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]})
    with Stop() as stop, listening:
        thread.start()
        while thread.is_alive() and not stop.asked:
            thread.join(LOOK)
        server.should_exit = True
        server.force_exit = True
        thread.join()


def listening_at(port: int) -> socket.socket:
    """A socket of this machine alone, at any free port for 0. Raises ClueprintError when the port is taken."""
    listening = socket.socket()
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((HERE, port))
        listening.listen()  # from now on the address answers, if only when the server has started
    except OSError as fault:
        listening.close()
        raise ClueprintError(f"port {port}: {fault.strerror}", "name another with --port") from None
    return listening
