"""What to say of a need that is not met: how it stands instead, which entry made it so, and the step that mends it."""

from __future__ import annotations

from typing import NamedTuple

from putback.ledger.book import Book
from putback.model.called import counted, goes_in, named, verb_s
from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line
from putback.model.needed import EMPTY, LOOSE, OFF, PLACED, TIGHT
from putback.model.states import ControlState, GroupState, State, of
from putback.model.terms import Need


class Lack(NamedTuple):
    """A need that is not met."""

    message: str
    """How it is needed and how it is, after the subject: `seacock closed first; it is open here`."""
    verbs: tuple[str, ...]
    """The verbs of the steps that mend it, in order."""
    cause: str
    """What the entry did that made it as it is."""
    since: int
    """The number of that entry."""


def wanting(book: Book, need: Need, thing: AnyThing | None, state: State) -> Lack:
    """Return what to say of a need for a thing, or for equipment (None), that stands otherwise."""
    name, word = need.control.name, need.position.name
    if thing is None:
        equipment = book.library.equipment[name].name
        if word == PLACED:
            return Lack(f"{equipment} in place first", ("place",), "it was taken away here", state.off_by)
        message = f"{equipment} taken away first; it is still in place"
        return Lack(message, ("take-away",), "it was put in place here", state.on_by)
    if isinstance(thing, Control):
        control = of(ControlState, state)
        message = f"{thing.name} {word} first; it is {control.position} here"
        return Lack(message, ("set",), "it was set here", control.on_by)
    if isinstance(thing, Fluid):
        if word == EMPTY:
            return Lack(f"{thing.name} drained first; it is still in", ("drain",), "", state.on_by)
        return Lack(f"{thing.name} filled in first; it is out", ("fill",), "it ran out here", state.off_by)
    if word == OFF:
        verb = "disconnect" if isinstance(thing, Line) else "remove"
        off, be = "out" if goes_in(thing) else "off", verb_s(thing, "it is", "they are")
        message = f"{named(thing)} {off} first; {be} still on"
        return Lack(message, (verb,), "put in place here", state.on_by)
    if isinstance(thing, Fastener) and isinstance(state, GroupState) and word in (LOOSE, TIGHT):
        return _of_group(thing, state, word)
    return _back_on(thing, state)


def _of_group(thing: Fastener, state: GroupState, word: str) -> Lack:
    """Return what to say of fasteners that are tight and must be loose, or the other way round."""
    if word == LOOSE:
        message = f"{named(thing)} loose first; {verb_s(thing, 'it is', 'they are')} still tight"
        return Lack(message, ("loosen",), "put in place here", state.on_by)
    count = state.out or state.loose
    which = f"{counted(thing, count)} {verb_s(thing, 'is', 'are', count)}" if thing.count > 1 else "it is"
    message = f"{named(thing)} tight first; {which} {'out' if state.out else 'loose'}"
    steps = (["install"] if state.out else []) + (["tighten"] if thing.turned else [])
    return Lack(message, tuple(steps), "it came out here" if state.out else "it was loosened here", state.off_by)


def _back_on(thing: AnyThing, state: State) -> Lack:
    """Return what to say of a thing that must be back in place."""
    verb = "connect" if isinstance(thing, Line) else "install"
    on, off = ("connected", "off") if isinstance(thing, Line) else ("in", "out") if goes_in(thing) else ("on", "off")
    count = state.out if isinstance(state, GroupState) else 1
    which = f"{counted(thing, count)} {verb_s(thing, 'is', 'are', count)}"
    it = which if isinstance(thing, Fastener) and thing.count > 1 else "it is"
    return Lack(
        f"{named(thing)} {on} first; {it} {off} here",
        (verb,),
        "it came off here",
        state.off_by,
    )
