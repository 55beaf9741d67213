"""The interval of a job contradicts itself.

A first service that is no sooner than the others is not a first one. A range that starts with its larger number, two
years beside twelve months, a follow-up that is due when the whole job is due again: one of the numbers is a slip, and
the schedule made from them sends somebody to the machine too late. A number that is written in words appears in no
column of the schedule.

Look the interval up, and correct the number, or delete the one that never applies.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.interval import Interval, Lapse
from putback.model.job import Job
from putback.model.said import Said
from putback.source.finding import Also, Level
from putback.source.late import Late
from putback.source.quoting import quote
from putback.units import Kind, QuantityError, digits, parse_any

LEVEL = Level.WARNING
GROUP = Group.NUMBERS

FAILS = """
interval: {first: {hours: 100}, hours: 50, months: 12 .. 6}
                          ^^^ the first time, after 100 hours, is no sooner than every 50
                                                   ^^^^^^^ the range starts with its larger number
steps:
  - inspect: belt
    for: cracks
    otherwise: [{stop: Renew it.}]
"""

PASSES = """
interval: {first: {hours: 10}, hours: 50, months: 6 .. 12, also: before storage}
steps:
  - inspect: belt
    for: cracks
    otherwise: [{stop: Renew it.}]
"""

_COUNTED = Late(
    r"(?:(?:every|each|after)\s+)?(?P<number>[0-9]+)\s*(?:running\s+)?"
    r"(?:(?P<hours>h|hrs?|hours?)|(?P<months>mo|months?)|(?P<years>a|y|yrs?|years?)|(?P<km>km))\.?",
)


def find(opened: Opened) -> Iterator[Fault]:
    """Yield what cannot be so in the intervals of jobs."""
    for job in opened.guide.jobs.values():
        if job.interval is not None:
            yield from _of_interval(job.interval)
            yield from _of_follow_ups(job, job.interval)


def _of_interval(interval: Interval) -> Iterator[Fault]:
    for each in (interval, interval.first):
        for _, lapse in each.lapses() if each else ():
            if lapse.least > lapse.most:
                yield Fault(
                    lapse.span, "the range starts with its larger number", hint="write the smaller number first"
                )
        years = each.years if each else None
        if each and each.months and years and years.least * 12 >= each.months.most:
            message = f"{_number(years)} years never apply: {_number(each.months)} months come first"
            yield Fault(years.span, message, hint="leave them out")
    first = interval.first
    if first is not None:
        for word, soon, then in (
            ("hours", first.hours, interval.hours),
            ("months", first.calendar, interval.calendar),
            ("km", first.km, interval.km),
        ):
            if soon and then and soon.most >= then.least:
                message = f"the first time, after {_number(soon)} {word}, is no sooner than every {_number(then)}"
                yield Fault(soon.span, message, (Also(then.span, "every"),))
    if interval.also is not None:
        yield from _of_words(interval.also, alone=first is None and not any(interval.lapses()))


def _of_words(words: Said, *, alone: bool) -> Iterator[Fault]:
    found = _COUNTED.fullmatch(words.lower().strip(" ."))
    if found is not None:
        key = next(name for name in ("hours", "months", "years", "km") if found[name])
        message = f"{quote(words)} is in words, so no column of the schedule shows it"
        hint = f"write '{{{key}: {found['number']}}}'" if alone else f"say it with the key '{key}', in numbers"
        yield Fault(words.span, message, hint=hint)


def _of_follow_ups(job: Job, interval: Interval) -> Iterator[Fault]:
    for section in job.later.sections if job.later and interval.hours else ():
        if not isinstance(section.after, Said):
            continue
        try:
            due = parse_any(section.after)
            least = due.to("h").low if due.kind is Kind.TIME else None
        except QuantityError:  # words, or what is told as no quantity
            continue
        if least is not None and interval.hours and least >= interval.hours.least:
            message = f"this is due after {section.after}, but the whole job every {_number(interval.hours)} hours"
            yield Fault(section.after.span, message, (Also(interval.hours.span, "the whole job"),))


def _number(lapse: Lapse) -> str:
    least, most = digits(lapse.least), digits(lapse.most)
    return least if lapse.least == lapse.most else f"{least} to {most}"
