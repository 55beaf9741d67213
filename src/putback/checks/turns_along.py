"""A nut is loosened or tightened on something that turns with it.

If nothing holds a propeller or a pulley, its nut only turns the shaft: it stays tight, or never reaches its torque, and
a hand that holds the blade is cut when it slips.

Put in place something that keeps it from turning, for the loosening and again for the tightening. Equipment says with
`keeps` that it does so; the machine file says with `to` what a nut is screwed on, and with `turns-with` what turns with
that. If somebody holds it in another way, the step says how ("Hold the pulley with the strap wrench.").
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger import Book, Entry
from putback.ledger.book import equipment_account
from putback.ledger.opened import Opened
from putback.ledger.trains import turning_parts, turns
from putback.mending.sooner import sooner
from putback.model.called import named, verb_s
from putback.model.library import Equipment
from putback.model.machine import Fastener, Part
from putback.model.states import GroupState, State, is_there
from putback.model.verbs.pieces import Loosen, Remove, Tighten
from putback.source.finding import Level
from putback.source.late import Late
from putback.units import si
from putback.variants import NONE

LEVEL = Level.ERROR
GROUP = Group.DANGERS
NEEDS = frozenset({"equipment"})

FAILS = """
# machine.yaml
machine: Bench outboard
parts:
  propeller-shaft: {}
  propeller: {turns-with: propeller-shaft}
fasteners:
  propeller-nut: {kind: nut, thread: M12, class: "8", torque: 35 N·m, secures: propeller, to: propeller-shaft}
# equipment.yaml
blade-block: {keeps: [propeller]}
# jobs/example.yaml
steps:
  - place: blade-block
  - loosen: propeller-nut
  - take-away: blade-block
  - tighten: propeller-nut
             ^^^^^^^^^^^^^ propeller nut is tightened, but nothing keeps propeller shaft from turning
  - {check: propeller, limit: does not rock, otherwise: [{stop: Do the job again.}]}
"""

PASSES = """
# machine.yaml
machine: Bench outboard
parts:
  propeller-shaft: {}
  propeller: {turns-with: propeller-shaft}
fasteners:
  propeller-nut: {kind: nut, thread: M12, class: "8", torque: 35 N·m, secures: propeller, to: propeller-shaft}
# equipment.yaml
blade-block: {keeps: [propeller]}
# jobs/example.yaml
steps:
  - place: blade-block
  - loosen: propeller-nut
  - tighten: propeller-nut
  - take-away: blade-block
  - {check: propeller, limit: does not rock, otherwise: [{stop: Do the job again.}]}
"""

_LEAST = 10.0
"""N·m: less is held by a hand at the rim of a pulley. Common practice, no source."""
_HELD = Late(
    r"\b(?:hold|held|holds|holding|block|wedge|jam|lock|locked|keep|kept|counterhold|impact"
    r"|on (?:the|its) (?:ground|wheels)|brakes?)\b"
)
"""Words of a step or of its tool that say how it is held."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield steps that turn a nut on a shaft that is free to turn, where equipment is known that would hold it."""
    holders = [each for each in opened.guide.library.equipment.values() if each.stills]
    for book in opened.in_place() if holders else ():
        trains: dict[str, list[Equipment]] = {}
        for entry in book.of(Loosen, Remove, Tighten):
            nut = book.graph.machine.things.get(entry.target.name) if entry.target else None
            if not isinstance(nut, Fastener) or nut.to is None or not _is_firm(nut) or _says_held(book, entry):
                continue
            if nut.to.name not in trains:
                near = turning_parts(book.graph.machine, nut.to.name)
                trains[nut.to.name] = [each for each in holders if any(ref.name in near for ref in each.stills)]
            asked = {need.control.name for need in nut.needs}  # told by `not-isolated`
            if trains[nut.to.name] and asked.isdisjoint(each.key for each in trains[nut.to.name]):
                yield from _free(book, entry, nut, trains[nut.to.name])


def _is_firm(nut: Fastener) -> bool:
    torque = si(nut.last_torque)[1] if nut.last_torque else None
    return nut.turned and (nut.by_angle or (torque or 0) >= _LEAST)


def _says_held(book: Book, entry: Entry) -> bool:
    step, tools = entry.step, book.library.tools
    names = (tools[ref.name].name for ref in step.tools if ref.name in tools)
    return any(_HELD.search(words.lower()) for words in (step.text, step.note, *names) if words)


def _free(book: Book, entry: Entry, nut: Fastener, holders: list[Equipment]) -> Iterator[Fault]:
    space, shaft = book.graph.space, book.graph.machine.things.get(nut.to.name if nut.to else "")
    here = entry.variants if isinstance(entry.step.action, Tighten) else book.where(nut.key, entry, _is_tight)
    if not isinstance(shaft, Part) or entry.target is None:
        return
    train, would = list(turns(book, entry, shaft.key)), set[str]()
    for holder in holders:
        placed = book.where(equipment_account(holder.key), entry, is_there)
        for part, variants in train:
            if part.key in {ref.name for ref in holder.stills}:
                would.add(holder.key)
                here = space.without(here, space.both(placed, variants))
    here = space.both(here, book.graph.present(shaft.key))
    if here != NONE:
        done = {Tighten: "tightened", Loosen: "loosened", Remove: "loosened"}[type(entry.step.action)]
        message = f"{named(nut)} {verb_s(nut, 'is', 'are')} {done}, but nothing keeps {named(shaft)} from turning"
        hint = sooner(book, entry, "place", next(iter(would)), here) if len(would) == 1 else None
        yield Fault(entry.target.span, message, entry.ways, hint, here, book.reached(entry))


def _is_tight(state: State) -> bool:
    return isinstance(state, GroupState) and state.tight > 0
