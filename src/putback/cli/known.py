"""`--baseline FILE`: findings that are known do not fail; with `--renew`, the file is written."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import click

from putback.source.plainly import printable

if TYPE_CHECKING:
    from putback.lint.baseline_file import Baseline
    from putback.lint.result import Result

baseline_option = click.option(
    "--baseline",
    "known",
    metavar="FILE",
    type=click.Path(path_type=Path, readable=False),
    help="Do not fail for the findings that FILE lists as known, but for lines of it whose finding is gone.",
)
renew_option = click.option("--renew", is_flag=True, help="Write FILE of --baseline: all that is found now is known.")


class Kept(NamedTuple):
    """A baseline as it was asked for."""

    path: Path
    """The file."""
    baseline: Baseline | None
    """What it says; None when it is not there yet."""
    renew: bool
    """Whether it is to be written."""


def parse_baseline(path: Path | None, *, renew: bool) -> Kept | None:
    """Return the baseline of a command line, None without one. Raises `click.UsageError` for a file that is none."""
    if path is None:
        if renew:
            raise click.UsageError("--renew writes the file of --baseline: add --baseline FILE")
        return None
    from putback.lint.baseline_file import BadBaselineError, read_baseline

    shown = printable(str(path))
    if not os.path.lexists(path):
        if not renew:
            raise click.UsageError(f"'{shown}' does not exist; with --renew as well, it is written")
        return Kept(path, None, renew)
    try:
        return Kept(path, read_baseline(path), renew)
    except BadBaselineError as error:
        raise click.ClickException(f"the baseline cannot be used\n{error}") from None


def lay_over(result: Result, kept: Kept | None) -> Result:
    """Return a result with what a baseline knows; write the file first when that was asked for."""
    if kept is None:
        return result
    from putback.lint.baseline import renewed, with_baseline
    from putback.lint.baseline_file import read_baseline, written
    from putback.placing.file import write_whole

    baseline = kept.baseline
    if kept.renew:
        entries = renewed(result, baseline)
        before = set(baseline.entries.values()) if baseline else set()
        try:
            write_whole(kept.path, written(entries).encode())
        except OSError as error:
            reason = (error.strerror or str(error)).lower()
            raise click.ClickException(f"'{printable(str(kept.path))}' cannot be written: {reason}") from None
        fresh, gone = len(set(entries) - before), len(before - set(entries))
        told = f"{printable(str(kept.path))} is written: {len(entries)} known, {fresh} of them new; {gone} taken out"
        click.echo(told, err=True)
        baseline = read_baseline(kept.path)
    return with_baseline(result, baseline) if baseline else result
