"""A setting is adjusted or measured before what disturbs it is back.

A clearance that is set before the cylinder head is tight changes when the head is tightened; a linkage that is not
connected has no length to measure. The machine file lists under `settings` what disturbs each setting.

Move the step after the one that refits, connects or tightens the last of it. What you loosen or turn to make the
adjustment, such as a lock nut or the bolt of a belt tensioner, goes under `adjusted-by` in the machine file: it may be
loose while the setting is adjusted, but must be tight when it is measured.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, Root, cause, met_at
from putback.ledger import Book, Entry
from putback.ledger.disturbing import (
    adjusters_of,
    back_later,
    disturbers_of,
    hides,
    is_back,
    last_back,
    pieces,
    wanted_back,
    words_of,
)
from putback.ledger.opened import Opened
from putback.mending.sites import settled_later
from putback.model.called import named, verb_s
from putback.model.machine import AnyThing
from putback.model.setting import Disturber, Setting
from putback.model.states import GroupState, State
from putback.model.verbs import VERBS
from putback.source.finding import Also, Level
from putback.source.grammar import listed
from putback.variants import NONE, VariantSet
from putback.variants.graph import Graph

LEVEL = Level.ERROR
GROUP = Group.ORDER
INJURES = True

FAILS = """
steps:
  - remove: jockey-bolt
  - remove: jockey-pulley
  - adjust: belt-deflection
            ^^^^^^^^^^^^^^^ belt deflection is adjusted while jockey pulley is off
  - install: jockey-pulley
  - install: jockey-bolt
  - tighten: jockey-bolt
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - remove: jockey-bolt
  - remove: jockey-pulley
  - install: jockey-pulley
  - install: jockey-bolt
  - adjust: belt-deflection
  - tighten: jockey-bolt
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield steps that adjust or measure a setting too early; of all that is not back, the first is told."""
    if opened.graph is not None:
        yield from _never(opened.graph)
    for book in opened.books:
        for entry in book.of(*_SETTLING):
            setting = book.graph.machine.things.get(entry.target.name) if entry.target else None
            if isinstance(setting, Setting):
                yield from _early(book, entry, setting)


_SETTLING = tuple(verb.arguments for verb in VERBS.values() if verb.settles)
"""The records of the verbs that adjust or measure."""


def _never(graph: Graph) -> Iterator[Fault]:
    """Yield what must be off to reach a setting, and back before it is adjusted: no step can do that."""
    for setting in graph.machine.things.values():
        for disturber in setting.disturbed_by if isinstance(setting, Setting) else ():
            edge = hides(graph, setting.key, disturber)
            if edge is not None:
                thing = graph.machine.things[disturber.ref.name]
                message = f"{named(thing)} must be off to reach the {setting.name}, and back on before it is adjusted"
                also = (Also(edge.span, f"the machine file says here that {setting.name} is behind it"),)
                yield Fault(disturber.ref.span, message, also, "delete it here", edge.variants)


def _early(book: Book, entry: Entry, setting: Setting) -> Iterator[Fault]:
    space, machine, told = book.graph.space, book.graph.machine, NONE
    for disturber, loose in wanted_back(book.graph, setting, entry):
        if hides(book.graph, setting.key, disturber):
            continue  # told at the machine file
        thing, at = machine.things.get(disturber.ref.name), pieces(machine, disturber)
        for held, state in book.before(disturber.ref.name, entry) if thing else ():
            if thing is None or is_back(state, at, loose=loose):
                continue
            variants = space.without(back_later(book, disturber, held), told)
            if variants != NONE:
                told = space.either(told, variants)
                yield _fault(book, entry, setting, disturber, thing, state, variants)


def _fault(
    book: Book,
    entry: Entry,
    setting: Setting,
    disturber: Disturber,
    thing: AnyThing,
    state: State,
    variants: VariantSet,
) -> Fault:
    done = _PAST.get(entry.step.verb.name, entry.step.verb.name)
    how = words_of(state, pieces(book.graph.machine, disturber))
    count = len(disturber.at) or None
    places = f" at {listed([place.name.replace('-', ' ') for place in disturber.at])}" if disturber.at else ""
    what = f"{named(thing, count)}{places} {verb_s(thing, 'is', 'are', count)}"
    message = f"{setting.name} is {done} while {what} {how}"
    since = _since(state, how)
    also = (*cause(book, since, _DONE.get(how, "it came off here")), *entry.ways)
    wanted = setting.disturbed_by if done == "adjusted" else disturbers_of(book.graph, setting)
    last = last_back(book, wanted, variants, () if done != "adjusted" else adjusters_of(book.graph, setting))
    hint = settled_later(book, entry, last, disturber.ref.name if how in ("loose", "not tight yet") else None)
    span = met_at(entry, book.by(since))
    root = Root(book.sequence.path, disturber.ref.name, "on", since, entry.index)
    return Fault(span, message, also, hint, variants, book.reached(entry), root)


_PAST = {"adjust": "adjusted", "measure": "measured", "check": "checked"}
_DONE = {"loose": "put in or loosened here", "out": "taken out here", "not tight yet": "not fully tightened here"}


def _since(state: State, how: str) -> int:
    """Return the number of the entry that made a thing as it is."""
    if isinstance(state, GroupState):
        return {"out": state.off_by, "loose": state.on_by}.get(how, state.to_by)
    return state.off_by
