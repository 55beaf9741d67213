"""One execution: the files of a guide through everything that `lint` does, and what must hold of the answer."""

from __future__ import annotations

import json
import os
import time
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.ledger.opened import Opened, open_guide
from putback.lint.report.json import write as as_json
from putback.lint.report.text import write as as_text
from putback.lint.result import Result
from putback.lint.run import result_of
from putback.model.job import Job, Sequence
from putback.model.machine import Control, Fastener, Fluid, Part
from putback.prose.contents import jobs_in_order
from putback.sheet import sheet_of
from putback.sheet.calendar import calendars
from putback.sheet.differing import differing
from putback.sheet.indexed import index_of
from putback.sheet.kitted import kits_with_jobs
from putback.sheet.shopping import shopping_list
from putback.sheet.tracked import tracked
from putback.source.finding import Level
from putback.translation.catalogue import tag_of
from putback.translation.guide import translated
from putback.translation.made import updated
from putback.variants import EntangledError
from putback.words import as_text as words_of
from putback.words import catalogue
from tests.fuzz.bounding import HANGS, SLOW, HangsError, bounded, where
from tests.fuzz.judging import Failure, faults_of

Files = dict[str, str | bytes]
"""The files of a guide by their paths in it."""

MEMORY = Path("/dev/shm")
"""A folder that is kept in memory, where there is one: writing small files is a good part of the time."""


@dataclass
class Answer:
    """What became of one execution."""

    failures: list[Failure] = field(default_factory=list)
    walked: bool = False
    """Whether every file had a good shape, and a job was walked."""
    seconds: float = 0.0
    """Of CPU."""
    report: str = ""
    """What was printed, as JSON."""


class Place:
    """A folder for the guides of one run; the current folder while it is used."""

    def __init__(self, folder: Path) -> None:
        """Take an empty folder."""
        self.folder = folder.resolve()
        (self.folder / "shared").mkdir()
        (self.folder / "shared" / "tools.yaml").write_text("{}\n", encoding="utf-8")
        self.root = self.folder / "g"
        for name in ("jobs", "blocks"):
            (self.root / name).mkdir(parents=True)
        self.written: Files = {}

    def put(self, files: Files) -> None:
        """Make the folder hold these files and no others."""
        for name in self.written.keys() - files.keys():
            (self.root / name).unlink()
        for name, content in files.items():
            if self.written.get(name) != content:
                data = content if isinstance(content, bytes) else content.encode("utf-8", "surrogatepass")
                path = self.root / name
                path.parent.mkdir(exist_ok=True)
                path.write_bytes(data)
        self.written = dict(files)

    def attempt(self, files: Files, *, twice: bool = False) -> Answer:
        """Check a guide of these files."""
        self.put(files)
        before = Path.cwd()
        os.chdir(self.folder)
        start = time.process_time()
        answer = Answer()
        try:
            with bounded():
                self._check(files, answer)
                if twice and not answer.failures:
                    again = Answer()
                    self._check(files, again)
                    if again.report != answer.report:
                        answer.failures.append(Failure("another answer the second time", again.report))
        except HangsError as error:
            answer.failures.append(Failure(f"hangs: {where(error)}", f"stopped after {HANGS:g} s of CPU"))
        except Exception as error:
            told = f"{type(error).__name__}: {error}"
            answer.failures.append(Failure(f"{type(error).__name__} {where(error)}", told[:500]))
        finally:
            answer.seconds = (time.process_time() - start) / (2 if twice else 1)
            os.chdir(before)
        allowed = SLOW * max(1, sum(map(len, files.values())) / 10_000)
        if answer.seconds > allowed and not any(failure.kind.startswith("hangs") for failure in answer.failures):
            answer.failures.append(Failure("slow", f"{answer.seconds:.1f} s of CPU"))
        return answer

    def _check(self, files: Files, answer: Answer) -> None:
        guide = read_guide(self.root)
        opened = open_guide(guide)
        result = result_of(opened)
        findings, steps = result.findings, result.steps
        answer.report = as_json(result)
        text = as_text(result)
        answer.walked = bool(guide.jobs and guide.machine and steps) and not any(
            fault.check in ("not-yaml", "not-plain", "wrong-shape", "no-file") for fault in guide.faults
        )
        answer.failures += faults_of(findings, {f"{self.root.name}/{name}": content for name, content in files.items()})
        answer.failures += _faults_of_report(answer.report, result)
        answer.failures += _lost(guide, result, files, self.root.name, text)
        for sequence in guide.sequences():
            _write(opened, sequence)
        _write_machine(opened)
        _write_book(opened)


