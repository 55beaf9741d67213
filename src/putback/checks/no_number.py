"""A part that is renewed has no part number, though others do.

The list of new parts is what the mechanic takes to the shop. Without a number the wrong part is bought, or it is
missing on the day.

Add `number`, or the `kit` that it is sold in.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.called import named, verb_s
from putback.model.machine import Fastener, Line, Part
from putback.model.verbs.lines import Disconnect
from putback.model.verbs.pieces import Install, Remove, Replace
from putback.source.finding import Level

LEVEL = Level.WARNING
GROUP = Group.TOOLS

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  pump: {}
  lid: {}
  seal: {replace: always, number: BP-2}
  ring: {replace: always}
  ^^^^ ring is renewed, but has no part number to order it by
  felt: {replace: always, kit: seal set}
stacks: [[lid, felt, ring, seal, pump]]
# jobs/example.yaml
steps:
  - remove: lid
  - remove: felt
  - remove: ring
  - replace: seal
  - install: ring
    new: true
  - install: felt
    new: true
  - install: lid
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
  seal: {replace: always, number: BP-2}
  ring: {replace: always, number: BP-3}
  felt: {replace: always, kit: seal set}
stacks: [[lid, felt, ring, seal, pump]]
# jobs/example.yaml
steps:
  - remove: lid
  - remove: felt
  - remove: ring
  - replace: seal
  - install: ring
    new: true
  - install: felt
    new: true
  - install: lid
  - check: lid
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

_ENOUGH = 2
"""Of so many renewed things with a number, the next one wants one as well; of fewer, it is no custom of the guide."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield things that some job renews and that nobody can order, where most others have a number."""
    things = opened.guide.machine.things if opened.guide.machine else {}
    renewed = {name: things[name] for name in _renewed(opened) if name in things}
    lacking = [each for each in renewed.values() if isinstance(each, Part | Fastener | Line) and not _is_sold(each)]
    have = len(renewed) - len(lacking)
    for thing in lacking if have >= max(_ENOUGH, len(lacking)) else ():
        message = (
            f"{named(thing)} {verb_s(thing, 'is', 'are')} renewed, but {verb_s(thing, 'has', 'have')} no part number"
        )
        yield Fault(thing.span, f"{message} to order {verb_s(thing, 'it', 'them')} by", hint="add 'number' or 'kit'")


def _is_sold(thing: Part | Fastener | Line) -> bool:
    return bool(thing.number or thing.kit)


def _renewed(opened: Opened) -> Iterator[str]:
    """Yield the names of what some step puts in new, or takes off for the last time."""
    things = opened.guide.machine.things if opened.guide.machine else {}
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            match step.action:
                case Replace() | Install(new=True):
                    yield from (ref.name for ref in step.things)
                case Remove() | Disconnect():
                    off = ((ref.name, things.get(ref.name)) for ref in step.things)
                    yield from (
                        key for key, each in off if isinstance(each, Part | Line | Fastener) and each.single_use
                    )
                case _:
                    pass
