"""What authors accept: findings that are left out with a reason, and acceptances that do no good."""

from __future__ import annotations

from collections.abc import Iterator

from putback.checks import all_checks
from putback.guide.record import Guide
from putback.model.job import Sequence as Steps
from putback.model.terms import Acceptance
from putback.source.finding import Finding
from putback.source.nearest import nearest
from putback.source.span import Span


def accepted(guide: Guide, findings: list[Finding], *, complete: bool) -> Iterator[Finding]:
    """Leave out what the author accepts, and say which acceptances do no good."""
    scopes = list(_scopes(guide))
    used: set[Span] = set()
    checks = all_checks()
    for finding in findings:
        taken = None
        for path, area, acceptance in scopes:
            check = checks.get(acceptance.check.name)
            if (
                finding.check == acceptance.check.name
                and acceptance.reason
                and check
                and check.can_be_accepted
                and (path is None or (finding.span.path == path and _inside(finding.span, area)))
            ):
                taken = acceptance
        if taken is not None:
            used.add(taken.check.span)
        else:
            yield finding
    for _, _, acceptance in scopes:
        message = _idle(acceptance, used=not complete or acceptance.check.span in used)
        if message:
            yield Finding("bad-accept", checks["bad-accept"].level, acceptance.check.span, message)


def _idle(acceptance: Acceptance, *, used: bool) -> str | None:
    name = acceptance.check.name
    check = all_checks().get(name)
    if check is None:
        near = nearest(name, all_checks())
        return f"no check is called '{name}'" + (f"; did you mean '{near}'?" if near else "")
    if not check.can_be_accepted:
        return f"'{name}' cannot be accepted: missing it can injure somebody"
    if not acceptance.reason:
        return f"'{name}' is accepted without a reason"
    if not used:
        return f"nothing here is accepted by this: there is no finding of '{name}'"
    return None


def _scopes(guide: Guide) -> Iterator[tuple[str | None, Span, Acceptance]]:
    """Yield acceptances with the file and the lines they reach, the narrowest last."""
    for acceptance in guide.cover.accept if guide.cover else ():
        yield None, acceptance.check.span, acceptance
    for sequence in guide.sequences():
        for acceptance in sequence.accept:
            yield sequence.path, _whole(sequence), acceptance
        for step in sequence.steps():
            for acceptance in step.accept:
                yield sequence.path, step.span, acceptance


def _whole(sequence: Steps) -> Span:
    return Span(sequence.path, 1, 1, 1 << 30, 1)


def _inside(span: Span, area: Span) -> bool:
    return (area.line, area.column) <= (span.line, span.column) and (span.line, span.column) <= (
        area.end_line,
        area.end_column,
    )