def _write_book(opened: Opened) -> None:
    """Work out what stands at the back of the book, and what a translator gets, without Sphinx."""
    guide = opened.guide
    with suppress(EntangledError):
        shopping_list(opened, guide.jobs)
    index_of(opened)
    kits_with_jobs(opened)
    differing(opened)
    calendars(jobs_in_order(guide))
    for path in guide.catalogues:
        updated(guide, tag_of(path))
        translated(guide, tag_of(path))


def _write_machine(opened: Opened) -> None:
    """Write out what the machine's page says of its things, without Sphinx."""
    guide, words = opened.guide, catalogue(opened)
    for thing in guide.machine.things.values() if guide.machine else ():
        words.only_when(thing.when)
        match thing:
            case Fastener():
                words.facts(thing)
                words.torque(thing)
                words.film(thing)
                words_of(words.stages(thing))
                words_of(words.how_tight(thing))
            case Part():
                if thing.mass:
                    words.quantity(thing.mass)
                if thing.wear and thing.wear.limit:
                    words.limit(thing.wear.limit)
                list(words.remarks(thing))
            case Fluid():
                words.fluid(thing, thing.volume)
            case Control():
                words.positions(thing)
            case _:
                pass
    for job in guide.jobs.values():
        if job.time:
            words.quantity(job.time)


def _write(opened: Opened, sequence: Sequence) -> None:
    """Write a job or block out as a page would, without Sphinx."""
    words, sheet = catalogue(opened), sheet_of(sequence, opened)
    if isinstance(sequence, Job):
        words.skill(sequence)
        words.due(sequence.interval)
    if sheet is None:
        return
    tracked(sequence, sheet, opened)
    for section in sheet.sections:
        words.only_when(section.when)
    for step in sheet.walk():
        words.only_when(step.when)
        words_of(words.step(step.step, step.stays_in))
        words.otherwise(step.step)
        for outcome in step.outcomes:
            words.outcome(step.step, outcome.found)
    for counted in sheet.count_back:
        words.row(counted.thing.name, counted.when, counted.only_if)
    words.licensed([row.what for row in sheet.set_up.licensed])
    for position in sheet.set_up.positions:
        words_of(words.set_first(*position.what, position.when))
    for due in sheet.follow_ups:
        words.once_more(due.thing, due.count, due.hours, due.torque, due.steps, due.slacken)


def _faults_of_report(report: str, result: Result) -> Iterator[Failure]:
    data = json.loads(report)
    if len(data["findings"]) != len(result.findings):
        yield Failure("JSON lacks a finding", report)
    for written, finding in zip(data["findings"], result.findings, strict=False):
        if (written["message"], written["line"], written["path"]) != (
            finding.message, finding.span.line, finding.span.path,
        ):  # fmt: skip
            yield Failure("JSON says something else", f"{written} {finding}")
    try:
        report.encode()
    except UnicodeEncodeError as error:
        yield Failure("JSON cannot be written as UTF-8", str(error))


def _lost(guide: Guide, result: Result, files: Files, folder: str, text: str) -> Iterator[Failure]:
    """What was not checked must not look checked."""
    faulty = {finding.span.path for finding in result.findings if finding.level is Level.ERROR}
    walked = {sequence.path for sequence in guide.sequences()}
    for name in files:
        path = f"{folder}/{name}"
        if name.startswith(("jobs/", "blocks/")) and path not in walked and path not in faulty:
            yield Failure("a job or block was not read, and nothing says so", path)
    if guide.machine is None and f"{folder}/machine.yaml" not in faulty:
        yield Failure("the machine was not read, and nothing says so", folder)
    if "everything goes back" in text and (result.findings or guide.unreadable or not guide.jobs):
        yield Failure("said to be good", text[-300:])


def smaller(files: Files, fails: Callable[[Files], bool]) -> Files:
    """Return fewer and shorter files that still fail: whole files, then runs of lines, then runs of characters."""
    best = dict(files)
    for name in sorted(best, key=lambda name: -len(best[name])):
        rest = {key: value for key, value in best.items() if key != name}
        if rest and fails(rest):
            best = rest
    for unit in ("\n", ""):
        for name in list(best):
            content = best[name]
            if isinstance(content, bytes):
                continue
            pieces = content.split("\n") if unit else list(content)
            if len(pieces) > 3000:
                continue
            kept = _fewer(pieces, lambda left, name=name, unit=unit: fails(best | {name: unit.join(left)}))  # type: ignore[misc]
            best[name] = unit.join(kept)
    return best


def _fewer(pieces: list[str], fails: Callable[[list[str]], bool]) -> list[str]:
    """Delta debugging: leave out ever smaller runs as long as it still fails."""
    size = max(1, len(pieces) // 2)
    while True:
        at = 0
        while at < len(pieces):
            left = pieces[:at] + pieces[at + size :]
            if fails(left):
                pieces = left
            else:
                at += size
        if size == 1:
            return pieces
        size = max(1, size // 2)
