"""A step works on something that is not there, or is already there.

It is removed twice, installed twice, tightened while it is out, taken away before it was placed. One of the steps is
wrong, or one before it is missing. Or the step is done to three pieces and names the places of two.

Delete the step, or add the one that is missing.
"""

import re
from collections.abc import Iterator

from putback.checks import Fault, Group, Root, cause
from putback.ledger import Book, Entry
from putback.ledger.book import equipment_account
from putback.ledger.opened import Opened
from putback.model.called import counted, goes_in, is_uncounted, named, verb_s
from putback.model.good import limit_of
from putback.model.job import Block
from putback.model.machine import AnyThing, Fastener, Fluid, Line
from putback.model.posting import off_already
from putback.model.states import (
    NEVER,
    EquipmentState,
    FluidState,
    GroupState,
    LineState,
    PartState,
    State,
    chosen,
    ends,
)
from putback.model.verb import Way
from putback.model.verbs.asking import Measure, Verify
from putback.model.verbs.equipment import Place, TakeAway
from putback.model.verbs.lines import Connect, Disconnect
from putback.model.verbs.pieces import Install, Loosen, OfPieces, Remove, Replace, Tighten
from putback.source.finding import Level
from putback.source.grammar import listed, number
from putback.source.late import Late

LEVEL = Level.ERROR
GROUP = Group.ORDER
INJURES = True

FAILS = """
steps:
  - remove: guard-bolts
  - remove: guard-bolts
            ^^^^^^^^^^^ guard bolts are already out
  - install: guard-bolts
  - tighten: guard-bolts
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - remove: guard-bolts
  - install: guard-bolts
  - tighten: guard-bolts
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""


_LEVEL = Late(r"\b(levels?|marks?|neck|brim|full|upper edge|lower edge|stands? at)\b", re.IGNORECASE)
"""Words of somebody who looks how much of a fluid there is."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield entries whose thing is not as they need it."""
    for book in opened.books:
        things = book.graph.machine.things
        for entry in book.entries:
            if entry.target is None:
                continue
            name = entry.target.name
            if isinstance(entry.step.action, Verify):
                yield from _level_of_nothing(book, entry)
            if isinstance(entry.step.action, Place | TakeAway):
                yield from _equipment(book, entry, name)
            elif name in things:
                yield from _held_meanwhile(book, entry, things[name])
                for variants, state in book.before(name, entry):
                    wrong = _wrong(entry, things[name], state)
                    if wrong and not _once_more(book, entry, name, wrong[1]):
                        message, since, what = wrong
                        also = (*cause(book, since, what), *entry.ways)
                        root = _root(book, entry, name, since)
                        yield Fault(entry.target.span, message, also, None, variants, book.reached(entry), root)


def _level_of_nothing(book: Book, entry: Entry) -> Iterator[Fault]:
    """The level of a fluid is checked while it is out."""
    limit, target = limit_of(entry.step.action, book.graph.machine.things), entry.target
    if limit is None or target is None or not _LEVEL.search(f"{target.name} {limit.text}"):
        return
    words = target.name.lower().split()
    for fluid in book.graph.machine.things.values():
        if isinstance(fluid, Fluid) and (fluid.key == target.name or fluid.name.lower().split()[-1] in words):
            for variants, state in book.before(fluid.key, entry):
                if isinstance(state, FluidState) and not state.full:
                    also = (*cause(book, state.off_by, "let out here"), *entry.ways)
                    message = f"{fluid.name} is out here: its level cannot be checked"
                    root = Root(book.sequence.path, fluid.key, "on", state.off_by, entry.index)
                    yield Fault(target.span, message, also, None, variants, book.reached(entry), root)


def _once_more(book: Book, entry: Entry, name: str, since: int) -> bool:
    """Tell whether a loop comes again to what took something off that nothing puts back: that is told."""
    before = book.by(since)
    if before is None or not entry.again or before.order != entry.order or isinstance(book.sequence, Block):
        return False
    back = (other for other in book.entries if other.target and other.target.name == name and other.index > since)
    return entry.step.verb.way is Way.OFF and not any(other.step.verb.way in (Way.ON, Way.HELD) for other in back)


def _held_meanwhile(book: Book, entry: Entry, thing: AnyThing) -> Iterator[Fault]:
    """A bolt is tightened, and the nut that is held meanwhile is out; a nut does not go on before its bolt anyway."""
    ref = thing.counterhold if isinstance(thing, Fastener) and isinstance(entry.step.action, Tighten) else None
    held = book.graph.machine.things.get(ref.name) if ref else None
    if entry.target is None or not isinstance(held, Fastener) or not isinstance(thing, Fastener):
        return
    if not held.is_nut or thing.is_nut:
        return
    for variants, state in book.before(held.key, entry):
        # Pieces that are tightened by number need no more nuts than that.
        wanted = getattr(entry.step.action, "count", None) or held.count
        if isinstance(state, GroupState) and state.out and held.count - state.out < wanted:
            be = verb_s(held, "is", "are", state.out)
            message = f"{named(thing)} cannot be tightened: {counted(held, state.out)} {be} out"
            also = (*cause(book, state.off_by, "taken out here"), *entry.ways)
            yield Fault(entry.target.span, message, also, None, variants, book.reached(entry))


