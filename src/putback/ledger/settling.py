"""How a control comes to the position that a step needs: by a block or a step that is missing or comes too early."""

from __future__ import annotations

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.ledger.isolation import met
from putback.ledger.missing import needs_of, site_for
from putback.ledger.sites import at_line, own_step, some_when, step_beside, with_keys
from putback.model.job import Step
from putback.model.machine import Control, Fastener, Fluid
from putback.model.states import ControlState
from putback.model.terms import Need
from putback.model.verbs.blocks import Do, Reverse
from putback.model.verbs.controls import Set
from putback.source.span import Span
from putback.variants import NONE, VariantSet


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
            return f"move {at_line(early, span)} behind {at_line(last, span)}"
    back = ""
    later = any(other.index > entry.index and _sets(other, control.key) for other in book.of(Set))
    if not later and not usual and not control.any_at_end:
        site = site_for(book, control.key, entry, need, span)
        back = f", and 'set: {control.key}' with 'to: {control.normal.name}'{site}"
    return f"add 'set: {control.key}' with 'to: {need.position.name}' before {_it(here, span)}{back}"


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


def _other_half(book: Book, entry: Entry, off: Entry | None, span: Span) -> str | None:
    """Return the hint to reverse the block that took a thing off, before a step that needs it; or to do so earlier."""
    if off is None or not off.via or not isinstance(off.via[0].action, Do) or entry.via[:1] == off.via[:1]:
        return None
    name, here = off.via[0].things[0].name, own_step(entry)
    for other in book.entries[off.index :]:
        if other.via and isinstance(other.via[0].action, Reverse) and name in {ref.name for ref in other.via[0].things}:
            late = other.index > entry.index and len(other.via[0].things) == 1
            return f"move {at_line(other.via[0], span)} before {_it(here, span)}" if late else None
    return f"add 'reverse: {name}' before {_it(here, span)}"


_UNDONE = {
    "place": "take-away", "disconnect": "connect", "remove": "install", "loosen": "tighten",
}  # fmt: skip
"""Verbs that make a need come true, each with the one that must follow."""


def brought_first(
    book: Book,
    entry: Entry,
    verbs: tuple[str, ...],
    key: str,
    span: Span,
    need: Need | None = None,
    variants: VariantSet | None = None,
    since: int = -1,
) -> str | None:
    """Return the hint for a step that finds a thing otherwise than it needs it: a later step moved up, or a new one.

    A fluid wants more than one step: its drain, its filler.
    """
    here = own_step(entry)
    if isinstance(book.graph.machine.things.get(key), Fluid):
        return None
    if half := _other_half(book, entry, book.by(since), span):
        return half
    later = [
        other
        for other in book.entries[entry.index + 1 :]
        if other.target and other.target.name == key and other.step.verb.name in verbs
    ]
    if later:
        beside = step_beside(book, entry, later[0]) is later[0].step and len(later[0].step.things) == 1
        return f"move {at_line(later[0].step, span)} before {_it(here, span)}" if beside and len(verbs) == 1 else None
    thing = book.graph.machine.things.get(key)
    when = with_keys(some_when(book, None, variants)) if variants else ""
    steps = " and ".join(f"'{verb}: {key}'{when}" for verb in verbs)
    undo = _UNDONE.get(verbs[-1])
    back = ""
    if undo and not any(other.step.verb.name == undo and _sets(other, key) for other in book.entries[entry.index :]):
        tight = f" and 'tighten: {key}'" if undo == "install" and isinstance(thing, Fastener) and thing.turned else ""
        site = site_for(book, key, entry, need, span) if need else f" behind {_it(here, span)}"
        back = f", and '{undo}: {key}'{tight}{site}"
    return f"add {steps} before {_it(here, span)}{back}"
