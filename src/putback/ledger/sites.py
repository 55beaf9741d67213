"""Steps as hints speak of them: as they are written, with the line, and where one stands beside another."""

from __future__ import annotations

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.ledger.program import Order
from putback.model.job import Step
from putback.source.span import Span
from putback.variants import EntangledError, VariantSet
from putback.variants.conditions import ManyCasesError, condition


def step_said(step: Step) -> str:
    """Return a step as it is written in the file: `'tighten: head-bolts'`, `'remove: [nut, washer]'`, `the note`."""
    names = [ref.name for ref in step.things]
    if not names or any("'" in name for name in names):
        return f"the {step.verb.name}"
    return f"'{step.verb.name}: {names[0] if len(names) == 1 else '[' + ', '.join(names) + ']'}'"


def own_step(entry: Entry) -> Step:
    """Return the step of the file of the job that an entry comes from: the outermost `do` or `reverse`, or itself."""
    return entry.via[0] if entry.via else entry.step


def at_line(step: Step, seen_from: Span | None = None) -> str:
    """Return a step with its line, so that no other can be meant: `'tighten: head-bolts' in line 31`.

    Seen from a place in another file, it has the name of its own: `in line 31 of jobs/impeller.yaml`.
    """
    path = step.key.path
    of = "" if seen_from is None or seen_from.path == path else f" of {'/'.join(path.split('/')[-2:])}"
    return f"{step_said(step)} in line {step.key.line}{of}"


def some_when(book: Book, key: str | None, variants: VariantSet) -> list[str]:
    """Return the condition of a step on a thing that is for some variants only, as a key of it; none for all."""
    among = book.graph.present(key) if key else None
    try:
        when = condition(book.graph, book.graph.space.variants_of(variants), among)
    except (ManyCasesError, EntangledError):
        return []
    if when is None or len(when.cases) != 1:
        return []
    clauses = [
        f"{option.name}: {choices[0].name if len(choices) == 1 else '[' + ', '.join(one.name for one in choices) + ']'}"
        for option, choices in when.cases[0]
    ]
    return [f"'when: {{{', '.join(clauses)}}}'"]


def with_keys(keys: list[str]) -> str:
    """Return further keys of a step: ` with 'new: true' and 'turn: clockwise'`."""
    return f" with {' and '.join(keys)}" if keys else ""


def step_beside(book: Book, one: Entry, other: Entry) -> Step | None:
    """Return the step that another entry comes from, of the list that an entry stands in; None when it is elsewhere."""
    orders, depth = book.program.orders, 0
    while True:
        mine = next((order for order in orders if holds(order, one)), None)
        its = next((order for order in orders if holds(order, other)), None)
        if mine is None or its is None or (mine.number == its.number == one.order):
            return None
        if mine.number == one.order or mine.number != its.number:
            break
        orders = mine.branch
    while depth < len(mine.via) and depth < len(its.via) and mine.via[depth] is its.via[depth]:
        depth += 1
    if depth < len(mine.via) or mine.number != one.order:
        return None
    return its.via[depth] if depth < len(its.via) else its.step


def holds(order: Order, entry: Entry) -> bool:
    """Tell whether an entry is of an order, or of its branch."""
    return any(inner.number == entry.order for inner in order.walk())
