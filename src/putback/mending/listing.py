"""The hint for a block that is right in the jobs that do it, and does not say what it begins or ends with."""

from __future__ import annotations

from collections.abc import Iterator

from putback.ledger.book import Book
from putback.ledger.closing import closes, is_closed
from putback.ledger.entries import Entry
from putback.ledger.opened import Opened
from putback.model.job import Block, Job
from putback.model.machine import AnyThing
from putback.model.states import State, is_off
from putback.model.verbs.blocks import Do
from putback.source.span import Span


def listed_at_end(opened: Opened, book: Book, key: str) -> str | None:
    """Return the hint to list under `ends-with` what a block leaves, when every job that does it puts that right.

    None when no job does the block, or one of them leaves it so as well: then a step is missing.
    """
    jobs = {each.sequence.key: each for each, _ in _doing(opened, book)}.values()
    if jobs and all(is_closed(each, key) or key in each.leaves for each in jobs):
        return f"add '{key}' to 'ends-with'"
    return None


def listed_at_start(opened: Opened, book: Book, inner: AnyThing, key: str) -> str | None:
    """Return the hint to list under `begins-with` what every job has out of the way of a thing before it does a block.

    What nothing in the block puts back, it ends with too.
    """
    found = list(_doing(opened, book)) if inner.key != key else []
    thing = book.graph.machine.things.get(key)

    def away(state: State) -> bool:
        return thing is not None and is_off(thing, state) and not closes(thing, state)

    if not found or not all(each.graph.space.within(one.variants, each.where(key, one, away)) for each, one in found):
        return None
    both = "" if any(entry.target and entry.target.name == key for entry in book.entries) else " and to 'ends-with'"
    return f"add '{key}' to 'begins-with'{both}"


def _doing(opened: Opened, book: Book) -> Iterator[tuple[Book, Entry]]:
    """Yield the jobs that do a block, each with every entry that one doing of it begins with."""
    for other in opened.books if isinstance(book.sequence, Block) else ():
        last: tuple[Span, ...] = ()
        for entry in other.entries if isinstance(other.sequence, Job) else ():
            done = _doing_of(book.sequence.path, entry)
            if done and done != last:
                yield other, entry
            last = done


def _doing_of(path: str, entry: Entry) -> tuple[Span, ...]:
    """Return the places of the steps that led to an entry, down to the `do` of the block in a file; else nothing."""
    within = [*entry.via[1:], entry.step]
    for number, (step, inner) in enumerate(zip(entry.via, within, strict=False)):
        if isinstance(step.action, Do) and inner.key.path == path:
            return tuple(one.key for one in entry.via[: number + 1])
    return ()
