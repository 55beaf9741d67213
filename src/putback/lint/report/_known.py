"""Which findings are told though a baseline lists them."""

from __future__ import annotations

from putback.lint.result import Result
from putback.source.finding import Finding


def to_tell(result: Result) -> list[Finding]:
    """Return the findings without those that are known; what can injure is told until it is gone."""
    if not result.known:
        return [*result.findings]
    from putback.checks import all_checks

    quiet = {name for name, check in all_checks().items() if check.can_be_waived}
    return [finding for finding in result.findings if finding not in result.known or finding.check not in quiet]
