"""What to say of a need that is not met: how it stands instead, which entry made it so, and the step that mends it."""

from __future__ import annotations

from typing import NamedTuple

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.mending.settling import set_first
from putback.mending.sooner import sooner
from putback.model.called import counted, goes_in, named, verb_s
from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line, Part
from putback.model.needed import EMPTY, LOOSE, OFF, PLACED, TIGHT
from putback.model.states import ControlState, GroupState, State, of
from putback.model.terms import Need
from putback.variants import VariantSet


class Lack(NamedTuple):
    """A need that is not met."""

    message: str
    """How it is needed and how it is, after the subject: `seacock closed first, but it is open`."""
    hint: str | None
    """The step that mends it; None when no step alone does."""
    cause: str
    """What the entry did that made it as it is."""
    since: int
    """The number of that entry."""


def wanting(book: Book, entry: Entry, need: Need, thing: AnyThing | None, state: State, variants: VariantSet) -> Lack:
    """Return what to say of a need for a thing, or for equipment (None), that stands otherwise at an entry."""
    name, word = need.control.name, need.position.name

    def lack(message: str, verb: str, cause: str, since: int, *keys: str) -> Lack:
        return Lack(message, sooner(book, entry, verb, name, variants, keys, need), cause, since)

    match thing:
        case None if word == PLACED:
            message = f"{book.library.equipment[name].name} in place first"
            return lack(message, "place", "it was taken away here", state.off_by)
        case None:
            message = f"{book.library.equipment[name].name} taken away first, but it is still in place"
            return lack(message, "take-away", "it was put in place here", state.on_by)
        case Control():
            control = of(ControlState, state)
            message = f"{thing.name} {word} first, but it is {control.position}"
            span = entry.span
            hint = set_first(book, entry, thing, need, control, span)
            return Lack(message, hint, "it was set here", control.on_by)
        case Fluid() if word == EMPTY:
            return lack(f"{thing.name} drained first, but it is still in", "drain", "it was filled here", state.on_by)
        case Fluid():
            return lack(f"{thing.name} filled in first, but it is out", "fill", "it ran out here", state.off_by)
        case _ if word == OFF:
            off, on = ("out", "in") if goes_in(thing) else ("off", "on")
            message = f"{named(thing)} {off} first, but {verb_s(thing, 'it is', 'they are')} still {on}"
            verb = "disconnect" if isinstance(thing, Line) else "remove"
            return lack(message, verb, "put in place here", state.on_by)
        case Fastener() if word == LOOSE:
            message = f"{named(thing)} loose first, but {verb_s(thing, 'it is', 'they are')} still tight"
            return lack(message, "loosen", "put in place here", state.on_by)
        case Fastener() if word == TIGHT and isinstance(state, GroupState):
            return _not_tight(book, entry, thing, state, variants)
    verb = "connect" if isinstance(thing, Line) else "install"
    return lack(_off(thing, state), verb, "it came off here", state.off_by, *_new(thing))


def _not_tight(book: Book, entry: Entry, thing: Fastener, state: GroupState, variants: VariantSet) -> Lack:
    """Return what to say of fasteners that must be tight."""
    count = state.out or state.loose
    which = (
        f"{counted(thing, count)} {verb_s(thing, 'is', 'are', count)}"
        if thing.count > 1
        else verb_s(thing, "it is", "they are")
    )
    message = f"{named(thing)} tight first, but {which} {'out' if state.out else 'loose'}"
    verb, keys = ("install", _new(thing)) if state.out else ("tighten", ())
    hint = sooner(book, entry, verb, thing.key, variants, keys)
    if state.out and thing.turned and hint is not None and hint.startswith("add"):
        hint = f"{hint.removesuffix(' before it')} and 'tighten: {thing.key}' before it"
    return Lack(message, hint, "it came out here" if state.out else "it was loosened here", state.off_by)


def _new(thing: AnyThing) -> tuple[str, ...]:
    """Return what a step says besides that puts on what is fitted new every time."""
    return ("new: true",) if isinstance(thing, Part | Fastener) and thing.single_use else ()


def _off(thing: AnyThing, state: State) -> str:
    """Return what to say of a thing that must be back in place: `two cover screws are out`."""
    on, off = ("connected", "off") if isinstance(thing, Line) else ("in", "out") if goes_in(thing) else ("on", "off")
    count = state.out if isinstance(state, GroupState) else 1
    which = f"{counted(thing, count)} {verb_s(thing, 'is', 'are', count)}"
    it = which if isinstance(thing, Fastener) and thing.count > 1 else verb_s(thing, "it is", "they are")
    return f"{named(thing)} {on} first, but {it} {off}"
