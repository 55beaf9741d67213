"""The command line: one module a command, each of which imports what it needs only when it runs."""

from __future__ import annotations

import errno
import gc
import importlib
import os
import shlex
import sys
import traceback
from collections.abc import Sequence
from contextlib import suppress

import click

from putback import __version__
from putback.cli.streams import hold, say, settle
from putback.source.outside import BadCheckError
from putback.source.plainly import printable

_COMMANDS = {
    "new": "start a new guide, small and complete, to make your own",
    "lint": "check guides: nothing left over, no torque guessed",
    "merge": "merge the reports of a check that was split into parts",
    "build": "make the manual: HTML for the screen, PDF for paper",
    "translate": "write a guide's texts into a catalogue for a translator",
    "supplies": "list what to get for some jobs: parts, kits, fluids, tools",
    "explain": "explain a check, a verb or a key, with examples",
    "schema": "put the schemas for an editor into a guide, or renew them",
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
            from putback.source.nearest import nearest

            near = nearest(args[0], _COMMANDS)
            hint = f"; did you mean '{near}'?" if near else ""
            raise click.UsageError(f"there is no command '{args[0]}'{hint}", error.ctx) from None


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="putback")
@click.pass_context
def cli(ctx: click.Context) -> None:
    """Repair procedures that a stranger can follow safely.

    Describe the machine once and write each job as steps, in YAML. Putback checks that everything that comes off goes
    back, and prints the manual.
    """
    if ctx.invoked_subcommand == "explain":
        return
    try:
        os.getcwd()  # noqa: PTH109 - only whether there is one
    except OSError:
        raise click.UsageError("the current folder no longer exists; go to another one") from None


def main(args: Sequence[str] | None = None) -> None:
    """Run a command and leave with its exit code.

    0 all right; 1 errors found; 2 called wrongly, not readable, not writable, or a fault of Putback; 130 interrupted.
    """
    gc.set_threshold(20_000, 20, 20)  # tens of thousands of records are made, and hardly a ring among them
    if not hold():
        say("Error: standard output is closed, so there is nowhere to write")
        sys.exit(2)
    reason = None
    try:
        code = _run(args)
    except OSError as error:
        code, reason = 2, (error.strerror or "").lower()
    reason = settle() or reason
    if reason is not None and code != 130:
        say(f"Error: the output cannot be written: {reason}")
        code = 2
    settle()  # what was said just now as well
    sys.exit(code)


def _run(args: Sequence[str] | None) -> int:
    try:
        # Without its standalone mode, click returns the code of an exit instead of leaving.
        code = cli.main(args=list(args) if args is not None else None, prog_name="putback", standalone_mode=False)
    except (click.Abort, KeyboardInterrupt):
        return 130
    except click.ClickException as error:
        say(_told(error))
        return 2
    except SystemExit as leaving:
        # click leaves with 1 when the reader has gone, as with `| head`; but 1 means that errors were found.
        return 2 if leaving.code == 1 else _code(leaving.code)
    except BrokenPipeError:
        return 2
    except BadCheckError as error:
        if not _show_where(error):
            say(
                "Error: " + "\n".join([*map(printable, str(error).split("\n")), *([_WHERE] if error.__cause__ else [])])
            )
        return 2
    except Exception as error:
        if _is_of_output(error) and not os.environ.get("PUTBACK_TRACEBACK"):
            raise
        return _failed(error, sys.argv[1:] if args is None else args)
    return _code(code)


_FULL = (errno.ENOSPC, errno.EFBIG, errno.EIO, errno.EBADF, getattr(errno, "EDQUOT", errno.ENOSPC))
"""What a stream fails with that cannot be written to."""


def _is_of_output(error: Exception) -> bool:
    return isinstance(error, OSError) and error.filename is None and error.errno in _FULL


def _code(code: object) -> int:
    return code if isinstance(code, int) else 0


def _told(error: click.ClickException) -> str:
    """Return an error as click shows it; only what the user wrote, or a file is called, stands in it as it may."""
    message = error.format_message()
    if not isinstance(error, click.UsageError):
        # One of ours, with a place on each line.
        return "Error: " + "\n".join(map(printable, message.split("\n")))
    context = error.ctx
    head = (
        f"{context.get_usage()}\nTry '{context.command_path} {context.help_option_names[0]}' for help.\n\n"
        if context
        else ""
    )
    return f"{head}Error: {printable(message)}"


def _failed(error: Exception, args: Sequence[str]) -> int:
    """Say what went wrong that nobody foresaw; where in the program it did is for those who ask."""
    if _show_where(error):
        return 2
    if isinstance(error, OSError):
        name = f"'{printable(os.fsdecode(error.filename))}': " if isinstance(error.filename, str | bytes) else ""
        say(f"Error: {name}{(error.strerror or type(error).__name__).lower()}")
    else:
        what = "there is not enough memory" if isinstance(error, MemoryError) else _words(error)
        where = "; ".join(getattr(error, "__notes__", ()))
        called = " ".join(map(shlex.quote, ("putback", *args)))
        say(
            f"Error: {what}{f', {printable(where)}' if where else ''}\n"
            f"This is a fault in Putback, not in your files. Please report it, with the guide if you can.\n"
            f"It was called as: {printable(called)}\n"
            f"{_WHERE}"
        )
    return 2


_WHERE = "With PUTBACK_TRACEBACK=1 in the environment, it says where in the program it happened."


def _show_where(error: Exception) -> bool:
    """Show where in the program an error happened to who asks for it, and tell whether somebody did."""
    asked = bool(os.environ.get("PUTBACK_TRACEBACK"))
    if asked:
        with suppress(OSError, ValueError):
            traceback.print_exception(error)
    return asked


def _words(error: Exception) -> str:
    if isinstance(error, RecursionError):
        return "something refers to itself, or is nested too deeply"
    said = printable(str(error))
    return f"{type(error).__name__}{f': {said}' if said else ''}"
