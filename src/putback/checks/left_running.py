"""A job stops with the engine running.

Whoever reads "stop here" goes to get help, and leaves turning blades and a hot exhaust, or a pump that runs dry.

Under the `otherwise`, set the control that stops it (a key, a lanyard, a stop lever) before the `stop`. It is one of
those that `run` needs in the machine file. If no control stops it, say so in words: "Stop the engine.", "Let the fire
go out."
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, at_end, cause
from putback.ledger import Book, Entry
from putback.ledger.opened import Opened
from putback.ledger.running import running_needs, says_stopped, still_runs, what_runs, words_before
from putback.model.called import named
from putback.model.machine import Control
from putback.model.states import ControlState
from putback.model.verbs.telling import Stop
from putback.source.characters import visible
from putback.source.finding import Also, Level
from putback.source.grammar import listed
from putback.variants import VariantSet

LEVEL = Level.WARNING
GROUP = Group.DANGERS

FAILS = """
# machine.yaml
machine: Bench pump
controls:
  key: {positions: [off, on], normal: off}
parts: {engine: {}}
needs: {run: {key: on}}
# jobs/job.yaml
job: Try it
steps:
  - caution: running-engine
  - set: key
    to: on
  - run: engine
  - check: exhaust
    limit: no steam
    otherwise:
      - stop: The exhaust is blocked.
        ^^^^ the engine is still running when the job stops here: key is on
  - set: key
    to: off
"""

PASSES = """
# machine.yaml
machine: Bench pump
controls:
  key: {positions: [off, on], normal: off}
parts: {engine: {}}
needs: {run: {key: on}}
# jobs/job.yaml
job: Try it
steps:
  - caution: running-engine
  - set: key
    to: on
  - run: engine
  - check: exhaust
    limit: no steam
    otherwise:
      - set: key
        to: off
      - stop: The exhaust is blocked.
  - set: key
    to: off
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield each `stop` that something still runs at, unless words on the way to it say to stop that first."""
    for book in opened.in_place():
        for entry in book.of(Stop) if running_needs(book) else ():
            running = still_runs(book, entry)
            if running is not None and not any(map(says_stopped, words_before(book, running.run, entry))):
                yield _fault(book, running.run, entry, running.variants)


def _fault(book: Book, run: Entry, stop: Entry, variants: VariantSet) -> Fault:
    message = f"the {what_runs(book, run)} is still running when the job stops here"
    also = (*stop.ways, Also(run.step.key, "it was started here"))
    away, moved = list[str](), list[Control]()
    for need in running_needs(book):
        control = book.graph.machine.things.get(need.control.name)
        if isinstance(control, Control) and control.normal.name != need.position.name:
            away.append(f"{named(control)} is {need.position.name}")
            moved.append(control)
            for _, state in book.before(control.key, stop):
                if isinstance(state, ControlState):
                    also += cause(book, state.on_by, f"{away[-1]} from here on")
    if away:
        message += f": {listed(list(dict.fromkeys(away)))}"
    # What a block does not set back is told at the block.
    root = at_end(book, moved[0].key)._replace(follows=True) if moved else None
    return Fault(stop.step.key, message, also, _hint(book, variants), variants, stop.variants, root)


def _hint(book: Book, variants: VariantSet) -> str | None:
    """Return how it is stopped: by a control that all of some variants have."""
    starts = {need.control.name for way in book.graph.machine.can_start for need in way}
    for need in running_needs(book):
        control = book.graph.machine.things.get(need.control.name)
        if isinstance(control, Control) and book.graph.space.within(variants, book.graph.present(control.key)):
            # What is as it always is while it runs, such as a door that is shut or a seacock, is no switch.
            others = [each.name for each in (control.normal, *control.positions) if each.name != need.position.name]
            if others and (control.normal.name != need.position.name or control.key in starts):
                return f"add 'set: {control.key}' with 'to: {visible(others[0])}' before it"
    return "let a step before it stop it, or say in the 'stop' how that is done"
