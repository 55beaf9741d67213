"""What several forms of report say alike."""

from __future__ import annotations

from putback.lint.report.text import only_when
from putback.source.finding import Finding
from putback.source.plainly import printable


def lines_of(text: str) -> str:
    """Return a text with its lines, and all else that cannot be seen written out."""
    return "\n".join(map(printable, text.split("\n")))


def told(finding: Finding) -> str:
    """Return a finding in one line: what was found, for which variants, and what would be right."""
    hint = f"; fix: {finding.hint}" if finding.hint else ""
    return printable(f"{finding.message}{only_when(finding.variant)}{hint}")
