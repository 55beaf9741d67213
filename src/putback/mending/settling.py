"""How a control comes to the position that a step needs: by a block or a step that is missing or comes too early."""

from __future__ import annotations

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.ledger.isolation import met
from putback.mending.missing import needs_of, site_for
from putback.mending.sites import at_line, own_step, step_beside
from putback.model.job import Step
from putback.model.machine import Control
from putback.model.states import ControlState
from putback.model.terms import Need
from putback.model.verbs.blocks import Do, Reverse
from putback.model.verbs.controls import Set
from putback.source.characters import visible
from putback.source.span import Span
from putback.variants import NONE


def set_first(book: Book, entry: Entry, control: Control, need: Need, state: ControlState, span: Span) -> str | None:
    """Return the hint for a step that finds a control in another position than it needs."""
    here, moved = own_step(entry), book.by(state.on_by)
    block = _block_of(book, entry, moved, control)
    if block is not None:
        return f"add '{block}' before {_it(here, span)}"
    usual = need.position.name == control.normal.name
    wanted = moved is not None and _wanted_between(book, moved, entry, control, state.position)
    if moved is not None and not usual and not wanted and met(book, need, moved) != NONE:
        early, last = own_step(moved), step_beside(book, moved, _last_needing(book, entry, need), outermost=True)
        if last is not None and last is not early:
            return f"move {at_line(early, span)} after {at_line(last, span)}"
    back = ""
    later = any(other.index > entry.index and _sets(other, control.key) for other in book.of(Set))
    if not later and not usual and not control.any_at_end:
        site = site_for(book, control.key, entry, need, span)
        back = f", and 'set: {control.key}' with 'to: {visible(control.normal.name)}'{site}"
    return f"add 'set: {control.key}' with 'to: {visible(need.position.name)}' before {_it(here, span)}{back}"


def _wanted_between(book: Book, first: Entry, last: Entry, control: Control, position: str) -> bool:
    """Tell whether a step between two needs the control where the first of them set it."""
    return any(
        need.control.name == control.key and need.position.name == position
        for entry in book.entries[first.index : last.index]
        for need in needs_of(book, entry)
    )


def _it(step: Step, span: Span) -> str:
    return (
        "it" if step.key.path == span.path and step.key.line <= span.line <= step.key.line + 1 else at_line(step, span)
    )


def _sets(entry: Entry, key: str) -> bool:
    return entry.target is not None and entry.target.name == key


def _last_needing(book: Book, entry: Entry, need: Need) -> Entry:
    """Return the last step that needs the same, from one that does on."""
    last, wanted = entry, need.position.name
    for other in book.entries[entry.index :]:
        if any(one.control.name == need.control.name and one.position.name == wanted for one in needs_of(book, other)):
            last = other
    return last


def _block_of(book: Book, entry: Entry, moved: Entry | None, control: Control) -> str | None:
    """Return the `do` or `reverse` of a block whose other half the job has, and that brings the control about."""
    if moved is not None and moved.via and isinstance(moved.via[0].action, Do) and entry.via[:1] != moved.via[:1]:
        name = moved.via[0].things[0].name
        undone = any(
            isinstance(other.via[0].action, Reverse) and name in {ref.name for ref in other.via[0].things}
            for other in book.entries[moved.index :]
            if other.via
        )
        block = book.library.blocks.get(name)
        leaves = block is not None and control.key in {ref.name for ref in block.ends_with}
        return f"reverse: {name}" if leaves and not undone else None
    for other in book.entries[entry.index :] if moved is None else ():
        if other.via and isinstance(other.via[0].action, Reverse) and _sets(other, control.key):
            return f"do: {other.via[0].things[0].name}"
    return None
