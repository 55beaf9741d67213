"""Findings as text for people, readable without colour.

    procedures/hollin-20/jobs/water-pump.yaml

      four pump-housing bolts come off and never go back
       41 |   - remove: pump-housing-bolts
          |             ~~~~~~~~~~~~~~~~~~
          error left-off at procedures/hollin-20/jobs/water-pump.yaml:41:17

What is wrong stands first, in words for a mechanic; then the line; then earlier places and what to do; last the name of
the check.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import groupby

from putback.lint.report import Paint, plain
from putback.lint.report._known import to_tell
from putback.lint.result import Result
from putback.lint.source import source_lines
from putback.source.finding import Finding, Level
from putback.source.grammar import counted_word, is_plural
from putback.source.plainly import not_obeyed, printable
from putback.source.span import Span

FOR_PROGRAMS = False

_WIDEST = 120
"""Characters of a source line that are shown."""

_MOST_CHOICES = 6
"""Choices that a finding tells in text: of more, the first, and how many more. In JSON they are whole."""


def write(result: Result, paint: Paint = plain) -> str:
    """Return all findings, by file, and one closing line with the totals."""
    blocks = []
    told = to_tell(result)
    for path, findings in groupby(told, key=lambda finding: finding.span.path):
        blocks.append(paint(printable(path), "path"))
        blocks += ["\n".join(_finding(finding, paint, known=finding in result.known)) for finding in findings]
    blocks.append(paint(totals(result), "good" if not told and not result.exit_code else "bad"))
    return not_obeyed("\n\n".join(blocks))


def totals(result: Result) -> str:
    """Return the closing line: `4 jobs, 363 steps in 16 files: everything goes back`.

    It says so only of everything: else it says what was not looked at.
    """
    there = max(result.jobs_there, result.jobs)
    jobs = counted_word(there, "job") if result.jobs == there else f"{result.jobs} of {counted_word(there, 'job')}"
    read = f"{jobs}, {counted_word(result.steps, 'step')} in {counted_word(result.files, 'file')}"
    counts = [
        counted_word(result.count(level), word)
        for level, word in ((Level.ERROR, "error"), (Level.WARNING, "warning"))
        if result.count(level)
    ]
    if result.count(Level.ADVICE):
        counts.append(f"{result.count(Level.ADVICE)} advice")
    if result.known:
        counts += [] if counts else ["nothing new"]
        counts.append(f"{counted_word(len(result.known), 'finding')} known in {printable(result.baseline or '')}")
    if result.unreadable:
        counts.append("not everything could be read")
    rest = f"; not checked: {', '.join(result.not_checked)}" if result.not_checked else ""
    return f"{read}: {', '.join(counts) or _good(result)}{rest}"


def _good(result: Result) -> str:
    if result.complete:
        return "everything goes back"
    if result.jobs:
        return "all that was checked goes back"
    if not result.files and result.left_out:
        return "nothing to check"
    return "nothing found" if result.not_checked else "there is no job to check"


def _finding(finding: Finding, paint: Paint, *, known: bool = False) -> Iterator[str]:
    yield f"  {paint(printable(finding.message + only_when(finding.variant)), finding.level.value)}"
    # Of a file that was not read, nothing is shown: it may be no file of the guide.
    if finding.check != "unread-file":
        yield from _source(finding.span, paint)
    for also in finding.also:
        place = f"line {also.span.line}" if also.span.path == finding.span.path else _short(also.span)
        yield f"      {paint(printable(f'{place}: {also.message}'), 'also')}"
    if finding.hint:
        yield f"      {paint(printable(f'fix: {finding.hint}'), 'hint')}"
    where = f"{finding.span.path}:{finding.span.line}:{finding.span.column}"
    level = f"known {finding.level.value}" if known else finding.level.value
    yield f"      {paint(printable(f'{level} {finding.check} at {where}'), 'check')}"


def only_when(variant: tuple[tuple[str, str], ...]) -> str:
    """Return the variant of a finding as words: ` (only when shaft = long and gap is > 0.3 mm)`; nothing for all."""
    if not variant:
        return ""
    said = [_so(option, choice) for option, choice in variant]
    if len(said) > _MOST_CHOICES:
        said[_MOST_CHOICES - 1 :] = [f"{len(said) - _MOST_CHOICES + 1} more choices"]
    return f" (only when {' and '.join(said)})"


_ASKED = re.compile(r"(?P<what>.+?) (?P<how>out of limit|(?:[<>≤≥]=? ?)?-?\d.*?)(?: \((?P<check>\d+)\))?")
"""The name of a question, `cam out of limit` or `cam > 0.3 mm`: no option has a space in its name.

A number after it says that the same was asked before: `cam out of limit (2)`.
"""


def _so(option: str, choice: str) -> str:
    """Return one choice of a variant as a person says it: `shaft = long`, `gap is out of limit`."""
    asked = _ASKED.fullmatch(option) if choice in ("yes", "no") else None
    if asked is None:
        return f"{option} = {choice}"
    many = ", " in asked["what"] or is_plural(asked["what"])
    be, its = ("are", "their") if many else ("is", "its")
    when = f" at check {asked['check']}" if asked["check"] else ""
    if choice == "no" and asked["how"] == "out of limit":
        return f"{asked['what']} {be} within {its} limit{when}"
    return f"{asked['what']} {be} {'' if choice == 'yes' else 'not '}{asked['how']}{when}"


def _short(span: Span) -> str:
    return f"{span.path} line {span.line}"


def _source(span: Span, paint: Paint) -> Iterator[str]:
    lines = source_lines(span.path)
    if not 0 < span.line <= len(lines):
        return
    line = lines[span.line - 1].replace("\t", " ")
    end = span.end_column if span.end_line == span.line else len(line) + 1
    start, stop = span.column - 1, max(end - 1, span.column)
    cut = 0
    if stop > _WIDEST:
        cut = max(0, start - _WIDEST // 2)
    # What cannot be seen takes more room when it is written out.
    before, marked, after = (printable(line[a:b]) for a, b in _parts(cut, start, stop))
    before = ("… " if cut else "") + before
    offset, width = len(before), max(1, len(marked))
    number = f"{span.line:>5}"
    yield f"{number} | {(before + marked + after).rstrip()}"
    yield f"{'':>5} | {' ' * offset}{paint('~' * width, 'mark')}"


def _parts(cut: int, start: int, stop: int) -> tuple[tuple[int, int], ...]:
    """Return the parts of a line that are shown: before the mark, under it, after it."""
    last = cut + _WIDEST
    return (cut, start), (start, min(stop, last)), (min(stop, last), last)
