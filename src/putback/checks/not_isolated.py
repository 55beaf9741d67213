"""Something is not as the work needs it.

A propeller is touched with the ignition live, a pump is opened with the seacock open, an engine is run with its guard
off. The machine file says under `needs` how things must be before a thing is touched, or a verb such as `run` is done.

Add the step that makes it so before the first step that needs it, or move it up. Looking at something in a test under
pressure does not need the pressure off.
"""

from collections.abc import Iterable, Iterator
from typing import TypeAlias

from putback.checks import Fault, Group, Root, cause, chain_to, met_at
from putback.ledger import Book, Entry
from putback.ledger.bench import with_assembly
from putback.ledger.isolation import unmet
from putback.ledger.opened import Opened
from putback.ledger.pressure import tested_under
from putback.mending.wanting import wanting
from putback.model.called import named, verb_s
from putback.model.job import Block
from putback.model.machine import Control
from putback.model.needed import means_whole
from putback.model.states import NEVER, ControlState, State, is_whole
from putback.model.terms import Need
from putback.source.finding import Also, Level
from putback.source.span import Span
from putback.variants import NONE, VariantSet

LEVEL = Level.ERROR
GROUP = Group.DANGERS
INJURES = True
NEEDS = frozenset({"equipment"})

FAILS = """
steps:
  - remove: cover-screws
  - remove: [pump-cover, cover-gasket]
  - remove: impeller
            ^^^^^^^^ impeller needs seacock closed first, but it is open
  - set: seacock
    to: closed
  - install: impeller
    new: true
    turn: clockwise
  - clean: the faces of the joint
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
  - remove: [pump-cover, cover-gasket]
  - remove: impeller
  - install: impeller
    new: true
    turn: clockwise
  - clean: the faces of the joint
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
    """Yield steps whose thing or verb needs something otherwise; once for as long as that stays as it is."""
    for book in opened.in_place():
        machine = book.graph.machine
        told: _Told = {}
        for entry in book.entries:
            verb = entry.step.verb
            if not verb.works:
                continue
            verb_needs = machine.verb_needs.get(verb.name, ())
            if verb_needs:
                span = entry.span
                yield from _unmet(book, entry, verb_needs, f"'{verb.name}' needs", span, f"verb {verb.name}", told)
            for ref in entry.touched:
                thing = machine.things.get(ref.name)
                if thing and thing.needs:
                    subject = f"{named(thing)} {verb_s(thing, 'needs', 'need')}"
                    yield from _unmet(book, entry, thing.needs, subject, ref.span, ref.name, told)


_Told: TypeAlias = dict[tuple[str, str, int], VariantSet]
"""What was told: of a thing or verb, of what it needs, and since which entry that is otherwise."""


def _unmet(
    book: Book, entry: Entry, needs: Iterable[Need], subject: str, span: Span, key: str, told: _Told
) -> Iterator[Fault]:
    space, variants = book.graph.space, entry.variants
    if key in book.history and not entry.step.verb.handles:
        # On the bench, away from the machine, nothing can happen to it.
        variants = book.where(key, entry, is_whole)
    if book.graph.assemblies:
        variants = space.without(variants, with_assembly(book, entry, key))
    for need in needs:
        name = need.control.name
        thing = book.graph.machine.things.get(name)
        for held, state in unmet(book, need, entry, variants):
            if _found_so(book, need, state) or tested_under(book, entry, need, state):
                continue
            lack = wanting(book, entry, need, thing, state, held)
            since = (key, name, lack.since)
            here = space.without(held, told.get(since, NONE))
            if here == NONE:
                continue
            told[since] = space.either(told.get(since, NONE), here)
            rule = Also(need.control.span, "the machine file says so here")
            also = (*cause(book, lack.since, lack.cause), rule, *entry.ways)
            at = _to_blame(book, entry, lack.since, span) if means_whole(thing, need.position.name) else span
            chain = chain_to(entry, at)
            root = Root(book.sequence.path, name, need.position.name, lack.since, entry.index, chain=chain)
            yield Fault(at, f"{subject} {lack.message}", also, lack.hint, here, book.reached(entry), root)


def _to_blame(book: Book, entry: Entry, since: int, span: Span) -> Span:
    """Return where to tell it: a block that needs all normal is not to blame for what a job moved before it."""
    mover = book.by(since)
    return met_at(entry, mover) if mover is not None and mover.via != entry.via else span


def _found_so(book: Book, need: Need, state: State) -> bool:
    """Tell whether a block finds a control away from normal: with three positions, nobody knows in which one."""
    control = book.graph.machine.things.get(need.control.name)
    if not isinstance(control, Control) or not isinstance(state, ControlState) or not isinstance(book.sequence, Block):
        return False
    found = any(ref.name == control.key for ref in book.sequence.begins_with)
    return found and state.on_by == NEVER and need.position.name != control.normal.name
