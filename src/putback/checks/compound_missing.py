"""A fastener goes in without the compound that belongs on its thread.

The torque is meant for that compound: on a dry thread it presses half as much. Without paste, a stainless bolt seizes
in aluminium; without thread-locker, it comes out by itself.

Add an `apply` step before it goes in.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, cause
from putback.ledger import Book, Entry
from putback.ledger.newness import condemned
from putback.ledger.opened import Opened
from putback.model.called import named, verb_s
from putback.model.machine import Fastener
from putback.model.states import GroupState
from putback.model.verbs.cleaning import Apply
from putback.model.verbs.pieces import Install, Replace
from putback.source.finding import Level
from putback.variants import NONE, VariantSet

LEVEL = Level.ERROR
GROUP = Group.TORQUE
INJURES = True

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  pump: {}
  lid: {}
fasteners:
  lid-screws: {count: 2, thread: M6, torque: 7 N·m, compound: paste, secures: lid, to: pump, class: "8.8"}
# consumables.yaml
paste: {name: anti-seize paste, threads: anti-seize}
# jobs/example.yaml
steps:
  - remove: lid-screws
  - install: lid-screws
             ^^^^^^^^^^ lid screws go in without anti-seize paste on their threads
  - tighten: lid-screws
  - check: lid
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# machine.yaml
machine: Bench pump
parts:
  pump: {}
  lid: {}
fasteners:
  lid-screws: {count: 2, thread: M6, torque: 7 N·m, compound: paste, secures: lid, to: pump, class: "8.8"}
# consumables.yaml
paste: {name: anti-seize paste, threads: anti-seize}
# jobs/example.yaml
steps:
  - remove: lid-screws
  - apply: paste
    to: lid-screws
  - install: lid-screws
  - tighten: lid-screws
  - check: lid
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield fasteners that are put in before their compound was applied to them, or to what they go into."""
    for book in opened.in_place():
        applied: dict[tuple[str, str], list[Entry]] = {}
        for entry in book.of(Apply, Install, Replace):
            if isinstance(entry.step.action, Apply):
                for consumable in entry.step.action.things:
                    for ref in entry.touched:
                        applied.setdefault((ref.name, consumable.name), []).append(entry)
                continue
            thing = book.graph.machine.things.get(entry.target.name) if entry.target else None
            if entry.target is None or not isinstance(thing, Fastener) or thing.compound is None:
                continue
            compound = book.library.consumables.get(thing.compound.name)
            places = [thing.key, *([thing.to.name] if thing.to else [])]
            ready = [other for place in places for other in applied.get((place, thing.compound.name), [])]
            variants, off_by = _bare(book, entry, thing, ready)
            if variants != NONE and compound is not None:
                threads = f"{verb_s(thing, 'its', 'their')} {verb_s(thing, 'thread', 'threads')}"
                message = f"{named(thing)} {verb_s(thing, 'goes', 'go')} in without {compound.name} on {threads}"
                hint = f"add 'apply: {compound.key}' with 'to: {thing.key}' before it"
                also = (*cause(book, off_by, "taken out here"), *entry.ways)
                yield Fault(entry.target.span, message, also, hint, variants, book.reached(entry))


def _bare(book: Book, entry: Entry, thing: Fastener, ready: list[Entry]) -> tuple[VariantSet, int]:
    """Return the variants in which nothing was applied since the fastener came out, and what took it out."""
    space, found, off_by, later = book.graph.space, NONE, -1, condemned(book, entry)
    for variants, state in book.before(thing.key, entry):
        variants = space.without(variants, later)
        if not isinstance(state, GroupState) or (not state.out and isinstance(entry.step.action, Install)):
            continue  # nothing goes in: told by `not-there`
        for other in ready:
            # One that is replaced in one go comes out only now: the compound went on the new one before.
            if other.index > state.off_by or isinstance(entry.step.action, Replace):
                variants = space.without(variants, other.variants)
        if variants != NONE:
            found, off_by = space.either(found, variants), state.off_by
    return found, off_by
