"""The results of several guides, each checked by itself, as one."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from typing import TYPE_CHECKING

from putback.lint.result import GuideResult, Looked, Result, Waived
from putback.source.finding import Finding
from putback.source.grammar import listed
from putback.source.nearest import nearest

if TYPE_CHECKING:
    from putback.variants import Choice


class NoVariantError(Exception):
    """A choice of options that no guide has, or that was never built; the message says why."""


def must_be_known(only: Choice, options: Collection[str]) -> None:
    """Raise `NoVariantError` for a choice of an option that is not among those of the guides."""
    known = sorted(options)
    for option, _ in only:
        if option not in options:
            near = nearest(option, known)
            hint = (
                f"; did you mean '{near}'?" if near else f"; there are {listed(known)}" if known else "; there are none"
            )
            raise NoVariantError(f"no guide here has an option '{option}'{hint}")


def joined(guides: Sequence[GuideResult], only: Choice = (), unread: Sequence[Finding] = ()) -> Result:
    """Return the results of all guides together, with the folders on the way to them that could not be looked into.

    Raises `NoVariantError` when `only` is a choice that no guide has, or that makes no sense for one of them.
    """
    must_be_known(only, {option for guide in guides for option in guide.options})
    for guide in guides:
        if guide.refused is not None:
            raise NoVariantError(guide.refused)
    found = {finding for guide in guides for finding in guide.result.findings}
    waived = {each for guide in guides for each in guide.result.waived}
    return together([_looked(guide) for guide in guides], found, waived, unread)


def _looked(guide: GuideResult) -> Looked:
    result = guide.result
    return Looked(
        guide.shown,
        guide.whole,
        guide.files,
        result.walked,
        result.not_walked,
        result.jobs_there,
        result.steps,
        result.unchecked,
        result.left_out,
        result.unreadable,
        guide.unread,
    )


def together(
    guides: Sequence[Looked], found: Iterable[Finding], waived: Iterable[Waived] = (), unread: Sequence[Finding] = ()
) -> Result:
    """Return what was found in guides as one result: what they share counts, and is told, once.

    What one guide waives and another one does not, as in the library that both use, is told. `unread` are folders that
    could not be looked into.
    """
    told = {path for looked in guides for path in looked.unread}
    unread_here = [fault for fault in unread if fault.span.path not in told]
    findings = {*unread_here, *found}
    unchecked = [f"what is in {fault.span.path}" for fault in unread_here]
    left_out: list[str] = []
    for looked in guides:
        of = f" ({looked.guide})" if len(guides) > 1 else ""
        unchecked += [f"{text}{of}" for text in looked.unchecked]
        left_out += [f"{text}{of}" for text in looked.left_out]
        if len(guides) > 1 and looked.whole and not looked.jobs_there:
            left_out.append(f"{looked.guide}, which has no job")
    return Result(
        findings=tuple(sorted(findings, key=_whole_order)),
        files=len({file for looked in guides for file in looked.files}),
        jobs=sum(len(looked.walked) for looked in guides),
        steps=sum(looked.steps for looked in guides),
        unreadable=bool(unread) or any(looked.unreadable for looked in guides),
        jobs_there=sum(looked.jobs_there for looked in guides),
        unchecked=tuple(unchecked),
        left_out=tuple(left_out),
        waived=tuple(
            sorted(
                {each for each in waived if each.finding not in findings},
                key=lambda each: (_whole_order(each.finding), each.reason),
            )
        ),
        walked=tuple(file for looked in guides for file in looked.walked),
        not_walked=tuple(file for looked in guides for file in looked.not_walked),
        guides=tuple(guides),
    )


def _whole_order(finding: Finding) -> tuple[object, ...]:
    """Return a key under which only equal findings are equal: nothing depends on the order in which they came."""
    span = finding.span
    return (*finding.order, span.end_line, span.end_column, finding.hint or "", finding.variant, finding.also)
