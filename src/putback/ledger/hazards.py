"""What can hurt at an entry, and which safety messages are in force there.

A caution is in force from where it stands to the end of its section. A hazard comes from the verb, from what the verb
opens, moves or wets, from the mass that it puts into somebody's hands, or from the state of the machine. It is gone
while controls, equipment or things that are off keep it away.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import NamedTuple, TypeAlias

from putback.ledger.book import Book, once
from putback.ledger.entries import Entry
from putback.ledger.heat import given_off, looks_closely, running_at
from putback.ledger.involved import Involved, involved, uses
from putback.ledger.isolation import all_met
from putback.ledger.load import burden
from putback.model.library import Hazard, SafetyMessage
from putback.model.verbs import VERBS
from putback.model.verbs.blocks import BackTo
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


def hazards_at(book: Book, entry: Entry, hazards: Iterable[Hazard] | None = None) -> Iterator[Risk]:
    """Yield the hazards of one entry, each with the variants in which no control keeps it away.

    They are those of the library, or the ones given.
    """
    here_involved = list(involved(book, entry))
    tags = {tag.name for each in here_involved for tag in each.tags}
    for hazard in book.library.hazards.values() if hazards is None else hazards:
        if hazard.tags and hazard.mass is None and tags.isdisjoint(hazard.tags):
            continue
        variants, source = NONE, None
        for name, here in _sources(book, entry, hazard, here_involved):
            source = source or (name if here != NONE else None)
            variants = book.graph.space.either(variants, here)
        if variants != NONE and hazard.while_:
            variants = all_met(book, hazard.while_, entry, variants)
        if variants != NONE and hazard.safe_when:
            variants = book.graph.space.without(variants, all_met(book, hazard.safe_when, entry, variants))
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
        if not every and looks_closely(entry) and given_off(hazard):
            for name, here in _tagged(book, entry, hazard, met):
                yield name, book.graph.space.both(here, running_at(book, entry))
    elif hazard.mass is None and (by_verb or (not hazard.verbs and hazard.while_ and verb.reaches)):
        yield None, entry.variants


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
            variants = book.graph.space.both(entry.variants, there)
            if variants != NONE:
                yield each.name, variants


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
    rounds = _Rounds(book)
    for entries in sections.values():
        answered: _Answered = {}
        for position, entry in enumerate(entries):
            rounds.follow(entry, answered)
            message = caution_at(book, entry)
            if message:
                for covered in message.covers:
                    before = answered.get(covered.name, NONE)
                    answered[covered.name] = space.either(before, entry.variants)
                continue
            for risk in there.get(entry.index, ()):
                key = risk.hazard.key
                left = space.without(risk.variants, answered.get(key, NONE))
                if left != NONE:
                    found.append(Exposure(risk, left, _later(book, entries[position + 1 :], key, left)))
                    # One fault is one finding: the rest of the section is not told again.
                    answered[key] = space.either(answered.get(key, NONE), left)
    return found


_Answered: TypeAlias = dict[str, VariantSet]
"""Hazards that cautions of a section answer, each with the variants in which they do."""


class _Rounds:
    """What was read before a `back-to` went back within a section.

    The steps that are done once more want their caution once more. Behind the `back-to`, the reader is where nobody
    went back, and what stands above in the section was read.
    """

    def __init__(self, book: Book) -> None:
        self.space = book.graph.space
        self.leaps = {each.first: book.entries[each.after - 1] for each in book.passes if each.after}
        self.sections: dict[int, int] = {}
        self.at_leaps: dict[int, _Answered] = {}
        self.leap: Entry | None = None
        self.earlier: _Answered = {}

    def follow(self, entry: Entry, answered: _Answered) -> None:
        """Go on to the next entry; behind the `back-to`, add what was read before it."""
        if not entry.again:
            self.sections[entry.order] = entry.section
        if entry.index in self.leaps:
            self.leap = self.leaps[entry.index]
            self.earlier = self.at_leaps.get(self.leap.index, {})
        leap = self.leap
        if leap is not None and entry.order > leap.order:
            if self.sections.get(entry.order) == self.sections.get(leap.order):
                self._add(answered)
            self.leap = None
        if isinstance(entry.step.action, BackTo):
            read = dict(answered)
            if self.leap is not None:
                self._add(read)
            self.at_leaps[entry.index] = read

    def _add(self, answered: _Answered) -> None:
        for hazard, variants in self.earlier.items():
            answered[hazard] = self.space.either(answered.get(hazard, NONE), variants)


def _risky_verbs(book: Book) -> set[str]:
    """Return the verbs that can have a hazard at all: a quick way past most entries."""
    hazards = book.library.hazards.values()
    found = {verb for hazard in hazards for verb in hazard.verbs} | {
        verb.name for verb in VERBS.values() if verb.releases or verb.carries or (verb.asks and verb.reaches)
    }
    if any(hazard.while_ and not hazard.verbs and not hazard.tags for hazard in hazards):
        found |= {verb.name for verb in VERBS.values() if verb.reaches}
    return found


def caution_at(book: Book, entry: Entry) -> SafetyMessage | None:
    """Return the safety message that an entry shows, if it shows one."""
    if isinstance(entry.step.action, Caution) and entry.target:
        return book.library.cautions.get(entry.target.name)
    return None


def _later(book: Book, entries: list[Entry], hazard: str, variants: VariantSet) -> InForce | None:
    for entry in entries:
        message = caution_at(book, entry)
        if message is None or book.graph.space.both(entry.variants, variants) == NONE:
            continue
        if any(covered.name == hazard for covered in message.covers):
            return InForce(message, entry)
    return None
