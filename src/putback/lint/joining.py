"""The results of several guides, each checked by itself, as one."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import TYPE_CHECKING

from putback.lint.result import GuideResult, Result
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
    told = {path for guide in guides for path in guide.unread}
    unread_here = [fault for fault in unread if fault.span.path not in told]
    findings = {*unread_here, *(finding for guide in guides for finding in guide.result.findings)}
    unchecked = [f"what is in {fault.span.path}" for fault in unread_here]
    left_out: list[str] = []
    for guide in guides:
        of = f" ({guide.shown})" if len(guides) > 1 else ""
        unchecked += [f"{text}{of}" for text in guide.result.unchecked]
        left_out += [f"{text}{of}" for text in guide.result.left_out]
        if len(guides) > 1 and not guide.result.jobs_there and guide.whole:
            left_out.append(f"{guide.shown}, which has no job")
    return Result(
        findings=tuple(sorted(findings, key=lambda finding: finding.order)),
        files=len({file for guide in guides for file in guide.files}),
        jobs=sum(guide.result.jobs for guide in guides),
        steps=sum(guide.result.steps for guide in guides),
        unreadable=bool(unread) or any(guide.result.unreadable for guide in guides),
        jobs_there=sum(guide.result.jobs_there for guide in guides),
        unchecked=tuple(unchecked),
        left_out=tuple(left_out),
    )
