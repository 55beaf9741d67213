"""Findings as JSON, for programs."""

from __future__ import annotations

import json
from typing import Any

from putback.lint.report import Paint, plain
from putback.lint.result import Result
from putback.source.finding import Finding, Level
from putback.source.plainly import in_json

FOR_PROGRAMS = True


def write(result: Result, paint: Paint = plain) -> str:
    """Return findings and totals as one JSON document. Lines and columns count from 1, end columns are exclusive."""
    del paint
    document = {
        "findings": [finding_data(finding) for finding in result.findings],
        "summary": {
            "files": result.files,
            "jobs": result.jobs,
            "steps": result.steps,
            "errors": result.count(Level.ERROR),
            "warnings": result.count(Level.WARNING),
            "advice": result.count(Level.ADVICE),
            "complete": result.complete,
            "not_checked": [*result.unchecked, *result.left_out],
        },
    }
    return in_json(json.dumps(document, ensure_ascii=False, indent=2))


def finding_data(finding: Finding) -> dict[str, Any]:
    """Return one finding as plain data."""
    span = finding.span
    return {
        "check": finding.check,
        "level": finding.level.value,
        "path": span.path,
        "line": span.line,
        "column": span.column,
        "end_line": span.end_line,
        "end_column": span.end_column,
        "message": finding.message,
        "variant": dict(finding.variant),
        "also": [
            {
                "path": also.span.path,
                "line": also.span.line,
                "column": also.span.column,
                "end_line": also.span.end_line,
                "end_column": also.span.end_column,
                "message": also.message,
            }
            for also in finding.also
        ],
        "hint": finding.hint,
    }
