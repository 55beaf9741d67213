"""What an entry involves that can carry a tag: things, fluids, consumables, tools and equipment."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.ledger.book import Book, once
from putback.ledger.entries import Entry
from putback.ledger.trains import turns
from putback.model.called import named_by_author
from putback.model.library import Library
from putback.model.machine import Machine
from putback.model.said import source_of
from putback.model.states import ControlState, FluidState, State
from putback.model.terms import Ref
from putback.model.verbs.cleaning import Apply, Clean
from putback.model.verbs.controls import Set
from putback.model.verbs.lifting import Lift
from putback.model.verbs.pieces import INSTALL
from putback.model.verbs.turning import TURN, Turn
from putback.variants import VariantSet

_TURNS = {TURN.name, INSTALL.name}


class Involved(NamedTuple):
    """Something with tags that an entry involves."""

    name: str
    """Its name."""
    tags: tuple[Ref, ...]
    """Its tags."""
    variants: VariantSet
    """The variants in which it counts."""
    used: bool = False
    """Whether it is a tool or equipment: it is used, whatever the verb does to the machine."""


def involved(book: Book, entry: Entry, *, kept_away: bool = False) -> Iterator[Involved]:
    """Yield what has tags and is worked on, let out, put on, or worked with at an entry.

    With `kept_away`, also a fluid that could run out there if it were not out already.
    """
    names = [entry.target.name] if entry.target else []
    # Opening a drain lets the fluid out, whatever the step is called; once it is out, nothing comes.
    for name in book.graph.lets_out.get(entry.target.name, ()) if entry.target else ():
        tags = book.graph.machine.things[name].tags
        if tags:
            yield Involved(name, tags, entry.variants if kept_away else book.where(name, entry, _is_full))
    action = entry.step.action
    if isinstance(action, Apply):
        names += [ref.name for ref in action.to]
    elif isinstance(action, Clean) and action.with_:
        names.append(action.with_.name)
    if entry.target is not None and entry.step.verb.asks and entry.target.name not in book.graph.machine.things:
        names += _in_words(book, entry.target.name)
    for name in names:
        known = book.graph.machine.things.get(name) or book.library.consumables.get(name)
        if known is not None and known.tags:
            moved = _moved(book, name, entry, action.to.name) if isinstance(action, Set) else entry.variants
            yield Involved(name, known.tags, moved)
    if isinstance(action, Turn) and entry.target:
        about = _of_turning(book.library)
        for part, variants in turns(book, entry, entry.target.name) if about else ():
            if part.key != entry.target.name and any(tag.name in about for tag in part.tags):
                yield Involved(part.key, tuple(tag for tag in part.tags if tag.name in about), variants)
    yield from _used(book.library, entry)


def _of_turning(library: Library) -> set[str]:
    """Return the tags whose hazard is in the turning itself, and not in what the hand touches meanwhile."""
    hazards = (hazard for hazard in library.hazards.values() if hazard.verbs and {*hazard.verbs} <= _TURNS)
    return {tag for hazard in hazards for tag in hazard.tags}


def _in_words(book: Book, words: str) -> list[str]:
    """Return the things with tags that words in the place of a name are about: `voltage across the battery`."""
    said = f" {words.lower().replace(',', ' ')} "
    return [key for key, *called in _tagged(book) if any(f" {each} " in said for each in called)]


@once
def _tagged(book: Book) -> Iterator[tuple[str, str, str]]:
    for key, thing in book.graph.machine.things.items():
        if thing.tags and thing.place is None:
            yield key, source_of(thing.name).lower(), named_by_author(thing).lower()


def _moved(book: Book, name: str, entry: Entry, to: str) -> VariantSet:
    """Return the variants in which a control is not where it is set to: a tap that is shut already lets nothing in."""
    return book.where(name, entry, lambda state: not isinstance(state, ControlState) or state.position != to)


def _is_full(state: State) -> bool:
    return isinstance(state, FluidState) and state.full


def uses(library: Library, entry: Entry) -> bool:
    """Tell whether an entry uses a tool or equipment that has a tag."""
    return any(True for _ in _used(library, entry))


def _used(library: Library, entry: Entry) -> Iterator[Involved]:
    for ref in entry.step.tools:
        tool = library.tools.get(ref.name)
        if tool is not None and tool.tags:
            yield Involved(ref.name, tool.tags, entry.variants, used=True)
    action = entry.step.action
    brought = entry.target if entry.step.verb.takes == ("equipment",) else None
    if isinstance(action, Lift):
        brought = action.with_
    equipment = library.equipment.get(brought.name) if brought else None
    if brought is not None and equipment is not None and equipment.tags:
        yield Involved(brought.name, equipment.tags, entry.variants, used=True)


def carried_tags(machine: Machine, library: Library) -> set[str]:
    """Return the tags of everything that a step can meet."""
    shelves = (library.consumables, library.tools, library.equipment)
    found = {tag.name for shelf in shelves for entry in shelf.values() for tag in entry.tags}
    return found | {tag.name for tag in machine.tag_refs}
