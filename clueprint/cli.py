"""The command line. A command's module is imported only when that command runs: starting stays quick."""

from __future__ import annotations

import importlib
import sys
from dataclasses import dataclass
from typing import NoReturn

import click

from clueprint.errors import EXIT_CANNOT, ClueprintError, complain


@dataclass(frozen=True, slots=True)
class LazyCommand:
    """Where a command lives, as `module:function`, and its line in `clueprint --help`."""

    target: str
    summary: str

    def load(self) -> click.Command:
        """Import the command."""
        module, _, name = self.target.partition(":")
        command = getattr(importlib.import_module(module), name)
        if not isinstance(command, click.Command):
            raise TypeError(f"{self.target} is no click command")
        return command


COMMANDS = {
    "read": LazyCommand("clueprint.commands.read:read", "Read the puzzles on pages into puzzle files."),
    "check": LazyCommand("clueprint.commands.check:check", "Prove that puzzles have exactly one solution."),
    "compare": LazyCommand("clueprint.commands.compare:compare", "Compare a printed proof with its puzzle file."),
    "house-style": LazyCommand(
        "clueprint.commands.house_style:house_style", "Draft what a publication's marks mean, from its pages."
    ),
    "archive": LazyCommand(
        "clueprint.commands.archive:archive_command", "Read a back catalogue in parallel, restartable after any stop."
    ),
    "desk": LazyCommand("clueprint.commands.desk:desk", "Look at readings beside their scans and save."),
    "draw": LazyCommand("clueprint.commands.draw:draw", "Draw a puzzle file as SVG, PDF, PNG or text."),
}


class LazyGroup(click.Group):
    """A group that lists its commands without importing them."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The commands in the order in which they are used."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import and return a command; None when there is none of that name."""
        lazy = COMMANDS.get(cmd_name)
        return lazy.load() if lazy else None

    def invoke(self, ctx: click.Context) -> object:
        """Run the command. Ctrl-C, for which click alone writes an empty line, raises Abort."""
        try:
            return super().invoke(ctx)
        except KeyboardInterrupt:
            if sys.stderr.isatty():
                click.echo(err=True)  # after the ^C of the terminal
            raise click.Abort from None

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the list of commands from their summaries."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, lazy.summary) for name, lazy in COMMANDS.items()])


def _print_version(ctx: click.Context, _param: click.Parameter, wanted: bool) -> None:
    if not wanted or ctx.resilient_parsing:
        return
    from importlib.metadata import version  # noqa: PLC0415 - slow to import, and only this option needs it

    click.echo(f"clueprint {version('clueprint')}")
    ctx.exit()


@click.group(cls=LazyGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.option(
    "--version",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_print_version,
    help="Show the version.",
)
@click.option("--traceback", is_flag=True, help="Show where in the program an internal error happened.")
def cli(traceback: bool) -> None:
    """Read printed number puzzles, and prove that each has exactly one solution.

    Exit status: 0 all well; 1 there is something to look at; 2 it could not run.
    """


def main() -> NoReturn:
    """Run the command line; whatever goes wrong ends in one line on standard error and an exit status."""
    try:
        status = cli.main(prog_name="clueprint", standalone_mode=False)
    except click.exceptions.NoArgsIsHelpError as error:
        _stop("no command given" + _see_help(error.ctx), EXIT_CANNOT)
    except click.UsageError as error:
        _stop(error.format_message().rstrip(".") + _see_help(error.ctx), EXIT_CANNOT)
    except click.ClickException as error:
        _stop(error.format_message(), EXIT_CANNOT)
    except ClueprintError as error:
        _stop(error, error.exit_status)
    except (click.Abort, KeyboardInterrupt):
        _stop("stopped by the keyboard", 130)
    except BrokenPipeError:
        sys.stderr.close()  # whoever read our output has gone; there is nobody to tell
        sys.exit(EXIT_CANNOT)
    except Exception as error:
        if "--traceback" in sys.argv:
            raise
        _stop(
            f"internal error, {type(error).__name__}: {error}; run `clueprint --traceback ...` and report it",
            EXIT_CANNOT,
        )
    sys.exit(status if isinstance(status, int) else 0)


def _see_help(ctx: click.Context | None) -> str:
    return f"; see `{ctx.command_path if ctx else 'clueprint'} --help`"


def _stop(why: object, status: int) -> NoReturn:
    complain(why)
    sys.exit(status)
