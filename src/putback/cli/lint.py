"""`putback lint`: check guides."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from putback.cli.choice import parse_choice, parse_part
from putback.cli.known import baseline_option, lay_over, parse_baseline, renew_option
from putback.cli.paint import painter
from putback.cli.reporting import parse_reports, report_option, write_reports
from putback.cli.streams import say
from putback.lint.cache import Cache
from putback.lint.guides import lint
from putback.lint.options import NoVariantError
from putback.lint.place import place_of_results
from putback.lint.report import formats, report_as
from putback.lint.result import LostHelperError, nothing_read
from putback.lint.search import NoGuideError, NoHistoryError

if TYPE_CHECKING:
    from putback.lint.search import Pick


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
@click.option(
    "--changed-since",
    "since",
    metavar="REV",
    help="Check only guides that have changed since the git revision REV, or whose library has.",
)
@baseline_option
@renew_option
@click.option(
    "--processes",
    metavar="N",
    type=click.IntRange(1, 256),
    help="Check guides in N processes.  [default: as many as are worth it]",
)
@click.option("--no-cache", is_flag=True, help="Check everything anew, and keep nothing.")
def command(
    paths: tuple[Path, ...],
    form: str,
    wanted: tuple[str, ...],
    only: tuple[str, ...],
    piece: str | None,
    since: str | None,
    known: Path | None,
    renew: bool,
    processes: int | None,
    no_cache: bool,
) -> None:
    """Check every guide in PATH, or in the current folder.

    PATH is the folder of a guide, a folder that contains guides, or one file of a guide. The exit code is 0 if there
    are no errors, 1 if there are, and 2 if something could not be read.
    """
    part = parse_part(piece, {"--variant": only, "--changed-since": since, "--baseline": known})
    report, reports, kept = report_as(form), parse_reports(wanted), parse_baseline(known, renew=renew)
    paths, cache = paths or (Path(),), Cache(None if no_cache else place_of_results())
    try:
        found = lint(paths, parse_choice(only), part, _pick(since, paths), processes=processes, cache=cache)
        result = lay_over(found, kept)
    except (NoGuideError, NoHistoryError, NoVariantError) as error:
        if isinstance(error, NoGuideError):
            nothing = nothing_read(error)
            if report.FOR_PROGRAMS:
                click.echo(report.write(nothing))
            write_reports(nothing, [each for each in reports if report_as(each.form).FOR_PROGRAMS])
        raise click.UsageError(str(error)) from None
    except LostHelperError as error:
        raise click.ClickException(str(error)) from None
    click.echo(report.write(result, painter()))
    write_reports(result, reports)
    if cache.trouble:
        say(f"note: {cache.trouble}")
    raise click.exceptions.Exit(result.exit_code)


def _pick(since: str | None, paths: Sequence[Path]) -> Pick | None:
    """Return what says which guides are to be checked; None for all of them."""
    if since is None:
        return None
    from putback.lint.touched import changed_since

    return changed_since(since, paths)
