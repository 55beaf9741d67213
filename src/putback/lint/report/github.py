"""Findings as workflow commands of GitHub Actions, which shows them at their lines.

One line a finding, `::error file=…,line=…::…`, then the totals. Advice is a notice.
"""

from __future__ import annotations

from putback.lint.report import Paint, plain
from putback.lint.report._known import to_tell
from putback.lint.report._plainly import told
from putback.lint.report.text import totals
from putback.lint.repository import called_in
from putback.lint.result import Result
from putback.source.finding import Finding, Level
from putback.source.plainly import not_obeyed, printable

FOR_PROGRAMS = True

_COMMANDS = {Level.ERROR: "error", Level.WARNING: "warning", Level.ADVICE: "notice"}

_IN_VALUE = str.maketrans({"%": "%25", "\r": "%0D", "\n": "%0A"})
_IN_PROPERTY = _IN_VALUE | str.maketrans({":": "%3A", ",": "%2C"})


def write(result: Result, paint: Paint = plain) -> str:
    """Return a command for each finding, and the totals as a line that is no command."""
    del paint
    called = called_in(result)
    commands = [
        _command(finding, called[finding.span.path], known=finding in result.known) for finding in to_tell(result)
    ]
    return "\n".join([*commands, not_obeyed(printable(totals(result)))])


def _command(finding: Finding, path: str, *, known: bool) -> str:
    span = finding.span
    where = {"file": path, "line": str(span.line), "endLine": str(span.end_line)}
    if span.line == span.end_line:
        where |= {"col": str(span.column), "endColumn": str(span.end_column)}
    where["title"] = f"{'known ' if known else ''}{finding.level.value} {finding.check}"
    properties = ",".join(f"{key}={value.translate(_IN_PROPERTY)}" for key, value in where.items())
    also = [printable(f"{each.span.path}:{each.span.line}: {each.message}") for each in finding.also]
    message = "\n".join([told(finding), *also]).translate(_IN_VALUE)
    level = Level.WARNING if known and finding.level is Level.ERROR else finding.level
    return f"::{_COMMANDS[level]} {properties}::{message}"
