"""Findings as SARIF 2.1.0, which many platforms and editors show.

Columns count characters (Unicode code points). Paths count from the top of the repository, `%SRCROOT%`. What is waived
is there as well, as suppressed in the source, with its reason.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any
from urllib.parse import quote

from putback import __version__
from putback.checks import all_checks
from putback.lint.fingerprint import fingerprints
from putback.lint.report import Paint, plain
from putback.lint.report._plainly import lines_of, told
from putback.lint.repository import called_in
from putback.lint.result import Result
from putback.source.finding import Finding, Level
from putback.source.plainly import in_json
from putback.source.span import Span

FOR_PROGRAMS = True

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
"""Where OASIS publishes the schema; nothing is fetched from there."""

BASE = "%SRCROOT%"
"""What a relative path counts from."""

FINGERPRINT = "putbackFinding/v1"
"""The name of our fingerprint, with the version of how it is made."""

_LEVELS = {Level.ERROR: "error", Level.WARNING: "warning", Level.ADVICE: "note"}

_LINK = re.compile(r"\[(?=[^\]]*\]\()")
"""What begins a link in a message."""

Json = dict[str, Any]


def write(result: Result, paint: Paint = plain) -> str:
    """Return one run, with all findings as results."""
    del paint
    every = [*result.findings, *(each.finding for each in result.waived)]
    rules = {name: number for number, name in enumerate(sorted({finding.check for finding in every}))}
    marks, called = fingerprints(result), called_in(result)
    reasons = {each.finding: each.reason for each in result.waived}
    results = [
        {
            "ruleId": finding.check,
            "ruleIndex": rules[finding.check],
            "level": _LEVELS[finding.level],
            "message": _message(told(finding)),
            "locations": [_location(finding.span, called)],
            **_related(finding, called),
            "partialFingerprints": {FINGERPRINT: marks[finding]},
            "suppressions": _suppressions(reasons.get(finding)),
            **_state(result, finding),
            **_properties(finding),
        }
        for finding in sorted(every, key=lambda finding: finding.order)
    ]
    run = {
        "tool": {"driver": {"name": "Putback", "version": __version__, "rules": [_rule(name) for name in rules]}},
        "invocations": [_invocation(result)],
        "originalUriBaseIds": {BASE: {"description": _message("The top of the repository.")}},
        "columnKind": "unicodeCodePoints",
        "results": results,
    }
    return in_json(json.dumps({"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}, ensure_ascii=False, indent=2))


def _rule(name: str) -> Json:
    """Return what a check is about; of one that is not installed here, its name."""
    check = all_checks().get(name)
    if check is None:
        return {"id": name}
    return {
        "id": name,
        "name": "".join(word.capitalize() for word in name.split("-")),
        "shortDescription": _message(check.summary),
        "fullDescription": _message(check.why or check.summary),
        "help": {**_message(check.text), "markdown": _message(check.text)["text"]},
        "defaultConfiguration": {"level": _LEVELS[check.level]},
        "properties": {"group": check.group.title, "canBeWaived": check.can_be_waived},
    }


def _message(text: str) -> Json:
    """Return a text as a message string: braces would be placeholders, and brackets before a parenthesis a link."""
    escaped = _LINK.sub(r"\\[", lines_of(text).replace("{", "{{").replace("}", "}}"))
    return {"text": escaped}


def _escaped(path: str) -> str:
    """Return a path as it stands in an address, whatever is in it."""
    return quote(path.encode("utf-8", "surrogatepass"))


def _location(span: Span, called: dict[str, str]) -> Json:
    path = called[span.path]
    if Path(path).is_absolute():
        place = {"uri": f"file:///{_escaped(path.removeprefix('/'))}"}
    else:
        place = {"uri": _escaped(path), "uriBaseId": BASE}
    region = {
        "startLine": span.line,
        "startColumn": span.column,
        "endLine": span.end_line,
        "endColumn": span.end_column,
    }
    return {"physicalLocation": {"artifactLocation": place, "region": region}}


def _related(finding: Finding, called: dict[str, str]) -> Json:
    places = [
        {"id": number, "message": _message(also.message), **_location(also.span, called)}
        for number, also in enumerate(finding.also, 1)
    ]
    return {"relatedLocations": places} if places else {}


def _state(result: Result, finding: Finding) -> Json:
    """Return whether a baseline lists a finding; nothing when there is none."""
    if result.baseline is None:
        return {}
    return {"baselineState": "unchanged" if finding in result.known else "new"}


def _suppressions(reason: str | None) -> list[Json]:
    return [] if reason is None else [{"kind": "inSource", "justification": lines_of(reason)}]


def _properties(finding: Finding) -> Json:
    said: Json = {}
    if finding.variant:
        said["variant"] = {lines_of(option): lines_of(choice) for option, choice in finding.variant}
    if finding.hint:
        said["hint"] = lines_of(finding.hint)
    return {"properties": said} if said else {}


def _invocation(result: Result) -> Json:
    """Return how the run ended, with a notification for all that was not checked."""
    level = "error" if result.unreadable else "warning"
    notes = [(level, f"not checked: {text}") for text in result.unchecked]
    notes += [("note", f"not asked for: {text}") for text in result.not_checked[len(result.unchecked) :]]
    if result.unreadable:
        notes.append(("error", "not everything could be read"))
    return {
        "executionSuccessful": not result.unreadable,
        "exitCode": result.exit_code,
        "toolExecutionNotifications": [{"level": level, "message": _message(text)} for level, text in notes],
    }
