"""A fastener goes in without the compound that belongs on its thread.

The torque is meant for that compound: on a dry thread it clamps half as hard. Without paste, a stainless bolt seizes in
aluminium; without thread-locker, it works loose.

Add an `apply` step before it goes in. This applies where the machine file names a `compound`, and where the torque is
for an oiled, greased or sealed thread.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, cause
from putback.joints.friction import Film
from putback.ledger import Book
from putback.ledger.opened import Opened
from putback.ledger.prepared import HARDENS, Fitting, applied, bare, cleaned, fittings
from putback.model.called import named, verb_s
from putback.model.machine import Fastener
from putback.model.verbs.pieces import Install, Replace
from putback.source.finding import Also, Level
from putback.source.grammar import listed
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


_WANTED = {
    Film.OILED: "oil",
    Film.GREASED: "grease",
    Film.ANTI_SEIZE: "anti-seize",
    Film.MOLY: "MoS2",
    Film.SEALANT: "sealant",
    Film.THREAD_LOCKER: "thread-locker",
}
"""What somebody must put on a thread; wax comes on it from the maker."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield fasteners that are put in before their compound was applied to them, or to what they go into."""
    for book in opened.in_place():
        on = applied(book)
        for fitting in fittings(book):
            thing = fitting.thing
            if not isinstance(thing, Fastener) or not (thing.compound or _wanted(fitting)):
                continue
            # A nut goes on the thread of its bolt, a lock nut on that of the adjuster.
            others = (thing.to, thing.counterhold, thing.held_for, *thing.locks)
            places = [thing.key, *(ref.name for ref in others if ref)]
            names = _compounds(book, thing)
            ready = [other for place in places for name in names for other in on.get((place, name), [])]
            variants, off_by = bare(book, fitting, ready)
            if variants != NONE and (names or thing.compound is None):
                yield _fault(book, fitting, thing, names, variants, off_by)


def _wanted(fitting: Fitting) -> str | None:
    """Return what goes on a thread whose torque is meant for it, where the machine file names no compound."""
    thing, action = fitting.thing, fitting.entry.step.action
    if not isinstance(thing, Fastener) or thing.condition_span is None:
        return None
    new = isinstance(action, Replace) or (isinstance(action, Install) and action.new)
    # New ones can have their thread-locker on.
    film = thing.condition.film
    return None if film is None or (new and film is Film.THREAD_LOCKER) else _WANTED.get(film)


def _compounds(book: Book, thing: Fastener) -> list[str]:
    """Return the consumables of which one must be on the thread."""
    known = book.library.consumables
    if thing.compound:
        return [thing.compound.name] if thing.compound.name in known else []
    return [key for key, each in known.items() if each.threads is thing.condition.film]


def _fault(book: Book, fitting: Fitting, thing: Fastener, names: list[str], variants: VariantSet, off_by: int) -> Fault:
    threads = f"{verb_s(thing, 'its', 'their')} {verb_s(thing, 'thread', 'threads')}"
    go = f"{named(thing)} {verb_s(thing, 'goes', 'go')} in without"
    also = (*cause(book, off_by, "taken out here"), *fitting.entry.ways)
    hint: str | None = f"add 'apply: {names[0]}' with 'to: {thing.key}' before it" if names else None
    if (
        hint
        and book.library.consumables[names[0]].threads in HARDENS
        and not (thing.single_use or cleaned(book, thing))
    ):
        hint = hint.replace(
            "add ", f"add 'clean: {thing.key}' and "
        )  # it goes on no rest of the old; a new one has none
    if thing.compound:
        message = f"{go} {book.library.consumables[names[0]].name} on {threads}"
    else:
        film = thing.condition.film
        message = f"{go} {_wanted(fitting)} on {threads}, and {verb_s(thing, 'its', 'their')} torque is for {film} ones"
        if thing.condition_span:
            also = (*also, Also(thing.condition_span, "the thread condition"))
        if len(names) > 1:
            hint = f"with 'compound' in the machine file, say which of them goes on: {listed(names, 'or')}"
    return Fault(fitting.ref.span, message, also, hint, variants, book.reached(fitting.entry))
