"""A part is too heavy for the people who lift it.

A back that gives way drops the part as well. The load is what comes off, with all that is still fastened to it. The
limit is that of the revised NIOSH lifting equation. The page on lifting says what is taken for a step that does not say
how it is lifted, and what the equation does not cover.

Give the job more `people`, use an aid that bears the load, take something off first, or say at a `lift` step how it is
lifted: `reach`, `height`, `twist`, `grip`.
"""

from collections.abc import Iterator

from putback.checks import Case, Fault
from putback.finding import Level
from putback.handling import way_of
from putback.ledger import Book, Entry
from putback.ledger.book import aid_account
from putback.ledger.load import Load, loads
from putback.ledger.states import Visit
from putback.lifting import LiftError
from putback.lifting.equation import SHARES, people_for, recommended
from putback.model import job as j
from putback.model.job import Job, Verb
from putback.model.machine import Part
from putback.units import si
from putback.variants import NONE, VariantSet
from putback.words import counted_word, listed, named

LEVEL = Level.ERROR
INJURES = True
NEEDS = frozenset({"aid"})

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  frame: {}
  pump: {mass: 19 kg}
fasteners:
  feet: {count: 2, thread: M8, torque: 20 N·m, holds: pump, to: frame}
# jobs/example.yaml
steps:
  - remove: feet
  - remove: pump
            ^^^^ pump weighs 19 kg; one person should lift 12.3 kg at most (lifting index 1.5)
  - install: pump
  - install: feet
  - tighten: feet
  - check: pump
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# machine.yaml
machine: Bench pump
parts:
  frame: {}
  pump: {mass: 15 kg}
fasteners:
  feet: {count: 2, thread: M8, torque: 20 N·m, holds: pump, to: frame}
# jobs/example.yaml
people: 2
steps:
  - remove: feet
  - remove: pump
  - install: pump
  - install: feet
  - tighten: feet
  - check: pump
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""


def find(case: Case) -> Iterator[Fault]:
    """Yield parts that are carried by too few people, at the first step that puts them into somebody's hands."""
    for book in case.in_place():
        lifted = {entry.target.name for entry in book.of(Verb.LIFT) if entry.target}
        told: dict[str, VariantSet] = {}
        for entry in book.of(Verb.LIFT, Verb.REMOVE, Verb.INSTALL, Verb.REPLACE):
            part = book.graph.machine.things.get(entry.target.name) if entry.target else None
            if not isinstance(part, Part) or (entry.step.verb is not Verb.LIFT and part.key in lifted):
                continue  # of a part that has a step for its lifting, that one is looked at
            for load in loads(book, entry, part.key):
                worlds = book.graph.space.without(load.worlds, told.get(part.key, NONE))
                worlds = book.graph.space.without(worlds, _borne(book, entry, load))
                fault = _judged(book, entry, part, load) if load.mass and worlds != NONE else None
                if fault is not None:
                    told[part.key] = book.graph.space.either(told.get(part.key, NONE), worlds)
                    yield fault._replace(worlds=worlds, among=book.reached(entry))


def _people(book: Book, action: object) -> int:
    stated = action.people if isinstance(action, j.Lift) else None
    return stated or (book.sequence.people if isinstance(book.sequence, Job) else 1)


def _borne(book: Book, entry: Entry, load: Load) -> VariantSet:
    """Return the variants in which an aid that is in place, or that the step names, bears the load."""
    space, action = book.graph.space, entry.step.action
    by_name = action.with_.name if isinstance(action, j.Lift) and action.with_ else None
    found = NONE
    for key, aid in book.library.aids.items():
        bears = si(aid.bears)[0] if aid.bears else None
        if bears is None or bears < load.mass:
            continue
        there = book.where(aid_account(key), entry, lambda state: isinstance(state, Visit) and state.there)
        found = space.either(found, load.worlds if key == by_name else there)
    return found


def _judged(book: Book, entry: Entry, part: Part, load: Load) -> Fault | None:
    assert entry.target is not None
    action, people = entry.step.action, _people(book, entry.step.action)
    span, also = entry.target.span, entry.ways
    weighs = f"{named(part)} weighs {_kg(load.mass)} kg{_with(book, load)}"
    aid = book.library.aids.get(action.with_.name) if isinstance(action, j.Lift) and action.with_ else None
    if aid is not None:
        if aid.bears is None:
            return None  # a hoist of which nothing is said is the author's to answer for
        return Fault(span, f"{weighs}; {aid.name} bears {aid.bears.text}", also, "take one that bears more")
    try:
        way = way_of(action if isinstance(action, j.Lift) else None, load.mass)
        alone, needed = recommended(way).rwl, people_for(load.mass, way)
    except LiftError as error:
        return Fault(span, f"the way of lifting makes no sense: {error}", also, error.hint)
    people = min(people, len(SHARES))  # more only get in each other's way: nobody gives a number for them
    limit = alone * people * SHARES[people - 1]
    if needed is not None and people >= needed:
        return None
    if not limit:
        return Fault(
            span, f"{weighs}; nobody should lift anything this way", also, "the reach, height or turn is too great"
        )
    who = "one person" if people == 1 else counted_word(people, "person").replace("persons", "people")
    message = f"{weighs}; {who} should lift {_kg(limit)} kg at most (lifting index {load.mass / limit:.1f})"
    answer = f"with {needed} people, or with" if needed else "with"
    return Fault(span, message, also, f"lift it {answer} an aid that bears it")


def _with(book: Book, load: Load) -> str:
    others = [book.graph.machine.things[key].name for key in load.parts[1:]]
    return f" with {listed(others)} still on it" if others else ""


def _kg(mass: float) -> str:
    return f"{mass:.3g}"
