"""How often a text says that a job is due: `{job gear-oil} every 100 hours`, on a page with the role of a job.

A job may be named by its title as well: `Change the gear oil every 100 hours`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from putback.model.interval import Interval, Lapse
from putback.model.job import Job
from putback.prose.contexts import NUMBERS
from putback.source.late import Late

_SENTENCE = Late(r"(?:[^.!?\n]|[.!?](?!\s)|\n(?![ \t]*(?:\n|[|*+-] |\d+[.] |$)))+")
_JOB = Late(r"\{putback:job\}`(?:[^`<]*<)?([a-z0-9-]+)>?`|\{job ([a-z0-9-]+)\}")
_EVERY = Late(
    rf"\bevery\s+(?P<count>[0-9]{{1,5}}|{'|'.join(NUMBERS)})\s+(?:running\s+)?(?P<unit>hours?|months?|years?|km)\b",
    re.IGNORECASE,
)


_THEN_EVERY = Late(r"[\s|,:–-]*\bevery\b")
_EVERY_FIRST = Late(r"\bevery [\w-]+ (?:running )?(?:hours?|months?|years?|km)[\s|,:–-]*$")
_NO_MORE = Late(r"[\s*]*(?:[.,;:|)]|$)")


class WrongInterval(NamedTuple):
    """How often a text says that a job is due, and what the job says."""

    start: int
    """Offset of the first character of the number."""
    end: int
    """Offset after the unit."""
    job: str
    """The job."""
    right: str
    """What the job says."""


def may_say_when(text: str) -> bool:
    """Tell quickly whether a text may say how often a job is due."""
    return _EVERY.search(text) is not None


def wrong_intervals(text: str, jobs: Mapping[str, Job]) -> Iterator[WrongInterval]:
    """Yield the intervals of a text that differ from those of its jobs: a sentence, or a row, that names one job."""
    for sentence in _SENTENCE.finditer(text):
        named = {found[1] or found[2] for found in _JOB.finditer(sentence[0])}
        job = jobs.get(named.pop()) if len(named) == 1 else None if named else _by_title(sentence[0], jobs)
        for every in _EVERY.finditer(sentence[0]) if job and job.interval else ():
            lapse = _lapse(job.interval, every["unit"].lower().rstrip("s")) if job and job.interval else None
            if job and lapse and not lapse.least <= _value(every["count"]) <= lapse.most:
                start = sentence.start() + every.start("count")
                unit = every["unit"].lower().rstrip("s")
                yield WrongInterval(start, sentence.start() + every.end("unit"), job.title, _shown(lapse, unit))


def _by_title(sentence: str, jobs: Mapping[str, Job]) -> Job | None:
    """Return the job whose title stands directly before or after how often: more words would name something else."""
    even = " ".join(sentence.split()).lower()
    for job in jobs.values():
        before, found, after = even.partition(job.title.lower()) if job.interval else ("", "", "")
        if found and (_THEN_EVERY.match(after) or (_EVERY_FIRST.search(before) and _NO_MORE.match(after))):
            return job
    return None


def _lapse(interval: Interval, unit: str) -> Lapse | None:
    if unit in ("month", "year") and (calendar := interval.calendar):
        share = 12 if unit == "year" else 1
        return Lapse(calendar.least / share, calendar.most / share, calendar.span)
    return {"hour": interval.hours, "km": interval.km}.get(unit)


def _shown(lapse: Lapse, unit: str) -> str:
    count = f"{lapse.least:g}" if lapse.least == lapse.most else f"{lapse.least:g} to {lapse.most:g}"
    return f"{count} {unit}{'' if unit == 'km' or count == '1' else 's'}"


def _value(said: str) -> int:
    return int(said) if said.isdigit() else NUMBERS.index(said.lower()) + 1
