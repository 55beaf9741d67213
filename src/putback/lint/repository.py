"""Where files are in their repository: the same wherever the command is run."""

from __future__ import annotations

import os
import posixpath
from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path, PurePosixPath

from putback.lint.result import Result
from putback.source.finding import Finding
from putback.source.plainly import printable

_TOP = ".git"
"""What the top folder of a working tree has: a folder, or a file that says where the folder is."""


def called_in(result: Result) -> dict[str, str]:
    """Return each path of a result as it is called in its repository."""
    findings = [*result.findings, *(each.finding for each in result.waived)]
    paths = {path for finding in findings for path in (finding.span.path, *(also.span.path for also in finding.also))}
    for looked in result.guides:
        paths |= {looked.guide, *looked.walked, *looked.not_walked}
    if result.folder is None:
        return in_repository(paths)
    moved = {path: posixpath.normpath(posixpath.join(result.folder, path)) for path in paths}
    return {path: in_repository([path])[path] if Path(path).is_absolute() else moved[path] for path in paths}


def as_called(finding: Finding, called: Mapping[str, str]) -> Finding:
    """Return a finding with each of its files as it is called in the repository."""
    also = tuple(each._replace(span=each.span._replace(path=called[each.span.path])) for each in finding.also)
    return replace(finding, span=finding.span._replace(path=called[finding.span.path]), also=also)


def in_order(findings: Iterable[Finding], called: Mapping[str, str]) -> list[Finding]:
    """Return findings in the order of their files in the repository, and of lines."""
    return sorted(findings, key=lambda finding: (called[finding.span.path], *finding.order[1:]))


def in_repository(paths: Iterable[str], here: Path | None = None) -> dict[str, str]:
    """Return each path, as findings show it, as it is called in its repository, with `/` between folders.

    A path counts from the nearest folder above it that has `.git`; without one, from the current folder (`here`). What
    is neither in a repository nor below the current folder keeps its absolute path.
    """
    start = Path.cwd() if here is None else here
    tops: dict[Path, Path | None] = {}
    return {path: _called(start / path, start, tops) for path in set(paths)}


def folder_in_repository() -> str:
    """Return the current folder as it is called in its repository, `.` for the top."""
    return _called(Path.cwd(), Path.cwd(), {})


def top_above(path: Path) -> Path | None:
    """Return the folder of the repository that a path is in; None when it is in none."""
    return _top_above(path, {})


def guide_around(path: str, guides: Iterable[str]) -> str | None:
    """Return the innermost of some guides that a file is in, all called as in the repository; None for none of them."""
    around = [guide for guide in guides if guide == "." or path == guide or path.startswith(f"{guide}/")]
    return max(around, key=len, default=None)


def _called(path: Path, start: Path, tops: dict[Path, Path | None]) -> str:
    whole = Path(os.path.normpath(path))
    top = _top_above(whole, tops) or start
    found = whole.relative_to(top) if whole.is_relative_to(top) else whole
    return printable(PurePosixPath(found.as_posix()).as_posix())


def _top_above(path: Path, tops: dict[Path, Path | None]) -> Path | None:
    """Return the folder of the repository that a path is in; `tops` has those that were found before."""
    if path not in tops:
        is_top = os.path.lexists(path / _TOP)
        tops[path] = path if is_top else None if path.parent == path else _top_above(path.parent, tops)
    return tops[path]
