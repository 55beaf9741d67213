"""What can hurt at an entry, and which safety messages are in force there.

A caution is in force from where it stands to the end of its section. A hazard comes from the verb, from what the verb
opens, moves or wets, from the mass that it puts into somebody's hands, or from the state of the machine. It is gone
while controls, aids or things that are off keep it away.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.ledger.book import Book, once
from putback.ledger.entries import Entry
from putback.ledger.isolation import all_met
from putback.ledger.load import burden
from putback.model.library import Hazard, SafetyMessage
from putback.model.terms import Ref
from putback.model.verbs import VERBS
from putback.model.verbs.cleaning import Apply, Clean
from putback.model.verbs.telling import Caution
from putback.units import Quantity, si
from putback.variants import NONE, VariantSet


class Risk(NamedTuple):
    """A hazard at an entry."""

    hazard: Hazard
    """What can hurt."""
    entry: Entry
    """The entry that brings it about."""
    worlds: VariantSet
    """The variants in which it is there."""
    source: str | None
    """The thing, fluid or consumable whose tag brings it about; None when the verb does."""


class InForce(NamedTuple):
    """A safety message of one section."""

    message: SafetyMessage
    """The message."""
    entry: Entry
    """Where it stands."""


def hazards_at(book: Book, entry: Entry) -> Iterator[Risk]:
    """Yield the hazards of one entry, each with the variants in which no control keeps it away."""
    for hazard in book.library.hazards.values():
        sources = list(_sources(book, entry, hazard))
        worlds, source = NONE, None
        for name, here in sources:
            source = source or name
            worlds = book.graph.space.either(worlds, here)
        if worlds != NONE and hazard.while_:
            worlds = all_met(book, hazard.while_, entry, worlds)
        if worlds != NONE and hazard.gone_when:
            worlds = book.graph.space.without(worlds, all_met(book, hazard.gone_when, entry, worlds))
        if worlds != NONE:
            yield Risk(hazard, entry, worlds, source)


def _sources(book: Book, entry: Entry, hazard: Hazard) -> Iterator[tuple[str | None, VariantSet]]:
    """Yield what brings a hazard about at an entry, and in which variants: its verb, a tag, a mass, a state."""
    verb = entry.step.verb
    by_verb = verb.name in hazard.verbs
    if hazard.mass is not None and (by_verb or (not hazard.verbs and verb.carries)):
        yield from _heavy(book, entry, hazard.mass)
    if hazard.tags:
        if by_verb or (not hazard.verbs and verb.releases):
            yield from _tagged(book, entry, hazard)
    elif hazard.mass is None and (by_verb or (not hazard.verbs and hazard.while_ and verb.reaches)):
        yield None, entry.worlds


def _heavy(book: Book, entry: Entry, least: Quantity) -> Iterator[tuple[str | None, VariantSet]]:
    """Yield the part that an entry carries, in the variants in which it weighs so much with what hangs on it."""
    low, _ = si(least)
    load = burden(book, entry, entry.target.name) if entry.target is not None else None
    if entry.target is not None and load is not None and low is not None:
        yield entry.target.name, load.over(low, or_equal=True)


def _tagged(book: Book, entry: Entry, hazard: Hazard) -> Iterator[tuple[str | None, VariantSet]]:
    """Yield what the entry involves that carries one of the hazard's tags, with the variants that have it."""
    for ref in _involved(book, entry):
        thing = book.graph.machine.things.get(ref.name)
        consumable = book.library.consumables.get(ref.name)
        tags = thing.tags if thing else consumable.tags if consumable else ()
        if any(tag.name in hazard.tags for tag in tags):
            worlds = book.graph.space.both(entry.worlds, book.graph.present(ref.name))
            if worlds != NONE:
                yield ref.name, worlds


def _involved(book: Book, entry: Entry) -> Iterator[Ref]:
    if entry.target:
        yield entry.target
        # Opening a drain lets the fluid out, whatever the step is called.
        for fluid in book.graph.lets_out.get(entry.target.name, ()):
            yield Ref(fluid, entry.target.span)
    action = entry.step.action
    if isinstance(action, Apply):
        yield from action.to
    elif isinstance(action, Clean) and action.with_:
        yield action.with_


class Exposure(NamedTuple):
    """A risk that no caution before it, in its section, answers."""

    risk: Risk
    """The risk."""
    worlds: VariantSet
    """The variants in which nothing answers it."""
    late: InForce | None
    """A caution of the same section that would answer it, but comes after."""


@once
def exposures(book: Book) -> list[Exposure]:
    """Return the first unanswered risk of each hazard in each section."""
    space = book.graph.space
    found: list[Exposure] = []
    sections: dict[int, list[Entry]] = {}
    for entry in book.entries:
        sections.setdefault(entry.section, []).append(entry)
    risky = _risky_verbs(book)
    for entries in sections.values():
        answered: dict[str, VariantSet] = {}
        for position, entry in enumerate(entries):
            message = caution_at(book, entry)
            if message:
                for covered in message.covers:
                    before = answered.get(covered.name, NONE)
                    answered[covered.name] = space.either(before, entry.worlds)
                continue
            if entry.step.verb.name not in risky:
                continue
            for risk in hazards_at(book, entry):
                key = risk.hazard.key
                left = space.without(risk.worlds, answered.get(key, NONE))
                if left != NONE:
                    found.append(Exposure(risk, left, _later(book, entries[position + 1 :], key, left)))
                    # One fault is one finding: the rest of the section is not told again.
                    answered[key] = space.either(answered.get(key, NONE), left)
    return found


def _risky_verbs(book: Book) -> set[str]:
    """Return the verbs that can have a hazard at all: a quick way past most entries."""
    hazards = book.library.hazards.values()
    found = {verb for hazard in hazards for verb in hazard.verbs} | {
        verb.name for verb in VERBS.values() if verb.releases or verb.carries
    }
    if any(hazard.while_ and not hazard.verbs and not hazard.tags for hazard in hazards):
        found |= {verb.name for verb in VERBS.values() if verb.reaches}
    return found


def caution_at(book: Book, entry: Entry) -> SafetyMessage | None:
    """Return the safety message that an entry shows, if it shows one."""
    if isinstance(entry.step.action, Caution) and entry.target:
        return book.library.cautions.get(entry.target.name)
    return None


def _later(book: Book, entries: list[Entry], hazard: str, worlds: VariantSet) -> InForce | None:
    for entry in entries:
        message = caution_at(book, entry)
        if message is None or book.graph.space.both(entry.worlds, worlds) == NONE:
            continue
        if any(covered.name == hazard for covered in message.covers):
            return InForce(message, entry)
    return None
