"""A thing goes back, or is filled, but is not checked, although the machine file says that it must be.

The legs of a cotter pin, the oil level, a lead that must not touch the fan: the whole machine depends on each, and a
test run does not show it.

After the step, add a `check` or a `measure` of it, or name it under `proves` of one. A `check` without a `limit` uses
the one in the machine file.
"""

from collections.abc import Iterator, Mapping

from putback.checks import Fault, Group
from putback.ledger import Book, End, Entry
from putback.ledger.goes_with import wants_no_proof
from putback.ledger.opened import Opened
from putback.ledger.proof import named_by, not_tested
from putback.model.called import named, verb_s
from putback.model.job import Block
from putback.model.machine import AnyThing, Fluid
from putback.model.verbs.fluids import Fill
from putback.model.verbs.lines import Connect
from putback.model.verbs.pieces import Install, Replace
from putback.source.finding import Level
from putback.variants import NONE, VariantSet

LEVEL = Level.ERROR
GROUP = Group.PROOF

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  frame: {}
  pump: {}
fasteners:
  pin: {kind: cotter pin, secures: pump, check-when-back: both legs are bent}
# jobs/example.yaml
steps:
  - remove: pin
  - remove: pump
  - install: pump
  - install: pin
             ^^^ pin goes back, but nobody checks it: both legs are bent
  - {check: pump, limit: turns freely, otherwise: [{stop: Do the job again.}]}
"""

PASSES = """
# machine.yaml
machine: Bench pump
parts:
  frame: {}
  pump: {}
fasteners:
  pin: {kind: cotter pin, secures: pump, check-when-back: both legs are bent}
# jobs/example.yaml
steps:
  - remove: pin
  - remove: pump
  - install: pump
  - install: pin
  - {check: pin, otherwise: [{stop: Bend them.}]}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield the last step that puts a thing back which nobody checks after it."""
    things = opened.graph.machine.things if opened.graph else {}
    wanted = {key: thing for key, thing in things.items() if thing.check_when_back}
    for book in opened.books if wanted else ():
        for end in book.ends if not isinstance(book.sequence, Block) else ():
            yield from _at_end(book, end, wanted)


def _at_end(book: Book, end: End, wanted: Mapping[str, AnyThing]) -> Iterator[Fault]:
    space = book.graph.space
    told = NONE
    for untested in not_tested(book):
        # Where no test of all follows, `no-final-test` tells it.
        told = space.either(told, untested.variants) if untested.end is end else told
    said = set[str]()
    done: dict[str, VariantSet] = dict.fromkeys(wanted, told)
    for entry, variants in book.before_end(end):
        if entry.step.verb.asks or named_by(entry):
            for key in checked(entry, wanted):
                done[key] = space.either(done[key], variants)
            continue
        thing = wanted.get(entry.target.name) if entry.target else None
        if (
            thing is None
            or entry.target is None
            or not isinstance(entry.step.action, Install | Connect | Fill | Replace)
        ):
            continue
        here = space.without(variants, done[thing.key])
        here = space.without(here, wants_no_proof(book, entry)) if isinstance(thing, Fluid) and here != NONE else here
        if here != NONE and thing.check_when_back and thing.key not in said:
            said.add(thing.key)
            done[thing.key] = space.either(done[thing.key], here)
            goes = "is filled in" if isinstance(thing, Fluid) else verb_s(thing, "goes back", "go back")
            message = (
                f"{named(thing)} {goes}, but nobody checks {verb_s(thing, 'it', 'them')}: {thing.check_when_back.text}"
            )
            hint = f"add 'check: {thing.key}' with an 'otherwise' after it"
            yield Fault(entry.target.span, message, entry.ways, hint, here, end.variants)


def checked(entry: Entry, wanted: Mapping[str, AnyThing]) -> set[str]:
    """Return the things that a test is about: that it names, says it proves, or has in its words."""
    name = entry.target.name if entry.target else ""
    found = {name, *named_by(entry)} & set(wanted)
    words = f" {name} {entry.step.text or ''} ".lower() if name not in wanted else ""
    return found | {key for key, thing in wanted.items() if words and _called(thing) in words}


def _called(thing: AnyThing) -> str:
    """Return what a thing is called in passing: of a fluid the last word, as in `oil level`."""
    return f" {thing.name.split()[-1].lower()} " if isinstance(thing, Fluid) else thing.name.lower()
