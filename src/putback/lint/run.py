"""Checking one guide from end to end: read, order, ledger, checks, waivers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

from putback.checks import run_checks
from putback.guide.paths import shown_path
from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.guide.texts import CATALOGUES
from putback.ledger.opened import Opened, open_guide
from putback.lint.extent import Extent, extent_of
from putback.lint.options import NoVariantError, must_be_known
from putback.lint.result import GuideResult, Looked, Result, Waived
from putback.lint.search import NoGuideError, find_guides
from putback.lint.together import together
from putback.lint.waivers import apart
from putback.source.finding import Also, Finding
from putback.source.grammar import listed
from putback.source.intake import Store
from putback.source.nearest import nearest
from putback.source.span import Span
from putback.variants import NONE, Choice, EntangledError
from putback.variants.graph import Graph

__all__ = [
    "Asked", "NoGuideError", "NoVariantError", "check_guide", "chosen", "find_guides", "findings_of",
    "lint_guide", "open_guides", "result_of",
]  # fmt: skip


class Asked(NamedTuple):
    """A guide that was asked for."""

    guide: Guide
    """The guide, as it was read."""
    only: Choice
    """The options that were chosen, of those that its machine has."""
    files: set[Path] | None
    """The files that were asked for; None for all."""


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
    try:
        never_built = bool(mine) and Graph(guide.machine, mine).space.built == NONE
    except EntangledError:
        never_built = False  # told when it is checked
    if never_built:
        shown = " and ".join(f"{option}={value}" for option, value in mine)
        raise NoVariantError(f"{guide.shown} is never built with {shown}")
    return mine


def open_guides(
    paths: Sequence[Path],
    only: Choice = (),
    unread: list[Finding] | None = None,
    store: Callable[[], Store | None] = lambda: None,
) -> list[Asked]:
    """Read the guides that the paths lead to, and say for each which of its variants and files were asked for.

    Each is read through a `store` of its own. Raises `NoGuideError`, and `NoVariantError` for a choice that no guide
    has or that was never built. Folders that cannot be looked into go to `unread`; without it, they raise
    `NoGuideError` as well.
    """
    found = find_guides(paths, unread)
    guides = [_read(folder, store()) for folder in found]
    must_be_known(only, {name for guide in guides if guide.machine for name in guide.machine.options})
    return [Asked(guide, chosen(guide, only), files) for guide, files in zip(guides, found.values(), strict=True)]


def _read(folder: Path, store: Store | None) -> Guide:
    try:
        return read_guide(folder, store=store)
    except Exception as error:
        error.add_note(f"while reading {shown_path(folder)}")
        raise


def lint_guide(
    folder: Path, only: Choice = (), wanted: Collection[Path] | None = None, store: Store | None = None
) -> GuideResult:
    """Check one guide from end to end, for the variants that agree with `only`; with `wanted`, tell of these files."""
    guide = _read(folder, store)
    read = GuideResult(tuple(sorted(guide.unread)), tuple(guide.machine.options if guide.machine else ()))
    try:
        opened = open_guide(guide, chosen(guide, only))
    except NoVariantError as error:
        return replace(read, refused=str(error))
    return replace(read, result=result_of(opened, wanted))


def result_of(opened: Opened, wanted: Collection[Path] | None = None) -> Result:
    """Run every check on an opened guide, and say how far they got.

    With `wanted`, only what concerns these files is told: what was found in them, and what kept them from being
    checked.
    """
    guide, unfinished = opened.guide, list[str]()
    findings, waived = _all_findings(opened, unfinished)
    names = None if wanted is None else {shown_path(path) for path in wanted}
    extent = extent_of(opened, names, unfinished)
    unreadable = guide.unreadable
    if names is not None:
        faults = {(fault.check, fault.span) for fault in guide.faults}

        def concerns(finding: Finding) -> bool:
            return (
                finding.span.path in names
                or (finding.check in _OF_SEVERAL and any(also.span.path in names for also in finding.also))
                or (finding.check in STOPS_ALL and bool(extent.unchecked))
                or ((finding.check, finding.span) in faults and _concerns_all(guide, finding.span.path, extent))
            )

        findings = [finding for finding in findings if concerns(finding)]
        waived = [each for each in waived if concerns(each.finding)]
        unreadable = any(path in names or _concerns_all(guide, path, extent) for path in guide.unread)
    looked = Looked(
        guide=guide.shown,
        whole=wanted is None,
        files=guide.files,
        walked=extent.walked,
        not_walked=extent.not_walked,
        jobs_there=extent.jobs_there,
        steps=extent.steps,
        unchecked=extent.unchecked,
        left_out=extent.left_out,
        unreadable=unreadable,
    )
    alone = together([Result(tuple(findings), waived=tuple(waived), guides=(looked,))])
    return replace(alone, boundless=bool(opened.too_long or opened.entangled))


_OF_SEVERAL = frozenset({"unknown-name", "unknown-tool", "signal-weak", "caution-vague"})
"""Checks that tell one fault of several places at the first of them."""

STOPS_ALL = frozenset({"bad-cycle", "no-variant", "too-many-loops"})
"""Checks after which no job, or not every job, is walked."""


def _concerns_all(guide: Guide, path: str, extent: Extent) -> bool:
    """Tell whether a fault in a file takes checks away from other files: in the machine file, in the library."""
    inside = path.removeprefix("" if guide.shown == "." else f"{guide.shown}/")
    if "blocks/" in inside:
        return bool(extent.unchecked)
    return not (
        inside.startswith(("jobs/", "images/", f"{CATALOGUES}/"))
        or inside in ("jobs", "images", "guide.yaml", *guide.pages)
        or inside.endswith(".md")
    )


def check_guide(folder: Path, edited: Mapping[Path, str] | None = None) -> tuple[Guide, list[Finding], int]:
    """Read one guide and run every check on it; return it with its findings and the number of steps walked."""
    guide = read_guide(folder, dict(edited or {}))
    findings, steps = findings_of(open_guide(guide))
    return guide, findings, steps


def findings_of(opened: Opened) -> tuple[list[Finding], int]:
    """Run every check on an opened guide; return the findings, and the number of steps walked."""
    result = result_of(opened)
    return [*result.findings], result.steps


def _all_findings(opened: Opened, unfinished: list[str]) -> tuple[list[Finding], list[Waived]]:
    guide = opened.guide
    findings = _said_once([*_with_consequences(guide, [*guide.faults, *run_checks(opened, unfinished)])])
    told, waived = apart(guide, findings, complete=_complete(opened, unfinished))
    return sorted(told, key=lambda finding: finding.order), waived


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


_ENDS_CHAIN = {"not-yaml", "not-plain", "wrong-shape", "no-file", "unread-file"}
"""Faults after which nothing more is worked out of a file."""


def _unchecked(guide: Guide, path: str) -> str | None:
    if path.endswith("machine.yaml") and guide.machine is None:
        return "the order of every job was"
    lost = Path(path).name.partition(".")[0]
    if (f"{guide.shown}/jobs/" in path or path.startswith("jobs/")) and lost not in guide.jobs:
        return "the order of this job was"
    if "/blocks/" in path and lost not in guide.library.blocks:
        return "the order of this block was"
    return None


def _said_once(findings: list[Finding]) -> list[Finding]:
    """A block that many jobs do has its faults once, whichever job they were seen through."""
    seen: dict[tuple[str, Span, str], Finding] = {}
    for finding in findings:
        seen.setdefault((finding.check, finding.span, finding.message), finding)
    return list(seen.values())


def _complete(opened: Opened, unfinished: list[str]) -> bool:
    """Whether all was checked, so that what a waiver hides would have been found."""
    guide = opened.guide
    broken = any(fault.check in _ENDS_CHAIN for fault in guide.faults)
    return not broken and not opened.only and not extent_of(opened, None, unfinished).unchecked
