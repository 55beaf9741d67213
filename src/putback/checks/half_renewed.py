"""One of a set is renewed, and another stays old.

Two belts that share a load, the shoes of one brake, the bolts of one bearing cap: a new one beside a worn one takes the
whole load, or wears the new one out. The machine file names them under `renew-together`.

Renew the others as well, in every branch that renews one.
"""

from collections.abc import Collection, Iterator

from putback.checks import Fault, Group
from putback.ledger import Book, End, Entry
from putback.ledger.newness import by_pieces, renewals
from putback.ledger.opened import Opened
from putback.model.called import counted, named, verb_s
from putback.model.job import Job, Sequence
from putback.model.machine import AnyThing, Fastener
from putback.model.verbs.pieces import Install
from putback.source.finding import Also, Level
from putback.source.grammar import number
from putback.variants import NONE, VariantSet

LEVEL = Level.WARNING
GROUP = Group.CLOSING

FAILS = """
# machine.yaml
machine: Trial
parts:
  front-belt: {}
  rear-belt: {}
  shaft: {}
stacks:
  - [front-belt, rear-belt, shaft]
renew-together:
  - [front-belt, rear-belt]
# jobs/example.yaml
steps:
  - replace: front-belt
             ^^^^^^^^^^ the front belt is renewed and the rear belt is not: they are renewed together
  - check: belts
    limit: run quietly for 1 min
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# machine.yaml
machine: Trial
parts:
  front-belt: {}
  rear-belt: {}
  shaft: {}
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
        names = [ref.name for ref in together if machine and ref.name in machine.things]
        for book in opened.in_place():
            around = _around(opened, book.sequence) if names else []
            renewed = {name for other in around for end in other.ends for name in renewals(other, end, names)}
            for end in book.ends if names else ():
                yield from _at_end(book, end, names, renewed)


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
                words = f"{message}they are renewed together"
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
            message = f"the old {named(other)} {verb_s(other, 'goes', 'go')} back beside a new {named(thing)}"
            also = (Also(entry.target.span, "renewed here"), *back.ways)
            words = f"{message}: they are renewed together"
            return Fault(back.target.span, words, also, "add 'new: true'", variants, end.variants)
    be, not_ = verb_s(thing, "is", "are"), verb_s(other, "is not", "are not")
    message = f"the {named(thing)} {be} renewed and the {named(other)} {not_}: they are renewed together"
    return Fault(entry.target.span, message, entry.ways, None, variants, end.variants)
