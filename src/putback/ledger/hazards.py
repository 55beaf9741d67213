"""What can hurt at an entry, and which safety messages are in force there.

A caution is in force from where it stands to the end of its section. A hazard comes from the verb, from what the verb
opens, moves or wets, from the mass that it puts into somebody's hands, or from the state of the machine. It is gone
while controls, equipment or things that are off keep it away.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import NamedTuple, TypeAlias

from putback.ledger.bench import on_bench
from putback.ledger.book import Book, equipment_account, once
from putback.ledger.entries import Entry
from putback.ledger.heat import given_off, looks_closely, not_cold, running_at, stays_hot, still_hot
from putback.ledger.involved import Involved, involved, uses
from putback.ledger.isolation import all_met
from putback.ledger.load import burden
from putback.ledger.newness import condemned
from putback.model.library import Hazard, SafetyMessage
from putback.model.terms import Ref
from putback.model.verbs import VERBS
from putback.model.verbs.acting import Act
from putback.model.verbs.pieces import Replace
from putback.model.verbs.telling import Caution
from putback.units import Quantity, si
from putback.variants import NONE, VariantSet


class Risk(NamedTuple):
    """A hazard at an entry."""

    hazard: Hazard
    """What can hurt."""
    entry: Entry
    """The entry that brings it about."""
    variants: VariantSet
    """The variants in which it is there."""
    source: str | None
    """The thing, fluid, consumable, tool or equipment whose tag brings it about; None when the verb does."""


class InForce(NamedTuple):
    """A safety message of one section."""

    message: SafetyMessage
    """The message."""
    entry: Entry
    """Where it stands."""


def hazards_at(
    book: Book, entry: Entry, hazards: Iterable[Hazard] | None = None, *, kept_away: bool = False
) -> Iterator[Risk]:
    """Yield the hazards of one entry, each with the variants in which nothing keeps it away.

    They are those of the library, or the ones given; with `kept_away`, also where something keeps them away.
    """
    here_involved = list(involved(book, entry, kept_away=kept_away))
    tags = {tag.name for each in here_involved for tag in each.tags}
    for hazard in book.library.hazards.values() if hazards is None else hazards:
        if hazard.tags and hazard.mass is None and tags.isdisjoint(hazard.tags):
            continue
        variants, source = NONE, None
        for name, here in _sources(book, entry, hazard, here_involved):
            source = source or (name if here != NONE else None)
            variants = book.graph.space.either(variants, here)
        if variants != NONE and (hazard.while_ or hazard.safe_when) and not hazard.tags and hazard.mass is None:
            # On the bench, away from the machine, the state of the machine hurts nobody.
            variants = book.graph.space.without(variants, on_bench(book, entry))
        if variants != NONE and hazard.while_:
            variants = all_met(book, hazard.while_, entry, variants)
        if variants != NONE and hazard.safe_when and not kept_away:
            variants = book.graph.space.without(variants, all_met(book, hazard.safe_when, entry, variants))
        if variants != NONE and isinstance(entry.step.action, Replace):
            # What is condemned lies on the bench: nothing is opened or carried until the new one goes on.
            variants = book.graph.space.without(variants, condemned(book, entry))
        if variants != NONE:
            yield Risk(hazard, entry, variants, source)


def _sources(book: Book, entry: Entry, hazard: Hazard, met: list[Involved]) -> Iterator[tuple[str | None, VariantSet]]:
    """Yield what brings a hazard about at an entry, and in which variants: its verb, a tag, a mass, a state."""
    verb = entry.step.verb
    by_verb = verb.name in hazard.verbs
    if hazard.mass is not None and (by_verb or (not hazard.verbs and verb.carries)):
        yield from _heavy(book, entry, hazard.mass)
    if hazard.tags:
        every = by_verb or (not hazard.verbs and verb.releases)
        yield from _tagged(book, entry, hazard, [each for each in met if every or _is_used(each, hazard)])
        if not every and given_off(hazard) and (looks_closely(entry) or entry.step.verb.reaches):
            yield from _given_off(book, entry, hazard, not_cold(book, entry, met))
    elif hazard.mass is None and (by_verb or (not hazard.verbs and hazard.while_ and _reaches(entry))):
        yield None, entry.variants


def _given_off(
    book: Book, entry: Entry, hazard: Hazard, met: list[Involved]
) -> Iterator[tuple[str | None, VariantSet]]:
    """Yield what is looked at beside the running engine, or touched while it is hot from a run."""
    space = book.graph.space
    there = running_at(book, entry) if looks_closely(entry) else NONE
    if entry.step.verb.reaches and stays_hot(hazard):
        there = space.either(there, still_hot(book, entry))
    for name, here in _tagged(book, entry, hazard, met) if there != NONE else ():
        yield name, space.both(here, there)


def _reaches(entry: Entry) -> bool:
    """Tell whether somebody reaches into the machine: not with an action that touches nothing of it."""
    return entry.step.verb.reaches and not (isinstance(entry.step.action, Act) and entry.target is None)


def _heavy(book: Book, entry: Entry, least: Quantity) -> Iterator[tuple[str | None, VariantSet]]:
    """Yield the part that an entry carries, in the variants in which it weighs so much with what hangs on it."""
    low, _ = si(least)
    load = burden(book, entry, entry.target.name) if entry.target is not None else None
    if entry.target is not None and load is not None and low is not None:
        yield entry.target.name, load.over(low, or_equal=True)


def _is_used(each: Involved, hazard: Hazard) -> bool:
    """Tell whether it is a tool or equipment, of which a hazard does not say at which verbs it is there."""
    return each.used and not hazard.verbs


def _tagged(book: Book, entry: Entry, hazard: Hazard, met: list[Involved]) -> Iterator[tuple[str | None, VariantSet]]:
    """Yield what the entry involves that carries one of the hazard's tags, with the variants that have it."""
    for each in met:
        if any(tag.name in hazard.tags for tag in each.tags):
            there = book.graph.space.built if each.used else book.graph.present(each.name)
            variants = book.graph.space.both(each.variants, there)
            if variants != NONE:
                yield each.name, variants


