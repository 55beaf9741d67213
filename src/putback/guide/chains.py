"""Which job goes on from which: chains of jobs, of which only the last puts back all that the first took off."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from enum import Enum
from typing import NamedTuple

from putback.model.job import Job
from putback.model.terms import Ref


class Slip(Enum):
    """What is wrong with the names of two jobs that should stand one after the other."""

    NOT_BEFORE = "not before"
    """The earlier job names none after it, and the later one says that it comes after this."""
    NOT_AFTER = "not after"
    """The later job names none before it, and the earlier one says that it comes before this."""
    OTHER = "other"
    """The name is most likely wrong: another job was meant."""
    TAKEN = "taken"
    """Another job has that place."""


class Loose(NamedTuple):
    """A name that the job of that name does not answer."""

    slip: Slip
    job: Job
    """The job in whose file the slip is."""
    ref: Ref
    """The name without an answer, in this file or in the other."""
    other: str
    """The job that has the place; or the one that was meant, or whose name is missing."""


class Chains:
    """The chains of a guide's jobs."""

    def __init__(self, jobs: Mapping[str, Job]) -> None:
        """Follow what the jobs say; names of jobs that are not there are told elsewhere."""
        self.jobs = jobs
        self._after = {key: job.after for key, job in jobs.items() if job.after and job.after.name in jobs}
        self._before = {key: job.before for key, job in jobs.items() if job.before and job.before.name in jobs}
        self.circles: list[tuple[str, ...]] = []
        """Jobs that each come after the one before them, the first after the last."""
        self.earlier: dict[str, str] = {}
        """The job that one goes on from, by its name."""
        self.later: dict[str, str] = {}
        """The job that goes on from one, by its name."""
        if self._after or self._before:
            self._join()

    def _join(self) -> None:
        followers: dict[str, set[str]] = {}
        for key, ref in self._after.items():
            followers.setdefault(ref.name, set()).add(key)
        for key in self.jobs:
            # Of a job that another says to come after, the name is most likely wrong when it names a third one.
            named = [other for other, ref in self._before.items() if ref.name == key]
            claims = [other for other in named if key in followers.get(other, {key})]
            said = [self._after[key].name] if key in self._after else []
            if said or claims:
                # A name that is answered, or else what another job says.
                self.earlier[key] = next((name for name in said if name in claims), [*claims, *said][0])
        done: set[str] = set()
        for key in self.jobs:
            way: list[str] = []
            while key in self.earlier and key not in done:
                done.add(key)
                way.append(key)
                key = self.earlier[key]
            if key in way:
                # From a job to the one before it; read, it goes forward.
                around = way[way.index(key) :][::-1]
                first = min(range(len(around)), key=lambda at: [*self.jobs].index(around[at]))
                self.circles.append((*around[first:], *around[:first]))
        for key, other in self.earlier.items():
            self.later.setdefault(other, key)
        for key, ref in self._before.items():
            if self.earlier.get(ref.name) == key:
                self.later[key] = ref.name
            self.later.setdefault(key, ref.name)

    @property
    def round(self) -> frozenset[str]:
        """The jobs that lead into themselves, or go on from one that does: none of them has a beginning."""
        found = {key for circle in self.circles for key in circle}
        while more := {key for key, other in self.earlier.items() if other in found and key not in found}:
            found |= more
        return frozenset(found)

    def ordered(self) -> list[str]:
        """Return the jobs, each after the one that it goes on from; those that lead round are left out."""
        found: dict[str, None] = {}
        astray = self.round
        for key in self.jobs:
            way = []
            while key not in found and key not in astray:
                way.append(key)
                if key not in self.earlier:
                    break
                key = self.earlier[key]
            found |= dict.fromkeys(reversed(way))
        return list(found)

    def behind(self, key: str) -> Iterator[str]:
        """Yield the jobs that follow one, up to the last."""
        seen = {key}
        while (key := self.later.get(key, "")) and key not in seen:
            seen.add(key)
            yield key

    def loose(self) -> Iterator[Loose]:
        """Yield the names that the other job does not answer, one for each slip."""
        round_ = {key for circle in self.circles for key in circle}
        told: set[Ref] = set()
        for key, ref in self._after.items():
            if key not in round_ and not self._answered(ref, self._before, key):
                yield self._not_before(key, ref, told)
        for key, ref in self._before.items():
            if key not in round_ and ref not in told and not self._answered(ref, self._after, key):
                yield self._not_after(key, ref)

    @staticmethod
    def _answered(ref: Ref, answers: Mapping[str, Ref], key: str) -> bool:
        return ref.name in answers and answers[ref.name].name == key

    def _not_before(self, key: str, ref: Ref, told: set[Ref]) -> Loose:
        """Return what is wrong when a job says after which it comes, and that one does not say so."""
        rival = next((other for other, said in self._before.items() if said.name == key), None)
        theirs = self._before.get(ref.name)
        if rival is not None:
            told.add(self._before[rival])
            return Loose(Slip.OTHER, self.jobs[key], ref, rival)
        if theirs is not None and self._answered(theirs, self._after, ref.name):
            return Loose(Slip.TAKEN, self.jobs[key], ref, theirs.name)
        if theirs is not None:
            told.add(theirs)
            return Loose(Slip.OTHER, self.jobs[ref.name], theirs, key)
        if self.later[ref.name] != key:
            return Loose(Slip.TAKEN, self.jobs[key], ref, self.later[ref.name])
        return Loose(Slip.NOT_BEFORE, self.jobs[ref.name], ref, key)

    def _not_after(self, key: str, ref: Ref) -> Loose:
        """Return the same when a job says before which it comes."""
        theirs = self.earlier.get(ref.name)
        if theirs is not None and theirs != key:
            return Loose(Slip.TAKEN, self.jobs[key], ref, theirs)
        return Loose(Slip.NOT_AFTER, self.jobs[ref.name], ref, key)
