"""Findings as JSON, for programs."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any

from putback import __version__
from putback.lint.fingerprint import fingerprints
from putback.lint.parts import Share
from putback.lint.report import Paint, plain
from putback.lint.repository import folder_in_repository
from putback.lint.result import Result
from putback.source.finding import Finding, Level
from putback.source.plainly import in_json
from putback.source.span import Span

FOR_PROGRAMS = True


def write(result: Result, paint: Paint = plain) -> str:
    """Return findings and totals as one JSON document. Lines and columns count from 1, end columns are exclusive."""
    del paint
    marks = fingerprints(result)
    document = {
        "findings": [
            {**finding_data(finding, marks[finding]), **_known(result, finding in result.known)}
            for finding in result.findings
        ],
        "waived": [
            {**finding_data(each.finding, marks[each.finding]), "reason": each.reason} for each in result.waived
        ],
        "summary": {
            "files": result.files,
            "jobs": result.jobs,
            "steps": result.steps,
            "errors": result.count(Level.ERROR),
            "warnings": result.count(Level.WARNING),
            "advice": result.count(Level.ADVICE),
            **_known(result, len(result.known)),
            "complete": result.complete,
            "not_checked": [*result.not_checked],
        },
    }
    if result.share is not None:
        document["part"] = _part(result, result.share, marks)
    return in_json(json.dumps(document, ensure_ascii=False, indent=2))


def _part(result: Result, share: Share, marks: dict[Finding, str]) -> dict[str, Any]:
    """Return what it takes to put parts together."""
    return {
        "number": share.part.number,
        "of": share.part.of,
        "version": __version__,
        "folder": folder_in_repository(),
        "unreadable": result.unreadable,
        "unread": [finding_data(finding, marks[finding]) for finding in share.unread],
        "split": dict(share.split),
        "guides": [asdict(looked) for looked in result.guides],
    }


def _known(result: Result, value: int) -> dict[str, int]:
    """Return what a baseline makes of something; nothing when there is none."""
    return {} if result.baseline is None else {"known": value}


def finding_data(finding: Finding, fingerprint: str) -> dict[str, Any]:
    """Return one finding as plain data."""
    return {
        "check": finding.check,
        "level": finding.level.value,
        **_place(finding.span),
        "message": finding.message,
        "variant": dict(finding.variant),
        "also": [{**_place(also.span), "message": also.message} for also in finding.also],
        "hint": finding.hint,
        "fingerprint": fingerprint,
    }


def _place(span: Span) -> dict[str, Any]:
    return span._asdict()
