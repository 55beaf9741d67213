"""A job puts in more new pieces of something than its kit holds, or the kit lacks a thing that names it.

The mechanic buys the kit, takes the machine apart, and then stands there with one bolt too few. A kit holds what stands
under `contents`; without that, as many of each thing as the machine has.

Say under `contents` how many the kit really holds. If it is too few, list under `supplies` of the job what else to buy.
"""

from collections.abc import Iterator
from typing import NamedTuple

from putback.checks import Fault, Group
from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.ledger.opened import Opened
from putback.model.called import is_uncounted, named, verb_s
from putback.model.details import Kit
from putback.model.job import Job, Later
from putback.model.kits import contents_of, kit_of, kits_of
from putback.model.machine import AnyThing, Fastener, Line, Machine, Part
from putback.model.said import place_of
from putback.sheet.renewed import Renewed, renewed
from putback.source.finding import Also, Level
from putback.source.grammar import number
from putback.source.quoting import quote
from putback.source.span import Span
from putback.variants import VariantSet

LEVEL = Level.WARNING
GROUP = Group.TOOLS

FAILS = """
# machine.yaml
machine: Trial
parts: {lid: {}, felt: {replace: always}}
fasteners: {screws: {kind: screw, count: 6, replace: always, by-hand: until they stop, secures: lid}}
stacks: [[lid, felt]]
kits:
  lid-kit:
    number: T-100
    contents: {felt: 1, screws: 4}
                                ^ the kit 'lid-kit' holds four screws, but the job 'example' puts in six new ones
# jobs/example.yaml
steps:
  - remove: [screws, lid, felt]
  - install: felt
    new: true
  - install: lid
  - install: screws
    new: true
  - check: lid
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# machine.yaml
machine: Trial
parts: {lid: {}, felt: {replace: always}}
fasteners: {screws: {kind: screw, count: 6, replace: always, by-hand: until they stop, secures: lid}}
stacks: [[lid, felt]]
kits:
  lid-kit:
    number: T-100
    contents: {felt: 1, screws: 6}
# jobs/example.yaml
steps:
  - remove: [screws, lid, felt]
  - install: felt
    new: true
  - install: lid
  - install: screws
    new: true
  - check: lid
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

_HINT = "say under 'contents' what it holds, or list under 'supplies' of the job what else is bought"


class _Short(NamedTuple):
    """A job that takes more of a thing than its kit holds."""

    job: str
    need: int
    held: int
    variants: VariantSet
    last: Entry | None


def find(opened: Opened) -> Iterator[Fault]:
    """Yield things that their kit lacks, and those of which a job takes more than it holds: the job that takes most."""
    machine = opened.guide.machine
    if machine is None or not kits_of(machine):
        return
    short: dict[str, list[_Short]] = {}
    for book in opened.books:
        for row in renewed(book) if isinstance(book.sequence, Job | Later) else ():
            thing = machine.things.get(row.key)
            if isinstance(thing, Part | Fastener | Line) and not is_uncounted(thing):
                short.setdefault(row.key, []).extend(_short(book, row, thing, machine))
    for thing in machine.things.values():
        kit = kit_of(machine, thing) if isinstance(thing, Part | Fastener | Line) else None
        if kit is None or not isinstance(thing, Part | Fastener | Line):
            continue
        packed = next((each for each in kit.contents if each.thing.name == thing.key), None)
        at = packed.span if packed else place_of(thing.kit or "", thing.span)
        if kit.contents and not packed and kit.span:
            message = (
                f"{named(thing)} {verb_s(thing, 'comes', 'come')} in the kit {quote(kit.key)}, which does not list"
            )
            message += f" {verb_s(thing, 'it', 'them')} under 'contents'"
            yield Fault(at, message, (Also(kit.span, "described here"),), "list it there, or delete 'kit' here")
        elif found := short.get(thing.key):
            yield _fault(thing, kit, max(found, key=lambda each: each.need), at, found)


def _short(book: Book, row: Renewed, thing: Part | Fastener | Line, machine: Machine) -> Iterator[_Short]:
    """Yield how many new pieces a job takes, where they are more than its kit holds and its own list has."""
    kit = kit_of(machine, thing)
    held = {each.key: count for each, count in contents_of(kit, machine)}.get(thing.key) if kit else None
    if kit is None or held is None:
        return
    job = book.sequence
    listed = job.supplies.parts if isinstance(job, Job) and job.supplies else ()
    kits = sum(each.pieces for each in listed if each.thing.name == kit.key)
    enough = held * max(1, kits) + sum(each.pieces for each in listed if each.thing.name == thing.key)
    # What is needed once more because the first try was no good is bought when it comes to that.
    ways = [row.always] if row.always else list(row.branches.values())
    over = [(need, variants) for totals in ways for need, variants in totals.items() if need > enough]
    for need, variants in sorted(over, key=lambda each: each[0])[-1:]:
        yield _Short(job.key, need, held, variants, row.last)


def _fault(thing: AnyThing, kit: Kit, worst: _Short, at: Span, found: list[_Short]) -> Fault:
    holds = f"{number(worst.held)} {named(thing, worst.held)}"
    message = (
        f"the kit {quote(kit.key)} holds {holds}, but the job {quote(worst.job)} puts in {number(worst.need)} new ones"
    )
    also = tuple(Also(each.last.span, f"the last goes in here in {quote(each.job)}") for each in found if each.last)
    return Fault(at, message, also[:3], _HINT, worst.variants)