def _root(book: Book, entry: Entry, name: str, since: int) -> Root | None:
    """Of a block that is done where it does not fit, the first step tells it for all."""
    puts_on = isinstance(entry.step.action, Install | Connect)
    if isinstance(entry.step.action, Tighten) and not entry.via:
        return Root(book.sequence.path, name, "on", since, entry.index, follows=True)
    if entry.via or puts_on:
        return Root(book.sequence.path, name, "off" if puts_on else "on", since, entry.index, misfit=bool(entry.via))
    return None


def _wrong(entry: Entry, thing: AnyThing, state: State) -> tuple[str, int, str] | None:
    """Return what is wrong, the entry that made it so, and what that one did."""
    action, way = entry.step.action, entry.step.verb.way
    if isinstance(state, PartState):
        if way is Way.OFF and not state.on and not isinstance(action, Replace):
            return f"{thing.name} is already off", state.off_by, "it came off here"
        if way is Way.ON and state.on:
            return f"{thing.name} is already in place", state.on_by, "it went on here"
    elif isinstance(state, GroupState) and isinstance(action, OfPieces):
        return _group(action, thing, state)
    elif isinstance(thing, Fastener) and isinstance(action, Measure) and action.readings:
        readings = action.readings if isinstance(action.readings, int) else len(action.readings)
        if readings % thing.count:
            return f"the step takes {number(readings)} readings, but there are {counted(thing)}", NEVER, ""
    elif isinstance(state, LineState) and isinstance(thing, Line) and isinstance(action, Disconnect | Connect):
        wanted = {action.at.name} if action.at else ends(thing)
        if isinstance(action, Disconnect) and state.open >= wanted:
            return f"{thing.name} is already off", state.off_by, "it came off here"
        if isinstance(action, Connect) and not state.open & wanted:
            return f"{thing.name} is already connected", state.on_by, "it was connected here"
    return None


def _group(action: OfPieces, thing: AnyThing, state: GroupState) -> tuple[str, int, str] | None:
    inside, be = state.tight + state.loose, verb_s(thing, "is", "are")
    wanted = action.count
    within, off = ("in", "out") if goes_in(thing) else ("in place", "off")
    if wanted is not None and is_uncounted(thing):
        return f"{named(thing)} are not counted, but the step is for {number(wanted)} of them", NEVER, ""
    if state.places and action.at:
        return _named_pieces(action, thing, state)
    if isinstance(action, Replace) and inside == 0:
        return None  # the next to go in are new
    if isinstance(action, Install):
        if state.out == 0:
            return f"{named(thing)} {be} already {within}", state.on_by, "put in here"
        if wanted is not None and wanted > state.out:
            return (
                f"the step puts in {number(wanted)}, but only {_some(state.out)} out",
                state.off_by,
                "taken out here",
            )
        return None
    if inside == 0:
        if isinstance(action, Remove):
            return f"{named(thing)} {be} already {off}", state.off_by, "taken out here"
        doing = "loosened" if isinstance(action, Loosen) else "tightened"
        return (
            f"{named(thing)} cannot be {doing}: {verb_s(thing, 'it is', 'they are')} out",
            state.off_by,
            "taken out here",
        )
    if wanted is not None and wanted > inside:
        return (
            f"the step is for {counted(thing, wanted)}, but only {_some(inside)} in",
            state.off_by,
            "taken out here",
        )
    return None


def _named_pieces(action: OfPieces, thing: AnyThing, state: GroupState) -> tuple[str, int, str] | None:
    """The same for a step that says which of the pieces it means."""
    if not isinstance(thing, Fastener):
        return None
    pieces = chosen(thing, action.at)
    # A place that is not known is told by `unknown-name`.
    if action.count not in (None, len(pieces)) and len(pieces) == len(action.at):
        places = f"{number(len(pieces))} {'place' if len(pieces) == 1 else 'places'}"
        return f"the step is for {counted(thing, action.count)}, but names {places}", NEVER, ""
    if isinstance(action, Replace) and off_already(state, pieces):
        return None
    wants_out = isinstance(action, Install)
    wrong = [thing.positions[n].replace("-", " ") for n in pieces if (state.places[n] == "out") != wants_out]
    if not wrong:
        return None
    be, name = "is" if len(wrong) == 1 else "are", named(thing, len(wrong))
    if wants_out:
        return f"{name} at {listed(wrong)} {be} already in", state.on_by, "put in here"
    return f"{name} at {listed(wrong)} {be} out", state.off_by, "taken out here"


def _some(count: int) -> str:
    return f"{number(count)} {'is' if count == 1 else 'are'}"


def _equipment(book: Book, entry: Entry, name: str) -> Iterator[Fault]:
    equipment = book.library.equipment.get(name)
    if equipment is None or entry.target is None:
        return
    placing = isinstance(entry.step.action, Place)
    for variants, state in book.before(equipment_account(name), entry):
        if isinstance(state, EquipmentState) and state.there == placing:
            if placing:
                message, also = (
                    f"{equipment.name} is already in place",
                    cause(book, state.on_by, "put in place here"),
                )
            elif state.off_by != NEVER:
                message, also = (
                    f"{equipment.name} is already taken away",
                    cause(book, state.off_by, "taken away here"),
                )
            else:
                message, also = f"{equipment.name} is taken away, but nothing put it in place", ()
            since, wanted = (state.on_by, "off") if placing else (state.off_by, "placed")
            root = Root(book.sequence.path, name, wanted, since, entry.index, misfit=True) if entry.via else None
            yield Fault(entry.target.span, message, (*also, *entry.ways), None, variants, book.reached(entry), root)
