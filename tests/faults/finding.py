"""Whether a fault that was put in is found."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fnmatch import fnmatchcase
from functools import cache, cached_property
from itertools import islice
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from putback.checks import run_checks
from putback.guide.chains import Chains
from putback.guide.library import folder_for, read_shelf
from putback.guide.paths import shown_path
from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.ledger.opened import open_guide
from putback.lint.run import findings_of
from putback.model.build_job import build_block, build_job
from putback.model.build_machine import build_machine
from putback.model.job import Job, Sequence
from putback.model.library import Library
from putback.model.reading import Reader
from putback.model.said import said_in
from putback.model.terms import Waiver
from putback.model.verbs.blocks import Do, Reverse
from putback.prose.references import references
from putback.source.finding import Finding, Level
from putback.source.load import Listing, Mapping, Text, load, load_text
from putback.source.schema import FileKind, validate
from tests.faults.seeding import TAKING, Fault, seed

ALLOWED = Path(__file__).parent / "allowed.yaml"


class Answer(NamedTuple):
    """What became of one fault."""

    fault: Fault
    why_missed: str | None
    """None when it was found as it must be."""


class Allowed(NamedTuple):
    """Faults that are none."""

    kinds: tuple[str, ...]
    steps: tuple[str, ...]
    """Patterns, in which `*` stands for anything."""
    guides: tuple[str, ...]
    """The guides, when it is so only there."""
    paths: tuple[str, ...]
    """The files, when it is so only there."""
    stops: bool
    """Whether it is so only on a way that a `stop` ends."""
    reason: str

    def holds_for(self, folder: Path) -> bool:
        """Tell whether this is said of a guide."""
        return not self.guides or folder.name in self.guides

    def fits(self, fault: Fault) -> bool:
        """Tell whether a fault of a guide that this holds for is one of these."""
        return (
            fault.kind in self.kinds
            and any(fnmatchcase(fault.step, pattern) for pattern in self.steps)
            and (not self.paths or fault.path in self.paths)
            and (fault.stops or not self.stops)
        )


@dataclass
class Trial:
    """A good guide, read once; faults are tried on the jobs that they can reach."""

    folder: Path
    guide: Guide

    @classmethod
    def of(cls, folder: Path) -> Trial:
        """Read a guide that gives no finding."""
        guide = read_guide(folder)
        assert findings_of(open_guide(guide))[0] == []
        sequences = list(guide.sequences())
        assert guide.cover
        accepted = [*guide.cover.waive, *(waiver for sequence in sequences for waiver in _accepted(sequence))]
        assert not accepted, "`findings` below knows of nothing accepted"
        return cls(folder, guide)

    def answers(self) -> Iterator[Answer]:
        """Try every fault."""
        for fault in seed(self.folder):
            yield Answer(fault, self.missed(fault))

    def missed(self, fault: Fault) -> str | None:
        """Return why a fault does not count as found, or None when it does."""
        found = (finding for finding in self.findings(fault) if finding.level is not Level.ADVICE)
        # Where no name is asked for, the first is enough, and the checks behind it need not run.
        errors = list(found if fault.names else islice(found, 1))
        if not errors:
            return "no finding"
        for name in fault.names:
            if not any(self.points_back(finding, name, fault) for finding in errors):
                return f"no finding names '{name}' and points at the step that took it off"
        return None

    def findings(self, fault: Fault) -> Iterator[Finding]:
        """Check the guide with one fault in it."""
        if fault.path.endswith("cautions.yaml"):
            yield from run_checks(open_guide(replace(self.guide, library=self.library_with(fault))))
            return
        kind = {"machine.yaml": FileKind.MACHINE, "jobs": FileKind.JOB, "blocks": FileKind.BLOCK}[
            fault.path.partition("/")[0]
        ]
        loaded = load_text(fault.text, f"{self.guide.shown}/{fault.path}")
        faults = [*loaded.faults, *(validate(loaded, kind) if loaded.root else [])]
        yield from faults
        if faults or not isinstance(loaded.root, Mapping):
            return
        guide = self.guide
        match kind:
            case FileKind.MACHINE:
                machine, faults = build_machine(loaded.root, loaded.path)
                guide = replace(guide, machine=machine)
            case FileKind.JOB:
                job, faults = build_job(loaded.root, loaded.path)
                jobs = {key: other for key, other in guide.jobs.items() if key in self.named_by(job.key)}
                # The symptom table names all jobs.
                guide = replace(guide, jobs={**jobs, job.key: job}, blocks={}, symptoms={})
            case _:
                block, faults = build_block(loaded.root, loaded.path)
                library = replace(guide.library, blocks={**guide.library.blocks, block.key: block})
                doing = self.doing(block.key)
                # No other block: one that only other jobs do would be looked at as if no job warned before it.
                blocks = {**guide.blocks, block.key: block}
                guide = replace(
                    guide,
                    jobs=self.jobs_doing(doing),
                    blocks={key: blocks[key] for key in blocks if key in doing},
                    library=library,
                    symptoms={},
                )
        yield from faults
        yield from (each for each in run_checks(open_guide(guide)) if not _left_out(each, loaded.path))

    def named_by(self, key: str) -> set[str]:
        """Return the jobs of a job's chain, and those that the texts of these and the pages lead to."""
        jobs, chains = self.guide.jobs, Chains(self.guide.jobs)
        found = {other for other in jobs if key in chains.behind(other) or other in chains.behind(key)}
        waiting = {key} | found | (self.named_on_pages & set(jobs))
        while waiting:
            found |= waiting
            # Follow-ups are walked as a job of their own.
            read = [part for other in sorted(waiting) for part in (jobs[other], jobs[other].later) if part]
            said = [said for part in read for _, said in said_in(part)]
            named = {ref.name if ref.kind == "job" else ref.of or "" for each in said for ref in references(each)}
            waiting = (named & set(jobs)) - found
        return found - {key}

    @cached_property
    def named_on_pages(self) -> set[str]:
        """The jobs that pages of prose and the symptom table lead to."""
        paths = [*self.folder.glob("*.md"), self.folder / "symptoms.yaml"]
        texts = [path.read_text(encoding="utf-8") for path in paths if path.exists()]
        return {name for text in texts for name in re.findall(r"\{(?:putback:job\}`|job )([\w-]+)", text)}

    def jobs_doing(self, blocks: set[str]) -> dict[str, Job]:
        """Return the jobs that do one of some blocks, with those that they need around them."""
        doing = {key for key, job in self.guide.jobs.items() if _does(job, blocks)}
        doing |= {other for key in doing for other in self.named_by(key)}
        return {key: job for key, job in self.guide.jobs.items() if key in doing}

    def doing(self, block: str) -> set[str]:
        """Return the guide's own blocks that do a block, through others or not, itself included."""
        found: set[str] = set()
        waiting = {block}
        while waiting:
            found |= waiting
            waiting = {key for key, other in self.guide.blocks.items() if _does(other, waiting)} - found
        return found

    def library_with(self, fault: Fault) -> Library:
        """Return the library with a fault in one of its files of cautions."""
        own = "/" not in fault.path
        shown = self.guide.shown if own else shown_path(folder_for(self.folder))
        with TemporaryDirectory() as folder:
            (Path(folder) / "cautions.yaml").write_text(fault.text, encoding="utf-8")
            shelf = read_shelf(Path(folder), shown)
        assert shelf.faults == ()
        return replace(self.guide.library, cautions={**self.guide.library.cautions, **shelf.cautions})

    def points_back(self, finding: Finding, name: str, fault: Fault) -> bool:
        """Tell whether a finding names a thing and shows the step, or the `begins-with`, by which it came off."""
        machine, equipment = self.guide.machine, self.guide.library.equipment
        assert machine is not None
        thing = machine.things.get(name) or equipment[name]
        word = thing.name.split()[-1]
        places = {finding.span, *(also.span for also in finding.also)}
        return word in finding.message and any(
            (place.path, place.line) in self.took_off(name, fault) for place in places
        )

    def took_off(self, name: str, fault: Fault) -> set[tuple[str, int]]:
        """Return the places in all files, the faulty one included, that take a thing off or find it off."""
        found = set()
        for path in [*self.folder.glob("jobs/*.yaml"), *self.folder.glob("blocks/*.yaml")]:
            relative = path.relative_to(self.folder).as_posix()
            shown = f"{self.guide.shown}/{relative}"
            loaded = load_text(fault.text, shown) if relative == fault.path else _read(path, shown)
            pending = [loaded.root]
            while pending:
                node = pending.pop()
                if isinstance(node, Listing):
                    pending += node.items
                elif isinstance(node, Mapping):
                    for key, entry in node.entries.items():
                        values = entry.value.items if isinstance(entry.value, Listing) else [entry.value]
                        if key in TAKING | {"begins-with"}:
                            found |= {
                                (shown, value.span.line)
                                for value in values
                                if isinstance(value, Text) and value.value == name
                            }
                        pending.append(entry.value)
        return found


