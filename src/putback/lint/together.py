"""The results of several guides as one: what they share counts, and is told, once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from putback.lint.result import Result
from putback.source.finding import Finding


def together(
    results: Iterable[Result], unread: Sequence[Finding] = (), *, unreadable: bool = False, several: bool = False
) -> Result:
    """Return the results of guides as one, in their order, with folders that could not be looked into (`unread`).

    What one guide waives and another one does not, as in the library that both use, is told. What is said of a guide
    names it when there are several, or would be in a whole check.
    """
    results = list(results)
    guides = tuple(looked for one in results for looked in one.guides)
    findings = {*unread, *(finding for one in results for finding in one.findings)}
    waived = {each for one in results for each in one.waived if each.finding not in findings}
    unchecked = [f"what is in {fault.span.path}" for fault in unread]
    left_out: list[str] = []
    several = several or len(guides) > 1
    for looked in guides:
        of = f" ({looked.guide})" if several else ""
        unchecked += [f"{text}{of}" for text in looked.unchecked]
        left_out += [f"{text}{of}" for text in looked.left_out]
        if several and looked.whole and not looked.jobs_there:
            left_out.append(f"{looked.guide}, which has no job")
    return Result(
        findings=tuple(sorted(findings, key=_whole_order)),
        files=len({file for looked in guides for file in looked.files}),
        jobs=sum(len(looked.walked) for looked in guides),
        steps=sum(looked.steps for looked in guides),
        unreadable=unreadable or any(looked.unreadable for looked in guides),
        jobs_there=sum(looked.jobs_there for looked in guides),
        unchecked=tuple(unchecked),
        left_out=tuple(left_out),
        boundless=any(one.boundless for one in results),
        waived=tuple(sorted(waived, key=lambda each: (_whole_order(each.finding), each.reason))),
        guides=guides,
    )


def _whole_order(finding: Finding) -> tuple[object, ...]:
    """Return a key under which only equal findings are equal: nothing depends on the order in which they came."""
    span = finding.span
    return (*finding.order, span.end_line, span.end_column, finding.hint or "", finding.variant, finding.also)
