"""The file of a baseline: findings that are known, a line each.

    baseline: 1
    known:
    - {path: procedures/winch/jobs/brake.yaml, check: left-off, fingerprint: "0f3c…", message: "four bolts come off"}

Only the fingerprint counts; the rest is there for people. It is the same text for the same findings, so two changes
that each take a line out do not get in each other's way.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

from putback.guide.paths import shown_path
from putback.source.finding import Finding, Level
from putback.source.load import Listing, Mapping, Node, Text, load
from putback.source.plainly import printable
from putback.source.span import Span, top_of

_VERSION = "1"
_HEAD = """\
# Findings that are known, so that `putback lint --baseline` does not fail for them. Delete the line of what is fixed.
# With --renew as well, it writes this file anew.
"""
_PLAIN = re.compile(r"[a-z]+(-[a-z]+)+|[a-z][\w./-]*\.yaml", re.ASCII)
_FACTS = ("path", "check", "fingerprint", "message")


class KnownLine(NamedTuple):
    """A finding that is known."""

    path: str
    """The file that it is in, as it is called in its repository."""
    check: str
    """The check that found it."""
    fingerprint: str
    """What it is known by."""
    message: str
    """What was found."""


class Baseline(NamedTuple):
    """What a file says is known."""

    shown: str
    """The file, as the user would name it."""
    entries: dict[str, KnownLine]
    """What is known, by its fingerprint."""
    spans: dict[str, Span]
    """Where each of them is in the file."""


class BadBaselineError(Exception):
    """A file that is no baseline; the message has a line for each fault, with its place."""


def read_baseline(path: Path) -> Baseline:
    """Read a baseline. Raises `BadBaselineError` for a file that is none, with every fault of it."""
    shown = shown_path(path)
    loaded = load(path, shown)
    faults = [*loaded.faults]
    baseline = Baseline(shown, {}, {})
    if not faults:
        faults += _fill(baseline, loaded.root)
    if faults:
        raise BadBaselineError("\n".join(map(_told, faults)))
    return baseline


def written(entries: Iterable[KnownLine]) -> str:
    """Return the text of the file for what is known."""
    lines = [
        f"- {{{', '.join(f'{name}: {_quoted(value)}' for name, value in zip(_FACTS, entry, strict=True))}}}\n"
        for entry in sorted(set(entries))
    ]
    return f"{_HEAD}baseline: {_VERSION}\nknown:{'' if lines else ' []'}\n{''.join(lines)}"


def _quoted(text: str) -> str:
    """Return a text in quotes, which YAML reads as JSON does; a plain word as it is."""
    return text if _PLAIN.fullmatch(text) else json.dumps(printable(text), ensure_ascii=False)


def _told(fault: Finding) -> str:
    hint = f"; fix: {fault.hint}" if fault.hint else ""
    return f"{fault.span.path}:{fault.span.line}:{fault.span.column}: {fault.message}{hint}"


def _fill(baseline: Baseline, root: Node | None) -> Iterator[Finding]:
    """Put what a file says into a baseline, and yield what is wrong with it."""
    if not isinstance(root, Mapping) or "baseline" not in root.entries:
        span = root.span if root is not None else top_of(baseline.shown)
        yield _fault(span, "this is no baseline", "name another file; with --renew, one that is not there is written")
        return
    for name, (key, value) in root.entries.items():
        if name == "baseline":
            if not isinstance(value, Text) or value.value != _VERSION:
                hint = "delete the file, and write it anew with --renew"
                yield _fault(value.span, f"this is not the form of baseline that this Putback reads, {_VERSION}", hint)
        elif name != "known":
            yield _fault(key.span, f"unknown key '{name}'", "the keys here are 'baseline' and 'known'")
        elif isinstance(value, Listing):
            for item in value.items:
                yield from _add(baseline, item)
        elif not (isinstance(value, Text) and not value.quoted and value.value == ""):  # the last line was deleted
            yield _fault(value.span, "'known' is a list of findings")
    if "known" not in root.entries:
        yield _fault(root.span, "there is no 'known' in this baseline")


def _add(baseline: Baseline, item: Node) -> Iterator[Finding]:
    facts = {name: value for name, (_, value) in item.entries.items()} if isinstance(item, Mapping) else {}
    words = [value.value if isinstance(value := facts.get(name), Text) else "" for name in _FACTS]
    if set(facts) != set(_FACTS) or not all(words):
        yield _fault(item.span, "what is known has a path, a check, a fingerprint and a message, each a text")
        return
    entry = KnownLine(*words)
    if entry.fingerprint in baseline.entries:
        line = baseline.spans[entry.fingerprint].line
        yield _fault(item.span, f"the same is in line {line}", "delete one of them")
    baseline.entries[entry.fingerprint] = entry
    baseline.spans[entry.fingerprint] = item.span


def _fault(span: Span, message: str, hint: str | None = None) -> Finding:
    return Finding("wrong-shape", Level.ERROR, span, message, hint=hint)
