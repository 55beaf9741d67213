"""A job stops while something hangs.

Whoever reads "stop here" walks away, and an engine is left on a hoist that creeps, or a gearcase on the last thread of
one bolt, for whoever walks past.

Before the `stop`, set it down, put something under it, or tighten what holds it; or say in the `stop` how to.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.hanging import Hung, hangs
from putback.ledger.opened import Opened
from putback.ledger.running import words_before
from putback.model.called import named
from putback.model.verbs.telling import Stop
from putback.source.finding import Also, Level

LEVEL = Level.WARNING
GROUP = Group.DANGERS

FAILS = """
# machine.yaml
machine: Bench outboard
parts:
  midsection: {}
  gearcase: {mass: 7.5 kg}
fasteners:
  gearcase-bolts: {count: 4, by-hand: to the stop, secures: gearcase, to: midsection}
# jobs/example.yaml
steps:
  - loosen: gearcase-bolts
  - remove: gearcase-bolts
    count: 3
  - inspect: the joint
    for: cracks
    otherwise:
      - stop: Have a professional look at it.
        ^^^^ gearcase hangs on its last fasteners when the job stops here
  - install: gearcase-bolts
  - tighten: gearcase-bolts
  - {check: gearcase, limit: does not rattle, otherwise: [{stop: Do the job again.}]}
"""

PASSES = """
# machine.yaml
machine: Bench outboard
parts:
  midsection: {}
  gearcase: {mass: 7.5 kg}
fasteners:
  gearcase-bolts: {count: 4, by-hand: to the stop, secures: gearcase, to: midsection}
# jobs/example.yaml
steps:
  - loosen: gearcase-bolts
  - remove: gearcase-bolts
    count: 3
  - inspect: the joint
    for: cracks
    otherwise:
      - tighten: gearcase-bolts
      - stop: Have a professional look at it.
  - install: gearcase-bolts
  - tighten: gearcase-bolts
  - {check: gearcase, limit: does not rattle, otherwise: [{stop: Do the job again.}]}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield each `stop` at which something hangs, unless words on the way to it say how it is made safe."""
    for book in opened.in_place():
        for entry in book.of(Stop):
            for hanging in hangs(book, entry):
                if not any(map(_says_held, words_before(book, hanging.since, entry))):
                    also = (*entry.ways, Also(hanging.since.step.key, "it hangs from here on"))
                    hint = f"say how {named(hanging.part)} is set down or held before the stop"
                    yield Fault(entry.step.key, _message(hanging), also, hint, hanging.variants, entry.variants)


def _message(hanging: Hung) -> str:
    on = f"the {hanging.hoist.name}" if hanging.hoist else "its last fasteners"
    return f"{named(hanging.part)} hangs on {on} when the job stops here"


_HELD = frozenset({
    "bench", "block", "blocks", "chock", "cradle", "down", "floor", "hold", "lay", "lower", "prop", "rest", "secure",
    "stand", "stands", "support", "supports", "tighten", "trestle",
})  # fmt: skip
"""Words of a sentence that says how something is set down or held."""


def _says_held(text: str) -> bool:
    return not _HELD.isdisjoint(text.replace(".", " ").replace(",", " ").replace(";", " ").split())
