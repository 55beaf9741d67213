"""The hole of a washer is smaller than the bolt that goes through it.

One of the two sizes is wrong. The drawing then shows a washer that nobody can put on, and who orders by its size gets
one that does not fit.

Correct the size of the washer, or the thread. If the bolt only presses on the washer beside its hole, waive the check.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.joints.threads import ThreadSystem
from putback.ledger.opened import Opened
from putback.model.called import named, verb_s
from putback.model.forms import PartShape, across
from putback.model.machine import AnyThing, Fastener, Part
from putback.model.said import place_of
from putback.source.finding import Also, Level
from putback.source.quoting import quote
from putback.variants import NONE

LEVEL = Level.WARNING
GROUP = Group.TORQUE

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  lid: {}
  washer: {size: {outside: 16 mm, inside: 6.4 mm}}
                                          ^^^^^^ the hole of washer is '6.4 mm' across, but lid bolt is M8 × 1.25
fasteners:
  lid-bolt: {kind: bolt, thread: M8, secures: [lid, washer], torque: 20 N·m, class: "8.8"}
"""

PASSES = """
# machine.yaml
machine: Bench pump
parts:
  lid: {}
  washer: {size: {outside: 16 mm, inside: 8.4 mm}}
fasteners:
  lid-bolt: {kind: bolt, thread: M8, secures: [lid, washer], torque: 20 N·m, class: "8.8"}
"""

_WASHERS = (PartShape.WASHER, PartShape.SPRING_WASHER, PartShape.WAVE_WASHER)
_WIDEST = 4.0
"""A washer that is more than so many times as wide as the bolt is not round it: common practice, no source."""
_SLACK = 0.05
"""What rounding to a tenth can do, mm."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield washers under fasteners that cannot go through them."""
    things = opened.guide.machine.things if opened.guide.machine else {}
    told = set()
    for bolt in things.values():
        if not isinstance(bolt, Fastener) or bolt.screw is None or bolt.screw.system is ThreadSystem.PIPE:
            continue
        for ref in bolt.secures:
            washer = things.get(ref.name)
            if not isinstance(washer, Part) or washer.size is None or washer.size.inside is None or washer.key in told:
                continue
            hole, thick = across(washer.size.inside), bolt.screw.diameter
            outside = across(washer.size.outside) if washer.size.outside else hole
            if hole < thick - _SLACK and thick < outside <= _WIDEST * thick and _is_on(washer, bolt, opened):
                told.add(washer.key)
                said = quote(washer.size.inside.text)
                is_ = verb_s(bolt, "is", "are")
                message = (
                    f"the hole of {named(washer)} is {said} across, but {named(bolt)} {is_} {bolt.screw.designation}"
                )
                yield Fault(
                    place_of(washer.size.inside.text, washer.span), message, (Also(bolt.span, "goes through it"),)
                )


def _is_on(washer: Part, bolt: Fastener, opened: Opened) -> bool:
    """Tell whether it is a washer, and a machine has both."""
    if washer.shape not in _WASHERS and (washer.shape or not _called_washer(washer)):
        return False
    graph = opened.graph
    return graph is None or graph.space.both(graph.present(washer.key), graph.present(bolt.key)) != NONE


def _called_washer(thing: AnyThing) -> bool:
    return thing.name.casefold().endswith(("washer", "washers"))
