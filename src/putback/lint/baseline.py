"""A baseline laid over what was found: what is known does not fail, and what is known and gone has to be taken out.

It cannot hide that something was not looked at: faults of reading, and what stops every job from being walked, are
never known. A known finding that can injure somebody does not fail either, or nobody could turn the check on in an old
repository, and new ones would go unseen; but it is printed in every run until it is fixed.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

from putback.checks import Group, all_checks
from putback.guide.library import folder_for
from putback.guide.paths import guide_of
from putback.lint.baseline_file import Baseline, KnownLine
from putback.lint.fingerprint import fingerprints
from putback.lint.repository import called_in, guide_around, top_above
from putback.lint.result import Looked, Result
from putback.lint.run import STOPS_ALL
from putback.lint.search import NoGuideError, find_guides
from putback.source.finding import Finding, Level
from putback.source.intake import resolved


class BaselineCompared(NamedTuple):
    """What a baseline and a run have to do with each other."""

    entries: dict[Finding, KnownLine]
    """What can be in a baseline of what was found."""
    gone: frozenset[KnownLine]
    """What the baseline lists and would have been found if it were still there."""


def with_baseline(result: Result, baseline: Baseline) -> Result:
    """Return a result in which what a baseline lists is known, with an error for each line whose finding is gone.

    Where there are new errors, nothing counts as gone: what follows from an error is not told.
    """
    compared, called = compare(result, baseline), called_in(result)
    known = frozenset(found for found, entry in compared.entries.items() if entry.fingerprint in baseline.entries)
    guides = {called[looked.guide] for looked in result.guides}
    disturbed = {
        guide_around(called[finding.span.path], guides)
        for finding in result.findings
        if finding not in known and finding.level is Level.ERROR
    }
    # An error in a guide can hide what is in its library, and one in a library what is in every guide.
    quiet = {*disturbed, None} if disturbed else set()
    gone = [] if None in disturbed else [each for each in compared.gone if guide_around(each.path, guides) not in quiet]
    stale = [_stale(entry, baseline) for entry in sorted(gone)]
    findings = sorted([*result.findings, *stale], key=lambda finding: finding.order)
    return replace(result, findings=tuple(findings), known=known, baseline=baseline.shown)


def renewed(result: Result, baseline: Baseline | None) -> list[KnownLine]:
    """Return what a new baseline lists: what was found, and what the old one has of files that were not looked at."""
    compared = compare(result, baseline)
    kept = set(baseline.entries.values()) - compared.gone if baseline else set()
    found = {entry.fingerprint: entry for entry in compared.entries.values()}
    return [*found.values(), *(entry for entry in kept if entry.fingerprint not in found)]


def compare(result: Result, baseline: Baseline | None) -> BaselineCompared:
    """Return what of a run can be in a baseline, and what of the baseline is not there any more."""
    called, marks = called_in(result), fingerprints(result)
    unknowable = STOPS_ALL | {name for name, check in all_checks().items() if check.group is Group.READING}
    entries = {
        finding: KnownLine(called[finding.span.path], finding.check, marks[finding], finding.message)
        for finding in result.findings
        if finding.check not in unknowable
    }
    found = {entry.fingerprint for entry in entries.values()}
    missing = [entry for entry in baseline.entries.values() if entry.fingerprint not in found] if baseline else []
    return BaselineCompared(entries, frozenset(_gone(missing, result, called)))


def _gone(missing: Iterable[KnownLine], result: Result, called: Mapping[str, str]) -> Iterator[KnownLine]:
    """Yield the entries of places that were looked at from end to end."""
    guides = {called[looked.guide]: _is_whole(looked) for looked in result.guides}
    for entry in missing:
        guide = guide_around(entry.path, guides)
        if guides[guide] if guide is not None else result.marks is None and _is_gone(_place(entry), result):
            yield entry


def _is_whole(looked: Looked) -> bool:
    return looked.whole and not (looked.unchecked or looked.left_out or looked.unreadable)


def _is_gone(place: Path, result: Result) -> bool:
    """Tell whether what is known of a file in no guide that was checked would have been found, if it were still so."""
    if guide_of(place.parent) is not None:
        return False
    library = next((folder for folder in place.parents if folder.name.casefold() == "shared"), None)
    if library is None:
        return not os.path.lexists(place)  # its guide is no longer there
    whole = {resolved(Path(looked.guide)) for looked in result.guides if _is_whole(looked)}
    try:
        roots = [*find_guides([library.parent], [])]
    except NoGuideError:
        return True
    return {root for root in roots if resolved(folder_for(root)) == resolved(library)} <= whole


def _place(entry: KnownLine) -> Path:
    """Return where a file is that is called so in the repository of the current folder."""
    here = Path.cwd()
    return (top_above(here) or here) / entry.path


def _stale(entry: KnownLine, baseline: Baseline) -> Finding:
    message = f"this finding of {entry.check} in {entry.path} is gone"
    return Finding("bad-waiver", Level.ERROR, baseline.spans[entry.fingerprint], message, hint="delete this line")
