"""Findings as a Code Quality report of GitLab, which shows them in a merge request.

Errors are critical, warnings minor, advice info.
"""

from __future__ import annotations

import json

from putback.lint.fingerprint import fingerprints
from putback.lint.report import Paint, plain
from putback.lint.report._plainly import told
from putback.lint.repository import called_in
from putback.lint.result import Result
from putback.source.finding import Level
from putback.source.plainly import in_json

FOR_PROGRAMS = True

_SEVERITIES = {Level.ERROR: "critical", Level.WARNING: "minor", Level.ADVICE: "info"}


def write(result: Result, paint: Paint = plain) -> str:
    """Return a list with an object for each finding."""
    del paint
    marks, called = fingerprints(result), called_in(result)
    issues = [
        {
            "description": told(finding),
            "check_name": finding.check,
            "fingerprint": marks[finding],
            "severity": _SEVERITIES[finding.level],
            "location": {
                "path": called[finding.span.path],
                "lines": {"begin": finding.span.line, "end": finding.span.end_line},
            },
        }
        for finding in result.findings
    ]
    return in_json(json.dumps(issues, ensure_ascii=False, indent=2))
