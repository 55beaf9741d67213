"""`putback lint`: check guides."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from putback.lint.report import formats, report_as

if TYPE_CHECKING:
    from putback.lint.search import Pick


@click.command("lint")
@click.argument("paths", metavar="[PATH ...]", nargs=-1, type=click.Path(path_type=Path, readable=False))
@click.option(
    "--format", "form", type=click.Choice(formats()), default="text", show_default=True, help="Form of the report."
)
@click.option("--variant", "only", metavar="OPTION=VALUE", multiple=True, help="Check only variants with this choice.")
@click.option(
    "--changed-since",
    "since",
    metavar="REV",
    help="Check only guides that have changed since the git revision REV, or whose library has.",
)
def command(paths: tuple[Path, ...], form: str, only: tuple[str, ...], since: str | None) -> None:
    """Check every guide in PATH, or in the current folder.

    PATH is the folder of a guide, a folder that contains guides, or one file of a guide. The exit code is 0 if there
    are no errors, 1 if there are, and 2 if something could not be read.
    """
    from putback.cli.choice import parse_choice
    from putback.cli.paint import painter
    from putback.lint.guides import lint
    from putback.lint.options import NoVariantError
    from putback.lint.result import nothing_read
    from putback.lint.search import NoGuideError, NoHistoryError

    report = report_as(form)
    paths = paths or (Path(),)
    try:
        result = lint(paths, parse_choice(only), _pick(since, paths))
    except (NoGuideError, NoHistoryError, NoVariantError) as error:
        if report.FOR_PROGRAMS and isinstance(error, NoGuideError):
            click.echo(report.write(nothing_read(error)))
        raise click.UsageError(str(error)) from None
    click.echo(report.write(result, painter()))
    raise click.exceptions.Exit(result.exit_code)


def _pick(since: str | None, paths: Sequence[Path]) -> Pick | None:
    """Return what says which guides are to be checked; None for all of them."""
    if since is None:
        return None
    from putback.lint.touched import changed_since

    return changed_since(since, paths)
