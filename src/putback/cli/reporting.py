"""Reports of a check: one on the standard output, and as many as wanted in files."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import click

from putback.lint.report import formats, report_as
from putback.source.plainly import printable

if TYPE_CHECKING:
    from putback.lint.result import Result

report_option = click.option(
    "--report",
    "wanted",
    metavar="FORM:FILE",
    multiple=True,
    help="Write a report to a file as well, such as sarif:findings.sarif.",
)
"""The option of the commands that write reports."""

_OF_GUIDES = frozenset({".yaml", ".yml", ".md", ".po"})
"""How the names of files end that authors write: a report never takes the place of one."""


class AskedFor(NamedTuple):
    """A report that goes into a file."""

    form: str
    """Its form."""
    path: Path
    """The file."""


def parse_reports(words: tuple[str, ...]) -> list[AskedFor]:
    """Return the reports of a command line. Raises `click.UsageError` for one that cannot be made."""
    from putback.source.nearest import nearest

    found: list[AskedFor] = []
    for word in words:
        form, colon, name = word.partition(":")
        if form not in formats():
            near = nearest(form, formats())
            hint = f"did you mean '{near}'?" if near else f"there are {', '.join(formats())}"
            raise click.UsageError(f"--report has no form '{form}'; {hint}")
        if not (colon and name):
            here = f"for the standard output, use --format {form}"
            raise click.UsageError(f"--report takes FORM:FILE, such as {form}:findings.{form}; {here}")
        path = Path(name)
        if path.suffix in _OF_GUIDES:
            raise click.UsageError(f"'{name}' is the name of a file that authors write; name the report otherwise")
        if path.resolve() in {each.path.resolve() for each in found}:
            raise click.UsageError(f"two reports go into '{name}'; give each its own file")
        found.append(AskedFor(form, path))
    return found


def write_reports(result: Result, wanted: list[AskedFor]) -> None:
    """Write each report into its file, as a whole or not at all. Raises `click.UsageError` when one cannot be."""
    for form, path in wanted:
        from putback.placing.file import write_whole

        try:
            write_whole(path, f"{report_as(form).write(result)}\n".encode(errors="backslashreplace"))
        except OSError as error:
            reason = (error.strerror or str(error)).lower()
            raise click.ClickException(f"'{printable(str(path))}' cannot be written: {reason}") from None
