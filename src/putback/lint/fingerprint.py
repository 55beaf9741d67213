"""What a finding is known by from one run to the next, though the lines of its file have moved.

A fingerprint is made of the check, the file as it is called in its repository, the message, and the place: the words
that are marked, their line, and the lines that it belongs to. It has no number of a line or a step, so it stays when
neighbours come, go or change. Findings that agree in all of this are told apart by their order.
"""

from __future__ import annotations

import hashlib
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence

from putback.lint.repository import in_repository
from putback.lint.result import Result
from putback.lint.source import source_lines
from putback.source.finding import Finding
from putback.source.span import Span

_NUMBERED = re.compile(r"\b(lines?|steps?|column) \d+(?:(?:, | and | to )\d+)*")
"""Where a message speaks of a place by its number."""

_ITEM = re.compile(r"(?:- +)+")
"""What begins an item of a list in YAML."""

_LETTERS = 32
"""Hexadecimal digits of a fingerprint: 128 bits."""


def fingerprints(result: Result) -> dict[Finding, str]:
    """Return the fingerprint of each finding, of those that are waived as well.

    It reads the files in which something was found. What cannot be read any more is known by check, path and message.
    """
    if result.marks is not None:
        return dict(result.marks)
    findings = [*result.findings, *(each.finding for each in result.waived)]
    called = in_repository(finding.span.path for finding in findings)
    return numbered({finding: _base(finding, called[finding.span.path]) for finding in findings})


def numbered(bases: Mapping[Finding, str]) -> dict[Finding, str]:
    """Return the fingerprints of findings by what each alone is known by: the second of several alike ends in `:2`."""
    times: Counter[str] = Counter()
    found: dict[Finding, str] = {}
    for finding in sorted(bases, key=lambda finding: finding.order):
        base = bases[finding]
        times[base] += 1
        found[finding] = base if times[base] == 1 else f"{base}:{times[base]}"
    return found


def base_of(fingerprint: str) -> str:
    """Return a fingerprint without its number among several alike."""
    return fingerprint.partition(":")[0]


def _base(finding: Finding, path: str) -> str:
    message = _NUMBERED.sub(r"\1", finding.message)
    return _digest([finding.check, path, message, *_place(finding.span)])


def _place(span: Span) -> Iterator[str]:
    """Yield the lines that a place belongs to, the outermost first, then its own line and the words that are marked."""
    lines = source_lines(span.path)
    if not 0 < span.line <= len(lines):
        return
    yield from _above(lines, span.line)
    own = lines[span.line - 1]
    end = span.end_column if span.end_line == span.line else len(own) + 1
    yield own.strip()
    yield own[span.column - 1 : end - 1]


def _above(lines: Sequence[str], number: int) -> list[str]:
    """Return the keys and the heads of list items that a line of YAML is under, by their indentation."""
    found: list[str] = []
    depth = _indent(lines[number - 1])
    for line in reversed(lines[: number - 1]):
        if depth == 0:
            break
        text = line.strip()
        if not text or text.startswith("#") or _indent(line) >= depth:
            continue
        # An item is known by its first line, which says what is done; a key by its name, whatever its value.
        found.append(text if _ITEM.match(text) else text.partition(":")[0])
        depth = _indent(line)
    return found[::-1]


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip(" "))


def _digest(words: Iterable[str]) -> str:
    whole = "\0".join(words).encode("utf-8", errors="surrogatepass")
    return hashlib.sha256(whole).hexdigest()[:_LETTERS]
