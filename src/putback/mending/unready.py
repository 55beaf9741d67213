"""How a machine that can start is kept from it at a step: what makes it ready comes later, or ends sooner."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.ledger.isolation import account_of
from putback.ledger.starting import Ready, hands_in, ready_at
from putback.mending.settling import set_first
from putback.mending.sites import at_line, own_step, step_beside
from putback.mending.sooner import moved_up
from putback.mending.wanting import wanting
from putback.model.machine import AnyThing, Control, Line
from putback.model.needed import AWAY, CONNECTED, EMPTY, FULL, LOOSE, OFF, ON, PLACED, TIGHT
from putback.model.states import ControlState
from putback.model.terms import Need, Ref
from putback.model.verbs.controls import Run, Set
from putback.variants import NONE


class Ending(NamedTuple):
    """What takes the start away."""

    need: Need
    """How a thing must be instead."""
    hint: str | None
    """The step that mends it."""


_OTHERWISE = {
    ON: OFF, OFF: ON, CONNECTED: OFF, PLACED: AWAY, AWAY: PLACED, TIGHT: LOOSE, LOOSE: TIGHT, FULL: EMPTY, EMPTY: FULL
}  # fmt: skip


def ended(book: Book, entry: Entry, ready: Ready) -> Ending:
    """Return what takes the start away before an entry."""
    need, thing = _easiest(book, entry, ready)
    span, key = need.control.span, need.control.name
    mover = book.by(ready.since)
    run = next((run for run in book.of(Run) if run.index > entry.index and not run.again), None)
    if isinstance(thing, Control):
        others = [each.name for each in (thing.normal, *thing.positions) if each.name != need.position.name]
        wanted = Need(Ref(key, span), Ref(others[0] if others else "", span))
    else:
        off = OFF if isinstance(thing, Line) else _OTHERWISE.get(need.position.name, OFF)
        wanted = Need(Ref(key, span), Ref(off, span))
    here = entry.span
    if (
        mover is not None
        and run is not None
        and not any(mover.index < each.index < entry.index for each in book.of(Run))
    ):
        early, last = own_step(mover), step_beside(book, mover, _last(book, entry, run, ready), outermost=True)
        if last is not None and last is not early:
            return Ending(wanted, f"move {at_line(early, here)} after {at_line(last, here)}")
    if isinstance(thing, Control):
        return Ending(wanted, _set(book, entry, thing, wanted, run))
    account = account_of(book, need)
    for held, state in book.before(account[0], entry) if account else ():
        return Ending(wanted, wanting(book, entry, wanted, thing, state, held).hint)
    return Ending(wanted, None)


def _easiest(book: Book, entry: Entry, ready: Ready) -> tuple[Need, AnyThing | None]:
    """Return which of the things that must all be so is changed: the control that was moved last, or a control."""
    things = book.graph.machine.things

    def rank(need: Need) -> tuple[bool, bool]:
        thing = things.get(need.control.name)
        last = isinstance(thing, Control) and any(
            isinstance(state, ControlState) and state.on_by == ready.since for _, state in book.before(thing.key, entry)
        )
        return not last, not isinstance(thing, Control)

    need = min(ready.way, key=rank)
    return need, things.get(need.control.name)


def _last(book: Book, entry: Entry, run: Entry, ready: Ready) -> Entry:
    """Return the last step before a run at which hands are in the machine that is as ready as at an entry."""
    last = entry
    for other in book.entries[entry.index : run.index]:
        if (here := hands_in(book, other)) != NONE and any(
            one.since == ready.since for one in ready_at(book, other, here)
        ):
            last = other
    return last


def _set(book: Book, entry: Entry, control: Control, wanted: Need, run: Entry | None) -> str | None:
    """Return the hint that a control is set sooner, or by a step more."""
    span = entry.span
    later = next(_away(book, entry, control, wanted), None)
    if later is not None and (run is None or later.index < run.index):
        return moved_up(entry, later)
    if run is not None and any(each.index < entry.index for each in book.of(Run)):
        return f"stop it before this step, and start it again after: {control.key} {wanted.position.name} first"
    for _, state in book.before(control.key, entry):
        if isinstance(state, ControlState):
            return set_first(book, entry, control, wanted, state, span)
    return None


def _away(book: Book, entry: Entry, control: Control, wanted: Need) -> Iterator[Entry]:
    for other in book.of(Set):
        action, own = other.step.action, other.target is not None and other.target.name == control.key
        to = action.to.name if isinstance(action, Set) else ""
        if own and to == wanted.position.name and other.index > entry.index and not other.again:
            yield other