_read = cache(load)


def _accepted(sequence: Sequence) -> Iterator[Waiver]:
    yield from sequence.waive
    for step in sequence.steps():
        yield from step.waive


def _left_out(finding: Finding, path: str) -> bool:
    """Tell whether another file than the faulty one speaks of a job that is not among those that are tried."""
    return finding.span.path != path and (
        finding.message.startswith("no job is called") or "but no job puts in" in finding.message
    )


def _does(sequence: Sequence, blocks: set[str]) -> bool:
    return any(
        ref.name in blocks for step in sequence.steps() if isinstance(step.action, Do | Reverse) for ref in step.things
    )


def allowed(folder: Path) -> list[Allowed]:
    """Return what is said of a guide in the list of faults that are none."""
    return [entry for entry in all_allowed() if entry.holds_for(folder)]


def all_allowed() -> list[Allowed]:
    """Read the list of faults that are none."""
    loaded = load(ALLOWED, "allowed.yaml")
    assert isinstance(loaded.root, Listing), loaded.faults
    found = []
    for item in loaded.root.items:
        assert isinstance(item, Mapping)
        reader = Reader()
        kinds, steps, guides, paths = (reader.texts(item.get(key)) for key in ("kind", "step", "guide", "file"))
        reason = reader.text(item.get("reason"))
        assert kinds
        assert steps
        assert reason
        found.append(Allowed(kinds, steps, guides, paths, reader.flag(item.get("stops")), reason))
    return found
