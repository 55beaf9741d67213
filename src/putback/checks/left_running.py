"""A job stops with the engine running.

Who reads "stop here" walks off to get help, beside turning blades and a hot exhaust, or with a pump that runs dry.

Under the `otherwise`, set the control that stops it (a key, a lanyard, a stop lever) before the `stop`. It is one of
those that `run` needs in the machine file.
"""

from collections.abc import Iterator
from functools import partial

from putback.checks import Fault, Group, at_end, cause
from putback.ledger import Book, Entry
from putback.ledger.opened import Opened
from putback.model.called import named
from putback.model.machine import Control, Machine
from putback.model.states import ControlState, State
from putback.model.terms import Need
from putback.model.verbs.controls import RUN, Run
from putback.model.verbs.telling import Stop
from putback.source.finding import Also, Level
from putback.source.grammar import listed
from putback.variants import NONE, VariantSet

LEVEL = Level.WARNING
GROUP = Group.SAFETY

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
        ^^^^ the engine still runs when the job stops here: key is on
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
    """Yield each `stop` that something still runs at: since it was run, no control that `run` needs was set."""
    for book in opened.in_place():
        needs = _needs(book.graph.machine)
        for entry in book.of(Stop) if needs else ():
            for run in reversed(book.of(Run)):
                variants = _still(book, run, entry, needs)
                if variants != NONE:
                    yield _fault(book, run, entry, variants, needs)
                    break


def _needs(machine: Machine) -> list[Need]:
    """Return what is so while something runs, as far as controls tell: what `run` needs, and what it makes."""
    found = (*machine.verb_needs.get(RUN.name, ()), *machine.verb_results.get(RUN.name, ()))
    controls = [machine.things.get(need.control.name) for need in found]
    return [
        need
        for need, control in zip(found, controls, strict=True)
        if isinstance(control, Control) and not control.any_at_end
    ]


def _still(book: Book, run: Entry, stop: Entry, needs: list[Need]) -> VariantSet:
    """Return the variants in which what was run at one entry still runs at another."""
    space = book.graph.space
    variants = space.both(run.variants, stop.variants) if run.index < stop.index else NONE
    for need in needs:
        if variants != NONE:
            key = need.control.name
            kept = book.where(key, stop, partial(_is_kept, need.position.name, run.index))
            variants = space.without(variants, space.without(book.graph.present(key), kept))
    return variants


def _is_kept(position: str, since: int, state: State) -> bool:
    return isinstance(state, ControlState) and state.position == position and state.on_by <= since


def _fault(book: Book, run: Entry, stop: Entry, variants: VariantSet, needs: list[Need]) -> Fault:
    ref, things = run.target, book.graph.machine.things
    thing = things.get(ref.name) if ref else None
    name = named(thing) if thing else ref.name if ref else "engine"
    message = f"the {name} still runs when the job stops here"
    also = (*stop.ways, Also(run.step.key, "it was started here"))
    away, moved = list[str](), list[str]()
    for need in needs:
        control = things.get(need.control.name)
        if isinstance(control, Control) and control.normal.name != need.position.name:
            away.append(f"{named(control)} is {need.position.name}")
            moved.append(control.key)
            for _, state in book.before(control.key, stop):
                if isinstance(state, ControlState):
                    also += cause(book, state.on_by, f"{away[-1]} from here on")
    if away:
        message += f": {listed(list(dict.fromkeys(away)))}"
    # What a block does not set back is told at the block.
    root = at_end(book, moved[0])._replace(follows=True) if moved else None
    return Fault(stop.step.key, message, also, None, variants, stop.variants, root)