def brought_about(book: Book, entry: Entry, hazard: Hazard) -> bool:
    """Tell whether an entry makes so what a hazard is there for: it compresses the spring, or puts the load up."""
    names = [need.control.name for need in hazard.while_]
    return any(book.changed(name if name in book.history else equipment_account(name), entry) for name in names)


def puts_on(book: Book, entry: Entry, hazard: Hazard) -> bool:
    """Tell whether an entry puts on what is dangerous, as a spring that is pulled over its hook.

    It asks for no message, where the hazard names no such verb; but who warns there is right.
    """
    if hazard.verbs or hazard.safe_when or not entry.step.verb.assembles:
        return False
    return any(tag.name in hazard.tags for each in involved(book, entry) for tag in each.tags)


@once
def risks(book: Book) -> Iterator[Risk]:
    """Yield the hazards of all entries, in order."""
    risky = _risky_verbs(book)
    for entry in book.entries:
        if entry.step.verb.name in risky or uses(book.library, entry):
            yield from hazards_at(book, entry)


class Licensed(NamedTuple):
    """Work that the law leaves to a licensed professional."""

    risk: Risk
    """The hazard, at the first step that has it."""
    variants: VariantSet
    """All variants that have it."""


@once
def licensed_work(book: Book) -> Iterator[Licensed]:
    """Yield the licensed hazards of a job, isolated or not: that a tap is closed takes nothing away from the law.

    A safety message that answers one says that it is there, also where nothing in the job brings it about by itself.
    """
    hazards = [replace(hazard, safe_when=()) for hazard in book.library.hazards.values() if hazard.licensed]
    found: dict[str, Licensed] = {}
    told: dict[str, Licensed] = {}
    for entry in book.entries if hazards else ():
        message = caution_at(book, entry)
        covered = {ref.name for ref in message.covers} if message else set()
        for hazard in hazards:
            if hazard.key in covered:
                told.setdefault(hazard.key, Licensed(Risk(hazard, entry, entry.variants, None), entry.variants))
        for risk in hazards_at(book, entry, hazards):
            first = found.get(risk.hazard.key, Licensed(risk, NONE))
            found[risk.hazard.key] = Licensed(first.risk, book.graph.space.either(first.variants, risk.variants))
    yield from (told | found).values()


