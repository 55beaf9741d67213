"""One of a set is renewed, and another stays old.

Two belts that share a load, the shoes of one brake, the bolts of one bearing cap: a new one beside a worn one takes the
whole load, or wears out early. The machine file lists them under `renew-together`.

Renew the others as well, in every branch that renews one.
"""

from collections.abc import Collection, Iterator

from putback.checks import Fault, Group
from putback.guide.spread import base_of
from putback.ledger import Book, End, Entry
from putback.ledger.newness import by_pieces, renewals
from putback.ledger.opened import Opened
from putback.model.called import counted, named, verb_s
from putback.model.job import Job, Sequence
from putback.model.machine import AnyThing, Fastener, Machine, Part
from putback.model.terms import Ref
from putback.model.verbs.pieces import Install
from putback.source.finding import Also, Level
from putback.source.grammar import number
from putback.variants import NONE, VariantSet

LEVEL = Level.WARNING
GROUP = Group.CLOSING

FAILS = """
# machine.yaml
machine: Trial
parts: {front-belt: {}, rear-belt: {}, shaft: {}}
stacks:
  - [front-belt, rear-belt, shaft]
renew-together:
  - [front-belt, rear-belt]
# jobs/example.yaml
steps:
  - replace: front-belt
             ^^^^^^^^^^ the front belt is renewed and the rear belt is not: they must be renewed together
  - check: belts
    limit: run quietly for 1 min
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# machine.yaml
machine: Trial
parts: {front-belt: {}, rear-belt: {}, shaft: {}}
stacks:
  - [front-belt, rear-belt, shaft]
renew-together:
  - [front-belt, rear-belt]
# jobs/example.yaml
steps:
  - inspect: front-belt
    for: cracks
    otherwise:
      - remove: front-belt
      - replace: rear-belt
      - install: front-belt
        new: true
  - check: belts
    limit: run quietly for 1 min
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield what is renewed alone, for each end of a job."""
    machine = opened.guide.machine
    for together in machine.together if machine else ():
        alone = machine.things.get(together[0].name) if machine and len(together) == 1 else None
        if isinstance(alone, Part | Fastener) and _is_one(alone):
            message = f"{named(alone)} alone {verb_s(alone, 'is', 'are')} not a set"
            yield Fault(together[0].span, message, hint="name what must be renewed with it")
            continue
        for names in _sets(together, opened.graph.machine) if opened.graph else ():
            for book in opened.in_place() if names else ():
                around = _around(opened, book.sequence)
                renewed = {name for other in around for end in other.ends for name in renewals(other, end, names)}
                for end in book.ends:
                    yield from _at_end(book, end, names, renewed)


def _sets(together: tuple[Ref, ...], machine: Machine) -> list[list[str]]:
    """Return the single things of a set: place by place, where several are there for each of the same places."""
    names = {ref.name for ref in together}
    things = [thing for thing in machine.things.values() if base_of(thing.key) in names]
    kinds = {thing.each.name if thing.each and thing.place else None for thing in things}
    several = len(names) > 1 or any(isinstance(thing, Fastener) and thing.count > 1 for thing in things)
    places = dict.fromkeys(thing.place for thing in things) if len(kinds) == 1 and several else {None: None}
    return [[thing.key for thing in things if place is None or thing.place == place] for place in places]


def _is_one(thing: Part | Fastener) -> bool:
    """Tell whether something is there once, in one piece."""
    return thing.each is None and not (isinstance(thing, Fastener) and (thing.count > 1 or thing.uncounted))


def _around(opened: Opened, sequence: Sequence) -> list[Book]:
    """Return the books of the other jobs of a chain: what is renewed in one of them is renewed in time."""
    jobs, chains, key = opened.guide.jobs, opened.chains, sequence.key
    linked = [
        job
        for other, job in jobs.items()
        if isinstance(sequence, Job) and (key in chains.behind(other) or other in chains.behind(key))
    ]
    return [book for job in linked if (book := opened.book_of(job)) is not None]


def _at_end(book: Book, end: End, names: list[str], elsewhere: Collection[str]) -> Iterator[Fault]:
    space, things, renewed = book.graph.space, book.graph.machine.things, renewals(book, end, names)
    for name, found in renewed.items():
        thing = things[name]
        for pieces, (variants, entry) in by_pieces(book, thing, found).items():
            assert entry.target is not None
            if isinstance(thing, Fastener) and pieces < thing.count:
                message = f"{number(pieces)} of {counted(thing)} {'is' if pieces == 1 else 'are'} renewed: "
                words = f"{message}they must be renewed together"
                yield Fault(entry.target.span, words, entry.ways, None, variants, end.variants)
                return
            for other in (key for key in names if key != name and key not in elsewhere):
                left = space.both(variants, book.graph.present(other))
                for _, ways in renewed.get(other, ()):
                    left = space.without(left, ways)
                if left != NONE:
                    yield _alone(book, entry, thing, things[other], left, end)
                    return


def _alone(book: Book, entry: Entry, thing: AnyThing, other: AnyThing, variants: VariantSet, end: End) -> Fault:
    """Tell of one that is renewed beside an old one: at the step that puts the old one back, where there is one."""
    assert entry.target is not None
    for back in book.of(Install):
        if back.target and back.target.name == other.key and book.graph.space.both(back.variants, variants) != NONE:
            message = f"the old {named(other)} {verb_s(other, 'goes', 'go')} back with a new {named(thing)}"
            also = (Also(entry.target.span, "renewed here"), *back.ways)
            words = f"{message}: they must be renewed together"
            here = book.graph.space.both(
                back.variants, book.graph.space.both(end.variants, book.graph.present(other.key))
            )
            always = book.graph.space.within(here, variants)  # on other ways, none need be new
            hint = "add 'new: true'" if always else "renew it as well, in the branch that renews the other"
            return Fault(back.target.span, words, also, hint, variants, end.variants)
    be, not_ = verb_s(thing, "is", "are"), verb_s(other, "is not", "are not")
    message = f"the {named(thing)} {be} renewed and the {named(other)} {not_}: they must be renewed together"
    return Fault(entry.target.span, message, entry.ways, None, variants, end.variants)
