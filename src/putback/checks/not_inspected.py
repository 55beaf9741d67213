"""A thing goes back without being inspected, although the machine file says to inspect it whenever it is off.

It is never as easy to see as while it is on the bench. A cracked impeller or a worn pin that goes back unseen fails on
the next trip.

Add an `inspect`, a `measure` or a `check` of it between the step that takes it off and the one that puts it back. An
`inspect` without `for` uses the machine file's list. A new one need not be inspected.
"""

from collections.abc import Iterator
from typing import NamedTuple

from putback.checks import Fault, Group
from putback.ledger import Book, End, Entry
from putback.ledger.opened import Opened
from putback.model.called import named, verb_s
from putback.model.job import Block
from putback.model.machine import AnyThing
from putback.model.verbs.lines import Connect, Disconnect
from putback.model.verbs.pieces import Install, Remove, Replace
from putback.source.finding import Also, Level
from putback.source.grammar import listed
from putback.source.span import Span
from putback.variants import NONE, VariantSet

LEVEL = Level.ERROR
GROUP = Group.PROOF

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  frame: {}
  pump: {inspect-when-off: [cracks, a worn seal face]}
fasteners:
  feet: {count: 2, thread: M8, torque: 20 N·m, secures: pump, to: frame, class: "8.8"}
# jobs/example.yaml
steps:
  - remove: feet
  - remove: pump
  - install: pump
             ^^^^ pump goes back, but nobody inspected it after it came off: cracks or a worn seal face
  - install: feet
  - tighten: feet
  - {check: pump, limit: does not rattle, otherwise: [{stop: Do the job again.}]}
"""

PASSES = """
# machine.yaml
machine: Bench pump
parts:
  frame: {}
  pump: {inspect-when-off: [cracks, a worn seal face]}
fasteners:
  feet: {count: 2, thread: M8, torque: 20 N·m, secures: pump, to: frame, class: "8.8"}
# jobs/example.yaml
steps:
  - remove: feet
  - remove: pump
  - inspect: pump
    otherwise:
      - stop: Fit a new pump.
  - install: pump
  - install: feet
  - tighten: feet
  - {check: pump, limit: does not rattle, otherwise: [{stop: Do the job again.}]}
"""


class _Unseen(NamedTuple):
    thing: AnyThing
    off: Entry
    on: Entry
    variants: VariantSet


def find(opened: Opened) -> Iterator[Fault]:
    """Yield the step that puts back the first of the things that nobody looked at while they were off together."""
    wanted = {key: thing for key, thing in _things(opened).items() if thing.inspect_when_off}
    for book in opened.books if wanted else ():
        for end in book.ends if not isinstance(book.sequence, Block) else ():
            unseen = sorted(_unseen(book, end, wanted), key=lambda each: each.on.index)
            while unseen:
                first = unseen[0]
                along = [each for each in unseen if each.off.index < first.on.index and each.variants == first.variants]
                unseen = [each for each in unseen if each not in along]
                for place in dict.fromkeys(each.thing.place for each in along):
                    yield _told([each for each in along if each.thing.place == place], end)


def _things(opened: Opened) -> dict[str, AnyThing]:
    return dict(opened.graph.machine.things) if opened.graph else {}


def _unseen(book: Book, end: End, wanted: dict[str, AnyThing]) -> Iterator[_Unseen]:
    """Go back from an end, and yield what was put back, and was not looked at when its removal is met."""
    space = book.graph.space
    back: dict[str, tuple[Entry, VariantSet]] = {}
    for entry, variants in book.before_end(end):
        action = entry.step.action
        for key in _meant(entry, wanted):
            on, held = back.get(key, (entry, NONE))
            if isinstance(action, Install | Connect) and not (isinstance(action, Install) and action.new):
                back[key] = (entry if held == NONE else on, space.either(held, variants))
            elif entry.step.verb.asks or isinstance(action, Install | Replace):
                back[key] = (on, space.without(held, variants))
            elif isinstance(action, Remove | Disconnect):
                here = space.both(held, variants)
                back[key] = (on, space.without(held, variants))
                if here != NONE:
                    yield _Unseen(wanted[key], entry, on, here)


def _meant(entry: Entry, wanted: dict[str, AnyThing]) -> list[str]:
    """Return the things that an entry is about: the one it names, or those that its words name."""
    name = entry.target.name if entry.target else ""
    if name in wanted:
        return [name]
    if not entry.step.verb.asks:
        return []
    words = f" {name} {entry.step.text or ''} ".lower()
    return [key for key, thing in wanted.items() if thing.name.lower() in words or named(thing).lower() in words]


def _told(along: list[_Unseen], end: End) -> Fault:
    first = along[0]
    names = listed([named(each.thing) for each in along])
    goes = verb_s(first.thing, "goes", "go") if len(along) == 1 else "go"
    it, came = ("it", "it came") if goes == "goes" else ("them", "they came")
    message = f"{names} {goes} back, but nobody inspected {it} after {came} off"
    if len(along) == 1:
        message += f": {listed(list(first.thing.inspect_when_off), 'or')}"
    also = [Also(_place(each.off, each.on), f"{named(each.thing)} came off here") for each in along]
    hint = f"add 'inspect: {first.thing.key}' with an 'otherwise' before it"
    hint = hint if len(along) == 1 else "add an 'inspect' with an 'otherwise' of each before it"
    return Fault(_place(first.on, first.off), message, (*also, *first.on.ways), hint, first.variants, end.variants)


def _place(entry: Entry, other: Entry) -> Span:
    """Return where an entry is, for who reads the sequence that has the other one as well."""
    for step, others in zip(entry.via, (*other.via, *[None] * len(entry.via)), strict=False):
        if others is None or step.key != others.key:
            return step.key
    return entry.span
