"""What must be back before a thing is put back, and what comes after it, by what the machine file says."""

from __future__ import annotations

from collections.abc import Collection

from putback.ledger.book import Book
from putback.ledger.closing import Unfinished, unfinished
from putback.model.called import goes_in, named, verb_s
from putback.model.machine import AnyThing, Fastener, Fluid
from putback.model.setting import Setting
from putback.model.states import GroupState, PartState, is_off
from putback.model.verbs.pieces import Install
from putback.variants.graph import Why


def inner_of(book: Book, key: str) -> set[str]:
    """Return what goes on before a thing: what is inside of it, what it locks, its nut, the drains of a fluid."""
    machine, thing = book.graph.machine, book.graph.machine.things.get(key)
    if isinstance(thing, Fluid):
        return {ref.name for ref in thing.drains} - {ref.name for ref in thing.fills}
    found = {edge.inner for edge in book.graph.inside(key)}
    if isinstance(thing, Fastener) and thing.counterhold:
        found.add(thing.counterhold.name)
    for name, other in machine.things.items():
        if isinstance(other, Fluid):
            through = {ref.name for ref in (*other.vents, *other.fills)} - {ref.name for ref in other.drains}
            found |= {name} if key in through else set()
    return found


def adjusted_by(book: Book, key: str) -> set[str]:
    """Return the settings that a thing is loosened or turned for, to adjust them."""
    return {
        name
        for name, other in book.graph.machine.things.items()
        if isinstance(other, Setting) and key in {each.ref.name for each in other.adjusted_by}
    }


def outer_of(book: Book, key: str) -> set[str]:
    """Return what comes after a thing: what goes on over it, a fluid that it lets out, a setting that it disturbs."""
    machine, thing = book.graph.machine, book.graph.machine.things.get(key)
    if isinstance(thing, Fluid):
        return {ref.name for ref in thing.fills}
    found = {edge.outer for edge in book.graph.outside(key)}
    for name, other in machine.things.items():
        if isinstance(other, Fluid):
            found |= {name} if key in {ref.name for ref in other.drains} else set()
        elif isinstance(other, Setting):
            by = {each.ref.name for each in (*other.disturbed_by, *other.adjusted_by)}
            found |= {name} if key in by else set()
    return found


def off_inside(book: Book, left: Unfinished) -> list[Unfinished]:
    """Return what goes on before a thing and is left off as well, by a later step of its list, in that order.

    What goes back in some variants has its place there already.
    """
    inner, here = inner_of(book, left.key), book.graph.space.variants_of(left.variants)
    machine, back = book.graph.machine, {entry.target.name for entry in book.of(Install) if entry.target}
    found = [
        other
        for other in unfinished(book)
        if other.key in inner
        and other.block is None
        and isinstance(other.state, PartState | GroupState)
        and is_off(machine.things[other.key], other.state)
        and other.entry is not None
        and left.entry is not None
        and other.entry.index > left.entry.index
        and other.entry.via == left.entry.via
        and book.graph.space.within(here, book.graph.space.variants_of(other.variants))
        and other.key not in back
    ]
    return sorted(found, key=lambda other: other.entry.index if other.entry else -1)


def first_off(outer: AnyThing, inner: AnyThing, why: Why) -> str:
    """Say what must be off, and before what: nothing comes off that is only adjusted, or reached."""
    away = "out" if goes_in(outer) else "off"
    if isinstance(inner, Setting):
        return f"must be {away} before {named(inner)} is measured or adjusted"
    if why is Why.BEHIND:
        return f"must be {away} before {named(inner)} {verb_s(inner, 'is', 'are')} reached"
    return f"{verb_s(outer, 'comes', 'come')} {away} before {named(inner)}"


def may_stay(book: Book, names: Collection[str]) -> bool:
    """Tell whether all of some names are equipment that may be there while the machine runs, such as chocks."""
    known = book.library.equipment
    return all(name in known and known[name].may_stay for name in names)
