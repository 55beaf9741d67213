"""A thread is lubricated, but its torque is meant for a dry one.

Grease or oil lets the same torque clamp up to twice as hard: the bolt stretches, or its thread tears out. Thread-locker
and sealant lubricate as well.

Give the torque that is meant for the compound, and its `condition`; or leave the thread dry.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.guide.spread import base_of
from putback.joints.friction import WET, Film
from putback.ledger.opened import Opened
from putback.model.called import named, verb_s
from putback.model.machine import Fastener
from putback.model.states import GroupState
from putback.model.verbs.cleaning import Apply
from putback.source.finding import Also, Level
from putback.variants import NONE

LEVEL = Level.ERROR
GROUP = Group.TORQUE
INJURES = True

FAILS = """
# machine.yaml
machine: Bench pump
fasteners:
  lid-screws:
    count: 4
    thread: M6 x 1.0
    class: "8.8"
    torque: 9 N·m
    compound: grease
    condition: dry
               ^^^ the torque of lid screws is meant for dry threads, and grease makes them greased
# consumables.yaml
grease: {threads: greased}
"""

PASSES = """
# machine.yaml
machine: Bench pump
fasteners:
  lid-screws:
    count: 4
    thread: M6 x 1.0
    class: "8.8"
    torque: 7 N·m
    compound: grease
    condition: greased
# consumables.yaml
grease: {threads: greased}
"""


_WORDS = {
    Film.ANTI_SEIZE: "wet with anti-seize",
    Film.MOLY: "slippery with MoS2",
    Film.THREAD_LOCKER: "wet with thread-locker",
    Film.SEALANT: "wet with sealant",
}
"""What a compound makes of threads, where its name is no word for that."""


def _threads(film: Film | None) -> str:
    if film is Film.AS_RECEIVED:
        return f"threads {film}"
    return f"threads with {film}" if film in _WORDS else f"{film} threads"


def find(opened: Opened) -> Iterator[Fault]:
    """Yield compounds on fasteners whose torque is stated for dry threads, in the machine file and in steps."""
    machine = opened.guide.machine
    if machine is None:
        return
    consumables = opened.guide.library.consumables
    stated = {
        key: thing
        for key, thing in machine.things.items()
        if isinstance(thing, Fastener) and thing.condition.film and thing.condition_span
    }
    dry = {key: thing for key, thing in stated.items() if thing.condition.film in (Film.DRY, Film.AS_RECEIVED)}
    for thing in stated.values():
        compound = consumables.get(thing.compound.name) if thing.compound else None
        film = compound.threads if compound else None
        if thing.condition_span and thing.compound and compound and film and film is not thing.condition.film:
            meant = f"the torque of {named(thing)} is meant for {_threads(thing.condition.film)}"
            message = f"{meant}, and {compound.name} makes them {_WORDS.get(film, film)}"
            yield Fault(thing.condition_span, message, (Also(thing.compound.span, "the compound"),))
    for book in opened.in_place():
        for entry in book.of(Apply):
            action = entry.step.action
            for ref in entry.touched:
                group = dry.get(base_of(ref.name))
                if not isinstance(action, Apply) or group is None or group.compound is not None:
                    continue
                # On a thread that is still in, it is there to get it out.
                out = book.where(ref.name, entry, lambda state: isinstance(state, GroupState) and state.out > 0)
                for name in action.things:
                    compound = consumables.get(name.name)
                    if out != NONE and compound is not None and compound.threads in WET and group.condition_span:
                        them = verb_s(group, "its torque is", "their torque is")
                        meant = _threads(group.condition.film)
                        message = f"{compound.name} goes on {named(group)}, and {them} meant for {meant}"
                        also = (Also(group.condition_span, "the thread condition"), *entry.ways)
                        yield Fault(ref.span, message, also, None, out, book.reached(entry))
