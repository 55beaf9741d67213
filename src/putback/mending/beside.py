"""What to do with a message that warns of what is near a step: at what it disturbs, or is fastened to."""

from __future__ import annotations

from collections.abc import Mapping

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.model.machine import AnyThing, Fastener
from putback.model.setting import Setting
from putback.source.grammar import listed


def if_beside(book: Book, entry: Entry, tags: set[str]) -> str | None:
    """Return what an author may do who means the steps after a message; None when none is beside what has a tag."""
    steps = listed([f"'{verb}'" for verb in _verbs(book, entry, tags)], "or")
    return (
        f"if {steps} is dangerous here too, write a hazard with it under 'verbs'; if not, delete this"
        if steps
        else None
    )


def _verbs(book: Book, entry: Entry, tags: set[str]) -> list[str]:
    """Return the verbs of later steps of a section that are at what has a tag, or beside it, as the machine file says.

    What a hazard does not count as dangerous there, its author may.
    """
    things, found = book.graph.machine.things, list[str]()
    for other in book.entries[entry.index + 1 :]:
        verb = other.step.verb
        if other.section == entry.section and (verb.works or verb.asks):
            names = {ref.name for ref in other.touched}
            near = [things[name] for name in names | _carried(things, names) if name in things]
            if any(tag.name in tags for thing in near for tag in thing.tags):
                found.append(verb.name)
    return list(dict.fromkeys(found))


def _carried(things: Mapping[str, AnyThing], names: set[str]) -> set[str]:
    """Return what disturbs some settings, and what is fastened to some parts: a hand there is beside it."""
    found: set[str] = set()
    for thing in things.values():
        if isinstance(thing, Setting) and thing.key in names:
            found |= {each.ref.name for each in thing.disturbed_by}
        elif isinstance(thing, Fastener) and thing.to and thing.to.name in names:
            found |= {thing.key, *(ref.name for ref in thing.secures)}
    return found
