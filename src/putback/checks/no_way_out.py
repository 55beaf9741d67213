"""A test can fail, and the job does not say what to do then, or continues as if all were well.

The gap is out of limit, the seal leaks: the reader has the machine in pieces and has to guess. If the way out only
looks, tells or runs the engine, the fault stays, and the job continues with it.

Add `otherwise:` with what to do: fit a new part, go `back-to` a named step, or `stop` and say who can help. If the job
may continue, a note says why, or the step has a `because`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.going_on import gone_on
from putback.ledger.opened import Opened
from putback.model.called import counted
from putback.model.good import limit_on, looked_for
from putback.model.job import Sequence, Step, in_turn
from putback.model.machine import AnyThing, Part
from putback.model.verbs.asking import Inspect, Measure, Verify
from putback.source.finding import Also, Level

LEVEL = Level.ERROR
GROUP = Group.PROOF

FAILS = """
steps:
  - check: belt guard
    ^^^^^ nothing says what to do if this fails: does not rattle
    limit: does not rattle
"""

PASSES = """
steps:
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Tighten the guard bolts first.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield measurements, checks and inspections that can fail and have no `otherwise`."""
    things = opened.guide.machine.things if opened.guide.machine else {}
    for sequence in opened.nesting.sequences():
        top = {step.key for section in sequence.sections for step in in_turn(section.steps)}
        for step in sequence.steps():
            # Under an `otherwise`, to inspect is to look for the cause of what failed already.
            if step.inner or (isinstance(step.action, Inspect) and step.key not in top):
                continue
            wanted = _wanted(step, things.get(step.things[0].name) if step.things else None)
            if wanted:
                message = f"nothing says what to do if this fails: {wanted}"
                yield Fault(step.key, message, hint="add an 'otherwise' with what to do then: at least a 'stop'")
        yield from _gone_on(opened, sequence)


def _gone_on(opened: Opened, sequence: Sequence) -> Iterator[Fault]:
    """Yield the ways out after which the job goes on with what is bad."""
    for step in sequence.steps():
        for last in gone_on(step, opened.nesting.blocks, english=opened.guide.is_english):
            message = "the job continues from here with what failed, without saying why it may"
            hint = "add a 'stop' after it, or say in a note why the job may continue"
            yield Fault(last.key, message, (Also(step.key, "asked here"),), hint)


def _wanted(step: Step, thing: AnyThing | None) -> str | None:
    """Return what a test wants, in words; None when nothing is tested, or nothing is said of how it should be."""
    action = step.action
    if isinstance(action, Measure) and action.limit is None and isinstance(thing, Part) and thing.wear:
        return f"{thing.wear.measure or thing.name} {thing.wear.limit.text}" if thing.wear.limit else None
    if isinstance(action, Measure) and action.limit is None and action.difference:
        return f"difference {action.difference.text}"
    if isinstance(action, Measure | Verify):
        limit = action.limit or (limit_on(thing, action) if thing else None)
        return limit.text if limit else None
    if isinstance(action, Inspect) and (wanted := looked_for(action, {thing.key: thing} if thing else {})):
        return f"{counted(thing) if thing else step.things[0].name} without {' or '.join(wanted)}"
    return None
