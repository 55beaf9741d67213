"""What must be back before a thing is put back, and what comes after it, by what the machine file says."""

from __future__ import annotations

from putback.ledger.book import Book
from putback.model.machine import Fastener, Fluid
from putback.model.setting import Setting


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
