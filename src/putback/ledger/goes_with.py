"""What belongs so closely to a thing that a test of it tests that as well."""

from __future__ import annotations

import re
from collections.abc import Iterator

from putback.ledger.book import Book, once
from putback.ledger.entries import Entry
from putback.model.machine import Fluid
from putback.model.said import source_of
from putback.model.states import FluidState
from putback.model.verbs.controls import Run
from putback.model.verbs.fluids import Fill
from putback.source.late import Late
from putback.variants import NONE, VariantSet
from putback.variants.graph import Graph, Why

_SEEN = Late(r"\b(look|listen|watch|see|feel|smell|check|must|should|may not|no|without|until)\b", re.IGNORECASE)
"""Words of a run that say what to see at it."""
_FAR = 2
"""Steps from one thing to the next: from a cover by its bolts to the washers under them."""


def goes_with(graph: Graph, key: str) -> frozenset[str]:
    """Return a thing and what holds it, lies on it or under it, joins it, or is let out and filled by it."""
    found, last = {key}, {key}
    for _ in range(_FAR):
        last = {near for one in last for near in _near(graph, one)} - found
        found |= last
    return frozenset(found)


def _near(graph: Graph, key: str) -> set[str]:
    found = {edge.outer for edge in graph.outside(key) if edge.why is not Why.BEHIND}
    found |= {edge.inner for edge in graph.inside(key) if edge.why in (Why.SECURES, Why.STACK)}
    thing = graph.machine.things.get(key)
    if isinstance(thing, Fluid):
        found |= {ref.name for ref in (*thing.drains, *thing.fills, *thing.vents)}
    found |= set(graph.lets_out.get(key, ()))
    return found


def wants_no_proof(book: Book, entry: Entry) -> VariantSet:
    """Return the variants in which what a step does is no assembly: a topping up, a filler cap that goes back."""
    name = entry.target.name if entry.target else ""
    if isinstance(entry.step.action, Fill):
        return book.where(name, entry, lambda state: isinstance(state, FluidState) and state.full)
    return entry.variants if name in _only_fillers(book) else NONE


@once
def _only_fillers(book: Book) -> Iterator[str]:
    for thing in book.graph.machine.things.values():
        if isinstance(thing, Fluid):
            yield from {ref.name for ref in thing.fills} - {ref.name for ref in thing.drains}


def is_silent(entry: Entry) -> bool:
    """Tell whether it is a run of which the step does not say what to see at it."""
    said = f"{source_of(entry.step.text or '')} {source_of(entry.step.note or '')}"
    return isinstance(entry.step.action, Run) and not _SEEN.search(said)
