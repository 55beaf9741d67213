"""What the hazards of a job ask for: protective equipment at a safety message, and what becomes of waste.

Both are read from the ledger, by the rule of `ledger.hazards` for what can hurt where.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Iterator
from dataclasses import replace
from typing import NamedTuple

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.ledger.hazards import Risk, caution_at, hazards_at, risks
from putback.ledger.involved import carried_tags
from putback.model.library import Hazard, Library, SafetyMessage
from putback.model.machine import Fastener, Fluid, Part
from putback.model.said import source_of
from putback.model.states import FluidState, GroupState, PartState
from putback.model.terms import Ref
from putback.model.verbs.cleaning import Clean
from putback.model.verbs.fluids import Drain
from putback.model.verbs.pieces import Install, Replace
from putback.sheet.survey import Survey
from putback.variants import NONE, VariantSet


def wear_of(message: SafetyMessage, library: Library, away: Container[str] = ()) -> tuple[str, ...]:
    """Return the protective equipment of a safety message and of the hazards that it covers, each once.

    Those that are `away` where it stands do not count: gloves against a sharp edge are worn while it is handled, and
    not beside a shaft that turns.
    """
    covered = [ref.name for ref in message.covers if ref.name in library.hazards and ref.name not in away]
    return as_one([*message.ppe, *(item for name in covered for item in library.hazards[name].ppe)])


_RESISTANT = re.compile(r"[\w-]+-(?:resistant|proof) ")


def as_one(items: Iterable[str]) -> tuple[str, ...]:
    """Return protective equipment with what is worn in one piece said once.

    Nobody wears two pairs of gloves: `gloves` and `leather gloves` are leather gloves, and with `cut-resistant gloves`
    they are cut-resistant leather gloves. Of two that resist different things, both stay.
    """
    said = {source_of(item): item for item in items}
    merged = _as_one(said)
    if all(source == item for source, item in said.items()):
        return merged
    # For what was made of two, only the author's language has a word: in others, both are said.
    of_two = {each.split()[-1] for each in merged if each not in said}
    return tuple(item for source, item in said.items() if source in merged or source.split()[-1] in of_two)


def _as_one(items: Iterable[str]) -> tuple[str, ...]:
    found: list[str] = []
    for item in items:
        *others, last = item.split()
        for at, before in enumerate(found):
            *kept, same = before.split()
            if same != last:
                continue
            first, second = sorted((item, before), key=lambda words: _RESISTANT.match(source_of(words)) is None)
            mixed = _RESISTANT.match(source_of(first)) is not None and _RESISTANT.match(source_of(second)) is None
            if set(others) <= set(kept) or set(kept) <= set(others):
                found[at] = max(item, before, key=len)
            elif mixed and len(first.split()) == 2:
                found[at] = f"{first.split()[0]} {second}"
            else:
                continue
            break
        else:
            found.append(item)
    return tuple(dict.fromkeys(found))


def worn(survey: Survey) -> dict[tuple[int, str], tuple[str, ...]]:
    """Return the equipment of each safety message, by the number of its step in the program and its name.

    A hazard is away when no step after the message, to the end of its section, has it, though the machine has
    something that would bring it about. Of what no tag tells, the author knows more than the ledger: it counts.
    """
    book = survey.book
    cautions = [(entry, message) for entry in survey.entries if (message := caution_at(book, entry)) is not None]
    sections: dict[int, list[Risk]] = {}
    for risk in risks(book) if cautions else ():
        if not risk.entry.again:
            sections.setdefault(risk.entry.section, []).append(risk)
    told = {key for key, hazard in book.library.hazards.items() if _can_be_told(book, hazard)}
    found: dict[tuple[int, str], tuple[str, ...]] = {}
    for entry, message in cautions:
        there = {
            risk.hazard.key
            for risk in sections.get(entry.section, ())
            if risk.entry.index > entry.index and book.graph.space.both(risk.variants, entry.variants) != NONE
        }
        if entry.target is not None:
            found[entry.order, entry.target.name] = wear_of(message, book.library, told - there)
    return found


def _can_be_told(book: Book, hazard: Hazard) -> bool:
    """Tell whether the ledger can know where a hazard is: something that it can meet carries one of its tags."""
    return not hazard.tags or not carried_tags(book.graph.machine, book.library).isdisjoint(hazard.tags)


class Discard(NamedTuple):
    """What comes out at a step and does not go back."""

    text: str
    """What to do with it."""
    variants: VariantSet
    """The variants in which that is so."""


def discards(survey: Survey) -> dict[tuple[int, str], list[Discard]]:
    """Return what is waste, by the number of the step in the program and the name of its thing.

    A fluid is waste where it runs out, and a consumable where something is cleaned with it. A part, or a fastener that
    is renewed each time, is waste where it comes off, when a new one goes in; where only a branch fits the new one, it
    is waste there. A control that keeps a hazard away does not count: what stood in a bowl comes out with the tap
    closed as well.
    """
    found: dict[tuple[int, str], list[Discard]] = {}
    texts, untagged = _texts(survey.book.library), _untagged(survey.book.library)
    for entry in survey.entries if texts or untagged else ():
        for at, tags, variants in _thrown_away(survey, entry):
            told = dict.fromkeys(text for tag in tags for text in texts.get(tag.name, ()))
            told |= dict.fromkeys(risk.hazard.waste or "" for risk in hazards_at(survey.book, at, untagged))
            name = at.target.name if at.target else ""
            found.setdefault((at.order, name), []).extend(Discard(text, variants) for text in told)
    return found


def _texts(library: Library) -> dict[str, list[str]]:
    """Return by tag what hazards say of waste."""
    found: dict[str, list[str]] = {}
    for hazard in library.hazards.values():
        for tag in hazard.tags if hazard.waste else ():
            found.setdefault(tag, []).append(hazard.waste or "")
    return found


def _untagged(library: Library) -> list[Hazard]:
    """Return the hazards that say something of waste, and have no tag: by its verb or its mass a step has them."""
    told = [hazard for hazard in library.hazards.values() if hazard.waste and not hazard.tags]
    return [replace(hazard, safe_when=()) for hazard in told]


_Thrown = tuple[Entry, tuple[Ref, ...], VariantSet]
"""The entry at which something is thrown away, its tags, and the variants."""


def _thrown_away(survey: Survey, entry: Entry) -> Iterator[_Thrown]:
    book, action = survey.book, entry.step.action
    things = book.graph.machine.things
    if isinstance(action, Clean) and action.with_ and action.with_.name in book.library.consumables:
        yield entry, book.library.consumables[action.with_.name].tags, survey.variants(entry)
    if entry.target is None:
        return
    for key in (*book.graph.lets_out.get(entry.target.name, ()), entry.target.name):
        fluid = things.get(key)
        if isinstance(fluid, Fluid) and book.changed(key, entry):
            variants = survey.answered(_run_out(book, key, entry), survey.branch(entry))
            yield _let_out(survey, key, entry, variants), fluid.tags, variants
            yield entry, (), variants
    thing = things.get(entry.target.name)
    renewed = isinstance(action, Replace) or (isinstance(action, Install) and action.new)
    if renewed and (isinstance(thing, Part) or (isinstance(thing, Fastener) and thing.single_use)):
        yield from _old_ones(survey, entry, thing)


def _let_out(survey: Survey, fluid: str, entry: Entry, variants: VariantSet) -> Entry:
    """Return the step of the section that drains what an entry lets out; the entry itself where none does."""
    for later in survey.entries:
        same = later.section == entry.section and survey.branch(later) == survey.branch(entry)
        drains = isinstance(later.step.action, Drain) and later.target is not None and later.target.name == fluid
        if later.index >= entry.index and same and drains:
            return later if survey.space.within(variants, survey.variants(later)) else entry
    return entry


def _run_out(book: Book, fluid: str, entry: Entry) -> VariantSet:
    """Return the variants in which a fluid runs out at an entry."""
    space, found = book.graph.space, NONE
    for variants, state in book.before(fluid, entry):
        for held, now in book.after(fluid, entry):
            if isinstance(state, FluidState) and isinstance(now, FluidState) and state.full and not now.full:
                found = space.either(found, space.both(variants, held))
    return found


def _old_ones(survey: Survey, entry: Entry, thing: Part | Fastener) -> Iterator[_Thrown]:
    """Yield where the piece comes off that an entry fits a new one for."""
    book, branch = survey.book, survey.branch(entry)
    for variants, state in book.before(thing.key, entry):
        here = survey.answered(variants, branch)
        match state:
            case PartState(on=False) | GroupState() if isinstance(entry.step.action, Install):
                if isinstance(state, GroupState) and not state.out:
                    continue
                at = book.by(state.off_by) or entry
                same = not branch or survey.branch(at) == branch
                yield at if same and not at.again else entry, thing.tags, here
            case PartState() | GroupState() if isinstance(entry.step.action, Replace):
                yield entry, thing.tags, here
            case _:
                pass
