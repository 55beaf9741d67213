"""The hint for a step that comes too late, or not at all: it is moved up, or added."""

from __future__ import annotations

from collections.abc import Iterable

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.source.grammar import listed


def sooner(book: Book, entry: Entry, verb: str, name: str, keys: Iterable[str] = ()) -> str:
    """Return how a step comes before an entry: a later one of the same file is moved up, or one is added."""
    path = entry.step.key.path
    for other in book.entries[entry.index + 1 :]:
        step = other.step
        alone = [ref.name for ref in step.things] == [name]
        if step.verb.name == verb and alone and step.key.path == path and step.key != entry.step.key:
            return f"move '{verb}: {name}' in line {step.key.line} before it"
    stated = [f"'{key}'" for key in keys]
    return f"add '{verb}: {name}'{' with ' + listed(stated) if stated else ''} before it"
