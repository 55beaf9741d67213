"""What a running engine gives off: heat, which stays when it has stopped, and jets of what is under pressure in it."""

from __future__ import annotations

from collections.abc import Iterator

from putback.ledger.book import Book, once
from putback.ledger.entries import Entry
from putback.ledger.involved import Involved
from putback.ledger.isolation import all_met
from putback.ledger.running import running_needs, runs_it, still_runs
from putback.model.library import Hazard
from putback.model.machine import Control, Fluid
from putback.model.said import source_of
from putback.model.terms import Need
from putback.model.verbs.acting import Act
from putback.model.verbs.asking import Inspect, Measure, Verify
from putback.model.verbs.controls import RUN, Run
from putback.model.verbs.fluids import Fill
from putback.model.verbs.telling import Wait
from putback.source.late import Late
from putback.units import si
from putback.variants import NONE, VariantSet

_HEAT = ("hot", "heat", "burn", "scald", "steam", "exhaust")
"""Words in the key, the tags or the name of a hazard that is there as soon as the engine runs, and until it is cold."""

_GIVEN_OFF = (*_HEAT, "jet", "spray")
"""The same, with what is there only while it runs."""

_POURS = Late(r"(?i)\b(?:top|fill|refill|pour|add)\b")
"""Words of an action by which a fluid goes in."""

_COOL = 1200.0
"""Seconds, waited for which a part is no longer taken for hot: half an hour is usual, and 20 min the least."""


def given_off(hazard: Hazard) -> bool:
    """Tell whether a hazard comes from parts that get hot, or spurt, while the engine runs."""
    return bool(hazard.tags) and _called(hazard, _GIVEN_OFF)


def stays_hot(hazard: Hazard) -> bool:
    """Tell whether a hazard comes from parts that are hot for a while after the engine has stopped."""
    return bool(hazard.tags) and _called(hazard, _HEAT)


def _called(hazard: Hazard, wanted: tuple[str, ...]) -> bool:
    words = f"{hazard.key} {' '.join(hazard.tags)} {source_of(hazard.name)}".lower().replace("-", " ").split()
    return any(word in wanted or word.removesuffix("s") in wanted for word in words)


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


def runs_on(book: Book, entry: Entry) -> VariantSet:
    """Return the variants in which something runs at an entry; where nothing tells what stops it, it runs on."""
    found = running_at(book, entry)
    for run in book.of(Run) if not running_needs(book) else ():
        found = book.graph.space.either(found, run.variants) if run.index < entry.index else found
    return found


def still_hot(book: Book, entry: Entry) -> VariantSet:
    """Return the variants in which the engine ran before an entry of the job, and nobody let it cool since.

    Where the machine file has a control that a run leaves otherwise, as `engine-heat: hot`, that tells it.
    """
    space, found = book.graph.space, NONE
    for index, variants, hot in _heated(book):
        if index < entry.index:
            found = space.either(found, variants) if hot else space.without(found, variants)
    heat = [need for need in book.graph.machine.verb_results.get(RUN.name, ()) if _is_heat(book, need)]
    return all_met(book, heat, entry, space.both(found, entry.variants))


@once
def _heated(book: Book) -> Iterator[tuple[int, VariantSet, bool]]:
    """Yield the entries that heat the engine, or let it cool: the number, the variants, and whether it is hot then."""
    for entry in book.of(Run, Wait):
        action = entry.step.action
        if isinstance(action, Wait):
            words = f"{source_of(action.until or '')} {source_of(entry.step.text or '')}".lower()
            long = action.duration is not None and (si(action.duration)[0] or 0) >= _COOL
            if long or "cool" in words or "cold" in words:
                yield entry.index, entry.variants, False
        elif runs_it(book, entry):
            yield entry.index, entry.variants, True


def _is_heat(book: Book, need: Need) -> bool:
    control = book.graph.machine.things.get(need.control.name)
    return isinstance(control, Control) and control.any_at_end


def looks_closely(entry: Entry) -> bool:
    """Tell whether somebody goes near with eye or hand; what is checked without a light is seen from a step away."""
    lit = any(word in ref.name for ref in entry.step.tools for word in ("torch", "flashlight", "mirror"))
    return isinstance(entry.step.action, Inspect | Measure) or (lit and isinstance(entry.step.action, Verify))


def not_cold(book: Book, entry: Entry, met: list[Involved]) -> list[Involved]:
    """Leave out a fluid that is filled or topped up, by a verb or in words: it comes cold out of a can."""
    action, thing = entry.step.action, book.graph.machine.things.get(entry.target.name) if entry.target else None
    in_words = (
        isinstance(action, Act) and isinstance(thing, Fluid) and _POURS.search(source_of(action.words)) is not None
    )
    cold = thing.key if thing is not None and (in_words or isinstance(action, Fill)) else None
    return [each for each in met if each.name != cold]
