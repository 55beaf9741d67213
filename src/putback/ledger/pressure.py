"""Tests under pressure: what is looked at then does not need the pressure off, as work on it does."""

from __future__ import annotations

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.model.machine import Control
from putback.model.states import ControlState, EquipmentState, State
from putback.model.terms import Need
from putback.model.verbs.cleaning import Apply

_WORDS = ("pressur", "vacuum")
"""How the names of what brings something under pressure are known."""
_TAG = "pressure"


def tested_under(book: Book, entry: Entry, need: Need, state: State) -> bool:
    """Tell whether an entry only looks at what is under pressure, and what it needs is the pressure off.

    Soapy water goes on what is under pressure as well: it shows where air comes out.
    """
    if not entry.step.verb.asks and not isinstance(entry.step.action, Apply):
        return False
    name = need.control.name
    control = book.graph.machine.things.get(name)
    if isinstance(state, ControlState) and isinstance(control, Control):
        # What is under pressure as a rule, and was never let off, is forgotten and not tested.
        meant = state.on_by >= 0 or state.position != control.normal.name
        said = f"{name} {control.name} {state.position}"
        return meant and (any(tag.name == _TAG for tag in control.tags) or any(word in said for word in _WORDS))
    if isinstance(state, EquipmentState) and state.there:
        equipment = book.library.equipment[name]
        said = f"{name} {equipment.name}"
        return any(tag.name == _TAG for tag in equipment.tags) or any(word in said for word in _WORDS)
    return False
