"""`putback lint`: check guides."""

from __future__ import annotations

from pathlib import Path

import click

from putback.cli.reporting import parse_reports, report_option, write_reports
from putback.lint.report import formats, report_as


@click.command("lint")
@click.argument("paths", metavar="[PATH ...]", nargs=-1, type=click.Path(path_type=Path, readable=False))
@click.option(
    "--format", "form", type=click.Choice(formats()), default="text", show_default=True, help="Form of what is printed."
)
@report_option
@click.option("--variant", "only", metavar="OPTION=VALUE", multiple=True, help="Check only variants with this choice.")
@click.option(
    "--part", "piece", metavar="K/N", help="Check only the K-th of N parts of the guides, for N machines at once."
)
def command(
    paths: tuple[Path, ...], form: str, wanted: tuple[str, ...], only: tuple[str, ...], piece: str | None
) -> None:
    """Check every guide in PATH, or in the current folder.

    PATH is the folder of a guide, a folder that contains guides, or one file of a guide. The exit code is 0 if there
    are no errors, 1 if there are, and 2 if something could not be read.
    """
    from putback.cli.choice import parse_choice, parse_part
    from putback.cli.paint import painter
    from putback.lint.guides import lint
    from putback.lint.options import NoVariantError
    from putback.lint.result import nothing_read
    from putback.lint.search import NoGuideError

    if piece is not None and only:
        raise click.UsageError("--part checks all variants, for a check of everything; leave out --variant")
    report, reports, part = report_as(form), parse_reports(wanted), parse_part(piece)
    try:
        result = lint(paths or (Path(),), parse_choice(only), part)
    except (NoGuideError, NoVariantError) as error:
        if isinstance(error, NoGuideError):
            nothing = nothing_read(error)
            if report.FOR_PROGRAMS:
                click.echo(report.write(nothing))
            write_reports(nothing, [each for each in reports if report_as(each.form).FOR_PROGRAMS])
        raise click.UsageError(str(error)) from None
    click.echo(report.write(result, painter()))
    write_reports(result, reports)
    raise click.exceptions.Exit(result.exit_code)