class Exposure(NamedTuple):
    """A risk that no caution before it, in its section, answers."""

    risk: Risk
    """The risk."""
    variants: VariantSet
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
    there: dict[int, list[Risk]] = {}
    for risk in risks(book):
        there.setdefault(risk.entry.index, []).append(risk)
    for entries in sections.values():
        answered: _Answered = {}
        for above in standing_above(book, entries[0]):
            _answer(book, above.message, above.variants, answered)
        for position, entry in enumerate(entries):
            message = caution_at(book, entry)
            if message:
                _answer(book, message, entry.variants, answered)
                continue
            for risk in there.get(entry.index, ()):
                key = risk.hazard.key
                left = space.without(risk.variants, answered.get(key, NONE))
                if left != NONE:
                    found.append(Exposure(risk, left, _later(book, risk, entries[position + 1 :], left)))
                    # One fault is one finding: the rest of the section is not told again.
                    answered[key] = space.either(answered.get(key, NONE), left)
    return found


_Answered: TypeAlias = dict[str, VariantSet]
"""Hazards that cautions of a section answer, each with the variants in which they do."""


def _answer(book: Book, message: SafetyMessage, variants: VariantSet, answered: _Answered) -> None:
    for covered in message.covers:
        answered[covered.name] = book.graph.space.either(answered.get(covered.name, NONE), variants)


class Above(NamedTuple):
    """A safety message that stands above the step that a way goes back to, in its section."""

    message: SafetyMessage
    """The message."""
    ref: Ref
    """Its name, where it stands."""
    variants: VariantSet
    """The variants that it is for."""


def standing_above(book: Book, entry: Entry) -> Iterator[Above]:
    """Yield what is in force at an entry where a `back-to` led to: all that stands above it in its section.

    Who goes back to a step below it need not read it twice. Nothing for an entry that no way back begins with.
    """
    starts = [number for number, one in enumerate(book.passes) if number and one.first == entry.index]
    orders = book.program.orders if starts else []
    section = next((order.section for order in reversed(orders) if order.number <= entry.order), None)
    for order in orders:
        if order.number < entry.order and order.section == section and isinstance(order.step.action, Caution):
            for ref, present in order.targets:
                message = book.library.cautions.get(ref.name) if ref else None
                if ref is not None and message is not None:
                    yield Above(message, ref, book.graph.space.both(order.variants, present))


def _risky_verbs(book: Book) -> set[str]:
    """Return the verbs that can have a hazard at all: a quick way past most entries."""
    return {verb for hazard in book.library.hazards.values() for verb in hazard.verbs} | {
        verb.name for verb in VERBS.values() if verb.releases or verb.carries or verb.asks or verb.reaches
    }


def caution_at(book: Book, entry: Entry) -> SafetyMessage | None:
    """Return the safety message that an entry shows, if it shows one."""
    if isinstance(entry.step.action, Caution) and entry.target:
        return book.library.cautions.get(entry.target.name)
    return None


def _later(book: Book, risk: Risk, entries: list[Entry], variants: VariantSet) -> InForce | None:
    """Return the message after a risk that should stand before it; not one that is right in a block of its own."""
    hazard, via = risk.hazard.key, [step.key for step in risk.entry.via]
    for entry in entries:
        if [step.key for step in entry.via] != via[: len(entry.via)]:
            continue
        message = caution_at(book, entry)
        if message is None or book.graph.space.both(entry.variants, variants) == NONE:
            continue
        if any(covered.name == hazard for covered in message.covers):
            return InForce(message, entry)
    return None
