"""Jobs that continue from each other do not fit together.

A job that leaves things off names the job that follows it (`before`), and that job names the one it follows (`after`).
Whoever does the first must know that it is half of the work, and whoever does the second must know what it starts with.
A chain that leads back into itself, or has no end, leaves the machine apart.

Make the two name each other, list what is left off under `ends-with`, and end the chain with a job that puts everything
back.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.guide.chains import Chains, Loose, Slip
from putback.ledger import Book
from putback.ledger.handover import left_by, unsure_in
from putback.ledger.opened import Opened
from putback.model.called import named, verb_s
from putback.model.job import Job
from putback.source.finding import Also, Level
from putback.source.grammar import listed
from putback.source.quoting import quote
from putback.variants import NONE

LEVEL = Level.ERROR
GROUP = Group.CLOSING
INJURES = True

FAILS = """
# jobs/guard-off.yaml
job: Take off the belt guard
before: guard-on
        ^^^^^^^^ 'guard-off' leaves belt guard and guard bolts off, but does not list them
steps:
  - remove: guard-bolts
  - remove: belt-guard
# jobs/guard-on.yaml
job: Put on the belt guard
after: guard-off
steps:
  - install: belt-guard
  - install: guard-bolts
  - tighten: guard-bolts
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# jobs/guard-off.yaml
job: Take off the belt guard
before: guard-on
ends-with: [guard-bolts, belt-guard]
steps:
  - remove: guard-bolts
  - remove: belt-guard
# jobs/guard-on.yaml
job: Put on the belt guard
after: guard-off
steps:
  - install: belt-guard
  - install: guard-bolts
  - tighten: guard-bolts
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield jobs whose names do not answer each other, then what a job leaves to nobody or not surely."""
    chains = opened.chains
    for circle in chains.circles:
        job = chains.jobs[circle[0]]
        way = " before ".join([*circle, circle[0]])
        also = tuple(Also(chains.jobs[key].span, f"{key} is here") for key in circle[1:])
        ref = job.after or job.before
        yield Fault(ref.span if ref else job.span, f"none of these jobs comes first: {way}", also)
    unnamed = set()
    for loose in chains.loose() if not opened.guide.misses_jobs else ():
        unnamed.add(loose.job.key)
        yield _loose(loose)
    for job in chains.jobs.values():
        if job.ends_with and job.before is None and job.key not in {*unnamed, *chains.later}:
            message = f"{quote(job.key)} leaves things off, but names no job that continues from there"
            yield Fault(job.ends_with[0].span, message, hint="add 'before:' with the name of that job")
    for book in opened.books:
        if isinstance(book.sequence, Job) and book.sequence.key in chains.later:
            yield from _left(book, book.sequence, chains)


def _loose(loose: Loose) -> Fault:
    """Return what is wrong with a name that the other job does not answer."""
    key, other, name = loose.job.key, loose.other, loose.ref.name
    ref = Also(loose.ref.span, f"{quote(other)} says so here")
    after = loose.ref == loose.job.after
    match loose.slip:
        case Slip.NOT_BEFORE:
            message = f"{quote(other)} continues from {quote(key)}, which does not name it"
            return Fault(loose.job.span, message, (ref,), f"add 'before: {other}'")
        case Slip.NOT_AFTER:
            message = f"{quote(other)} comes before {quote(key)}, which does not name it"
            return Fault(loose.job.span, message, (ref,), f"add 'after: {other}'")
        case Slip.OTHER:
            message = f"{quote(name)} does not name {quote(key)}, and {quote(other)} does"
            return Fault(loose.ref.span, message, hint=f"write '{other}'")
        case Slip.TAKEN:
            order = "continues from" if after else "comes before"
            message = f"{quote(other)} already {order} {quote(name)}: two jobs cannot take the same place"
            return Fault(loose.ref.span, message)


def _left(book: Book, job: Job, chains: Chains) -> Iterator[Fault]:
    """Yield what the first of a chain leaves and does not list, and what is left on some ways only."""
    things = book.graph.machine.things
    names = {name: named(things[name]) if name in things else name.replace("-", " ") for name in left_by(book)}
    if not job.ends_with and job.key not in chains.earlier and names:
        message = f"{quote(job.key)} leaves {listed([*names.values()])} off, but does not list {_them(book, [*names])}"
        hint = f"add 'ends-with: [{', '.join(names)}]'"
        yield Fault(job.before.span if job.before else job.span, message, hint=hint)
        return
    if any(ref.name not in names for ref in job.ends_with):
        return  # a step that is lost is told by `not-left`, and what is unsure may come of that
    listed_at = {ref.name: ref.span for ref in job.ends_with}
    for name in (*listed_at, *(each for each in book.leaves if each not in listed_at)):
        unsure = unsure_in(book, name) if name in names else NONE
        if unsure != NONE:
            be = verb_s(things[name], "is", "are") if name in things else "is"
            message = f"{names[name]} {be} left so only on some ways through the job: the next job cannot know which"
            yield Fault(listed_at.get(name) or (job.before.span if job.before else job.span), message, variants=unsure)
            return


def _them(book: Book, names: list[str]) -> str:
    things = book.graph.machine.things
    one = len(names) == 1 and not (names[0] in things and verb_s(things[names[0]], "is", "are") == "are")
    return "it" if one else "them"
