"""Whether what a thing, a verb or a hazard wants first is so: a control set, equipment placed or away, a thing off."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from putback.ledger.book import Book, equipment_account
from putback.ledger.entries import Entry
from putback.model.machine import AnyThing
from putback.model.needed import OF_EQUIPMENT, is_so, words_for
from putback.model.states import State
from putback.model.terms import Need
from putback.variants import NONE, VariantSet


def account_of(book: Book, need: Need) -> tuple[str, AnyThing | None] | None:
    """Return the account of what is needed, and the thing; None for a name that stands for nothing."""
    name = need.control.name
    thing = book.graph.machine.things.get(name)
    if thing is not None:
        return name, thing
    return (equipment_account(name), None) if name in book.library.equipment else None


def met(book: Book, need: Need, entry: Entry) -> VariantSet:
    """Return the variants of an entry in which a need is met before it; none for a name that stands for nothing."""
    known = account_of(book, need)
    if known is None:
        return NONE
    account, thing = known
    return book.where(account, entry, lambda state: is_so(thing, state, need.position.name))


def unmet(book: Book, need: Need, entry: Entry, variants: VariantSet) -> Iterator[tuple[VariantSet, State]]:
    """Yield how what is needed stands instead, each with the part of some variants; nothing for what is unknown."""
    known = account_of(book, need)
    if known is not None and need.position.name in (words_for(known[1]) if known[1] else OF_EQUIPMENT):
        account, thing = known
        for held, state in book.before(account, entry):
            here = book.graph.space.both(held, variants)
            if here != NONE and not is_so(thing, state, need.position.name):
                yield here, state


def all_met(book: Book, needs: Iterable[Need], entry: Entry, variants: VariantSet) -> VariantSet:
    """Return the part of some variants in which every one of several needs is met."""
    for need in needs:
        variants = book.graph.space.both(variants, met(book, need, entry))
    return variants
