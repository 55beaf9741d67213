"""A part is held up by hand while other work is done.

What hangs overhead falls as soon as the arm that holds it tires, or the other hand needs help. A part with
`hangs: true` in the machine file is held by nothing but its fasteners; dowels and a tight joint do not count.

Do the other work before the part goes on or before its fasteners come out, put something under it to support it, lift
it with that, or give the job two `people`. A support that was in place before the part went on holds it only if the
part is lifted with it; the same goes for one that another part came down on.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.carried import carried
from putback.ledger.opened import Opened
from putback.model.called import named, verb_s
from putback.source.finding import Also, Level
from putback.variants import NONE, VariantSet

LEVEL = Level.WARNING
GROUP = Group.DANGERS
NEEDS = frozenset({"equipment"})

FAILS = """
# machine.yaml
machine: Bench outboard
parts:
  midsection: {}
  gearcase: {mass: 7.5 kg, hangs: true}
fasteners:
  gearcase-bolts: {count: 4, by-hand: to the stop, secures: gearcase, to: midsection, compound: paste}
# consumables.yaml
paste: {}
# jobs/example.yaml
steps:
  - remove: gearcase-bolts
  - remove: gearcase
  - install: gearcase
  - apply: paste
           ^^^^^ gearcase is held up by hand here: none of its fasteners is in, and nothing supports it
    to: gearcase-bolts
  - install: gearcase-bolts
  - {check: gearcase, limit: does not rattle, otherwise: [{stop: Do the job again.}]}
"""

PASSES = """
# machine.yaml
machine: Bench outboard
parts:
  midsection: {}
  gearcase: {mass: 7.5 kg, hangs: true}
fasteners:
  gearcase-bolts: {count: 4, by-hand: to the stop, secures: gearcase, to: midsection, compound: paste}
# consumables.yaml
paste: {}
# jobs/example.yaml
steps:
  - remove: gearcase-bolts
  - remove: gearcase
  - apply: paste
    to: gearcase-bolts
  - install: gearcase
  - install: gearcase-bolts
  - {check: gearcase, limit: does not rattle, otherwise: [{stop: Do the job again.}]}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield the first step of other work for each time that a part hangs on nobody but a mechanic."""
    for book in opened.in_place():
        space, told = book.graph.space, dict[int, VariantSet]()
        for part, entry, begun, variants in carried(book):
            # Of two that hang together, one is told: what is put under the one bears the other.
            here = space.without(variants, told.get(entry.index, NONE))
            told[entry.index] = space.either(variants, told.get(entry.index, NONE))
            if here != NONE:
                span = entry.span
                since = (Also(begun.step.key, "it hangs from here on"),) if begun else ()
                none = "none of its fasteners is in, and nothing supports it"
                message = f"{named(part)} {verb_s(part, 'is', 'are')} held up by hand here: {none}"
                hint = f"do this before {named(part)} hangs free, or put something under it to support it"
                yield Fault(span, message, (*since, *entry.ways), hint, here, book.reached(entry))
