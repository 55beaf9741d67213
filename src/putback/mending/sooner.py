"""The hint for a step that comes too late, or not at all: it is moved up, or added."""

from __future__ import annotations

from collections.abc import Iterable

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.ledger.loosened import loosed
from putback.mending.missing import site_for
from putback.model.job import Step
from putback.model.machine import Fluid
from putback.model.terms import Need
from putback.model.verbs.marking import Align
from putback.source.span import Span
from putback.variants import EntangledError, VariantSet
from putback.variants.conditions import ManyCasesError, condition


def sooner(
    book: Book,
    entry: Entry,
    verb: str,
    name: str,
    variants: VariantSet,
    keys: Iterable[str] = (),
    need: Need | None = None,
) -> str | None:
    """Return how a step on one thing comes before an entry, in some variants: a later one is moved up, or one added.

    Nothing when the later one does the same to other things, which may be right where it stands.
    """
    if isinstance(book.graph.machine.things.get(name), Fluid):
        return None  # its drain or its filler has a part in it
    later = later_step(book, entry, verb, name)
    if later is not None:
        alone = own_step(later) is not later.step or len(later.step.things) == 1
        return moved_up(entry, later) if alone else None
    stated = [f"'{key}'" for key in (*keys, *_when(book, name, variants))]
    undo = _UNDONE.get(verb)
    later_undone = undo is None or later_step(book, entry, undo, name) is not None
    site = site_for(book, name, entry, need, entry.step.key) if need else " after it"
    back = "" if later_undone else f", and '{undo}: {name}'{site}"
    return f"add '{verb}: {name}'{' with ' + ' and '.join(stated) if stated else ''} before it{back}"


_UNDONE = {"place": "take-away", "disconnect": "connect"}
"""Verbs that make a need come true, each with the one that must follow."""


def later_step(book: Book, entry: Entry, verb: str, name: str) -> Entry | None:
    """Return the next entry after another that does something to a thing."""
    for other in book.entries[entry.index + 1 :]:
        if other.step.verb.name == verb and other.target is not None and other.target.name == name and not other.again:
            return other
    return None


def moved_up(entry: Entry, later: Entry) -> str:
    """Return how a later step comes before an entry: what a block does comes with the whole block."""
    apart = own_step(later) is not own_step(entry)
    one, place = (own_step(later), own_step(entry)) if apart else (later.step, entry.step)
    return f"move {said(one, entry.step.key)} before {_it(place, entry)}"


def before_loose(book: Book, entry: Entry, key: str) -> str:
    """Return before which step something belongs that must be done while a part is held; `it` for an entry itself."""
    loose = book.by(loosed(book, entry, key)[1])
    aligned = (each for each in book.of(Align) if each.target is not None and each.target.name == key)
    if loose is None or any(loose.index < each.index < entry.index for each in aligned):
        return "it"
    return said(loose.step if loose.via == entry.via else own_step(loose), entry.step.key)


def own_step(entry: Entry) -> Step:
    """Return the step of the file of the job that an entry comes from: the outermost `do` or `reverse`, or itself."""
    return entry.via[0] if entry.via else entry.step


def said(step: Step, seen_from: Span) -> str:
    """Return a step with its line, and with its file when that is another: `'do: try' in line 31`."""
    names, path = [ref.name for ref in step.things], step.key.path
    what = f"'{step.verb.name}: {_listed(names)}'"
    of = "" if path == seen_from.path else f" of {'/'.join(path.split('/')[-2:])}"
    return f"{what} in line {step.key.line}{of}"


def _it(step: Step, entry: Entry) -> str:
    return "it" if step is entry.step else said(step, entry.step.key)


def _when(book: Book, name: str, variants: VariantSet) -> list[str]:
    """Return the condition of a step that is for some variants only, as a key of it; none for all."""
    among = book.graph.present(name) if name in book.graph.machine.things else None
    try:
        when = condition(book.graph, book.graph.space.variants_of(variants), among)
    except (ManyCasesError, EntangledError):
        return []
    clauses = when.cases[0] if when is not None and len(when.cases) == 1 else ()
    given = [f"{option.name}: {_listed([each.name for each in choices])}" for option, choices in clauses]
    return [f"when: {{{', '.join(given)}}}"] if given else []


def _listed(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"[{', '.join(names)}]"
