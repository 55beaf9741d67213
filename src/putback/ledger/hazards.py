"""What can hurt at an entry, and which safety messages are in force there.

A caution is in force from where it stands to the end of its section. A hazard comes from the verb, or from what the
verb opens, moves or wets; it is gone while controls keep it away.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.ledger.states import Setting
from putback.library import Hazard, SafetyMessage
from putback.model import job as j
from putback.model.job import Verb
from putback.model.terms import Ref
from putback.variants import NONE, VariantSet

OPENING = frozenset(
    {
        Verb.REMOVE, Verb.REPLACE, Verb.LOOSEN, Verb.DISCONNECT, Verb.DRAIN, Verb.FILL, Verb.APPLY, Verb.CLEAN,
        Verb.LIFT,
    }
)  # fmt: skip
"""Verbs that open, move or wet something: what a tag warns of gets out."""


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
    verb, carried = entry.step.verb, _tags(book, entry)
    for hazard in book.library.hazards.values():
        by_verb = verb.value in hazard.verbs
        source, worlds = None, entry.worlds
        if hazard.tags:
            if hazard.verbs and not by_verb:
                continue
            if not hazard.verbs and verb not in OPENING:
                continue
            sources = [name for tag, name in carried if tag in hazard.tags]
            if not sources:
                continue
            source, worlds = sources[0], _with_any(book, sources)
        elif not by_verb:
            continue
        worlds = book.graph.space.both(worlds, _remaining(book, entry, hazard))
        if worlds != NONE:
            yield Risk(hazard, entry, worlds, source)


def _tags(book: Book, entry: Entry) -> list[tuple[str, str]]:
    """Return the tags of the things and consumables in an entry, each with the name of what carries it."""
    found = []
    for ref in _involved(book, entry):
        thing = book.graph.machine.things.get(ref.name)
        consumable = book.library.consumables.get(ref.name)
        tags = thing.tags if thing else consumable.tags if consumable else ()
        found += [(tag.name, ref.name) for tag in tags]
    return found


def _with_any(book: Book, names: list[str]) -> VariantSet:
    """Return the variants that have one of these things; a consumable is in all of them."""
    found = NONE
    for name in names:
        found = book.graph.space.either(found, book.graph.present(name))
    return found


def _involved(book: Book, entry: Entry) -> Iterator[Ref]:
    if entry.target:
        yield entry.target
        # Opening a drain lets the fluid out, whatever the step is called.
        for fluid in book.graph.lets_out.get(entry.target.name, ()):
            yield Ref(fluid, entry.target.span)
    action = entry.step.action
    if isinstance(action, j.Apply):
        yield from action.to
    elif isinstance(action, j.Clean) and action.with_:
        yield action.with_


def _remaining(book: Book, entry: Entry, hazard: Hazard) -> VariantSet:
    """Take away the variants in which every control that the machine has of `gone-when` has its position."""
    needs = [need for need in hazard.gone_when if need.control.name in book.graph.machine.things]
    if not needs:
        return entry.worlds
    space, gone, have = book.graph.space, entry.worlds, NONE
    for need in needs:

        def has(state: object, position: str = need.position.name) -> bool:
            return isinstance(state, Setting) and state.position == position

        present = book.graph.present(need.control.name)
        have = space.either(have, present)
        kept_away = space.either(book.where(need.control.name, entry, has), space.without(entry.worlds, present))
        gone = space.both(gone, kept_away)
    return space.without(entry.worlds, space.both(gone, have))


class Exposure(NamedTuple):
    """A risk that no caution before it, in its section, answers."""

    risk: Risk
    """The risk."""
    worlds: VariantSet
    """The variants in which nothing answers it."""
    late: InForce | None
    """A caution of the same section that would answer it, but comes after."""


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
            if entry.step.verb.value not in risky:
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
    return {verb for hazard in book.library.hazards.values() for verb in hazard.verbs} | {
        verb.value for verb in OPENING
    }


def caution_at(book: Book, entry: Entry) -> SafetyMessage | None:
    """Return the safety message that an entry shows, if it shows one."""
    if isinstance(entry.step.action, j.Caution) and entry.target:
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
