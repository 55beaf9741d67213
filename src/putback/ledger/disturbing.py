"""What disturbs the settings of a machine, and what must be back before one of them is adjusted or measured."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.ledger.journey import End
from putback.model.machine import AnyThing, Fastener, Machine
from putback.model.setting import Disturber, Setting
from putback.model.states import GroupState, LineState, PartState, SettingState, State, chosen, of
from putback.model.terms import Ref
from putback.model.verb import Action
from putback.model.verbs.adjusting import Adjust
from putback.model.verbs.pieces import Install, Replace, Tighten
from putback.variants import NONE, VariantSet
from putback.variants.graph import Edge, Graph


class Disturbed(NamedTuple):
    """A setting that a thing disturbs."""

    setting: str
    """Its name."""
    at: tuple[int, ...]
    """Of a fastener: the numbers of the pieces that do so; empty for all."""


def disturbed_by(graph: Graph) -> dict[str, list[Disturbed]]:
    """Return the settings that each thing disturbs, by its name."""
    found: dict[str, list[Disturbed]] = {}
    for key, setting in graph.machine.things.items():
        for disturber in disturbers_of(graph, setting) if isinstance(setting, Setting) else ():
            if disturber.ref.name != key:
                found.setdefault(disturber.ref.name, []).append(Disturbed(key, pieces(graph.machine, disturber)))
    return found


def disturbers_of(graph: Graph, setting: Setting) -> tuple[Disturber, ...]:
    """Return everything that disturbs a setting."""
    return (*setting.disturbed_by, *adjusters_of(graph, setting))


def adjusters_of(graph: Graph, setting: Setting) -> tuple[Disturber, ...]:
    """Return what is loosened or turned to adjust a setting: what stands there, and what locks that or the setting."""
    found = {disturber.ref.name: disturber for disturber in setting.adjusted_by}
    other = {disturber.ref.name for disturber in setting.disturbed_by}
    for name, at in ((setting.key, ()), *((ref.name, at) for ref, at in setting.adjusted_by)):
        for lock in graph.locked_by.get(name, ()):
            if lock.key not in found and lock.key not in other:
                places = at if all(ref.name in lock.positions for ref in at) else ()
                found[lock.key] = Disturber(Ref(lock.key, lock.span), places)
    return tuple(found.values())


def pieces(machine: Machine, disturber: Disturber) -> tuple[int, ...]:
    """Return the numbers of the pieces of a fastener that disturb a setting; empty for all."""
    thing = machine.things.get(disturber.ref.name)
    return chosen(thing, disturber.at) if isinstance(thing, Fastener) else ()


def moves(before: State, after: State, at: tuple[int, ...]) -> bool:
    """Tell whether a thing comes off, apart or loose between two of its states."""
    match before, after:
        case PartState(on=was), PartState(on=now):
            return was and not now
        case LineState(open=was_open), LineState(open=now_open):
            return bool(now_open - was_open)
        case GroupState() as was_held, GroupState() as held:
            if at and held.places:
                return any(_LOOSER[was_held.places[n]] < _LOOSER[held.places[n]] for n in at)
            return held.tight < was_held.tight or held.out > was_held.out
        case _:
            return False


def swaps(action: Action, thing: AnyThing, at: tuple[int, ...]) -> bool:
    """Tell whether a step replaces a thing in one go, or slackens and tightens it: nothing shows it afterwards."""
    if not isinstance(action, Replace) and not (isinstance(action, Tighten) and action.once_more):
        return False
    named = chosen(thing, action.at) if isinstance(thing, Fastener) else ()
    return not (at and named) or not set(at).isdisjoint(named)


_LOOSER = {"tight": 0, "loose": 1, "out": 2}


def disturb(state: State, by: int) -> State:
    """Return what is known of a setting after an entry disturbed it: the first one that did is kept."""
    before = of(SettingState, state)
    return before._replace(known=False, off_by=by) if before.known else before


def settle(_state: State, by: int) -> State:
    """Return what is known of a setting that was adjusted or measured."""
    return SettingState(on_by=by)


def is_back(state: State, at: tuple[int, ...] = (), *, loose: bool = False) -> bool:
    """Tell whether a thing is back and disturbs nothing: in place, connected, tight; or in, where `loose` will do."""
    match state:
        case PartState():
            return state.on
        case LineState():
            return not state.open
        case GroupState():
            if at and state.places:
                return all(state.places[n] == "tight" or (loose and state.places[n] == "loose") for n in at)
            return not state.out and (loose or not state.loose)
        case _:
            return True


def away_at(book: Book, setting: Setting, end: End) -> VariantSet:
    """Return the variants and ways in which something that disturbs a setting is not back at an end: that is told."""
    space, found = book.graph.space, NONE
    for disturber in disturbers_of(book.graph, setting):
        for variants, state in book.closing(disturber.ref.name, end):
            if not is_back(state, pieces(book.graph.machine, disturber)):
                found = space.either(found, variants)
    return found


def wanted_back(graph: Graph, setting: Setting, entry: Entry) -> Iterator[tuple[Disturber, bool]]:
    """Yield what must be back before an entry adjusts or measures a setting, each with whether it may be loose."""
    yield from ((disturber, False) for disturber in setting.disturbed_by)
    yield from ((disturber, isinstance(entry.step.action, Adjust)) for disturber in adjusters_of(graph, setting))


def hides(graph: Graph, setting: str, disturber: Disturber) -> Edge | None:
    """Return the rule by which what disturbs a setting must be off to reach it; None when it hides nothing."""
    return next((edge for edge in graph.outside(setting) if edge.outer == disturber.ref.name), None)


def last_back(
    book: Book, disturbers: tuple[Disturber, ...], variants: VariantSet, loosely: tuple[Disturber, ...] = ()
) -> Entry | None:
    """Return the last entry that puts back, connects or tightens what disturbs a setting, in some variants.

    What is only to be in place `loosely`, to adjust by it, is put back by its installation.
    """
    names, some = ({disturber.ref.name for disturber in each} for each in (disturbers, loosely))
    both = book.graph.space.both
    for entry in reversed(book.entries):
        if not entry.target or not entry.step.verb.shuts or not both(entry.variants, variants):
            continue
        if entry.target.name in names or (entry.target.name in some and isinstance(entry.step.action, Install)):
            return entry
    return None


def back_later(book: Book, disturber: Disturber, variants: VariantSet) -> VariantSet:
    """Leave out the variants in which a thing is never put back: that is told as such.

    A job that stops early never puts it back either, so those ways alone do not make a fault. Where no step of a job
    puts it back, that is so in all variants.
    """
    space, at, name = book.graph.space, pieces(book.graph.machine, disturber), disturber.ref.name
    if book.is_last and last_back(book, (disturber,), space.built) is None:
        return NONE
    if all(is_back(state, at) or space.both(variants, held) == NONE for held, state in book.closing(name)):
        return variants
    for held, state in book.standing(name):
        if not is_back(state, at):
            variants = space.without(variants, held)
    return variants


def words_of(state: State, at: tuple[int, ...]) -> str:
    """Return what is wrong with a thing that is not back: `off`, `out`, `loose`, `not tight yet` or `not connected`."""
    match state:
        case PartState():
            return "off"
        case LineState():
            return "not connected"
        case GroupState() as group:
            out = any(group.places[n] == "out" for n in at) if at and group.places else bool(group.out)
            staged = sum(some.count for some in group.staged if not at or some.piece in at)
            return "out" if out else "not tight yet" if staged == (len(at) or group.loose) else "loose"
        case _:
            return "disturbed"
