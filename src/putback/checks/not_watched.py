"""The machine runs, but nobody looks at what must be watched, although the machine file says so.

Cooling water, the oil pressure light, the charging voltage: an engine that runs without one of them is worn out before
anybody smells it. The machine file says with `check-in-run` and `check-before-run` what must be seen.

Add a `check` or a `measure` of it, with a way out: during the run, or before the first run of the job. Without a
`limit` it uses the machine file's. What must come within a time is checked at each start, everything else in the last
run of a job.
"""

from collections.abc import Iterator
from typing import NamedTuple

from putback.checks import Fault, Group, Root
from putback.checks.not_checked import checked
from putback.ledger import Book, End, Entry
from putback.ledger.heat import runs_on
from putback.ledger.opened import Opened
from putback.ledger.proof import named_by
from putback.ledger.running import running_needs, runs_it, what_runs
from putback.model.called import named
from putback.model.good import good_in_run
from putback.model.job import Block
from putback.model.machine import AnyThing
from putback.model.said import Limit
from putback.model.states import NEVER
from putback.model.timed import time_within
from putback.model.verbs.controls import Run
from putback.source.finding import Level
from putback.units import least, most
from putback.variants import NONE, VariantSet

LEVEL = Level.ERROR
GROUP = Group.PROOF

FAILS = """
# machine.yaml
machine: Bench pump
parts: {engine: {}, outlet: {check-in-run: water within 20 s}}
# jobs/example.yaml
steps:
  - caution: running-engine
  - run: engine
         ^^^^^^ the engine runs, but nobody looks at the outlet: water within 20 s
  - {check: engine, limit: runs evenly, otherwise: [{stop: Stop the engine.}]}
"""

PASSES = """
# machine.yaml
machine: Bench pump
parts: {engine: {}, outlet: {check-in-run: water within 20 s}}
# jobs/example.yaml
steps:
  - caution: running-engine
  - run: engine
  - {check: outlet, otherwise: [{stop: Stop the engine.}]}
"""


class _Wanted(NamedTuple):
    """What must be looked at."""

    thing: AnyThing
    """The thing."""
    good: Limit
    """How it must be."""
    before: bool
    """Whether that is before the run."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield the starts after or before which nobody looks at something, each thing once in a job."""
    things = opened.graph.machine.things.values() if opened.graph else ()
    before = {each.key: _Wanted(each, good, True) for each in things if (good := each.check_before_run)}
    during = {each.key: _Wanted(each, good, False) for each in things if (good := good_in_run(each))}
    for book in opened.books if before or during else ():
        if isinstance(book.sequence, Block) or not book.of(Run):
            continue
        if before:
            yield from _unseen_before(book, before)
        told = set[str]()
        for end in book.ends if during else ():
            yield from _unseen_in(book, end, during, told)


def _looks(entry: Entry, wanted: dict[str, _Wanted]) -> set[str]:
    if not (entry.step.verb.asks or named_by(entry)):
        return set()
    return checked(entry, {key: each.thing for key, each in wanted.items()})


def _unseen_before(book: Book, wanted: dict[str, _Wanted]) -> Iterator[Fault]:
    """Yield the first run of a job that something was not looked at before."""
    space, done = book.graph.space, dict.fromkeys(wanted, NONE)
    for entry in book.entries:
        if entry.again:
            continue
        for key in _looks(entry, wanted):
            done[key] = space.either(done[key], entry.variants)
        for key, each in wanted.items() if isinstance(entry.step.action, Run) and runs_it(book, entry) else ():
            here = space.without(space.both(entry.variants, book.graph.present(key)), done[key])
            if here != NONE:
                done[key] = space.either(done[key], here)
                yield _fault(book, entry, each, here, book.reached(entry))


def _unseen_in(book: Book, end: End, wanted: dict[str, _Wanted], told: set[str]) -> Iterator[Fault]:
    """Yield the starts on the way to the last step of a job after which something is not looked at."""
    space = book.graph.space
    seen, later, runs = dict.fromkeys(wanted, NONE), NONE, NONE
    for entry, reached in book.before_end(end):
        variants = space.both(reached, end.through)
        if variants == NONE:
            continue
        for key in _looks(entry, wanted):
            seen[key] = space.either(seen[key], space.both(variants, runs_on(book, entry)))
        if not isinstance(entry.step.action, Run):
            continue
        runs = space.either(runs, variants) if runs_it(book, entry) else runs
        start = space.both(space.without(variants, runs_on(book, entry)), runs)
        for key, each in wanted.items() if start != NONE else ():
            here = space.without(space.both(start, book.graph.present(key)), seen[key])
            here = here if time_within(each.good.text) else space.without(here, later)
            seen[key] = space.without(seen[key], start)
            if here != NONE and key not in told:
                told.add(key)
                yield _fault(book, entry, each, here, end.through)
        later, runs = space.either(later, start), space.without(runs, start)


def _fault(book: Book, run: Entry, wanted: _Wanted, variants: VariantSet, among: VariantSet) -> Fault:
    looks = "nobody looked at the {} first" if wanted.before else "nobody looks at the {}"
    what = looks.format(named(wanted.thing))
    message = f"the {what_runs(book, run)} runs, but {what}: {wanted.good.text}"
    behind = book.entries[run.index + 1 : run.index + 2]
    # What a run needs is not so: that is told first.
    lost = not wanted.before and behind and book.graph.space.both(runs_on(book, behind[0]), variants) == NONE
    root = Root(book.sequence.path, wanted.thing.key, "seen", NEVER, run.index, last=True) if lost else None
    return Fault(run.span, message, run.ways, _hint(book, run, wanted), variants, among, root)


def _hint(book: Book, run: Entry, wanted: _Wanted) -> str:
    within, action = time_within(wanted.good.text), run.step.action
    lasts = action.for_ if isinstance(action, Run) else None
    if within is not None and lasts is not None and least(lasts) > most(within) and not wanted.before:
        return f"run it for {within.text} first, then 'check: {wanted.thing.key}', then run it for the rest of the time"
    if running_needs(book) and not wanted.before:
        return f"'check: {wanted.thing.key}' after it, with an 'otherwise' that stops the {what_runs(book, run)} first"
    return f"add 'check: {wanted.thing.key}' with an 'otherwise' {'before' if wanted.before else 'after'} it"
