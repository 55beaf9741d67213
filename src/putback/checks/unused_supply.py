"""A job's own list of what it needs has something that no step uses, or more of it than any way through it takes.

Either somebody buys it for nothing, or the list is right and a step is missing: the seal that nobody renews, the grease
that goes nowhere.

Add the step that uses it, or take it off the list.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened, wider
from putback.model.called import named
from putback.model.machine import AnyThing
from putback.sheet.compared import Idle, compared
from putback.source.finding import Level
from putback.source.grammar import number
from putback.source.quoting import quote

LEVEL = Level.WARNING
GROUP = Group.TOOLS

FAILS = """
# machine.yaml
machine: Trial
parts: {lid: {}, felt: {}, ring: {}}
stacks: [[lid, ring, felt]]
# jobs/example.yaml
supplies:
  parts: {felt: 1, ring: 1}
                   ^^^^ 'ring' is listed, but no step puts in a new one
steps:
  - remove: [lid, ring, felt]
  - install: felt
    new: true
  - install: [ring, lid]
  - check: lid
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# machine.yaml
machine: Trial
parts: {lid: {}, felt: {}, ring: {}}
stacks: [[lid, ring, felt]]
# jobs/example.yaml
supplies:
  parts: {felt: 1}
steps:
  - remove: [lid, ring, felt]
  - install: felt
    new: true
  - install: [ring, lid]
  - check: lid
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

_USES = {
    "parts": "no step puts in a new one",
    "fluids": "no step fills it in",
    "consumables": "no step uses it",
    "tools": "no step needs it",
    "equipment": "no step brings it in",
}


def find(opened: Opened) -> Iterator[Fault]:
    """Yield what is listed in vain, whatever the variant."""
    things = opened.guide.machine.things if opened.guide.machine else {}
    for each in compared(wider(opened)):
        for idle in each.idle():
            yield Fault(idle.span, _said(idle, things.get(idle.ref.name)))


def _said(idle: Idle, thing: AnyThing | None) -> str:
    if not idle.most:
        return f"{quote(idle.ref.name)} is listed, but {_USES[idle.key]}"
    has = number(idle.has)
    listed = f"{has} {named(thing, idle.has)} are listed" if thing else f"{quote(idle.ref.name)} is listed {has} times"
    return f"{listed}, but no way through the steps takes more than {number(idle.most)}"
