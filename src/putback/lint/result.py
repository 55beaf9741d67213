"""What a check of guides found, and in how much."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from putback.lint.parts import Share
from putback.lint.search import NoGuideError
from putback.source.finding import Finding, Level
from putback.source.plainly import printable
from putback.source.span import top_of


@dataclass(frozen=True, slots=True)
class Waived:
    """A finding that an author waives."""

    finding: Finding
    """What was found."""
    reason: str
    """Why that is right here, in the author's words."""


@dataclass(frozen=True, slots=True)
class Looked:
    """How far the check of one guide got: what is needed to put several together."""

    guide: str
    """The folder, as shown."""
    whole: bool
    """Whether all of it was asked for, and not some files."""
    files: tuple[str, ...]
    """Files read, those of the library among them."""
    walked: tuple[str, ...]
    """The files of the jobs that were walked."""
    not_walked: tuple[str, ...]
    """The files of the jobs that could not be walked."""
    jobs_there: int
    """Jobs that there are in what was asked for."""
    steps: int
    """Steps in the jobs that were walked."""
    unchecked: tuple[str, ...]
    """What could not be looked at, in words."""
    left_out: tuple[str, ...]
    """What was not asked for, in words."""
    unreadable: bool
    """Whether something could not be read, so that the answer is not complete."""


@dataclass(frozen=True, slots=True)
class Result:
    """What was found, and in how much."""

    findings: tuple[Finding, ...] = ()
    """In the order of files and lines."""
    files: int = 0
    """Files read."""
    jobs: int = 0
    """Jobs walked."""
    steps: int = 0
    """Steps in those jobs, blocks written out."""
    unreadable: bool = False
    """Whether something could not be read, so that the answer is not complete."""
    jobs_there: int = 0
    """Jobs that there are in what was asked for, those that could not be read included."""
    unchecked: tuple[str, ...] = ()
    """What could not be looked at, in words."""
    left_out: tuple[str, ...] = ()
    """What was not asked for, in words."""
    boundless: bool = False
    """Whether some job has no end that could be written out, so that there is nothing to print."""
    waived: tuple[Waived, ...] = ()
    """What was found and is waived, in the order of files and lines."""
    guides: tuple[Looked, ...] = ()
    """How far the check of each guide got."""
    folder: str | None = None
    """The folder in the repository that paths count from, of a report that was read; None: the current one."""
    marks: Mapping[Finding, str] | None = None
    """The fingerprint of each finding, of a report that was read; else they are worked out from the files."""

    share: Share | None = None
    """Which part of a check this is; None for all of it."""
    known: frozenset[Finding] = frozenset()
    """Those of the findings that a baseline lists: they do not fail."""
    baseline: str | None = None
    """The file that lists them, as shown; None when there is none."""

    def count(self, level: Level) -> int:
        """Return how many findings have a level, without those that are known."""
        return sum(finding.level is level and finding not in self.known for finding in self.findings)

    @property
    def complete(self) -> bool:
        """Whether everything was looked at: there is a job, and every job was walked to its end in every variant."""
        return self.jobs > 0 and not (self.unreadable or self.not_checked)

    @property
    def not_checked(self) -> tuple[str, ...]:
        """What was not looked at, in words: what could not be, what was not asked for, what is in other parts."""
        others = self.share.left_out if self.share else None
        return (*self.unchecked, *self.left_out, *([others] if others else []))

    @property
    def exit_code(self) -> int:
        """0 with no error, 1 with errors or when something was not looked at, 2 when something could not be read."""
        return 2 if self.unreadable else 1 if self.count(Level.ERROR) or self.unchecked else 0


@dataclass(frozen=True, slots=True)
class GuideResult:
    """What was found in one guide, apart from all others."""

    unread: tuple[str, ...] = ()
    """Files and folders that could not be read at all, as shown."""
    options: tuple[str, ...] = ()
    """The options that its machine has."""
    refused: str | None = None
    """Why the variants that were asked for make no sense here; then nothing was checked."""
    result: Result = Result()
    """What was found."""


class LostHelperError(Exception):
    """A process that ended before its work was done; the message says over which guide, and how."""


def nothing_read(error: NoGuideError) -> Result:
    """Return the result of a run that found no guide, for those who read results and not messages."""
    fault = Finding("no-file", Level.ERROR, top_of(printable(str(error.path))), str(error))
    return Result((fault,), unreadable=True)
