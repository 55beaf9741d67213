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
from dataclasses import dataclass

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
    outlines = {path: _outline(path) for path in {finding.span.path for finding in findings}}
    paths = {finding: finding.span.path for finding in findings}
    return numbered({finding: _base(finding, called[path], outlines[path]) for finding, path in paths.items()})


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


@dataclass(frozen=True, slots=True)
class _Outline:
    """The lines of a file, and which one each is under."""

    lines: Sequence[str]
    """The lines."""
    above: Sequence[int]
    """For each line, the last one before it that is less indented, counted from 0; -1 for none."""


def _outline(path: str) -> _Outline:
    lines, above, under = source_lines(path), list[int](), [(-1, -1)]
    for number, line in enumerate(lines):
        text = line.lstrip(" ")
        indent = len(line) - len(text)
        if not text.strip() or text.startswith("#"):
            above.append(next(last for depth, last in reversed(under) if depth < indent))
            continue
        while under[-1][0] >= indent:
            under.pop()
        above.append(under[-1][1])
        under.append((indent, number))
    return _Outline(lines, above)


def _base(finding: Finding, path: str, outline: _Outline) -> str:
    message = _NUMBERED.sub(r"\1", finding.message)
    return _digest([finding.check, path, message, *_place(finding.span, outline)])


def _place(span: Span, outline: _Outline) -> Iterator[str]:
    """Yield the words that are marked, their line, and the lines that it belongs to, the innermost first."""
    if not 0 < span.line <= len(outline.lines):
        return
    own = outline.lines[span.line - 1]
    end = span.end_column if span.end_line == span.line else len(own) + 1
    yield own[span.column - 1 : end - 1]
    yield own.strip()
    number = outline.above[span.line - 1]
    while number >= 0:
        text = outline.lines[number].strip()
        # An item is known by its first line, which says what is done; a key by its name, whatever its value.
        yield text if _ITEM.match(text) else text.partition(":")[0]
        number = outline.above[number]


def _digest(words: Iterable[str]) -> str:
    whole = "\0".join(words).encode("utf-8", errors="surrogatepass")
    return hashlib.sha256(whole).hexdigest()[:_LETTERS]
