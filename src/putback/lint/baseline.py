"""A baseline laid over what was found: what is known does not fail, and what is known and gone has to be taken out.

It cannot hide that something was not looked at: faults of reading, and what stops every job from being walked, are
never known. A known finding that can injure somebody does not fail either, or nobody could turn the check on in an old
repository, and new ones would go unseen; but it is printed in every run until it is fixed.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

from putback.checks import Group, all_checks
from putback.guide.library import folder_for
from putback.guide.paths import guide_of
from putback.lint.baseline_file import Baseline, Entry
from putback.lint.fingerprint import fingerprints
from putback.lint.repository import called_in
from putback.lint.result import Looked, Result
from putback.lint.run import STOPS_ALL
from putback.lint.search import NoGuideError, find_guides
from putback.source.finding import Finding, Level
from putback.source.intake import resolved


class Compared(NamedTuple):
    """What a baseline and a run have to do with each other."""

    entries: dict[Finding, Entry]
    """What can be in a baseline of what was found."""
    gone: frozenset[Entry]
    """What the baseline lists and would have been found if it were still there."""


def with_baseline(result: Result, baseline: Baseline) -> Result:
    """Return a result in which what a baseline lists is known, with an error for each line whose finding is gone.

    Where there are new errors, nothing counts as gone: what follows from an error is not told.
    """
    compared = compare(result, baseline)
    known = frozenset(found for found, entry in compared.entries.items() if entry.fingerprint in baseline.entries)
    fresh = {finding.span.path for finding in result.findings if finding not in known and finding.level is Level.ERROR}
    disturbed = {Path(path).absolute() for path in fresh}
    stale = [
        _stale(entry, baseline)
        for entry in sorted(compared.gone)
        if not any(_same_guide(path, _place(entry)) for path in disturbed)
    ]
    findings = sorted([*result.findings, *stale], key=lambda finding: finding.order)
    return replace(result, findings=tuple(findings), known=known, baseline=baseline.shown)


def renewed(result: Result, baseline: Baseline | None) -> list[Entry]:
    """Return what a new baseline lists: what was found, and what the old one has of files that were not looked at."""
    compared = compare(result, baseline)
    kept = set(baseline.entries.values()) - compared.gone if baseline else set()
    found = {entry.fingerprint: entry for entry in compared.entries.values()}
    return [*found.values(), *(entry for entry in kept if entry.fingerprint not in found)]


def compare(result: Result, baseline: Baseline | None) -> Compared:
    """Return what of a run can be in a baseline, and what of the baseline is not there any more."""
    called = called_in(result)
    marks, checks = fingerprints(result), all_checks()
    entries = {
        finding: Entry(called[finding.span.path], finding.check, marks[finding], finding.message)
        for finding in result.findings
        if finding.check in checks
        and finding.check not in STOPS_ALL
        and checks[finding.check].group is not Group.READING
    }
    found = {entry.fingerprint for entry in entries.values()}
    missing = [entry for entry in baseline.entries.values() if entry.fingerprint not in found] if baseline else []
    return Compared(entries, frozenset(_gone(missing, result.guides)))


def _gone(missing: Iterable[Entry], looked: Iterable[Looked]) -> Iterator[Entry]:
    """Yield the entries of places that were looked at from end to end."""
    whole = {resolved(Path(each.guide)) for each in looked if _is_whole(each)}
    for entry in missing:
        place = _place(entry)
        root = guide_of(place.parent)
        if root is not None:
            is_gone = root in whole
        elif any(folder.name.casefold() == "shared" for folder in place.parents):
            is_gone = _users(place) <= whole
        else:
            is_gone = not os.path.lexists(place)  # its guide is no longer there
        if is_gone:
            yield entry


def _is_whole(looked: Looked) -> bool:
    return looked.whole and not (looked.unchecked or looked.left_out or looked.unreadable)


def _users(place: Path) -> set[Path]:
    """Return the guides that use the library in which a file is."""
    folder = next(folder for folder in place.parents if folder.name.casefold() == "shared")
    try:
        roots = [*find_guides([folder.parent], [])]
    except NoGuideError:
        return set()
    return {root for root in roots if resolved(folder_for(root)) == resolved(folder)}


def _place(entry: Entry) -> Path:
    """Return where a file is that is called so in the repository of the current folder."""
    here = Path.cwd()
    top = next((folder for folder in (here, *here.parents) if os.path.lexists(folder / ".git")), here)
    return top / entry.path


def _same_guide(path: Path, place: Path) -> bool:
    """Tell whether a fault in one file can hide one in another: in the same guide, or when one is in a library."""
    one, other = guide_of(path.parent), guide_of(place.parent)
    return one is None or other is None or one == other


def _stale(entry: Entry, baseline: Baseline) -> Finding:
    message = f"this finding of {entry.check} in {entry.path} is gone"
    return Finding("bad-waiver", Level.ERROR, baseline.spans[entry.fingerprint], message, hint="delete this line")
