"""Which safety messages answer something: what is in force at a step must be of use to it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.ledger.hazards import Risk, brought_about, caution_at, exposures, puts_on, risks, standing_above
from putback.ledger.heat import beside_it, stays_hot, still_hot
from putback.ledger.lifted import lifted_at
from putback.model.library import Hazard, SafetyMessage
from putback.model.verbs.controls import RUN, Run
from putback.model.verbs.telling import Caution
from putback.source.span import Span
from putback.variants import NONE, VariantSet


class ShownMessage(NamedTuple):
    """A safety message, where it stands first in a book."""

    message: SafetyMessage
    """The message."""
    entry: Entry
    """Where it stands."""
    book: Book
    """The book."""


def answering(book: Book, shown: dict[Span, dict[str, ShownMessage]]) -> set[Span]:
    """Return the places of the messages that answer something in a book, and note all that it shows."""
    space, at = book.graph.space, dict[int, list[Risk]]()
    for risk in risks(book):
        at.setdefault(risk.entry.index, []).append(risk)
    # One that comes too late is told by `caution-late`.
    used = {one.late.entry.target.span for one in exposures(book) if one.late and one.late.entry.target}
    for section in sections_with_messages(book):
        there: dict[str, VariantSet] = {}
        for entry in reversed(section):
            message = caution_at(book, entry)
            if message is None:
                for risk in at.get(entry.index, ()):
                    there[risk.hazard.key] = space.either(there.get(risk.hazard.key, NONE), risk.variants)
            elif entry.target is not None:
                shown.setdefault(entry.target.span, {}).setdefault(
                    book.sequence.path, ShownMessage(message, entry, book)
                )
                if any(space.both(there.get(ref.name, NONE), entry.variants) != NONE for ref in message.covers):
                    used.add(entry.target.span)
        for above in standing_above(book, section[0]):
            if any(space.both(there.get(ref.name, NONE), above.variants) != NONE for ref in above.message.covers):
                used.add(above.ref.span)
    return used


def sections_with_messages(book: Book) -> Iterable[list[Entry]]:
    """Return the entries of each section that has a message or is entered below one, in order."""
    sections: dict[int, list[Entry]] = {entry.section: [] for entry in book.of(Caution)}
    for one in book.passes[1:]:
        for entry in book.entries[one.first : one.first + 1]:
            sections.setdefault(entry.section, [])
    for entry in book.entries:
        if entry.section in sections:
            sections[entry.section].append(entry)
    return [section for section in sections.values() if section]


def comes_up(book: Book, hazard: Hazard, later: list[Entry], runs: list[Entry]) -> bool:
    """Tell whether it comes up all the same: it is made so, an engine gives it off, a load has no `lift` step."""
    lifted = (risk.hazard.key for other in later for risk in lifted_at(book, other))
    return (
        any(brought_about(book, other, hazard) or puts_on(book, other, hazard) for other in later)
        or any(beside_it(book, run, hazard) != NONE for run in runs)
        or hazard.key in lifted
        or (stays_hot(hazard) and any(other.step.verb.reaches and still_hot(book, other) != NONE for other in later))
    )


def named_by_runs(book: Book, hazard: Hazard, entry: Entry) -> list[str]:
    """Return what the `run` steps after a message name, where a hazard counts only for what they name."""
    if hazard.verbs != (RUN.name,):
        return []
    later = [run for run in book.of(Run) if run.index > entry.index and run.section == entry.section]
    return list(dict.fromkeys(run.target.name for run in later if run.target))


def about_machine(book: Book, names: list[str]) -> list[str]:
    """Return the messages that warn of nothing which the machine does not have; all, when each of them does."""
    carried = {tag.name for tag in book.graph.machine.tag_refs}
    found: list[str] = []
    for name in names:
        hazards = [book.library.hazards.get(ref.name) for ref in book.library.cautions[name].covers]
        if all(not hazard.tags or not carried.isdisjoint(hazard.tags) for hazard in hazards if hazard):
            found.append(name)
    return found or names
