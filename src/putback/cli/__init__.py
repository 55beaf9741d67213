"""The command line: one module a command, each of which imports what it needs only when it runs."""

from __future__ import annotations

import importlib
import io
import sys
from collections.abc import Sequence

import click

from putback import __version__

_COMMANDS = {
    "new": "start a guide that checks clean and builds, to be filled in",
    "lint": "check that every job closes: nothing left over, no torque guessed",
    "build": "make the manual: HTML for the screen, PDF for paper",
    "explain": "say what a check means, with its examples",
}
"""Commands, in the order in which a guide meets them."""


class _Commands(click.Group):
    """Loads a command's module when it is called, so that `lint` does not wait for Sphinx."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        del ctx
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        del ctx
        if cmd_name not in _COMMANDS:
            return None
        command: click.Command = importlib.import_module(f"putback.cli.{cmd_name}").command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the list of commands without loading any."""
        del ctx
        with formatter.section("Commands"):
            formatter.write_dl(list(_COMMANDS.items()))

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Name the nearest command when one is misspelt."""
        try:
            return super().resolve_command(ctx, args)
        except click.UsageError as error:
            from putback.nearest import nearest

            near = nearest(args[0], _COMMANDS)
            hint = f"; did you mean '{near}'?" if near else ""
            raise click.UsageError(f"there is no command '{args[0]}'{hint}", error.ctx) from None


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="putback")
def cli() -> None:
    """Repair procedures that a stranger can follow safely.

    Write the machine once and each job as steps, in YAML. Putback proves that everything that comes off goes back, and
    prints the manual.
    """


def main(args: Sequence[str] | None = None) -> None:
    """Run a command and leave with its exit code: 0 all right, 1 errors found, 2 called wrongly or not readable."""
    for stream in (sys.stdout, sys.stderr):
        # A terminal that lacks a letter shows another one, and no traceback.
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
    try:
        # Without its standalone mode, click returns the code of an exit instead of leaving.
        code = cli.main(args=list(args) if args is not None else None, prog_name="putback", standalone_mode=False)
        sys.exit(code if isinstance(code, int) else 0)
    except click.Abort:
        sys.exit(130)
    except click.ClickException as error:
        error.show()
        sys.exit(2)
    except BrokenPipeError:
        # The reader has gone, as with `| head`: no traceback, and nothing more to flush.
        sys.stderr.close()
        sys.exit(1)
