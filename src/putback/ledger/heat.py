"""What a running engine gives off: heat, and jets of what is under pressure in it."""

from __future__ import annotations

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.ledger.running import still_runs
from putback.model.library import Hazard
from putback.model.verbs.asking import Inspect, Measure
from putback.model.verbs.controls import Run
from putback.variants import NONE, VariantSet

_GIVEN_OFF = ("hot", "heat", "burn", "scald", "steam", "exhaust", "jet", "spray")
"""Words in the key, the tags or the name of a hazard that is there as soon as the engine runs."""


def given_off(hazard: Hazard) -> bool:
    """Tell whether a hazard comes from parts that get hot, or spurt, while the engine runs."""
    if not hazard.tags:
        return False
    words = f"{hazard.key} {' '.join(hazard.tags)} {hazard.name}".lower().replace("-", " ").split()
    return any(word in _GIVEN_OFF or word.removesuffix("s") in _GIVEN_OFF for word in words)


def beside_it(book: Book, entry: Entry, hazard: Hazard) -> VariantSet:
    """Return the variants in which an entry starts the engine, or finds it running, and a part gives a hazard off."""
    if not given_off(hazard):
        return NONE
    space, parts = book.graph.space, NONE
    for key, thing in book.graph.machine.things.items():
        if any(tag.name in hazard.tags for tag in thing.tags):
            parts = space.either(parts, book.graph.present(key))
    runs = entry.variants if isinstance(entry.step.action, Run) else running_at(book, entry)
    return space.both(runs, parts)


def running_at(book: Book, entry: Entry) -> VariantSet:
    """Return the variants in which something runs at an entry."""
    running = still_runs(book, entry)
    return running.variants if running is not None else NONE


def looks_closely(entry: Entry) -> bool:
    """Tell whether somebody goes near with eye or hand; what is checked can be seen from a step away."""
    return isinstance(entry.step.action, Inspect | Measure)
