"""Reports of the parts of a check, put together into what the whole check would have said."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from putback import __version__
from putback.lint.fingerprint import base_of, numbered
from putback.lint.parts import CheckPart, Share
from putback.lint.result import Looked, Result, Waived
from putback.lint.together import together
from putback.source.finding import Also, Finding, Level
from putback.source.grammar import listed
from putback.source.intake import NotReadError, take
from putback.source.plainly import printable
from putback.source.span import Span

LARGEST_REPORT = 1_000_000_000
"""Bytes of a report."""

_MAKE = "make one with 'putback lint --part K/N --report json:FILE'"


class NoReportError(Exception):
    """A file that is no report of a part, or parts that do not belong together; the message says why."""


@dataclass(frozen=True, slots=True)
class PartReport:
    """The report of a part, as it was read."""

    path: Path
    """Its file."""
    result: Result
    """What it says."""
    share: Share
    """Which part it is."""
    unreadable: bool
    """Whether something could not be read."""
    version: str
    """The version of Putback that made it."""


def read_part(path: Path) -> PartReport:
    """Return the report of a part. Raises `NoReportError`, with line and column where it is no JSON."""
    shown = printable(str(path))
    try:
        data = json.loads(take(path, LARGEST_REPORT).decode("utf-8"))
    except NotReadError as error:
        raise NoReportError(f"{shown}: it cannot be read: {error}") from None
    except json.JSONDecodeError as error:
        raise NoReportError(f"{shown}:{error.lineno}:{error.colno}: this is not JSON: {_lower(error.msg)}") from None
    except UnicodeDecodeError as error:
        raise NoReportError(f"{shown}: this is not JSON: byte {error.start + 1} is not UTF-8") from None
    except (ValueError, RecursionError):
        reason = "a number is too long, or it is nested too deeply"
        raise NoReportError(f"{shown}: this is not JSON of a report: {reason}") from None
    _must_have_shape(shown, data)
    return _part_report(path, data)


def merged(parts: Sequence[PartReport]) -> Result:
    """Return what a whole check would have said. Raises `NoReportError` when these are not all parts of one check."""
    parts = sorted(parts, key=lambda each: each.share.part.number)
    _must_belong_together(parts)
    order = {guide: number for number, guide in enumerate(parts[0].share.split)}
    guides = sorted((looked for each in parts for looked in each.result.guides), key=lambda looked: order[looked.guide])
    # What one part could not look into, and another one has met in a guide, is told by that guide.
    unread = [fault for fault in parts[0].share.unread if all(fault in each.share.unread for each in parts)]
    found = {finding for each in parts for finding in each.result.findings if finding not in each.share.unread}
    waived = {waiver for each in parts for waiver in each.result.waived}
    whole = together(
        [Result(tuple(found), waived=tuple(waived), guides=tuple(guides))],
        unread,
        unreadable=any(each.unreadable for each in parts),
        several=len(order) > 1,
    )
    bases = {finding: base_of(mark) for each in parts for finding, mark in (each.result.marks or {}).items()}
    told = [*whole.findings, *(each.finding for each in whole.waived)]
    return replace(whole, folder=parts[0].result.folder, marks=numbered({finding: bases[finding] for finding in told}))


def _must_have_shape(shown: str, data: Any) -> None:
    import jsonschema_rs

    from putback.lint.report._shape import PART

    if not isinstance(data, dict) or "findings" not in data or "summary" not in data:
        raise NoReportError(f"{shown}: this is no report of a part; {_MAKE}")
    if "part" not in data:
        raise NoReportError(f"{shown}: this is the report of a whole check, and there is nothing to merge; {_MAKE}")
    try:
        fault = next(iter(jsonschema_rs.Draft202012Validator(PART).iter_errors(data)), None)
    except ValueError:
        raise NoReportError(f"{shown}: this is no whole report of a part: a text has half a character") from None
    if fault is not None:
        where = ".".join(map(str, fault.instance_path))
        raise NoReportError(f"{shown}: this is no whole report of a part: '{printable(where)}' is not as it must be")


def _must_belong_together(parts: Sequence[PartReport]) -> None:
    first, *others = parts
    for each in parts:
        if each.version != __version__:
            raise NoReportError(
                f"{printable(str(each.path))} is of Putback {printable(each.version)}, and this is {__version__}: "
                "check and merge with one version"
            )
    for before, each in zip(parts, others, strict=False):
        names = f"{printable(str(before.path))} and {printable(str(each.path))}"
        if before.share.part.of != each.share.part.of or before.share.split != each.share.split:
            raise NoReportError(f"{names} are of two different splits: check all parts of the same commit and paths")
        if before.result.folder != each.result.folder:
            raise NoReportError(f"{names} were made in two different folders")
        if before.share.part == each.share.part:
            raise NoReportError(f"{names} are both part {each.share.part.number}")
    for each in parts:
        mine = sorted(guide for guide, number in each.share.split.items() if number == each.share.part.number)
        if sorted(looked.guide for looked in each.result.guides) != mine:
            raise NoReportError(f"{printable(str(each.path))} has not the guides of its part")
    there = {each.share.part.number for each in parts}
    of = first.share.part.of
    missing = [str(number) for number in range(1, of + 1) if number not in there]
    if missing:
        word = "part" if len(missing) == 1 else "parts"
        raise NoReportError(f"{word} {listed(missing)} of {of} {'is' if len(missing) == 1 else 'are'} missing")


def _part_report(path: Path, data: Any) -> PartReport:
    said = data["part"]
    written = (data["findings"], data["waived"], said["unread"])
    findings, waived, unread = (tuple(map(_finding, each)) for each in written)
    marks = {_finding(each): each["fingerprint"] for some in written for each in some}
    result = Result(
        findings,
        waived=tuple(Waived(finding, each["reason"]) for finding, each in zip(waived, data["waived"], strict=True)),
        guides=tuple(map(_looked, said["guides"])),
        folder=said["folder"],
        marks=marks,
    )
    share = Share(CheckPart(int(said["number"]), int(said["of"])), said["split"], unread)
    return PartReport(path, result, share, said["unreadable"], said["version"])


def _finding(data: Any) -> Finding:
    return Finding(
        data["check"],
        Level(data["level"]),
        _span(data),
        data["message"],
        tuple(Also(_span(also), also["message"]) for also in data["also"]),
        data["hint"],
        tuple(data["variant"].items()),
    )


def _span(data: Any) -> Span:
    return Span(data["path"], *(int(data[key]) for key in ("line", "column", "end_line", "end_column")))


def _looked(data: Any) -> Looked:
    texts = ("files", "walked", "not_walked", "unchecked", "left_out")
    return Looked(
        guide=data["guide"],
        whole=data["whole"],
        jobs_there=int(data["jobs_there"]),
        steps=int(data["steps"]),
        unreadable=data["unreadable"],
        **{key: tuple(data[key]) for key in texts},
    )


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]
