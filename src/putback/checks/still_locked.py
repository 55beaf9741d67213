"""Something is moved while its lock nut is tight.

The adjuster does not turn, or it turns and damages its thread; and what is set that way does not stay.

Loosen the lock nut first, and tighten it afterwards; the adjuster is held meanwhile, and the page says so. The machine
file says with `locks` what a lock nut holds.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, Root
from putback.ledger import Book, Entry
from putback.ledger.locks import Lock, locks_on
from putback.ledger.opened import Opened
from putback.model.called import counted, named, verb_s, with_at
from putback.model.machine import AnyThing, Fastener
from putback.model.setting import Setting
from putback.model.states import GroupState, State, is_whole
from putback.model.verb import Way
from putback.model.verbs.marking import Align
from putback.model.verbs.pieces import Tighten
from putback.source.finding import Also, Level
from putback.source.grammar import listed
from putback.variants import NONE

LEVEL = Level.ERROR
GROUP = Group.ORDER

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  idle-screw: {adjustable: true}
fasteners:
  lock-nut: {kind: nut, thread: M6, class: "8", torque: 7 N·m, locks: idle-screw}
# jobs/example.yaml
steps:
  - mark: idle-screw
  - turn: idle-screw
          ^^^^^^^^^^ idle screw cannot be turned: lock nut is still tight
    by: 1 turn
  - check: the engine
    limit: idles
    otherwise: [{stop: Do the job again.}]
"""

PASSES = """
# machine.yaml
machine: Bench pump
parts:
  idle-screw: {adjustable: true}
fasteners:
  lock-nut: {kind: nut, thread: M6, class: "8", torque: 7 N·m, locks: idle-screw}
# jobs/example.yaml
steps:
  - mark: idle-screw
  - loosen: lock-nut
  - turn: idle-screw
    by: 1 turn
  - tighten: lock-nut
  - check: the engine
    limit: idles
    otherwise: [{stop: Do the job again.}]
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield steps that move what is locked."""
    for book in opened.in_place():
        if not book.graph.locked_by:
            continue
        for entry in book.entries:
            thing = book.graph.machine.things.get(entry.target.name) if entry.target else None
            if thing is None or not entry.step.verb.shifts:
                continue
            for lock in locks_on(book, entry, thing.key):
                here = book.graph.space.both(lock.variants, book.where(thing.key, entry, _is_there))
                if here != NONE and not _holds_as_well(lock.fastener, thing, entry):
                    yield _fault(book, entry, thing, lock._replace(variants=here))


def _is_there(state: State) -> bool:
    """Tell whether something is in place, or some of it: on the bench, nothing locks it."""
    return state.out < state.all if isinstance(state, GroupState) else is_whole(state)


def _holds_as_well(lock: Fastener, thing: AnyThing, entry: Entry) -> bool:
    """Tell whether a lock nut must come out before the thing comes off: then `blocked` tells it."""
    return entry.step.verb.way is Way.OFF and any(ref.name == thing.key for ref in lock.secures)


def _fault(book: Book, entry: Entry, thing: AnyThing, lock: Lock) -> Fault:
    nut, pressing = lock.fastener, lock.state.pressing
    where = f" at {listed([ref.name.replace('-', ' ') for ref in lock.at])}" if lock.at else ""
    tight = counted(nut, len(lock.at) or pressing) if nut.count > 1 else named(nut)
    be = verb_s(nut, "is", "are", len(lock.at) or pressing)
    message = f"{named(thing)} cannot {_done(entry, thing)}: {tight}{where} {be} still tight"
    rule = next((ref.span for ref in nut.locks if ref.name == thing.key), nut.span)
    also = (Also(rule, f"the machine file says what {named(nut)} {verb_s(nut, 'locks', 'lock')}"), *entry.ways)
    span = entry.span
    root = Root(book.sequence.path, nut.key, "off", lock.state.on_by, entry.index)
    return Fault(span, message, also, _hint(book, entry, lock), lock.variants, book.reached(entry), root)


def _done(entry: Entry, thing: AnyThing) -> str:
    """Return what cannot be done: `be turned`, `come off`."""
    if entry.step.verb.way is Way.OFF:
        return "come out" if isinstance(thing, Fastener) else "come off"
    if isinstance(thing, Setting):
        return "be adjusted"
    return "be moved" if isinstance(entry.step.action, Align) else "be turned"


def _hint(book: Book, entry: Entry, lock: Lock) -> str:
    """Return what mends it: loosened before, and, where no later step tightens it, tightened after."""
    nut = lock.fastener
    some = with_at([ref.name for ref in lock.at])
    if not some and lock.number < nut.count:
        some = f" with 'count: {lock.number}'"
    places = {ref.name for ref in lock.at}
    later = any(
        other.index > entry.index and other.target is not None and other.target.name == nut.key
        and (not places or not (at := getattr(other.step.action, "at", ())) or places <= {ref.name for ref in at})
        for other in book.of(Tighten)
    )  # fmt: skip
    after = "" if later else f", and 'tighten: {nut.key}'{some} after it"
    return f"add 'loosen: {nut.key}'{some} before it{after}"
