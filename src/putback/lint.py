"""Checking guides from end to end: read, order, ledger, checks, acceptances."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from putback.checks import Case, all_checks, run_checks
from putback.finding import Also, Finding, Level
from putback.graph import Graph
from putback.guide import Guide, guide_of, is_guide, read_guide, shown_path
from putback.ledger import open_book
from putback.model.job import Sequence as Steps
from putback.model.terms import Acceptance
from putback.nearest import nearest
from putback.span import Span, top_of
from putback.variants import NONE, Choice
from putback.words import listed


@dataclass(slots=True)
class Result:
    """What was found, and in how much."""

    findings: list[Finding] = field(default_factory=list)
    """In the order of files and lines."""
    files: int = 0
    """Files read."""
    jobs: int = 0
    """Jobs walked."""
    steps: int = 0
    """Steps in those jobs, blocks written out."""
    unreadable: bool = False
    """Whether something could not be read, so that the answer is not complete."""

    def count(self, level: Level) -> int:
        """Return how many findings have a level."""
        return sum(finding.level is level for finding in self.findings)

    @property
    def exit_code(self) -> int:
        """0 with no error, 1 with errors, 2 when something could not be read."""
        return 2 if self.unreadable else 1 if self.count(Level.ERROR) else 0


class NoGuideError(Exception):
    """A path that leads to no guide; the message says why."""

    def __init__(self, message: str, path: Path) -> None:
        super().__init__(message)
        self.path = path


def nothing_read(error: NoGuideError) -> Result:
    """Return the result of a run that found no guide, for those who read results and not messages."""
    fault = Finding("no-file", Level.ERROR, top_of(str(error.path)), str(error))
    return Result([fault], unreadable=True)


def find_guides(paths: Sequence[Path]) -> dict[Path, set[Path] | None]:
    """Return guide folders below or around the given paths, each with the files asked for (None: all of it).

    A folder stands for all guides in it; a file for itself, in its guide. Raises `NoGuideError` for a path that
    does not exist or leads to no guide.
    """
    found: dict[Path, set[Path] | None] = {}
    for path in paths:
        if not path.exists():
            near = nearest(path.name, (entry.name for entry in _listing(path.parent)))
            hint = f"; did you mean '{shown_path(path.parent / near)}'?" if near else ""
            raise NoGuideError(f"'{path}' does not exist{hint}", path)
        if path.is_dir():
            for folder in _guides_below(path):
                found[folder] = None
            if not any(True for _ in _guides_below(path)):
                inside = guide_of(path)
                if inside is None:
                    raise NoGuideError(
                        f"there is no guide in '{path}': a guide is a folder with guide.yaml and machine.yaml; "
                        "'putback new' makes one",
                        path,
                    )
                found[inside] = None
        else:
            folder_of = guide_of(path)
            if folder_of is None:
                raise NoGuideError(f"'{path}' lies in no guide: there is no machine.yaml beside or above it", path)
            wanted = found.setdefault(folder_of, set())
            if wanted is not None:
                wanted.add(path.resolve())
    return found


def _listing(folder: Path) -> list[Path]:
    return list(folder.iterdir()) if folder.is_dir() else []


def _guides_below(folder: Path) -> Iterator[Path]:
    if is_guide(folder):
        yield folder.resolve()
        return
    for path in sorted(folder.iterdir()):
        if path.is_dir() and not path.is_symlink() and not path.name.startswith(".") and path.name != "node_modules":
            yield from _guides_below(path)


class NoVariantError(Exception):
    """A choice of options that no guide has, or that was never built; the message says why."""


def chosen(guide: Guide, choice: Choice) -> Choice:
    """Return the part of a choice that this guide's machine has options for.

    Raises `NoVariantError` for a value that the option does not have, and for a combination that was never built.
    """
    if guide.machine is None:
        return ()
    options = guide.machine.options
    mine = tuple((option, value) for option, value in choice if option in options)
    for option, value in mine:
        if value not in options[option]:
            near = nearest(value, options[option])
            hint = f"did you mean '{near}'?" if near else f"it can be {listed(options[option], 'or')}"
            raise NoVariantError(f"option '{option}' of {guide.shown} has no choice '{value}'; {hint}")
    if mine and Graph(guide.machine, mine).space.built == NONE:
        shown = " and ".join(f"{option}={value}" for option, value in mine)
        raise NoVariantError(f"{guide.shown} was never built with {shown}")
    return mine


def open_guides(paths: Sequence[Path], only: Choice = ()) -> list[tuple[Guide, set[Path] | None]]:
    """Read the guides that the paths lead to, each for the variants of `only`, with the files asked for (None: all).

    Raises `NoGuideError`, and `NoVariantError` for a choice that no guide has or that was never built.
    """
    found = find_guides(paths)
    guides = [read_guide(folder) for folder in found]
    known = sorted({name for guide in guides if guide.machine for name in guide.machine.options})
    for option, _ in only:
        if option not in known:
            near = nearest(option, known)
            hint = (
                f"; did you mean '{near}'?" if near else f"; there are {listed(known)}" if known else "; there are none"
            )
            raise NoVariantError(f"no guide here has an option '{option}'{hint}")
    for guide in guides:
        guide.only = chosen(guide, only)
    return list(zip(guides, found.values(), strict=True))


def lint(paths: Sequence[Path], only: Choice = ()) -> Result:
    """Check every guide that the paths lead to, for the variants that agree with `only`.

    Raises `NoGuideError`, and `NoVariantError` for a choice that makes no sense.
    """
    result = Result()
    files: set[str] = set()
    for guide, wanted in open_guides(paths, only):
        findings, steps = findings_of(guide)
        if wanted is not None:
            names = {shown_path(path) for path in wanted}
            findings = [finding for finding in findings if finding.span.path in names]
        result.findings += findings
        files.update(guide.files)
        result.jobs += len(guide.jobs)
        result.steps += steps
        result.unreadable |= guide.unreadable
    result.files = len(files)
    result.findings = sorted(set(result.findings), key=lambda finding: finding.order)
    return result


def check_guide(folder: Path, edited: Mapping[Path, str] | None = None) -> tuple[Guide, list[Finding], int]:
    """Read one guide and run every check on it; return it with its findings and the number of steps walked."""
    guide = read_guide(folder, dict(edited or {}))
    findings, steps = findings_of(guide)
    return guide, findings, steps


def findings_of(guide: Guide) -> tuple[list[Finding], int]:
    """Run every check on a guide that was read; return the findings, and the number of steps walked."""
    case = open_case(guide)
    findings = _said_once([*_with_consequences(guide, [*guide.faults, *run_checks(case)])])
    findings = [*_accepted(guide, findings, complete=_complete(case))]
    steps = sum(not entry.again for book in case.books if book.sequence.key in guide.jobs for entry in book.entries)
    return sorted(findings, key=lambda finding: finding.order), steps


def open_case(guide: Guide) -> Case:
    """Work out the order of the machine and the ledger of every job and block, as far as the files allow."""
    case = Case(guide)
    if guide.machine is not None:
        case.graph = Graph(guide.machine, guide.only)
        if not case.graph.cycles():
            case.books = [
                open_book(sequence, case.graph, guide.library)
                for sequence in guide.sequences()
                if case.nesting.can_be_written_out(sequence) and case.nesting.is_known(sequence)
            ]
    return case


def _with_consequences(guide: Guide, found: list[Finding]) -> Iterator[Finding]:
    """Say at the first fault of a file what could not be checked because of it."""
    counts = Counter(fault.span.path for fault in found if fault.check in _ENDS_CHAIN)
    told: set[str] = set()
    for fault in found:
        path = fault.span.path
        if fault.check in _ENDS_CHAIN and path not in told:
            told.add(path)
            what = _unchecked(guide, path)
            if what:
                many = f"{counts[path]} fault{'s' if counts[path] > 1 else ''} in this file"
                yield replace(fault, also=(*fault.also, Also(fault.span, f"{what} not checked: {many}")))
                continue
        yield fault


_ENDS_CHAIN = {"not-yaml", "not-plain", "wrong-shape", "no-file"}
"""Faults after which nothing more is worked out of a file."""


def _unchecked(guide: Guide, path: str) -> str | None:
    if path.endswith("machine.yaml") and guide.machine is None:
        return "the order of every job was"
    if f"{guide.shown}/jobs/" in path or path.startswith("jobs/"):
        return "the order of this job was"
    if "/blocks/" in path:
        return "the order of this block was"
    return None


def _said_once(findings: list[Finding]) -> list[Finding]:
    """A block that many jobs do has its faults once, whichever job they were seen through."""
    seen: dict[tuple[str, Span, str], Finding] = {}
    for finding in findings:
        seen.setdefault((finding.check, finding.span, finding.message), finding)
    return list(seen.values())


def _complete(case: Case) -> bool:
    """Whether all was checked, so that what an acceptance hides would have been found."""
    guide = case.guide
    broken = any(fault.check in _ENDS_CHAIN for fault in guide.faults)
    return not broken and not guide.only and len(case.books) == len(guide.jobs) + len(guide.blocks)


def _accepted(guide: Guide, findings: list[Finding], *, complete: bool) -> Iterator[Finding]:
    """Leave out what the author accepts, and say which acceptances do no good."""
    scopes = list(_scopes(guide))
    used: set[Span] = set()
    checks = all_checks()
    for finding in findings:
        taken = None
        for path, area, acceptance in scopes:
            check = checks.get(acceptance.check.name)
            if (
                finding.check == acceptance.check.name
                and acceptance.reason
                and check
                and check.can_be_accepted
                and (path is None or (finding.span.path == path and _inside(finding.span, area)))
            ):
                taken = acceptance
        if taken is not None:
            used.add(taken.check.span)
        else:
            yield finding
    for _, _, acceptance in scopes:
        message = _idle(acceptance, used=not complete or acceptance.check.span in used)
        if message:
            yield Finding("bad-accept", checks["bad-accept"].level, acceptance.check.span, message)


def _idle(acceptance: Acceptance, *, used: bool) -> str | None:
    name = acceptance.check.name
    check = all_checks().get(name)
    if check is None:
        near = nearest(name, all_checks())
        return f"no check is called '{name}'" + (f"; did you mean '{near}'?" if near else "")
    if not check.can_be_accepted:
        return f"'{name}' cannot be accepted: missing it can injure somebody"
    if not acceptance.reason:
        return f"'{name}' is accepted without a reason"
    if not used:
        return f"nothing here is accepted by this: there is no finding of '{name}'"
    return None


def _scopes(guide: Guide) -> Iterator[tuple[str | None, Span, Acceptance]]:
    """Yield acceptances with the file and the lines they reach, the narrowest last."""
    for acceptance in guide.cover.accept if guide.cover else ():
        yield None, acceptance.check.span, acceptance
    for sequence in guide.sequences():
        for acceptance in sequence.accept:
            yield sequence.path, _whole(sequence), acceptance
        for step in sequence.steps():
            for acceptance in step.accept:
                yield sequence.path, step.span, acceptance


def _whole(sequence: Steps) -> Span:
    return Span(sequence.path, 1, 1, 1 << 30, 1)


def _inside(span: Span, area: Span) -> bool:
    return (area.line, area.column) <= (span.line, span.column) and (span.line, span.column) <= (
        area.end_line,
        area.end_column,
    )
