"""Findings as JUnit XML: a test case for each job and group of checks.

A suite is a guide. A case of a job fails when a check of its group finds an error there; what kept the file from being
read is an error of the case; a job that could not be walked is skipped in the groups that found nothing. Warnings,
advice and what is waived are the output of a case. Other files have a case for each group that found something.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from xml.etree import ElementTree as ET

from putback.checks import Group, all_checks
from putback.lint.report import Paint, plain
from putback.lint.report._plainly import lines_of, told
from putback.lint.repository import as_called, called_in, guide_around, in_order
from putback.lint.result import Looked, Result, Waived
from putback.source.finding import Finding, Level
from putback.source.plainly import in_xml

FOR_PROGRAMS = True

_NO_XML = re.compile("[\\ufffe\\uffff]")
"""What XML 1.0 has no way to write, beside what is written out everywhere."""

_OTHER_GROUP = "Other checks"
"""Of a check that is not installed here."""


@dataclass(slots=True)
class _Case:
    """What the checks of one group say of one file."""

    errors: list[Finding] = field(default_factory=list)
    """What makes it fail."""
    said: list[str] = field(default_factory=list)
    """What does not: warnings, advice, what is waived or known."""
    skipped: bool = False
    """Whether the job could not be walked."""


_Cases = dict[tuple[str, str], _Case]
"""By file, then by group."""


def write(result: Result, paint: Paint = plain) -> str:
    """Return one document; it has no times, which would differ from run to run."""
    del paint
    called = called_in(result)
    suites: dict[str, _Cases] = {called[looked.guide]: _cases_of(looked, called) for looked in result.guides}
    guides, waived = [*suites], {each.finding: each for each in result.waived}
    for finding in in_order([*result.findings, *waived], called):
        path = called[finding.span.path]
        suite = suites.setdefault(_suite_of(path, guides), defaultdict(_Case))
        case = suite[path, _group(finding)]
        _note(case, as_called(finding, called), waived.get(finding), known=finding in result.known)
    elements = [_suite(name, cases) for name, cases in suites.items() if cases]
    top = ET.Element("testsuites", {"name": "putback", **_totals(elements)})
    top.extend(elements)
    if result.not_checked:
        top.append(_not_checked(result.not_checked, failed=bool(result.unchecked)))
        top.attrib |= _totals(top)
    ET.indent(top)
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{in_xml(ET.tostring(top, encoding="unicode"))}'


def _cases_of(looked: Looked, called: Mapping[str, str]) -> _Cases:
    """Return a case for each job of a guide and each group, without anything found."""
    cases: _Cases = defaultdict(_Case)
    for job in sorted({*looked.walked, *looked.not_walked}):
        for group in Group:
            cases[called[job], group.title] = _Case(skipped=job in looked.not_walked)
    return cases


def _suite_of(path: str, guides: Iterable[str]) -> str:
    """Return the guide that a file is in; of the library, its folder."""
    return guide_around(path, guides) or path.rpartition("/")[0] or "."


def _group(finding: Finding) -> str:
    check = all_checks().get(finding.check)
    return check.group.title if check else _OTHER_GROUP


def _note(case: _Case, finding: Finding, waiver: Waived | None, *, known: bool) -> None:
    if waiver is not None:
        case.said.append(f"waived {_line(finding)}\nbecause: {waiver.reason}")
    elif known:
        case.said.append(f"known {_line(finding)}")
    elif finding.level is Level.ERROR:
        case.errors.append(finding)
    else:
        case.said.append(_line(finding))


def _line(finding: Finding) -> str:
    return f"{finding.level.value} {finding.check} at {finding.span}: {told(finding)}"


def _suite(name: str, cases: _Cases) -> ET.Element:
    elements = [_case(path, group, case) for (path, group), case in cases.items()]
    suite = ET.Element("testsuite", {"name": _xml(name)})
    suite.extend(elements)
    suite.attrib |= _counts(elements)
    return suite


def _case(path: str, group: str, case: _Case) -> ET.Element:
    element = ET.Element("testcase", {"classname": _xml(path), "name": group})
    if case.errors:
        first, *more = case.errors
        many = f" (and {len(more)} more)" if more else ""
        kind = "error" if group == Group.READING.title else "failure"
        fault = ET.SubElement(element, kind, {"type": first.check, "message": _xml(f"{told(first)}{many}")})
        fault.text = _xml("\n".join(_told_whole(case.errors)))
    elif case.skipped:
        ET.SubElement(element, "skipped", {"message": "not checked: the job could not be followed to its end"})
    if case.said:
        ET.SubElement(element, "system-out").text = _xml("\n".join(case.said))
    return element


def _told_whole(findings: Iterable[Finding]) -> Iterator[str]:
    for finding in findings:
        yield _line(finding)
        for also in finding.also:
            yield f"  {also.span}: {also.message}"


def _not_checked(texts: Iterable[str], *, failed: bool) -> ET.Element:
    """Return a suite that says what was not checked; it fails when that was asked for."""
    case = ET.Element("testcase", {"classname": "putback", "name": "everything was checked"})
    ET.SubElement(case, "failure" if failed else "skipped", {"message": _xml(f"not checked: {', '.join(texts)}")})
    suite = ET.Element("testsuite", {"name": "putback", **_counts([case])})
    suite.append(case)
    return suite


def _counts(cases: list[ET.Element]) -> dict[str, str]:
    kinds = {"failures": "failure", "errors": "error", "skipped": "skipped"}
    counted = {name: sum(case.find(kind) is not None for case in cases) for name, kind in kinds.items()}
    return {name: str(number) for name, number in {"tests": len(cases), **counted}.items()}


def _totals(suites: Iterable[ET.Element]) -> dict[str, str]:
    suites = list(suites)
    return {name: str(sum(int(suite.attrib[name]) for suite in suites)) for name in ("tests", "failures", "errors")}


def _xml(text: str) -> str:
    """Return a text as XML can have it; what it cannot write, or nobody would see, is shown by its number."""
    return _NO_XML.sub(lambda found: f"\\u{ord(found[0]):04x}", lines_of(text))
