"""A part is too heavy for the people who lift it.

A back that gives way drops the part as well. The load is what comes off, with everything that is still fastened to it.
The limit is that of the revised NIOSH lifting equation. The page on lifting says what is assumed for a step that does
not say how the part is lifted, and what the equation does not cover.

Give the job more `people`, use equipment that can carry it, take something off first, or say in a `lift` step how it is
lifted: `reach`, `height`, `twist`, `grip`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger import Book, Entry
from putback.ledger.handling import way_of
from putback.ledger.lifted import Handled, handled, people_at, unborne
from putback.ledger.load import Burden, Load, burden
from putback.ledger.opened import Opened
from putback.lifting import LiftError
from putback.lifting.equation import SHARES, people_for, recommended
from putback.model.called import named
from putback.model.machine import Part
from putback.model.verbs.lifting import Lift
from putback.source.finding import Also, Level
from putback.source.grammar import counted_word, listed
from putback.units import digits
from putback.variants import NONE, EntangledError, VariantSet

LEVEL = Level.ERROR
GROUP = Group.DANGERS
INJURES = True
NEEDS = frozenset({"equipment"})

FAILS = """
# machine.yaml
machine: Bench pump
parts: {frame: {}, pump: {mass: 19 kg}}
fasteners:
  feet: {count: 2, thread: M8, torque: 20 N·m, secures: pump, to: frame, class: "8.8"}
# jobs/example.yaml
steps:
  - remove: feet
  - remove: pump
            ^^^^ pump weighs 19 kg; one person should lift 12.3 kg at most (lifting index 1.5)
  - install: pump
  - install: feet
  - tighten: feet
  - {check: pump, limit: does not rattle, otherwise: [{stop: Do the job again.}]}
"""

PASSES = """
# machine.yaml
machine: Bench pump
parts: {frame: {}, pump: {mass: 15 kg}}
fasteners: {feet: {count: 2, thread: M8, torque: 20 N·m, secures: pump, to: frame, class: "8.8"}}
# jobs/example.yaml
people: 2
steps:
  - remove: feet
  - remove: pump
  - install: pump
  - install: feet
  - tighten: feet
  - {check: pump, limit: does not rattle, otherwise: [{stop: Do the job again.}]}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield parts that are carried by too few people, at the first step that puts them into somebody's hands."""
    for book in opened.in_place():
        steps = {each.entry.index: each for each in handled(book)}
        told: dict[str, VariantSet] = {}
        for entry in filter(lambda each: each.step.verb.carries, book.entries):
            part = book.graph.machine.things.get(entry.target.name) if entry.target else None
            load = burden(book, entry, part.key) if isinstance(part, Part) else None
            if not isinstance(part, Part) or load is None or not load.most:
                continue
            before, step = told.get(part.key, NONE), steps.get(entry.index)
            if step is not None:  # of a part that has a step for its lifting, that one is looked at
                fault = _without_a_lift(book, part, load, step, before)
            else:
                fault = _judged(book, entry, part, load, before)
            if fault is not None:
                told[part.key] = book.graph.space.either(before, fault.variants or NONE)
                yield fault


def _without_a_lift(book: Book, part: Part, load: Burden, step: Handled, told: VariantSet) -> Fault | None:
    """A part that one person cannot lift is lifted one way by a step of its own, and the other way by nothing."""
    space, entry = book.graph.space, step.entry
    limit = recommended(way_of(None, load.most)).rwl
    heavy = space.without(load.over(limit * (1 + 1e-9), surely=True), space.either(told, step.lifted))
    variants = unborne(book, entry, load, heavy, None)
    if variants == NONE or entry.target is None or step.lift.target is None:
        return None
    least = load.lightest(space.both(variants, space.cube(space.smallest(variants, book.reached(entry)))))
    message = f"{_weighs(book, part, least)}; no step says how it is lifted here"
    also = (Also(step.lift.target.span, "a step says so here"), *entry.ways)
    people = people_for(least.mass, way_of(None, load.most))
    hint = f"add 'lift: {part.key}' with 'people: {people}' before it" if people else None
    return Fault(entry.target.span, message, also, hint, variants, book.reached(entry))


def _judged(book: Book, entry: Entry, part: Part, load: Burden, told: VariantSet) -> Fault | None:
    """Return the fault of a load, in the variants in which it has not been told yet."""
    assert entry.target is not None
    space, action = book.graph.space, entry.step.action
    equipment = book.library.equipment.get(action.with_.name) if isinstance(action, Lift) and action.with_ else None
    if equipment is not None and equipment.rated_load is None:
        return None  # a hoist of which nothing is said is the author's to answer for
    # More only get in each other's way: nobody gives a number for them.
    people = min(people_at(book, entry), len(SHARES))
    limit = 0.0
    if equipment is None:
        try:
            way = way_of(action if isinstance(action, Lift) else None, load.most)
            limit = recommended(way).rwl * people * SHARES[people - 1]
        except LiftError as error:
            message, hint = f"this way of lifting makes no sense: {error}", error.hint
            return Fault(entry.target.span, message, entry.ways, hint, load.variants, book.reached(entry))
    heavy, by = limit * (1 + 1e-9), equipment.key if equipment else None
    variants = unborne(book, entry, load, space.without(load.over(heavy, surely=True), told), by)
    if variants == NONE and told == NONE and unborne(book, entry, load, load.over(heavy), by) != NONE:
        raise EntangledError  # so near to the limit that it cannot be told
    if variants == NONE:
        return None
    shown = space.cube(space.smallest(variants, book.reached(entry)))
    least = load.lightest(space.both(variants, shown))
    weighs = _weighs(book, part, least)
    message, hint = f"{weighs}; nobody should lift anything this way", "the reach, height or turn is too great"
    if equipment is not None and equipment.rated_load is not None:
        message, hint = f"{weighs}; {equipment.name} is rated for {equipment.rated_load.text}", "use a stronger one"
    elif limit:
        who = "one person" if people == 1 else counted_word(people, "person").replace("persons", "people")
        message = f"{weighs}; {who} should lift {_kg(limit)} kg at most (lifting index {least.mass / limit:.1f})"
        needed = 0 if least.least else people_for(least.mass, way)
        hint = f"lift it {f'with {needed} people, or ' if needed else ''}with equipment that can carry it"
    return Fault(entry.target.span, message, entry.ways, hint, variants, book.reached(entry))


def _weighs(book: Book, part: Part, load: Load) -> str:
    others = [book.graph.machine.things[key].name for key in load.parts[1:]]
    if len(others) > 5:
        others[4:] = [f"{len(others) - 4} more parts"]
    on_it = f" with {listed(others)} still on it" if others else ""
    return f"{named(part)} weighs {_kg(load.mass)} kg{' or more' if load.least else ''}{on_it}"


def _kg(mass: float) -> str:
    return digits(mass, 3)
