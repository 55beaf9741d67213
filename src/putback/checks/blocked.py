"""A step cannot be done yet: something is in the way.

A cover cannot come off while its screws hold it; a gasket cannot go on before what lies under it; a bolt behind a guard
cannot be reached. The machine file gives the order.

Move the step, or add the one that clears the way. What every job takes off before it does a block, the block lists in
`begins-with`. If the step is right, the order in the machine file is wrong. A part that is tried at work, with all in
place, is not reached: check the machine, and say with `proves` which part that tries.
"""

from collections.abc import Iterator, Sequence
from typing import TypeAlias, assert_never

from putback.checks import Fault, Group, Root, cause
from putback.ledger import Book, Entry, Obstacle
from putback.ledger.felt import is_felt
from putback.ledger.opened import Opened
from putback.mending.around import first_off
from putback.mending.filling import shut_fillers, to_open
from putback.mending.listing import listed_at_start
from putback.model.called import counted, goes_in, named, verb_s
from putback.model.machine import AnyThing, Fastener, Fluid, Line, Part
from putback.model.states import FluidState, GroupState, State, is_off, is_shut, is_whole
from putback.model.verb import Way
from putback.model.verbs.fluids import Drain, Fill
from putback.model.verbs.lines import Connect, Disconnect
from putback.model.verbs.pieces import Replace
from putback.source.finding import Also, Level
from putback.source.grammar import listed
from putback.source.span import Span
from putback.variants import NONE, VariantSet
from putback.variants.graph import Why

LEVEL = Level.ERROR
GROUP = Group.ORDER
INJURES = True

