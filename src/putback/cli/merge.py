"""`putback merge`: the reports of the parts of a check as one."""

from __future__ import annotations

from pathlib import Path

import click

from putback.cli.known import baseline_option, lay_over, parse_baseline
from putback.cli.reporting import parse_reports, report_option, write_reports
from putback.lint.report import formats, report_as


@click.command("merge")
@click.argument("files", metavar="REPORT ...", nargs=-1, required=True, type=click.Path(path_type=Path, readable=False))
@click.option(
    "--format", "form", type=click.Choice(formats()), default="text", show_default=True, help="Form of what is printed."
)
@report_option
@baseline_option
def command(files: tuple[Path, ...], form: str, wanted: tuple[str, ...], known: Path | None) -> None:
    """Merge the reports of all parts of a check into one.

    REPORT is what `putback lint --part K/N --report json:REPORT` wrote. The exit code is that of the whole check: 0 if
    there are no errors, 1 if there are, and 2 if something could not be read.
    """
    from putback.cli.paint import painter
    from putback.lint.merging import NoReportError, merged, read_part

    reports, kept = parse_reports(wanted), parse_baseline(known, renew=False)
    try:
        result = lay_over(merged([read_part(path) for path in files]), kept)
    except NoReportError as error:
        raise click.ClickException(str(error)) from None
    click.echo(report_as(form).write(result, painter()))
    write_reports(result, reports)
    raise click.exceptions.Exit(result.exit_code)
