"""`putback lint`: check guides."""

from __future__ import annotations

from pathlib import Path

import click

from putback.lint.report import formats, report_as


@click.command("lint")
@click.argument("paths", metavar="[PATH ...]", nargs=-1, type=click.Path(path_type=Path, readable=False))
@click.option("--format", "form", type=click.Choice(formats()), default="text", help="How to print the findings.")
@click.option("--variant", "only", metavar="OPTION=VALUE", multiple=True, help="Check only variants with this choice.")
def command(paths: tuple[Path, ...], form: str, only: tuple[str, ...]) -> None:
    """Check guides: everything under PATH, or under the current folder.

    A PATH is a guide's folder, a folder with guides in it, or one file of a guide. Exits 0 when there is no
    error, 1 with errors, 2 when something could not be read.
    """
    from putback.cli.choice import parse_choice
    from putback.cli.paint import painter
    from putback.lint.result import nothing_read
    from putback.lint.run import NoGuideError, NoVariantError, lint

    report = report_as(form)
    try:
        result = lint(paths or (Path(),), parse_choice(only))
    except (NoGuideError, NoVariantError) as error:
        if report.FOR_PROGRAMS and isinstance(error, NoGuideError):
            click.echo(report.write(nothing_read(error)))
        raise click.UsageError(str(error)) from None
    click.echo(report.write(result, painter()))
    raise click.exceptions.Exit(result.exit_code)