FAILS = """
steps:
  - remove: belt-guard
            ^^^^^^^^^^ belt guard cannot come off: two guard bolts still secure it
  - install: belt-guard
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - remove: guard-bolts
  - remove: belt-guard
  - install: belt-guard
  - install: guard-bolts
  - tighten: guard-bolts
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""


_Early: TypeAlias = dict[tuple[str, str, int], VariantSet]


def find(opened: Opened) -> Iterator[Fault]:
    """Yield entries with something in the way, each obstacle once for as long as it stays there."""
    for book in opened.books:
        told: dict[tuple[str, str, object], VariantSet] = {}
        too_early: _Early = {}
        space = book.graph.space
        for entry in book.entries:
            for ref in entry.touched:
                thing = book.graph.machine.things.get(ref.name)
                if thing is None:
                    continue
                if ref == entry.target and not entry.step.verb.takes_thing(thing):
                    continue
                if isinstance(thing, Fluid):
                    yield from _fluid(book, entry, thing)
                    continue
                for obstacle in _obstacles(book, entry, thing):
                    edge, state, variants = obstacle.edge, obstacle.state, obstacle.variants
                    if entry.step.verb.way is Way.ON and edge.outer == ref.name:
                        early = (edge.outer, edge.inner, entry.index)
                        too_early[early] = space.either(too_early.get(early, NONE), variants)
                    else:
                        # What should have gone on before was told when the outer thing went on.
                        variants = space.without(variants, _told(book, entry, obstacle, too_early))
                    key = (edge.outer, edge.inner, state)
                    variants = space.without(variants, told.get(key, NONE))
                    if variants != NONE:
                        told[key] = space.either(told.get(key, NONE), variants)
                        message, also = _words(book, entry, thing, obstacle)
                        hint = listed_at_start(opened, book, thing, edge.outer)
                        root, ways = _root(book, entry, thing, obstacle), (*also, *entry.ways)
                        yield Fault(ref.span, message, ways, hint, variants, book.reached(entry), root)


def _told(book: Book, entry: Entry, obstacle: Obstacle, too_early: _Early) -> VariantSet:
    """Return the variants in which the outer thing, or an assembly that it is in, went on too early: that is told."""
    edge, either, both = obstacle.edge, book.graph.space.either, book.graph.space.both
    found = too_early.get((edge.outer, edge.inner, obstacle.state.on_by), NONE)
    for name, members in book.graph.assemblies.items():
        for variants, state in book.before(name, entry) if edge.outer in members else ():
            found = either(found, both(too_early.get((name, edge.inner, state.on_by), NONE), variants))
    return found


def _root(book: Book, entry: Entry, thing: AnyThing, obstacle: Obstacle) -> Root | None:
    """What is in the way of one step is in that of others."""
    if obstacle.edge.outer == thing.key:
        return None
    since = _since(book, obstacle.edge.outer, obstacle.state.on_by)
    return Root(book.sequence.path, obstacle.edge.outer, "off", since, entry.index)


def _since(book: Book, name: str, by: int) -> int:
    """Return the entry since which a thing is in place; one that was exchanged in one go was there before."""
    swap = book.by(by)
    while swap is not None and isinstance(swap.step.action, Replace):
        by = min((state.on_by for _, state in book.before(name, swap) if is_whole(state)), default=by)
        swap = book.by(by) if by < swap.index else None
    return by


def _obstacles(book: Book, entry: Entry, thing: AnyThing) -> Iterator[Obstacle]:
    """What a verb needs out of the way; nothing for a thing that is not in the state the verb needs."""
    way, key = entry.step.verb.way, thing.key
    match way:
        case Way.NOTHING:
            return
        case Way.OFF:
            there = book.where(key, entry, lambda state: not is_off(thing, state))
            found = book.obstacles_out(entry, key)
        case Way.ON:
            there = book.where(key, entry, lambda state: not is_whole(state))
            found = book.obstacles_in(entry, key)
        case Way.HELD:
            there = book.where(key, entry, _can_be_held)
            found = _held(book, entry, key)
        case Way.REACH:
            there = book.where(key, entry, lambda state: is_whole(state) or isinstance(state, GroupState))
            found = book.obstacles_reach(entry, key)
        case Way.COVER:
            there = book.where(key, entry, is_whole)
            found = (each for each in book.obstacles_reach(entry, key) if each.edge.why is Why.BEHIND)
        case _:
            assert_never(way)
    for obstacle in found:
        if _at_another_end(book, entry, obstacle) or (obstacle.edge.why is Why.STACK and is_felt(entry)):
            continue
        variants = book.graph.space.both(obstacle.variants, there)
        if obstacle.edge.outer == key:
            variants = _put_back_later(book, obstacle.edge.inner, variants)
        if variants != NONE:
            yield obstacle._replace(variants=variants)


def _at_another_end(book: Book, entry: Entry, obstacle: Obstacle) -> bool:
    """Tell whether it is a clamp at one end of a line, and the step is for another end."""
    clamp, action = book.graph.machine.things[obstacle.edge.outer], entry.step.action
    if not isinstance(clamp, Fastener) or clamp.at is None or not isinstance(action, Disconnect | Connect):
        return False
    return action.at is not None and action.at.name != clamp.at.name


def _can_be_held(state: State) -> bool:
    """Tell whether something of a group is in to be turned, or an end of a line is off to be connected."""
    return state.out < state.all if isinstance(state, GroupState) else not is_whole(state)


def _held(book: Book, entry: Entry, key: str) -> Iterator[Obstacle]:
    """A lock must be off before what it locks is turned, and a clamp open before a hose goes on."""
    thing = book.graph.machine.things[key]
    if isinstance(thing, Fastener) and thing.held_for is not None:
        return  # what is only held is not turned: see `no-effect`
    for obstacle in book.obstacles_out(entry, key):
        outer = book.graph.machine.things[obstacle.edge.outer]
        # What locks a thing must be loose, and need not be out: see `still-locked`.
        locks = isinstance(outer, Fastener) and any(ref.name == key for ref in outer.locks)
        if obstacle.edge.why is not Why.JOINS and not (locks and obstacle.edge.why is Why.SECURES):
            yield obstacle


def _put_back_later(book: Book, key: str, variants: VariantSet) -> VariantSet:
    """Leave out the variants in which the inner thing never goes back: that is told as such.

    A job that stops early never puts it back either, so those ways alone do not make a fault.
    """
    space = book.graph.space
    never, never_or_stopped = NONE, NONE
    for held, state in book.closing(key):
        if not is_whole(state):
            never = space.either(never, held)
    if space.both(variants, never) == NONE:
        return variants
    for held, state in book.standing(key):
        if not is_whole(state):
            never_or_stopped = space.either(never_or_stopped, held)
    return space.without(variants, never_or_stopped)


def _words(book: Book, entry: Entry, thing: AnyThing, obstacle: Obstacle) -> tuple[str, tuple[Also, ...]]:
    edge, state = obstacle.edge, obstacle.state
    things = book.graph.machine.things
    outer, inner = things[edge.outer], things[edge.inner]
    rule = Also(edge.span, f"the machine file says that {named(outer)} {first_off(outer, inner, edge.why)}")
    subject = named(thing)
    out_or_off, in_or_on = ("out", "in") if goes_in(thing) else ("off", "on")
    if edge.outer == thing.key:
        be = verb_s(inner, "is", "are")
        belong = verb_s(inner, "belongs", "belong")
        message = f"{subject} cannot go {in_or_on}: {named(inner)} {belong} inside and {be} off"
        return message, (*cause(book, state.off_by, "it came off here"), rule)
    count = state.tight + state.loose if isinstance(state, GroupState) else None
    there, be = counted(outer, count), verb_s(outer, "is", "are", count)
    holding = f"{there} still {verb_s(outer, 'secures', 'secure', count)} {verb_s(thing, 'it', 'them')}"
    earlier = (*cause(book, state.on_by, "put in place here"), rule)
    way, why = entry.step.verb.way, edge.why
    turned = way is Way.HELD and isinstance(thing, Fastener)
    if (way is Way.ON or (way is Way.HELD and not turned)) and why in (Why.SECURES, Why.STACK):
        tight = isinstance(outer, Fastener) and outer.releases_when_loose
        where = "tight" if tight else "in" if goes_in(outer) else "on"
        return f"{subject} cannot go {in_or_on}: {there} {be} already {where}", earlier
    if turned and why is Why.SECURES:
        return f"{subject} cannot be turned: {holding}", earlier
    if way is Way.OFF and why is Why.SECURES:
        return f"{subject} cannot come {out_or_off}: {holding}", (rule,)
    if way is Way.OFF and why is Why.JOINS and not isinstance(thing, Line):
        return f"{subject} cannot come {out_or_off}: {outer.name} is still connected to it", (rule,)
    if way is Way.OFF and why is Why.STACK:
        return f"{subject} cannot come {out_or_off}: {there} {be} still on it", (rule,)
    return f"{subject} cannot be reached: {there} {be} still in place", earlier


def _fluid(book: Book, entry: Entry, fluid: Fluid) -> Iterator[Fault]:
    """A fluid runs out of an open drain, and goes in with every drain shut but the one it is filled through."""
    things = book.graph.machine.things
    drains = [things[ref.name] for ref in fluid.drains if ref.name in things]
    span = entry.span
    if isinstance(entry.step.action, Drain) and drains:
        yield from _stays_in(book, entry, fluid, drains, span)
    if isinstance(entry.step.action, Fill):
        yield from _shut(book, entry, fluid, span)
        for drain in drains:
            yield from _runs_out(book, entry, fluid, drain, span)


def _stays_in(book: Book, entry: Entry, fluid: Fluid, drains: Sequence[AnyThing], span: Span) -> Iterator[Fault]:
    """A fluid is drained and none of its drains is open."""
    space, have = book.graph.space, NONE
    for drain in drains:
        have = space.either(have, book.graph.present(drain.key))
    full = book.where(fluid.key, entry, lambda state: isinstance(state, FluidState) and state.full)
    variants = space.both(have, full)
    if variants != NONE:
        names = f"{listed([drain.name for drain in drains])} {'is' if len(drains) == 1 else 'are'}"
        message = f"{fluid.name} cannot drain: {names} still closed"
        yield Fault(span, message, entry.ways, to_open(book, entry, drains[0]), variants, book.reached(entry))


def _shut(book: Book, entry: Entry, fluid: Fluid, span: Span) -> Iterator[Fault]:
    """A fluid is filled through what is closed."""
    for filler, state, variants in shut_fillers(book, entry, fluid):
        message = f"{fluid.name} cannot be filled: it goes in through the {filler.name}, which is closed"
        also = (*cause(book, state.on_by, "closed here"), *entry.ways)
        root = Root(book.sequence.path, filler.key, "off", state.on_by, entry.index)
        yield Fault(span, message, also, _to_fill(filler), variants, book.reached(entry), root)


def _to_fill(filler: AnyThing) -> str | None:
    """Return how a filler that nobody opened is opened, and shut again."""
    if not isinstance(filler, Fastener | Part):
        return None
    turned = f" and 'tighten: {filler.key}'" if isinstance(filler, Fastener) and filler.turned else ""
    return f"add 'remove: {filler.key}' before it, and 'install: {filler.key}'{turned} after it"


def _runs_out(book: Book, entry: Entry, fluid: Fluid, drain: AnyThing, span: Span) -> Iterator[Fault]:
    """A fluid is filled while a drain is open."""
    through = {ref.name for ref in fluid.fills}
    for held, state in book.before(drain.key, entry) if drain.key not in through else ():
        variants = NONE if is_shut(drain, state) else _put_back_later(book, drain.key, held)
        if variants == NONE:
            continue
        how = "loose" if isinstance(state, GroupState) and not state.out else "open"
        message = f"{fluid.name} cannot be filled: {drain.name} is still {how}"
        also = (*cause(book, state.off_by, "opened here"), *entry.ways)
        yield Fault(span, message, also, variants=variants, among=book.reached(entry))
