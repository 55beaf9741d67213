"""What authors waive: findings that are left out with a reason, and waivers that do no good."""

from __future__ import annotations

from collections.abc import Iterator

from putback.checks import all_checks
from putback.guide.record import Guide
from putback.lint.result import Waived
from putback.model.job import Sequence as Steps
from putback.model.terms import Waiver
from putback.source.finding import Finding
from putback.source.nearest import nearest
from putback.source.renamed import new_name, now_called
from putback.source.span import Span


def apart(guide: Guide, findings: list[Finding], *, complete: bool) -> tuple[list[Finding], list[Waived]]:
    """Return what stays, with a finding for each waiver that does no good; and what the author waives."""
    scopes = list(_scopes(guide))
    used: set[Span] = set()
    checks = all_checks()
    told, waived = list[Finding](), list[Waived]()
    for finding in findings:
        taken = None
        for path, area, waiver in scopes:
            name = _meant(waiver)
            check = checks.get(name)
            if (
                finding.check == name
                and waiver.reason
                and check
                and check.can_be_waived
                and (path is None or (finding.span.path == path and _inside(finding.span, area)))
            ):
                taken = waiver
        if taken is not None:
            used.add(taken.check.span)
            waived.append(Waived(finding, taken.reason))
        else:
            told.append(finding)
    for _, _, waiver in scopes:
        message = _idle(waiver, used=not complete or waiver.check.span in used)
        if message:
            told.append(Finding("bad-waiver", checks["bad-waiver"].level, waiver.check.span, message))
    return told, waived


def _meant(waiver: Waiver) -> str:
    """Return the check that a waiver names, be it by a name that it had before."""
    name = waiver.check.name
    return name if name in all_checks() else new_name("check", name) or name


def _idle(waiver: Waiver, *, used: bool) -> str | None:
    name = waiver.check.name
    check = all_checks().get(name)
    if check is None and (now := new_name("check", name)):
        return now_called(name, now)
    if check is None:
        near = nearest(name, all_checks())
        return f"no check is called '{name}'" + (f"; did you mean '{near}'?" if near else "")
    if not check.can_be_waived:
        return f"'{name}' cannot be waived: missing it can injure somebody"
    if not waiver.reason:
        return f"'{name}' is waived without a reason"
    if not used:
        return f"there is no finding of '{name}' here to waive"
    return None


def _scopes(guide: Guide) -> Iterator[tuple[str | None, Span, Waiver]]:
    """Yield waivers with the file and the lines they reach, the narrowest last."""
    for waiver in guide.cover.waive if guide.cover else ():
        yield None, waiver.check.span, waiver
    for sequence in guide.sequences():
        for waiver in sequence.waive:
            yield sequence.path, _whole(sequence), waiver
        for step in sequence.steps():
            for waiver in step.waive:
                yield step.span.path, step.span, waiver


def _whole(sequence: Steps) -> Span:
    return Span(sequence.path, 1, 1, 1 << 30, 1)


def _inside(span: Span, area: Span) -> bool:
    return (area.line, area.column) <= (span.line, span.column) and (span.line, span.column) <= (
        area.end_line,
        area.end_column,
    )
