"""The machine runs at a speed that nothing sets, or is stopped with the throttle open.

Anyone who reads "run the engine at 1500 rpm" and finds no step that opens the throttle has to guess, and an engine that
is stopped at speed starts at that speed next time.

In the machine file, make the throttle a control with its speeds as positions (`[idle, 1500 rpm]`); set it before the
run, and bring it back to idle before the engine is stopped. A speed that a governor holds is a setting, and its limit
gives it. A motor on the mains has one speed, and needs none of this.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, Root, cause
from putback.ledger import Book, Entry
from putback.ledger.heat import running_at
from putback.ledger.opened import Opened
from putback.ledger.running import running_needs, what_runs
from putback.mending.settling import set_first
from putback.mending.sooner import moved_up
from putback.model.called import named
from putback.model.machine import Control
from putback.model.said import Said
from putback.model.speeds import governed, has_engine, idle_of, position_for, speed_of, throttles
from putback.model.states import ControlState
from putback.model.terms import Need, Ref
from putback.model.verbs.controls import Run, Set
from putback.source.finding import Level
from putback.source.quoting import quote
from putback.source.span import Span
from putback.variants import NONE, VariantSet

LEVEL = Level.WARNING
GROUP = Group.DANGERS

FAILS = """
# machine.yaml
machine: Bench engine
controls:
  throttle: {positions: [idle, 1500 rpm], normal: idle}
parts: {engine: {}}
# jobs/example.yaml
steps:
  - caution: running-engine
  - run: engine
    at: 1500 rpm
        ^^^^^^^^ the engine runs at 1500 rpm, with throttle at idle
  - {check: engine, limit: runs evenly, otherwise: [{stop: Stop the engine.}]}
"""

PASSES = """
# machine.yaml
machine: Bench engine
controls:
  throttle: {positions: [idle, 1500 rpm], normal: idle}
parts: {engine: {}}
# jobs/example.yaml
steps:
  - caution: running-engine
  - set: throttle
    to: 1500 rpm
  - run: engine
    at: 1500 rpm
  - {check: engine, limit: runs evenly, otherwise: [{stop: Stop the engine.}]}
  - set: throttle
    to: idle
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield runs at a speed that no throttle is set to, and stops with the throttle up."""
    things = opened.graph.machine.things.values() if opened.graph else ()
    controls, told = throttles(things), set[Span]()
    for book in opened.in_place():
        for run in book.of(Run):
            at = run.step.action.at if isinstance(run.step.action, Run) else None
            if isinstance(at, Said) and at.span not in told:
                faults = [fault for control in controls for fault in _elsewhere(book, run, control, at)]
                known = any(position_for(control, at) for control in controls)
                set_so = controls or has_engine(book.graph.machine, what_runs(book, run))
                if not known and set_so and (speed := speed_of(at)) and not governed(things, speed):
                    faults.append(_never(book, run, at, controls))
                told |= {at.span} if faults else set()
                yield from faults
        for control in controls:
            yield from _left_up(book, control)


def _elsewhere(book: Book, run: Entry, control: Control, at: Said) -> Iterator[Fault]:
    """Yield a run for which a throttle stands elsewhere."""
    wanted = position_for(control, at)
    for variants, state in book.before(control.key, run) if wanted else ():
        if isinstance(state, ControlState) and wanted and state.position != wanted:
            message = f"the {what_runs(book, run)} runs at {at}, with {named(control)} at {state.position}"
            need = Need(Ref(control.key, at.span), Ref(wanted, at.span))
            hint = set_first(book, run, control, need, state, run.step.key)
            also = (*cause(book, state.on_by, "it was set here"), *run.ways)
            yield Fault(at.span, message, also, hint, variants, book.reached(run))


def _never(book: Book, run: Entry, at: Said, controls: list[Control]) -> Fault:
    throttle = controls[0].key if controls else "throttle"
    hint = f"give '{throttle}' the position {quote(at)} in machine.yaml, or name the setting that holds this speed"
    message = f"nothing sets the {what_runs(book, run)} to {at}: no control has such a position"
    return Fault(at.span, message, run.ways, hint, run.variants, book.reached(run))


def _left_up(book: Book, control: Control) -> Iterator[Fault]:
    """Yield steps that stop the engine with the throttle up; in a way out, it is stopped at once."""
    stops = {need.control.name: need.position.name for need in running_needs(book)} if idle_of(control) else {}
    on_the_way = {order.number for order in book.program.orders}
    for entry in book.of(Set) if stops else ():
        action, key = entry.step.action, entry.target.name if entry.target else ""
        if (
            key not in stops
            or not isinstance(action, Set)
            or stops[key] == action.to.name
            or entry.order not in on_the_way
        ):
            continue
        for held, state in book.before(control.key, entry):
            here = book.graph.space.both(held, running_at(book, entry))
            if isinstance(state, ControlState) and state.position != idle_of(control) and here != NONE:
                yield _stopped_up(book, entry, control, state, here)


def _stopped_up(book: Book, entry: Entry, control: Control, state: ControlState, variants: VariantSet) -> Fault:
    idle, span = idle_of(control) or control.normal.name, entry.span
    later = [
        each for each in book.of(Set) if each.index > entry.index and each.target and each.target.name == control.key
    ]
    need = Need(Ref(control.key, span), Ref(idle, span))
    hint = moved_up(entry, later[0]) if later else set_first(book, entry, control, need, state, span)
    message = f"the machine is stopped with {named(control)} at {state.position}"
    also = (*cause(book, state.on_by, "it was set here"), *entry.ways)
    root = Root(book.sequence.path, control.key, idle, state.on_by, entry.index)
    return Fault(span, message, also, hint, variants, book.reached(entry), root)
