"""A control is not in the position that the work needs.

A propeller is touched with the ignition live, a pump is opened with the seacock open. The machine file says under
`needs` which positions a thing, or a verb such as `run`, wants first.

Add a `set` step before the first step that needs it, or move it up.
"""

from collections.abc import Iterable, Iterator

from putback.checks import Fault, Group, Root, cause
from putback.ledger import Book, Entry
from putback.ledger.isolation import met
from putback.ledger.opened import Opened
from putback.ledger.settling import set_first
from putback.model.called import goes_in, named, verb_s
from putback.model.job import Block
from putback.model.machine import Control, Line
from putback.model.states import ControlState, is_whole
from putback.model.terms import Need
from putback.source.finding import Also, Level
from putback.source.span import Span
from putback.variants import NONE, VariantSet

LEVEL = Level.ERROR
GROUP = Group.SAFETY
INJURES = True
NEEDS = frozenset({"equipment"})

FAILS = """
steps:
  - remove: cover-screws
  - remove: pump-cover
  - remove: cover-gasket
  - remove: impeller
            ^^^^^^^^ impeller needs seacock closed first; it is open here
  - set: seacock
    to: closed
  - install: impeller
    new: true
    turn: clockwise
  - install: cover-gasket
    new: true
  - install: pump-cover
  - install: cover-screws
  - tighten: cover-screws
  - set: seacock
    to: open
  - check: pump cover
    limit: no drop in 1 min
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - set: seacock
    to: closed
  - remove: cover-screws
  - remove: pump-cover
  - remove: cover-gasket
  - remove: impeller
  - install: impeller
    new: true
    turn: clockwise
  - install: cover-gasket
    new: true
  - install: pump-cover
  - install: cover-screws
  - tighten: cover-screws
  - set: seacock
    to: open
  - check: pump cover
    limit: no drop in 1 min
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield steps whose thing or verb needs a control elsewhere; once for as long as the control stays there."""
    for book in opened.in_place():
        machine = book.graph.machine
        told: dict[tuple[str, str, int], VariantSet] = {}
        for entry in book.entries:
            verb = entry.step.verb
            if not verb.works:
                continue
            verb_needs = machine.verb_needs.get(verb.name, ())
            if verb_needs:
                span = entry.target.span if entry.target else entry.step.key
                yield from _unmet(book, entry, verb_needs, f"'{verb.name}' needs", span, f"verb {verb.name}", told)
            for ref in entry.touched:
                thing = machine.things.get(ref.name)
                if thing and thing.needs:
                    subject = f"{named(thing)} {verb_s(thing, 'needs', 'need')}"
                    yield from _unmet(book, entry, thing.needs, subject, ref.span, ref.name, told)


def _unmet(
    book: Book,
    entry: Entry,
    needs: Iterable[Need],
    subject: str,
    span: Span,
    key: str,
    told: dict[tuple[str, str, int], VariantSet],
) -> Iterator[Fault]:
    space, variants = book.graph.space, entry.variants
    found_moved = {ref.name for ref in book.sequence.begins_with} if isinstance(book.sequence, Block) else set()
    if key in book.history and not entry.step.verb.handles:
        # On the bench, away from the machine, nothing can happen to it.
        variants = book.where(key, entry, is_whole)
    for need in needs:
        control = book.graph.machine.things.get(need.control.name)
        if not isinstance(control, Control):
            left = space.without(variants, met(book, need, entry))
            yield from _not_so(book, entry, need, subject, span, left, key, told)
            continue
        for held, state in book.before(control.key, entry):
            if not isinstance(state, ControlState) or state.position == need.position.name:
                continue
            if state.on_by < 0 and control.key in found_moved and need.position.name != control.normal.name:
                # The block finds it away from normal, and with three positions nobody knows in which one.
                continue
            before = told.get((key, control.key, state.on_by), NONE)
            here = space.without(space.both(held, variants), before)
            if here == NONE:
                continue
            told[key, control.key, state.on_by] = space.either(before, here)
            message = f"{subject} {control.name} {need.position.name} first; it is {state.position} here"
            also = (*_moved(book, state), Also(need.control.span, "the machine file says so here"), *entry.ways)
            hint = set_first(book, entry, control, need, state, span)
            root = Root(book.sequence.path, control.key, need.position.name, state.on_by, entry.index)
            yield Fault(span, message, also, hint, here, book.reached(entry), root)


def _not_so(
    book: Book,
    entry: Entry,
    need: Need,
    subject: str,
    span: Span,
    variants: VariantSet,
    key: str,
    told: dict[tuple[str, str, int], VariantSet],
) -> Iterator[Fault]:
    """Yield a fault for equipment that is not in place, or a thing that is not off; once for each that needs it."""
    space, name = book.graph.space, need.control.name
    thing, equipment = book.graph.machine.things.get(name), book.library.equipment.get(name)
    here = space.without(variants, told.get((key, name, -1), NONE))
    if here == NONE or (thing is None and equipment is None):
        return
    told[key, name, -1] = space.either(told.get((key, name, -1), NONE), here)
    also = (Also(need.control.span, "the machine file says so here"), *entry.ways)
    if equipment is not None and thing is None:
        message, hint = f"{subject} {equipment.name} in place first", f"add 'place: {name}' before"
    elif thing is not None:
        be = verb_s(thing, "it is", "they are")
        off = "out" if goes_in(thing) else "off"
        verb = "disconnect" if isinstance(thing, Line) else "remove"
        message, hint = f"{subject} {named(thing)} {off} first; {be} still on", f"add '{verb}: {name}' before"
    yield Fault(span, message, also, hint, here, book.reached(entry))


def _moved(book: Book, state: ControlState) -> tuple[Also, ...]:
    return cause(book, state.on_by, "it was set here")
