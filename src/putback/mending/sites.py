"""Steps as hints speak of them: as they are written, with the line, and where one stands beside another."""

from __future__ import annotations

from collections.abc import Callable

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.ledger.program import Order
from putback.model.job import Step
from putback.model.library import SafetyMessage
from putback.model.verbs.telling import Caution
from putback.source.span import Span
from putback.variants import EntangledError, VariantSet
from putback.variants.conditions import ManyCasesError, condition


def step_said(step: Step) -> str:
    """Return a step as it is written in the file: `'tighten: head-bolts'`, `'remove: [nut, washer]'`, `the note`."""
    names = [ref.name for ref in step.things]
    if not names or step.verb.name == "act" or any("'" in name for name in names):
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


def step_beside(book: Book, one: Entry, other: Entry, *, outermost: bool = False) -> Step | None:
    """Return the step that another entry comes from, of the list that an entry stands in; None when it is elsewhere.

    With `outermost`, of the list of the file in which the block is done that an entry comes from.
    """
    orders, depth = book.program.orders, 0
    while True:
        mine = next((order for order in orders if holds(order, one)), None)
        its = next((order for order in orders if holds(order, other)), None)
        if mine is None or its is None or (mine.number == its.number == one.order):
            return None
        if mine.number == one.order or mine.number != its.number:
            break
        orders = mine.branch
    while not outermost and depth < len(mine.via) and depth < len(its.via) and mine.via[depth] is its.via[depth]:
        depth += 1
    if (depth < len(mine.via) and not outermost) or mine.number != one.order:
        return None
    return its.via[depth] if depth < len(its.via) else its.step


def holds(order: Order, entry: Entry) -> bool:
    """Tell whether an entry is of an order, or of its branch."""
    return any(inner.number == entry.order for inner in order.walk())


def settled_later(book: Book, entry: Entry, last: Entry | None, loose: str | None) -> str | None:
    """Return the hint for a step that adjusts or measures too early: after the last that puts back what disturbs it.

    What is only loose is tightened before it, when nothing in its list does so later.
    """
    step = step_beside(book, entry, last) if last and last.index > entry.index else None
    if last and step and not entry.via:
        return f"move it after {at_line(step)}"
    if loose is not None:
        span = entry.span
        return f"add 'tighten: {loose}' before {at_line(own_step(entry), span) if entry.via else 'it'}"
    return None


def first_of_row(book: Book, step: Step, behind: Callable[[SafetyMessage], bool]) -> Step:
    """Return the first of the messages directly before a step that one more must not stand after, or the step."""
    lists = [book.program.orders]
    while lists:
        orders = lists.pop()
        place = next((n for n, order in enumerate(orders) if (order.via[0] if order.via else order.step) is step), None)
        if place is None:
            place = next((n for n, order in enumerate(orders) if order.step is step), None)
        while place and isinstance(orders[place - 1].step.action, Caution):
            shown = [book.library.cautions.get(ref.name) for ref in orders[place - 1].step.things]
            if orders[place - 1].via != orders[place].via or not any(each and behind(each) for each in shown):
                break
            place -= 1
            step = orders[place].step
        if place is not None:
            return step
        lists += [order.branch for order in orders if order.branch]
    return step
